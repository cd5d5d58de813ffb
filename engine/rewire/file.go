package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/letter"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

// The codes of the problems Parse reports beyond those of the YAML reader.
const (
	CodeWire    = "conductor"
	CodeBase    = "base"
	CodeReading = "reading"
)

// Parse reads a case from YAML or JSON. Every problem is reported at its line
// and column; the case is whole only where there is none.
func Parse(name string, data []byte) (Case, source.Problems) {
	f := file{r: source.NewReporter()}
	v := source.Parse(name, data, f.r)
	if v == nil {
		return Case{}, f.r.Problems()
	}
	c := f.read(v)
	return c, f.r.Problems()
}

type file struct {
	r *source.Reporter
	c Case
}

func (f *file) read(v *source.Value) Case {
	in := v.Fields(f.r, "as", "meter", "old-base", "equipment", "conductors", "new-base", "joined", "changeover", "readings", "looks", "unable")
	word(f, in.Get("as"), house.ParseAudience, &f.c.Audience)
	word(f, in.Get("meter"), house.ParseMeter, &f.c.Meter)
	word(f, in.Get("old-base"), house.ParseBase, &f.c.OldBase)
	if e := in.Get("equipment"); e != nil && e.Text != "unknown" {
		word(f, e, house.ParseEquipment, &f.c.Equipment)
	}
	word(f, in.Get("changeover"), parseSense, &f.c.Setting)
	f.base(in.Need("new-base"))
	f.conductors(in.Need("conductors"))
	f.c.Joined = f.joined(in.Get("joined"))
	if in.Has("readings") {
		for _, item := range in.Get("readings").Items(f.r) {
			f.reading(item)
		}
	}
	if in.Has("looks") {
		for _, item := range in.Get("looks").Items(f.r) {
			f.look(item)
		}
	}
	if in.Has("unable") {
		f.c.Unable = in.Get("unable").Strings(f.r)
	}
	return f.c
}

// word reads one value of a closed list.
func word[T any](f *file, v *source.Value, parse func(string) (T, error), into *T) {
	if v == nil {
		return
	}
	text := v.String(f.r)
	if text == "" {
		return
	}
	x, err := parse(text)
	if err != nil {
		v.Report(f.r, source.CodeUnknownWord, "", "%s", err)
		return
	}
	*into = x
}

// parseSense reads the mode a changeover is energised in.
func parseSense(text string) (house.Mode, error) {
	switch text {
	case "cooling":
		return house.ModeCool, nil
	case "heating":
		return house.ModeHeat, nil
	}
	return house.ModeOff, fmt.Errorf("a changeover is energised in cooling or heating, not %q", text)
}

// parseMode reads the mode the old thermostat was set to.
func parseMode(text string) (house.Mode, error) {
	for _, m := range []house.Mode{house.ModeOff, house.ModeCool, house.ModeHeat, house.ModeEmergency} {
		if m.String() == text {
			return m, nil
		}
	}
	return 0, fmt.Errorf("a mode is off, cool, heat or emergency, not %q", text)
}

func (f *file) base(v *source.Value) {
	in := v.Fields(f.r, "letters", "power")
	if l := in.Need("letters"); l != nil {
		var text string
		if l.Kind == source.List {
			text = strings.Join(l.Strings(f.r), " ")
		} else {
			text = l.String(f.r)
		}
		b, err := ParseBase(text)
		if err != nil {
			l.Report(f.r, CodeBase, "one of "+letters, "%s", err)
		}
		f.c.New = b
	}
	if p := in.Need("power"); p != nil {
		power, err := ParsePower(p.String(f.r))
		if err != nil {
			p.Report(f.r, source.CodeUnknownWord, "one of common, battery, either, through-load", "%s", err)
		}
		f.c.New.Power = power
	}
}

func (f *file) conductors(v *source.Value) {
	for _, item := range v.Items(f.r) {
		in := item.Fields(f.r, "name", "colour", "old", "equipment", "rung-out", "now")
		w := Conductor{}
		if c := in.Get("colour"); c != nil {
			w.Colour, _ = c.OneOf(f.r, "colour", letter.Jackets...)
		}
		w.Name = w.Colour
		at := in.Get("colour")
		if n := in.Get("name"); n != nil {
			w.Name, at = n.String(f.r), n
		}
		if w.Name == "" {
			f.r.Add(item.Pos, CodeWire, "give it a colour or a name", "a conductor has neither colour nor name")
			continue
		}
		if strings.ContainsAny(w.Name, ":,") {
			at.Report(f.r, CodeWire, "", "a name has no colon and no comma: %q", w.Name)
		}
		if f.c.find(w.Name) >= 0 {
			at.Report(f.r, CodeWire, "give each a name, such as name: "+w.Name+"-2", "two conductors are called %q", w.Name)
		}
		for key, mark := range map[string]*Mark{"old": &w.Old, "equipment": &w.Board, "now": &w.Now} {
			if m := in.Get(key); m != nil {
				f.mark(m, mark)
			}
		}
		if rung := in.Get("rung-out"); rung != nil {
			if w.RungOut = rung.Bool(f.r); w.RungOut && w.Board.State != OnLetter {
				rung.Report(f.r, CodeWire, "add equipment: and the screw it was rung out to", "%q was rung out to no screw", w.Name)
			}
		}
		f.c.Conductors = append(f.c.Conductors, w)
	}
	if v != nil && v.Kind == source.List && len(f.c.Conductors) == 0 {
		v.Report(f.r, CodeWire, "list each wire out of the wall", "no conductor is named")
	}
}

