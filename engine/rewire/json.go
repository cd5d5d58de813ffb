package rewire

import (
	"encoding/json"

	"stepdown/engine/house"
	"stepdown/engine/planner"
)

// The JSON form of a report. Volts are AC rms; VA is at the secondary.
type (
	reportJSON struct {
		State     State           `json:"state"`
		Why       []string        `json:"why,omitempty"`
		Equipment []string        `json:"equipment,omitempty"`
		Question  *questionJSON   `json:"question,omitempty"`
		Landing   []placementJSON `json:"landing,omitempty"`
		Joined    []string        `json:"joined,omitempty"`
		Settings  []settingJSON   `json:"settings,omitempty"`
		Power     string          `json:"power,omitempty"`
		Lost      []string        `json:"lost,omitempty"`
		Common    []optionJSON    `json:"common,omitempty"`
		Proofs    []proofJSON     `json:"proofs,omitempty"`
		Edges     []edgeJSON      `json:"edges,omitempty"`
		Tight     []string        `json:"tight,omitempty"`
	}
	checkedJSON struct {
		reportJSON
		Good    bool        `json:"good"`
		Wrong   []string    `json:"wrong,omitempty"`
		Effects []proofJSON `json:"effects"`
		Blown   []string    `json:"may-have-blown,omitempty"`
	}
	questionJSON struct {
		ID        string     `json:"id"`
		Kind      Kind       `json:"kind"`
		Text      string     `json:"text"`
		Why       string     `json:"why"`
		Conductor string     `json:"conductor,omitempty"`
		Quantity  string     `json:"quantity,omitempty"`
		Red       string     `json:"red,omitempty"`
		Black     string     `json:"black,omitempty"`
		Mode      string     `json:"mode,omitempty"`
		Look      string     `json:"look,omitempty"`
		Jumper    string     `json:"jumper,omitempty"`
		Answers   []wordJSON `json:"answers,omitempty"`
		Means     []string   `json:"means,omitempty"`
		Steps     []stepJSON `json:"steps,omitempty"`
	}
	wordJSON struct {
		ID   string `json:"id"`
		Text string `json:"text"`
	}
	stepJSON struct {
		Kind string `json:"kind"` // do, caution or look
		ID   string `json:"id"`
		Text string `json:"text,omitempty"`
	}
	placementJSON struct {
		Conductor  string     `json:"conductor"`
		Colour     string     `json:"colour,omitempty"`
		Old        string     `json:"old,omitempty"`
		Equipment  string     `json:"equipment,omitempty"`
		Is         string     `json:"is"`
		To         string     `json:"to"` // a screw, or "cap"
		Confidence Confidence `json:"confidence"`
		Reason     string     `json:"reason"`
	}
	settingJSON struct {
		ID    string `json:"id"`
		Value string `json:"value"`
		Why   string `json:"why"`
	}
	optionJSON struct {
		ID     string `json:"id"`
		Text   string `json:"text"`
		Means  string `json:"means"`
		Proven bool   `json:"proven"`
	}
	proofJSON struct {
		Equipment string     `json:"equipment"`
		Calls     []callJSON `json:"calls"`
	}
	edgeJSON struct {
		House     string   `json:"house"`
		Equipment string   `json:"equipment"`
		Strains   []string `json:"strains"` // each call with what is wrong there
	}
	callJSON struct {
		Call    string       `json:"call"`
		Live    []string     `json:"live"`
		In      []string     `json:"in"`
		Wanted  []string     `json:"wanted"`
		Blown   bool         `json:"fuse-blown"`
		Lit     bool         `json:"lit"`
		Coils   []coilJSON   `json:"coils"`
		Sources []sourceJSON `json:"sources"`
		Wrong   []string     `json:"wrong,omitempty"`
	}
	coilJSON struct {
		Part    string  `json:"part"`
		Pulling float64 `json:"pulling-volts"`
		Held    float64 `json:"held-volts"`
		PickUp  float64 `json:"pick-up-volts"`
	}
	sourceJSON struct {
		Part   string  `json:"part"`
		VA     float64 `json:"va"`
		Rating float64 `json:"rating-va"`
		Volts  float64 `json:"volts"`
		Amps   float64 `json:"amps"`
	}
)

// MarshalJSON writes the report for a program.
func (r Report) MarshalJSON() ([]byte, error) { return json.Marshal(r.wire()) }

