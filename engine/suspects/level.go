package suspects

import (
	"cmp"
	"slices"

	"stepdown/engine/forecast"
)

// level is a column with ends that lie within the tolerance of one another laid
// on the outermost of them. How far an interval's guard band reaches hangs on how
// many houses drew it, and no fault is ruled out for that: what picks a probe
// and what weighs its reading take the same ends for one.
func (e *Engine) level(c *forecast.Column) *forecast.Column {
	if c.Goal.Probe.IsLook() {
		return c
	}
	if out, ok := e.levels.Load(c); ok {
		return out.(*forecast.Column)
	}
	rows := make([][]forecast.Piece, c.Rows())
	var low, high []*float64
	for r := range rows {
		rows[r] = slices.Clone(c.Row(r))
		for i := range rows[r] {
			if p := &rows[r][i]; p.Lo < p.Hi {
				low, high = append(low, &p.Lo), append(high, &p.Hi)
			}
		}
	}
	slices.SortFunc(low, func(a, b *float64) int { return cmp.Compare(*a, *b) })
	slices.SortFunc(high, func(a, b *float64) int { return cmp.Compare(*b, *a) })
	for _, ends := range [][]*float64{low, high} {
		for i := 0; i < len(ends); {
			from := *ends[i]
			for near := tolerance(c.Goal.Probe, from); i < len(ends) && max(*ends[i]-from, from-*ends[i]) <= near; i++ {
				*ends[i] = from
			}
		}
	}
	out, _ := e.levels.LoadOrStore(c, forecast.NewColumn(c.Goal, rows))
	return out.(*forecast.Column)
}