func (f *file) mark(v *source.Value, into *Mark) {
	text := v.String(f.r)
	if text == "" {
		return
	}
	m, err := ParseMark(text)
	if err != nil {
		v.Report(f.r, source.CodeUnknownWord, "one of "+letters, "%s", err)
	}
	*into = m
}

// joined reads a list of jumpers, each written Rc-Rh.
func (f *file) joined(v *source.Value) [][2]house.Terminal {
	if v == nil {
		return nil
	}
	var out [][2]house.Terminal
	for _, item := range v.Items(f.r) {
		j, err := parseJoined(item.String(f.r))
		if err != nil {
			item.Report(f.r, source.CodeUnknownWord, "write it as Rc-Rh or W2-E", "%s", err)
			continue
		}
		out = append(out, j)
	}
	return out
}

func parseJoined(text string) (j [2]house.Terminal, err error) {
	one, two, ok := strings.Cut(text, "-")
	a, errA := ParseMark(one)
	b, errB := ParseMark(two)
	if !ok || errA != nil || errB != nil || a.State != OnLetter || b.State != OnLetter {
		return j, fmt.Errorf("%q is no jumper between two screws", text)
	}
	return [2]house.Terminal{a.Letter, b.Letter}, nil
}

// wire reads the name of a conductor that is listed, −1 where there is none.
func (f *file) wire(v *source.Value) int {
	if v == nil {
		return -1
	}
	name := v.String(f.r)
	k := f.c.find(name)
	if k < 0 && name != "" {
		var names []string
		for _, w := range f.c.Conductors {
			names = append(names, w.Name)
		}
		hint := "list it under conductors"
		if near, ok := source.Nearest(name, names); ok {
			hint = "did you mean " + near + "?"
		}
		v.Report(f.r, CodeWire, hint, "no conductor is called %q", name)
	}
	return k
}

func (f *file) reading(item *source.Value) {
	in := item.Fields(f.r, "ohms", "volts", "red", "black", "mode")
	r := Reading{Quantity: quantity.Resistance, Red: f.wire(in.Need("red")), Black: f.wire(in.Need("black"))}
	v := in.Get("ohms")
	if v == nil {
		r.Quantity, v = quantity.ACVolts, in.Get("volts")
	}
	switch {
	case v == nil || in.Has("ohms") && in.Has("volts"):
		f.r.Add(item.Pos, CodeReading, "give ohms: 12 or volts: 24", "a reading is of ohms or of volts")
		return
	case r.Quantity == quantity.Resistance && in.Has("mode"):
		in.Get("mode").Report(f.r, CodeReading, "leave it out", "ohms are read with the power locked out, in no mode")
	case r.Quantity == quantity.ACVolts:
		word(f, in.Need("mode"), parseMode, &r.Mode)
	}
	value, err := quantity.Parse(v.String(f.r), r.Quantity)
	if err != nil {
		v.Report(f.r, CodeReading, "", "%s", err)
		return
	}
	r.Value = value
	if r.Red == r.Black && r.Red >= 0 {
		in.Get("black").Report(f.r, CodeReading, "name two conductors", "both leads are on %q", f.c.Conductors[r.Red].Name)
	}
	if r.Red >= 0 && r.Black >= 0 {
		f.c.Readings = append(f.c.Readings, r)
	}
}

// lookable are the looks a swap has a use for.
var lookable = []house.Look{house.ChangeoverRated, house.ChangeoverSetting, house.OutdoorUnit, house.IndoorFan, house.Air}

func (f *file) look(item *source.Value) {
	in := item.Fields(f.r, "look", "answer", "jumper")
	s := Seen{Jumper: -1}
	v := in.Need("look")
	word(f, v, house.ParseLook, &s.Look)
	if s.Look == house.NoLook {
		return
	}
	if !slices.Contains(lookable, s.Look) {
		v.Report(f.r, source.CodeUnknownWord, "one of changeover-rated, changeover-setting, outdoor-unit, indoor-fan, air", "%s tells nothing about a swap", s.Look)
	}
	word(f, in.Need("answer"), s.Look.ParseAnswer, &s.Answer)
	j := in.Get("jumper")
	atRest := s.Look == house.ChangeoverRated || s.Look == house.ChangeoverSetting
	switch {
	case j != nil && atRest:
		j.Report(f.r, CodeReading, "leave it out", "%s is seen without a jumper", s.Look)
	case j == nil && !atRest:
		f.r.Add(item.Pos, CodeReading, "add jumper: and the conductor joined to R", "%s is seen with one conductor joined to R", s.Look)
	case j != nil:
		if s.Jumper = f.wire(j); s.Jumper < 0 {
			return
		}
	}
	f.c.Looks = append(f.c.Looks, s)
}
