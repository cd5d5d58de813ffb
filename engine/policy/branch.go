package policy

import (
	"encoding/binary"
	"math"
	"slices"
)

// Branch is one thing a test may tell: its probability and what is then thought.
type Branch struct {
	P     float64
	After Belief
}

// Branches are the outcomes of test i that leave different beliefs. Readings
// that leave the same belief are one outcome.
func (t *Table) Branches(b *Belief, i int) []Branch {
	paid := b.Paid | t.Tests[i].Needs
	made := slices.Clone(b.Made)
	made[i] = true
	var out []Branch
	index := map[string]int{}
	add := func(p float64, weight []float64) {
		key := string(weightKey(nil, weight))
		if k, ok := index[key]; ok {
			out[k].P += p
			return
		}
		index[key] = len(out)
		out = append(out, Branch{P: p, After: Belief{Weight: weight, Made: made, Paid: paid}})
	}
	t.atoms(b, i, add)
	t.cells(b, i, add)
	if t.Least > 0 {
		return likely(out, t.Least)
	}
	return out
}

// likely drops the outcomes under least and spreads their probability over the
// rest.
func likely(all []Branch, least float64) []Branch {
	var sum float64
	out := all[:0]
	for _, b := range all {
		if b.P >= least {
			out = append(out, b)
			sum += b.P
		}
	}
	for i := range out {
		out[i].P /= sum
	}
	return out
}

// atoms gives the outcomes that are single values.
func (t *Table) atoms(b *Belief, i int, add func(float64, []float64)) {
	var values []float64
	for s, w := range b.Weight {
		for _, p := range t.Tests[i].Shows[s] {
			if w > 0 && p.Share > 0 && p.Hi <= p.Lo {
				values = append(values, p.Lo)
			}
		}
	}
	slices.Sort(values)
	for _, v := range slices.Compact(values) {
		t.outcome(b, i, 1, add, func(p Piece) float64 {
			if p.Hi <= p.Lo && p.Lo == v {
				return p.Share
			}
			return 0
		})
	}
}

// cells gives the outcomes between the ends of spreads.
func (t *Table) cells(b *Belief, i int, add func(float64, []float64)) {
	var ends []float64
	for s, w := range b.Weight {
		for _, p := range t.Tests[i].Shows[s] {
			if w > 0 && p.Share > 0 && p.Hi > p.Lo {
				ends = append(ends, p.Lo, p.Hi)
			}
		}
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	for k := 1; k < len(ends); k++ {
		lo, hi := ends[k-1], ends[k]
		t.outcome(b, i, hi-lo, add, func(p Piece) float64 {
			if p.Lo < p.Hi && p.Lo <= lo && hi <= p.Hi {
				return p.Share / (p.Hi - p.Lo)
			}
			return 0
		})
	}
}

// outcome adds the branch of one value or cell.
func (t *Table) outcome(b *Belief, i int, width float64, add func(float64, []float64), density func(Piece) float64) {
	weight := make([]float64, len(b.Weight))
	var sum float64
	for s, w := range b.Weight {
		if w <= 0 {
			continue
		}
		var d float64
		for _, p := range t.Tests[i].Shows[s] {
			d += density(p)
		}
		weight[s] = w * d
		sum += weight[s]
	}
	if sum <= 0 {
		return
	}
	for s := range weight {
		weight[s] /= sum
	}
	add(sum*width, weight)
}

// weightKey writes weights rounded to ten digits, so that beliefs reached by
// different ways are one.
func weightKey(key []byte, weight []float64) []byte {
	for _, w := range weight {
		r := math.Round(w * 1e10)
		if w > 0 && r == 0 {
			r = 0.5 // unlikely, yet not ruled out
		}
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(r))
	}
	return key
}

// key names a belief: what is thought, which of the visits that matter are paid,
// and which tests that could still tell something were made.
func (t *Table) key(b *Belief, matter uint64) string {
	key := weightKey(nil, b.Weight)
	key = binary.LittleEndian.AppendUint64(key, b.Paid&matter)
	var live []int
	for s, w := range b.Weight {
		if w > 0 {
			live = append(live, s)
		}
	}
	for i, made := range b.Made {
		if !made {
			continue
		}
		if splits, _ := t.splits(i, live); splits {
			key = binary.LittleEndian.AppendUint32(key, uint32(i))
		}
	}
	return string(key)
}
