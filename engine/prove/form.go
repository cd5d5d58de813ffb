package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// proveForm shows, beyond what loading a tree refuses, that every fault which
// shows a complaint has an end to come to, that every fault shows some
// complaint, and every complaint is shown by some fault. It reads off the
// matrix of the simulated houses.
func (p *physics) proveForm(t *tally, to *source.Reporter) []MatrixRow {
	var rows []MatrixRow
	shown := map[house.Fault]bool{}
	for _, s := range p.stages {
		never := map[house.Complaint][]house.Fault{}
		for _, f := range s.eq.Faults() {
			row := MatrixRow{Equipment: s.eq.ID, Fault: f}
			for _, a := range s.acts {
				if t.matrix[matrixKey{s.eq.ID, f, a.tree.ID}] {
					row.Complaints = append(row.Complaints, a.tree.ID)
					shown[f] = true
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
		p.everyFault(shown, to)
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

// everyFault reports the faults that an equipment with trees can have and that
// show no complaint on any of them: at the tree that ends at them, which they
// never come to, else where their text stands.
func (p *physics) everyFault(shown map[house.Fault]bool, to *source.Reporter) {
	possible := map[house.Fault]bool{}
	for _, s := range p.stages {
		for _, f := range s.eq.Faults() {
			possible[f] = possible[f] || len(s.acts) > 0
		}
	}
	silent := map[source.Pos]house.FaultSet{}
	var order []source.Pos
	for _, f := range house.Faults() {
		if f == house.None || shown[f] || !possible[f] {
			continue
		}
		pos := p.placeOf(f)
		if _, known := silent[pos]; !known {
			order = append(order, pos)
		}
		silent[pos] = silent[pos].Add(f)
	}
	for _, pos := range order {
		faultShowsNothing.report(to, pos, 1, "a complaint is missing, or a symptom is too narrow",
			"on no equipment does any complaint show %s", wordsOf(silent[pos]))
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
