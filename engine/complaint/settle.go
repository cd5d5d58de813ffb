package complaint

import "slices"

// The concepts that the code itself speaks of.
const (
	brk    = "|" // a clause ends
	not    = "not"
	stop   = "stop"
	off    = "off"
	run    = "run"
	always = "always"
	blank  = "blank"
	dead   = "dead"
	still  = "still"
	away   = "away"
)

// hinges are concepts whose sense hangs on another said anywhere in the text:
// a fuse blows, air is blown; a furnace of strips has no other heat, so its
// strips are no auxiliary.
var hinges = []struct{ concept, on, then, otherwise string }{
	{"blow", "fuse", "fuse-blows", "air"},
	{"strips", "strips-furnace", "heater", "aux"},
	{"strips-furnace", "strips-furnace", "heater", "heater"},
}

// deeds are what stops when something is said to have stopped them: "stopped
// cooling" denies the cooling, "stopped last night" that it runs.
var deeds = map[string]bool{"cool": true, "heat": true, "hot": true, "cold": true, "air": true, run: true, always: true, "flow": true, "fan": true, "heater": true}

// settle works out the words whose sense hangs on others: what will not stop
// runs always, as does what runs while the thermostat is off; what stopped
// cooling does not cool; what is not blank is lit; what just stopped, or of
// which no more is said than no, does not run.
func settle(in []string) []string {
	hinge(in)
	var out []string
	for i := 0; i < len(in); i++ {
		last, next := brk, brk
		if len(out) > 0 {
			last = out[len(out)-1]
		}
		if i+1 < len(in) {
			next = in[i+1]
		}
		if is := pair(in[i], next); is != nil {
			out = append(out, is...)
			i++
			continue
		}
		switch c := in[i]; {
		case c == not && next == brk && len(out) > 0 && last != not:
			out = append(out, not, run)
		case c == not && next == not:
		case c == still && yet(in[i+1:]):
		case c == off && last == "stat" && runs(in):
			out = append(out, always)
		default:
			out = append(out, alone(c, last, next)...)
		}
	}
	return out
}

// pair is the sense of two concepts in a row that are one, nil where they are
// not.
func pair(c, next string) []string {
	switch {
	case c == not && (next == stop || next == off):
		return []string{always}
	case (c == not || c == stop) && next == always:
		return []string{not, run}
	case c == not && (next == blank || next == dead):
		return []string{"?"}
	}
	return nil
}

// alone is the sense of one concept between its neighbours.
func alone(c, last, next string) []string {
	switch {
	case c == stop && deeds[next]:
		return []string{not}
	case c == stop:
		return []string{not, run}
	case c == still:
		return []string{always}
	case (c == dead || c == away) && (shows(last) || shows(next)):
		return []string{blank}
	case c == away && (last == brk || last == "?"):
		return []string{"?"}
	case c == dead || c == away:
		return []string{not, run}
	}
	return []string{c}
}

func hinge(text []string) {
	for _, h := range hinges {
		is := h.otherwise
		if slices.Contains(text, h.on) {
			is = h.then
		}
		for i, c := range text {
			if c == h.concept {
				text[i] = is
			}
		}
	}
}

// shows tells whether the concept is a thing that goes blank when it is dead.
func shows(concept string) bool { return concept == "stat" || concept == "display" }

// yet tells whether "still" before these says that something is so yet, such
// as still cold, and not that something goes on.
func yet(after []string) bool {
	after = slices.DeleteFunc(slices.Clone(after[:min(2, len(after))]), func(c string) bool { return c == brk })
	return len(after) > 0 && slices.Contains([]string{not, "house", "hot", "cold", "tepid", blank, dead}, after[0])
}

// runs tells whether anything is said to run.
func runs(text []string) bool {
	for i, c := range text {
		if c == always || c == still || c == run && !denied(text, i) {
			return true
		}
	}
	return false
}
