package tree

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

// setup reads the keys that are given; nil is none of them.
func (l *loader) setup(t *Tree, v *source.Value) house.Partial {
	var p house.Partial
	if v == nil {
		return p
	}
	for _, e := range v.Entries(l.r) {
		k, err := house.ParseKey(e.Key.Text)
		if err != nil {
			l.word(e.Key, "", err, ids(house.Keys())...)
			continue
		}
		before := l.r.Len()
		var words []string
		if k.IsList() {
			words = e.Value.Strings(l.r)
		} else {
			words = []string{e.Value.String(l.r)}
		}
		if l.r.Len() > before {
			continue
		}
		if err := p.Set(k, words); err != nil {
			l.word(l.culprit(e.Value, err), CodeSetup, err)
			continue
		}
		l.setupScrews(t, k, e.Value)
	}
	return p
}

// culprit is the item of a list an unknown word stands in.
func (l *loader) culprit(v *source.Value, err error) *source.Value {
	if v.Kind != source.List {
		return v
	}
	for _, item := range v.Items(l.r) {
		if strings.Contains(err.Error(), `"`+item.Text+`"`) {
			return item
		}
	}
	return v
}

// setupScrews reports a jumper to a letter, or a lifted conductor, that no
// equipment of the tree has.
func (l *loader) setupScrews(t *Tree, k house.Key, v *source.Value) {
	if !k.IsList() {
		return
	}
	for i, item := range v.Items(l.r) {
		c := house.Conductor{At: house.AtThermostat}
		var err error
		if k == house.KeyLifted {
			c, err = house.ParseConductor(item.Text)
		} else if i > 0 { // R itself may be Rc or Rh
			c.Terminal, err = house.ParseTerminal(item.Text)
		}
		if err != nil || c.Terminal == house.NoTerminal {
			continue
		}
		if !l.someFit(t, func(e house.Equipment) bool { return e.Has(c.Terminal, c.At) }) {
			item.Report(l.r, CodeNoTerminal, "", "%s is nowhere at %s on the equipment of this tree", c.Terminal, c.At)
		}
	}
}

// needsOf reports a setup in which the readings cannot be made.
func (l *loader) needsOf(sd *stepDraft, f source.Fields) {
	setup, s := f.Get("setup"), sd.step
	if setup == nil || setup.Kind != source.Map {
		return
	}
	whole := s.Setup.Over(house.DefaultSetup())
	for _, e := range setup.Entries(l.r) {
		k, err := house.ParseKey(e.Key.Text)
		if err != nil {
			continue
		}
		power := k == house.KeyPowerIndoor && whole.PowerIndoor != house.LockedOut ||
			k == house.KeyPowerOutdoor && whole.PowerOutdoor != house.LockedOut
		closed := k == house.KeyCoverIndoor && s.At == house.AtIndoor && !whole.CoverIndoor ||
			k == house.KeyCoverOutdoor && s.At == house.AtOutdoor && !whole.CoverOutdoor
		switch {
		case power && s.Quantity == quantity.Resistance:
			e.Value.Report(l.r, CodeSetup, "leave the key out", "ohms are read with every feed locked out")
		case closed:
			e.Value.Report(l.r, CodeSetup, "leave the key out", "nothing can be read behind a closed cover")
		case k == house.KeyPowerIndoor && s.Quantity != quantity.Resistance && whole.PowerIndoor != house.On:
			e.Value.Report(l.r, CodeSetup, "leave the key out", "%s are read with power on", s.Quantity.Title())
		}
	}
}
