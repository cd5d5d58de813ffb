package tally

import (
	"cmp"
	"slices"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// Call is one call in short. Its text is safe to show.
type Call struct {
	Name     string    `json:"call"`
	Started  time.Time `json:"started"`
	Audience string    `json:"audience"` // of whoever holds it now
	Words    string    `json:"words"`    // the complaint as it was said
	Readings int       `json:"readings"` // of a meter
	Looks    int       `json:"answers"`  // looks and choices
	Minutes  float64   `json:"minutes"`  // without pauses
	Open     bool      `json:"open"`
	Finding  string    `json:"finding"` // empty while the call is open
	Closed   string    `json:"closed"`  // the fault it turned out to be, empty where nobody said
}

// Of takes a call in short from its journal alone.
func Of(name string, c journal.Call) Call {
	out := Call{Name: name, Started: c.Head.Started, Audience: "-", Minutes: c.Minutes(), Open: c.End == nil}
	aside := false // Words told who is at risk or how it is, and may be no complaint
	for _, e := range c.Events {
		if e.Kind == session.Text && out.Audience == house.Dispatcher.String() {
			if u := urgent(e.Reply); out.Words == "" || aside && !u {
				out.Words, aside = source.Clean(e.Reply), u
			}
		}
		out.take(e)
	}
	if c.End != nil {
		out.Finding = source.Clean(c.End.Finding)
	}
	if c.Closed != nil {
		out.Closed = source.Clean(c.Closed.Fault)
	}
	return out
}

// urgent reports whether words answer one of the questions of a ticket's urgency.
func urgent(words string) bool {
	return slices.ContainsFunc([]string{"people", "temperature"}, func(step string) bool {
		_, ok := session.HeardUrgency(step, words)
		return ok
	})
}

func (c *Call) take(e session.Event) {
	if e.Open != nil {
		c.Audience = e.Open.Audience.String()
		if e.Open.Complaint != "" {
			c.Words = source.Clean(e.Open.Complaint)
		}
	}
	switch e.Kind {
	case session.Text:
		if c.Words == "" {
			c.Words = source.Clean(e.Reply)
		}
	case session.Answer:
		c.Looks++
	case session.Values:
		for _, r := range e.Read {
			if !r.Missing {
				c.Readings++
			}
		}
	case session.Volunteer:
		if e.Seen != nil && e.Seen.Probe.IsLook() {
			c.Looks++
		} else if e.Seen != nil {
			c.Readings++
		}
	case session.Handover:
		if e.Handed != nil && c.Words == "" {
			c.Words = source.Clean(e.Handed.Complaint)
		}
	}
}

// Confirmed says whether what a call turned out to be is what it found; known
// is false where it found no one fault or nobody closed it.
func (c Call) Confirmed() (right, known bool) {
	faults := house.Finding(c.Finding).Faults()
	if c.Closed == "" || c.Finding == "" || len(faults) == 0 {
		return false, false
	}
	for _, f := range faults {
		if f.String() == c.Closed {
			return true, true
		}
	}
	return false, true
}

// Condemns reports whether the call's finding replaces a thermostat.
func (c Call) Condemns() bool {
	faults := house.Finding(c.Finding).Faults()
	for _, f := range faults {
		if !f.Condemns() {
			return false
		}
	}
	return len(faults) > 0
}

// Tally is many calls counted.
type Tally struct {
	Calls    int              `json:"calls"`
	Open     int              `json:"open"`
	Findings map[string]Count `json:"findings"` // of ended calls, by finding
	// Thermostats are the calls that condemned one, and Others all other ends
	// at one fault.
	Thermostats Verdicts `json:"thermostats"`
	Others      Verdicts `json:"others"`
	// Missed are the calls closed as a failed thermostat that found another part.
	Missed int `json:"missed-thermostats"`

	readings []float64
	minutes  []float64
}

// Count is the calls that ended at one finding.
type Count struct {
	Calls    int     `json:"calls"`
	Readings int     `json:"readings"`
	Minutes  float64 `json:"minutes"`
}

// Verdicts are findings, and what became of them.
type Verdicts struct {
	Found     int `json:"found"`
	Confirmed int `json:"confirmed"`
	Refuted   int `json:"refuted"`
	Unclosed  int `json:"unclosed"`
}

// Add counts a call.
func (t *Tally) Add(c Call) {
	t.Calls++
	if c.Open {
		t.Open++
		return
	}
	if t.Findings == nil {
		t.Findings = map[string]Count{}
	}
	name := c.Finding
	if name == "" {
		name = "none given"
	}
	n := t.Findings[name]
	n.Calls, n.Readings, n.Minutes = n.Calls+1, n.Readings+c.Readings, n.Minutes+c.Minutes
	t.Findings[name] = n
	t.readings = append(t.readings, float64(c.Readings))
	t.minutes = append(t.minutes, c.Minutes)
	v := &t.Others
	if c.Condemns() {
		v = &t.Thermostats
	}
	if len(house.Finding(c.Finding).Faults()) > 0 {
		v.add(c)
	}
	if f, err := house.ParseFault(c.Closed); err == nil && f.Condemns() && !c.Condemns() {
		t.Missed++
	}
}

func (v *Verdicts) add(c Call) {
	v.Found++
	switch right, known := c.Confirmed(); {
	case !known:
		v.Unclosed++
	case right:
		v.Confirmed++
	default:
		v.Refuted++
	}
}

// Spread is the middle of a list and its ends: least, quarter, half, three
// quarters, most. It is zero for none.
type Spread struct {
	Least, Quarter, Half, Most3, Most float64
}

func spread(list []float64) Spread {
	if len(list) == 0 {
		return Spread{}
	}
	s := slices.Clone(list)
	slices.Sort(s)
	at := func(share float64) float64 { return s[int(share*float64(len(s)-1)+0.5)] }
	return Spread{s[0], at(0.25), at(0.5), at(0.75), s[len(s)-1]}
}

// Readings is the spread of the meter readings of ended calls.
func (t *Tally) Readings() Spread { return spread(t.readings) }

// Minutes is the spread of the minutes of ended calls, without pauses.
func (t *Tally) Minutes() Spread { return spread(t.minutes) }

// byCalls lists the findings, most calls first.
func (t *Tally) byCalls() []string {
	var out []string
	for f := range t.Findings {
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b string) int {
		if d := cmp.Compare(t.Findings[b].Calls, t.Findings[a].Calls); d != 0 {
			return d
		}
		return cmp.Compare(a, b)
	})
	return out
}
