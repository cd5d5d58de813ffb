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
)

// hinges are concepts whose sense hangs on another said anywhere in the text:
// a fuse blows, air is blown; a furnace of strips has no other heat, so its
// strips are no auxiliary.
var hinges = []struct{ concept, on, then, otherwise string }{
	{"blow", "fuse", "fuse-blows", "air"},
	{"strips", "strips-furnace", "heater", "aux"},
	{"strips-furnace", "strips-furnace", "heater", "heater"},
}

// things that stop when something is said to have stopped them: "stopped
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
		next := ""
		if i+1 < len(in) {
			next = in[i+1]
		}
		last := ""
		if len(out) > 0 {
			last = out[len(out)-1]
		}
		switch c := in[i]; {
		case c == not && (next == stop || next == off):
			out = append(out, always)
			i++
		case (c == not || c == stop) && next == always:
			out = append(out, not, run)
			i++
		case c == not && (next == blank || next == dead):
			out = append(out, "?")
			i++
		case c == stop && deeds[next]:
			out = append(out, not)
		case c == stop:
			out = append(out, not, run)
		case c == not && (next == "" || next == brk) && last != "" && last != not:
			out = append(out, not, run)
		case c == not && next == not:
		case c == dead && (shows(last) || shows(next)):
			out = append(out, blank)
		case c == dead:
			out = append(out, not, run)
		case c == off && last == "stat" && runs(in):
			out = append(out, always)
		default:
			out = append(out, c)
		}
	}
	return out
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

// runs tells whether anything is said to run.
func runs(text []string) bool {
	for i, c := range text {
		if c == always || c == run && !denied(text, i) {
			return true
		}
	}
	return false
}
