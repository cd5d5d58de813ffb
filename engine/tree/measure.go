package tree

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

func (l *loader) measureStep(d *draft, sd *stepDraft, v *source.Value, kind string) {
	s := sd.step
	s.Kind = MeasureStep
	s.Quantity, _ = quantity.OfID(kind)
	keys := append([]string{kind}, measureKeys...)
	if s.Quantity == quantity.Resistance {
		keys = ohmsKeys
	}
	f := v.Fields(l.r, keys...)
	at := f.Need("at")
	var err error
	s.At, err = house.ParsePlace(at.String(l.r))
	if err != nil && at != nil && at.Text != "" {
		l.word(at, "", err, ids(house.Places())...)
	}
	l.common(d, sd, f)
	l.pairs(d, sd, f.Need(kind))
	l.needsOf(sd, f)
	if s.Quantity == quantity.Resistance {
		if !f.Has("ol") {
			sd.key.Report(l.r, CodeNoOL, "add ol: step ...", "step %q reads ohms and does not say where OL leads", s.ID)
		}
		d.aim(s, ByOL, f.Get("ol"), &s.OL)
	}
	l.conditions(d, sd, f.Need("branches"))
}

// conditions reads the list of branches of a measuring step; the conditions
// themselves are compiled once it is known what was read before.
func (l *loader) conditions(d *draft, sd *stepDraft, v *source.Value) {
	items := v.Items(l.r)
	if v != nil && v.Kind == source.List && len(items) == 0 {
		v.Report(l.r, source.CodeEmpty, "add {when: ..., then: step ...}", "step %q has no branch", sd.step.ID)
	}
	sd.step.Branches = make([]Branch, len(items))
	for i, item := range items {
		b := &sd.step.Branches[i]
		b.Pos = item.Pos
		f := item.Fields(l.r, "when", "then", "because")
		when := f.Need("when")
		sd.whens = append(sd.whens, when)
		if r := f.Get("because"); r != nil {
			b.Because = r.String(l.r)
		}
		d.aim(sd.step, ByBranch, f.Need("then"), &b.Then)
	}
}

// pairs reads the named pairs of a batch.
func (l *loader) pairs(d *draft, sd *stepDraft, v *source.Value) {
	entries := v.Entries(l.r)
	if v != nil && v.Kind == source.Map && len(entries) == 0 {
		v.Report(l.r, source.CodeEmpty, "as in {rc: R-C}", "no pair is given")
	}
	for i, e := range entries {
		if i == 1 && sd.step.Quantity == quantity.Resistance {
			e.Key.Report(l.r, CodeOnePair, "make it a step of its own", "ohms are read on one pair in a step, and %q is a second", e.Key.Text)
			return
		}
		l.legalName(e.Key, "reading")
		p := Pair{Name: e.Key.Text}
		switch {
		case e.Value.String(l.r) == "":
		case sd.step.Quantity == quantity.Current:
			l.clamp(d, sd.step, e.Value, &p)
		default:
			l.ends(d, sd.step, e.Value, &p)
		}
		sd.step.Pairs = append(sd.step.Pairs, p)
		sd.pairKeys = append(sd.pairKeys, e.Key)
	}
}

// ends reads red-black. An end's own name may hold a hyphen, so every hyphen
// is tried.
func (l *loader) ends(d *draft, s *Step, v *source.Value, p *Pair) {
	text, found := strings.TrimSpace(v.Text), false
	for i, c := range text {
		if c != '-' {
			continue
		}
		red, err1 := house.ParseTerminal(text[:i])
		black, err2 := house.ParseTerminal(text[i+1:])
		if err1 == nil && err2 == nil {
			p.Red, p.Black, found = red, black, true
			break
		}
	}
	switch {
	case !found:
		l.noPair(v, text)
	case p.Red == p.Black:
		v.Report(l.r, CodePair, "name two ends, as in R-C", "both leads are on %s", p.Red)
	default:
		l.exist(d, s, v, *p)
	}
}

// exist reports ends that no equipment of the tree has at the step's place.
func (l *loader) exist(d *draft, s *Step, v *source.Value, p Pair) {
	if s.At == house.NoPlace {
		return
	}
	ends := func(e house.Equipment) house.Probe { return house.Measure(s.Quantity, p.Red, p.Black, s.At).On(e) }
	red := func(e house.Equipment) bool { return e.Has(ends(e).Red, s.At) }
	black := func(e house.Equipment) bool { return e.Has(ends(e).Black, s.At) }
	for _, end := range []struct {
		t    house.Terminal
		some func(house.Equipment) bool
	}{{p.Red, red}, {p.Black, black}} {
		if !l.someFit(d.tree, end.some) {
			v.Report(l.r, CodeNoTerminal, "", "%s is nowhere at %s on the equipment of this tree", end.t, s.At)
			return
		}
	}
	both := func(e house.Equipment) bool {
		return red(e) && black(e) && e.SameWinding(ends(e).Red, ends(e).Black)
	}
	if !l.someFit(d.tree, both) {
		v.Report(l.r, CodeNoTerminal, "", "no one equipment of this tree has both %s and %s at %s", p.Red, p.Black, s.At)
	}
}

// noPair reports text that is no pair of ends, with the nearest that is.
func (l *loader) noPair(v *source.Value, text string) {
	if red, black, ok := strings.Cut(text, "-"); ok && !strings.Contains(black, "-") {
		for _, end := range []string{red, black} {
			if _, err := house.ParseTerminal(end); err != nil {
				l.word(v, "", err)
				return
			}
		}
	}
	v.Report(l.r, CodePair, "red lead first, as in Y-C or coil-1-coil-2", "%q is no pair of terminals", text)
}

// clamp reads the conductor a clamp goes around.
func (l *loader) clamp(d *draft, s *Step, v *source.Value, p *Pair) {
	var err error
	if p.Conductor, err = house.ParseConductor(v.Text); err != nil {
		l.word(v, CodePair, err)
		return
	}
	c := p.Conductor
	switch {
	case s.At != house.NoPlace && c.At != s.At:
		v.Report(l.r, CodePlace, "make it a step of its own", "the conductor is at %s and the step is at %s", c.At, s.At)
	case !l.someFit(d.tree, func(e house.Equipment) bool { return e.Has(c.Terminal, c.At) }):
		v.Report(l.r, CodeNoTerminal, "", "%s is nowhere at %s on the equipment of this tree", c.Terminal, c.At)
	}
}
