package rewire

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
)

// draw puts both bases side by side, each screw with what is under it.
func (r Report) draw(b *strings.Builder) {
	old, now := r.oldRows(), r.newRows()
	const wide = 34
	rule := "  +" + strings.Repeat("-", wide) + "+"
	fmt.Fprintf(b, "   %-*s      %s\n%s   %s\n", wide, "old base", "new base", rule, rule)
	for i := range max(len(old), len(now)) {
		left, right := "", ""
		if i < len(old) {
			left = old[i]
		}
		if i < len(now) {
			right = now[i]
		}
		fmt.Fprintf(b, "  |%s|     |%s|\n", padded(left, wide), padded(right, wide))
	}
	fmt.Fprintf(b, "%s   %s\n", rule, rule)
	var capped []string
	for _, p := range r.Landing {
		if p.To == house.NoTerminal {
			capped = append(capped, p.Conductor.Name)
		}
	}
	if len(capped) > 0 {
		fill(b, "   capped: ", strings.Join(capped, ", "))
	}
}

func padded(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-3]) + "..."
	} else {
		return s + strings.Repeat(" ", n-len(r))
	}
}

// screwRow is one screw with the conductors under it.
func screwRow(mark string, under []string) string {
	return strings.TrimRight(fmt.Sprintf(" %-5s o  %s", mark, strings.Join(under, " + ")), " ")
}

func (r Report) oldRows() []string {
	var out []string
	add := func(mark string) {
		var under []string
		for _, w := range r.Case.Conductors {
			if w.Old.String() == mark {
				under = append(under, w.Name)
			}
		}
		if len(under) > 0 {
			out = append(out, screwRow(mark, under))
		}
	}
	for _, t := range append(house.Letters(^uint16(0)).List(), house.NoTerminal) {
		if t == house.O {
			add("O/B")
		}
		if t != house.NoTerminal {
			add(t.String())
		}
	}
	add("other")
	return out
}

func (r Report) newRows() []string {
	var out []string
	base := r.Case.New
	for _, t := range base.Letters.List() {
		var under []string
		for _, p := range r.Landing {
			if p.To == t {
				under = append(under, p.Conductor.Name)
			}
		}
		var to []string
		for _, j := range r.Plan.Joined {
			if j[0] == t {
				to = append(to, base.Word(j[1]))
			}
		}
		row := screwRow(base.Word(t), under)
		if len(to) > 0 {
			row += "  (joined to " + strings.Join(to, ", ") + ")"
		}
		out = append(out, row)
	}
	return out
}
