package prove

import (
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// proveForm shows, beyond what loading a tree refuses, that every fault which
// shows a complaint has an end to come to, that every fault of every equipment
// shows some complaint, and every complaint is shown by some fault on whatever it
// fits: the matrix of the simulated houses has no empty row or column.
func (p *physics) proveForm(t *tally, to *source.Reporter) []MatrixRow {
	var rows []MatrixRow
	for _, s := range p.stages {
		never := map[house.Complaint][]house.Fault{}
		for _, f := range s.eq.Faults() {
			row := MatrixRow{Equipment: s.eq.ID, Fault: f}
			for _, a := range s.acts {
				if t.matrix[matrixKey{s.eq.ID, f, a.tree.ID}] {
					row.Complaints = append(row.Complaints, a.tree.ID)
				}
			}
			rows = append(rows, row)
			if c := p.neverFound(row); c != house.NoComplaint {
				never[c] = append(never[c], f)
			}
		}
		p.provenFound(s, never, to)
		for _, a := range s.acts {
			p.provenShown(s, a, t, to)
		}
	}
	if len(p.options.Complaints) == 0 && p.options.Equipment == house.NoEquipment {
		p.everyFault(rows, to)
	}
	return rows
}

// neverFound is the first complaint a fault shows, where none of those it
// shows ends at it.
func (p *physics) neverFound(row MatrixRow) house.Complaint {
	if row.Fault == house.None || len(row.Complaints) == 0 {
		return house.NoComplaint
	}
	for _, c := range row.Complaints {
		if endsAt(p.book.Trees, p.book.Trees.Trees[c], row.Fault) {
			return house.NoComplaint
		}
	}
	return row.Complaints[0]
}

// provenFound reports the faults of an equipment that no tree ends at.
func (p *physics) provenFound(s *stage, never map[house.Complaint][]house.Fault, to *source.Reporter) {
	for _, a := range s.acts {
		if faults := never[a.tree.ID]; len(faults) > 0 {
			faultNeverFound.report(to, a.tree.Pos, 1, "end a branch at each",
				"on %s these show %s, and no step ends at them: %s", s.eq.ID, a.tree.ID, wordsOf(house.FaultsOf(faults...)))
		}
	}
}

func endsAt(lib *tree.Library, t *tree.Tree, f house.Fault) bool {
	for _, finding := range lib.Reachable(t.First) {
		for _, x := range finding.Faults() {
			if x == f {
				return true
			}
		}
	}
	return false
}

// provenShown reports a complaint nothing shows on an equipment it fits.
func (p *physics) provenShown(s *stage, a *act, t *tally, to *source.Reporter) {
	for _, f := range s.eq.Faults() {
		if f != house.None && t.matrix[matrixKey{s.eq.ID, f, a.tree.ID}] {
			return
		}
	}
	complaintShowsNothing.report(to, a.tree.Pos, 1, "mend the symptom, or leave the equipment out of fits",
		"no fault on %s shows %s", s.eq.ID, a.tree.ID)
}

// everyFault reports, equipment by equipment, the faults that show no complaint
// there: at the tree that ends at them and does not let them in, or else where
// their text stands.
func (p *physics) everyFault(rows []MatrixRow, to *source.Reporter) {
	for _, e := range p.f.Catalog().IDs() {
		if !slices.ContainsFunc(rows, func(r MatrixRow) bool { return r.Equipment == e }) {
			faultShowsNothing.report(to, source.Pos{File: "findings.yaml"}, 1, "add it to the fits of the trees that hold for it", "no tree fits %s", e)
			continue
		}
		silent := map[source.Pos]house.FaultSet{}
		var order []source.Pos
		for _, row := range rows {
			if row.Equipment != e || row.Fault == house.None || len(row.Complaints) > 0 || p.options.Hidden[row.Fault] != "" {
				continue
			}
			pos := p.placeOf(row.Fault)
			if _, known := silent[pos]; !known {
				order = append(order, pos)
			}
			silent[pos] = silent[pos].Add(row.Fault)
		}
		for _, pos := range order {
			faultShowsNothing.report(to, pos, 1, "a complaint is missing, a symptom too narrow, or fits too short",
				"on %s no complaint shows %s", e, wordsOf(silent[pos]))
		}
	}
}

// placeOf is where a fault that shows nothing is mended: the first tree that
// ends at it, or else the texts of the findings.
func (p *physics) placeOf(f house.Fault) source.Pos {
	for _, t := range p.book.Trees.InOrder() {
		if startsCalls(t) && endsAt(p.book.Trees, t, f) {
			return t.Pos
		}
	}
	if text := p.book.Trees.Finding(house.Finding(f.String())); text != nil {
		return source.Pos{File: text.Pos.File}
	}
	return source.Pos{File: "findings.yaml"}
}
