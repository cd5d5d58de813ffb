package prove

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
)

// withoutTrees lists the equipment that no tree walked fits.
func (r *Report) withoutTrees() []house.Equipment {
	var out []house.Equipment
	for _, e := range house.Equipments() {
		has := slices.ContainsFunc(r.Matrix, func(m MatrixRow) bool { return m.Equipment == e && len(m.Complaints) > 0 })
		if !has && e.Handling() == house.Modelled {
			out = append(out, e)
		}
	}
	return out
}

// matrix writes which complaints each fault shows: the number of complaints by
// fault and equipment, then the number of faults by complaint and equipment.
func (r *Report) matrix(b *strings.Builder) {
	var equipment []house.Equipment
	faults := map[house.Fault]map[house.Equipment]int{}
	complaints := map[house.Complaint]map[house.Equipment]int{}
	for _, row := range r.Matrix {
		if len(equipment) == 0 || equipment[len(equipment)-1] != row.Equipment {
			equipment = append(equipment, row.Equipment)
		}
		put(faults, row.Fault, row.Equipment, len(row.Complaints))
		for _, c := range row.Complaints {
			put(complaints, c, row.Equipment, 1)
		}
	}
	heads(b, equipment)
	columns(b, "complaints a fault shows", equipment)
	for _, f := range house.Faults() {
		if row, ok := faults[f]; ok && f != house.None {
			counts(b, f.String(), row, equipment)
		}
	}
	b.WriteByte('\n')
	columns(b, "faults a complaint is of", equipment)
	for _, c := range house.Complaints() {
		if row, ok := complaints[c]; ok {
			counts(b, c.String(), row, equipment)
		}
	}
	b.WriteString("\n. no such fault, or no such tree; 0 shows nothing there\n")
	r.empty(b)
	b.WriteByte('\n')
}

// empty says what is missing from the matrix.
func (r *Report) empty(b *strings.Builder) {
	say := func(name string, words []string) {
		if len(words) > 0 {
			text := wrap(name+": "+strings.Join(words, " "), lineCells-2)
			b.WriteString(strings.ReplaceAll(text, "\n", "\n  ") + "\n")
		}
	}
	say("no tree for", idsOf(r.Treeless))
	say("no tree fits", idsOf(r.withoutTrees()))
	for _, e := range house.Equipments() {
		say("on "+e.String()+" these show nothing", idsOf(r.silent(e)))
	}
}

// silent lists the faults that show no complaint on an equipment that has trees.
func (r *Report) silent(e house.Equipment) []house.Fault {
	if slices.Contains(r.withoutTrees(), e) {
		return nil
	}
	var out []house.Fault
	for _, row := range r.Matrix {
		if row.Equipment == e && row.Fault != house.None && len(row.Complaints) == 0 && r.Hidden[row.Fault] == "" {
			out = append(out, row.Fault)
		}
	}
	return out
}

func idsOf[T fmt.Stringer](list []T) []string {
	out := make([]string, 0, len(list))
	for _, x := range list {
		out = append(out, x.String())
	}
	return out
}

func put[K comparable](m map[K]map[house.Equipment]int, k K, e house.Equipment, n int) {
	if m[k] == nil {
		m[k] = map[house.Equipment]int{}
	}
	m[k][e] += n
}

// heads gives each equipment its letter.
func heads(b *strings.Builder, equipment []house.Equipment) {
	const across = 3
	for i, e := range equipment {
		fmt.Fprintf(b, "%c %-24s", 'a'+i, e)
		if i%across == across-1 || i == len(equipment)-1 {
			b.WriteByte('\n')
		}
	}
	b.WriteByte('\n')
}

func columns(b *strings.Builder, title string, equipment []house.Equipment) {
	fmt.Fprintf(b, "%-28s", title)
	for i := range equipment {
		fmt.Fprintf(b, "%4c", 'a'+i)
	}
	b.WriteByte('\n')
}

func counts(b *strings.Builder, name string, row map[house.Equipment]int, equipment []house.Equipment) {
	fmt.Fprintf(b, "%-28s", name)
	for _, e := range equipment {
		if n, ok := row[e]; ok {
			fmt.Fprintf(b, "%4d", n)
		} else {
			b.WriteString("   .")
		}
	}
	b.WriteByte('\n')
}