// MarshalJSON writes the check for a program.
func (k Checked) MarshalJSON() ([]byte, error) {
	return json.Marshal(checkedJSON{reportJSON: k.wire(), Good: k.Good, Wrong: k.Wrong, Blown: k.Blown, Effects: wires(k.Effects, k.Case.New)})
}

func (r Report) wire() reportJSON {
	out := reportJSON{State: r.State, Why: r.Why, Lost: r.Lost, Tight: r.Tight}
	for _, e := range r.Equipment {
		out.Equipment = append(out.Equipment, e.String())
	}
	if r.Question != nil {
		out.Question = r.Question.wire(r.Case)
	}
	for _, p := range r.Landing {
		to := "cap"
		if p.To != house.NoTerminal {
			to = r.Case.New.Word(p.To)
		}
		is := "spare"
		if p.Is != spare {
			is = p.Is.String()
		}
		w := p.Conductor
		out.Landing = append(out.Landing, placementJSON{w.Name, w.Colour, w.Old.String(), w.Board.String(), is, to, p.Confidence, p.Reason})
	}
	for _, j := range r.Plan.Joined {
		out.Joined = append(out.Joined, r.Case.New.Word(j[0])+"-"+r.Case.New.Word(j[1]))
	}
	if len(r.Landing) > 0 {
		out.Power = r.Plan.Power.String()
	}
	for _, s := range r.Settings {
		out.Settings = append(out.Settings, settingJSON(s))
	}
	for _, o := range r.Common {
		out.Common = append(out.Common, optionJSON(o))
	}
	out.Proofs = wires(r.Proofs, r.Case.New)
	for _, e := range r.Edges {
		out.Edges = append(out.Edges, edgeJSON{e.House, e.Proof.Equipment.String(), e.strains()})
	}
	return out
}

func (q Question) wire(c Case) *questionJSON {
	out := &questionJSON{ID: q.ID, Kind: q.Kind, Text: q.Text, Why: q.Why, Means: q.Means}
	name := func(k int) string { return c.Conductors[k].Name }
	switch {
	case q.Kind == AskReading:
		r := q.Reading
		out.Conductor, out.Quantity, out.Red, out.Black = name(q.Conductor), r.Quantity.String(), name(r.Red), name(r.Black)
		if r.Mode != house.ModeOff {
			out.Mode = r.Mode.String()
		}
	case q.Kind == AskBoard:
		out.Conductor = name(q.Conductor)
	case q.Kind == AskLook:
		out.Look = q.Seen.Look.String()
		if q.Seen.Jumper >= 0 {
			out.Jumper, out.Conductor = name(q.Seen.Jumper), name(q.Conductor)
		}
	}
	for _, a := range q.Answers {
		out.Answers = append(out.Answers, wordJSON{a[0], a[1]})
	}
	steps, _ := q.Steps(c.Audience, c.Facts())
	for _, s := range steps {
		kind := "do"
		switch s.Kind {
		case planner.Caution:
			kind = "caution"
		case planner.Look:
			kind = "look"
		}
		out.Steps = append(out.Steps, stepJSON{kind, s.ID, s.Text})
	}
	return out
}

func wires(ps []Proof, b Base) []proofJSON {
	out := make([]proofJSON, len(ps))
	for i, p := range ps {
		out[i] = p.wire(b)
	}
	return out
}

func (p Proof) wire(b Base) proofJSON {
	out := proofJSON{Equipment: p.Equipment.String()}
	some := func(words []string) []string { return append([]string{}, words...) }
	for _, c := range p.Calls {
		w := callJSON{Call: c.ID, Live: []string{}, In: some(c.In), Wanted: some(c.Wanted), Blown: c.Blown, Lit: c.Lit,
			Coils: []coilJSON{}, Sources: []sourceJSON{}, Wrong: c.Wrong}
		for _, t := range c.Live.List() {
			w.Live = append(w.Live, b.Word(t))
		}
		for _, x := range c.Coils {
			w.Coils = append(w.Coils, coilJSON{x.Part, hundredth(x.Pulling), hundredth(x.Held), hundredth(x.PickUp)})
		}
		for _, s := range c.Sources {
			w.Sources = append(w.Sources, sourceJSON{s.Part, hundredth(s.VA), s.Rating, hundredth(s.Volts), hundredth(s.Amps)})
		}
		out.Calls = append(out.Calls, w)
	}
	return out
}

// hundredth keeps what a meter could show.
func hundredth(x float64) float64 { return float64(int64(x*100+0.5)) / 100 }
