package report

import (
	"fmt"
	"strings"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// section is one part of a report in words; text and Markdown are made of
// these.
type section struct {
	Title    string
	Numbered bool
	Pairs    [][2]string // name and text
	Lines    []string
}

// stamp is a moment as the journal holds it, in the zone it was made in.
func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02 15:04:05")
}

// clock is the time of day, enough beside the day at the head.
func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.TimeOnly)
}

// sections are the report in words, in reading order: what it came to first.
func (r *Report) sections() []section {
	out := []section{{Title: "Call", Pairs: r.about()}}
	if f := r.Finding; f != nil {
		out = append(out, section{Title: "Finding", Pairs: r.outcome(), Lines: f.What})
		out = append(out, section{Title: "What to do", Numbered: true, Lines: f.Do})
		if f.Confirm != "" {
			out = append(out, section{Title: "How to confirm it", Lines: []string{f.Confirm}})
		}
		out = append(out, section{Title: session.AgainHead, Numbered: true, Lines: f.Again})
		out = append(out, section{Title: r.tellTitle(), Lines: f.Tell})
	} else {
		out = append(out, section{Title: "Finding", Lines: []string{"None yet: the call is open."}})
	}
	out = append(out, section{Title: "Looks and readings", Numbered: true, Lines: r.probeLines()})
	if r.ladder != nil {
		out = append(out, section{Title: "The circuit", Lines: r.ladder.words()})
	}
	out = append(out, section{Title: "Cautions acknowledged", Lines: eventLines(r.Cautions)})
	out = append(out, section{Title: "Done by hand", Lines: eventLines(r.Done)})
	out = append(out, section{Title: "Could not be done", Lines: eventLines(r.Unable)})
	out = append(out, section{Title: "Notes", Lines: eventLines(r.Notes)})
	out = append(out, section{Title: "Passed on", Lines: eventLines(r.Passed)})
	var said []section
	for _, s := range out {
		if len(s.Pairs)+len(s.Lines) > 0 {
			said = append(said, s)
		}
	}
	return said
}

func (r *Report) tellTitle() string {
	if r.Audience == house.Dispatcher.String() {
		return "Hazards"
	}
	return "Tell the technician"
}

// about is who, where, what and when, without what nobody said.
func (r *Report) about() [][2]string {
	facts := make([]string, len(r.Facts))
	for i, f := range r.Facts {
		facts[i] = strings.ReplaceAll(f.ID, "-", " ") + " " + f.Answer
	}
	complaint := r.Complaint.Title
	if r.Complaint.Words != "" && complaint != "" {
		complaint = "“" + r.Complaint.Words + "”, taken as: " + complaint
	} else if complaint == "" {
		complaint = r.Complaint.Words
	}
	system := r.Equipment.Title
	if system == "" {
		system = r.Equipment.ID
	}
	return said([][2]string{
		{"Call", r.Call}, {"Started", stamp(r.Started)}, {"Took", minutes(r.Minutes)},
		{"Who", r.Who}, {"Where", r.Where}, {"Held as", r.Audience},
		{"Complaint", complaint}, {"System", system}, {"House", strings.Join(facts, "; ")},
		{"Trees", strings.TrimSpace(r.Trees + " " + version(r.Version))}, {"Left out", unfit(r.Unfit)},
	})
}

func version(v string) string {
	if v == "" {
		return ""
	}
	return "(stepdown " + v + ")"
}

func unfit(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d of the answers kept do not fit the trees of now", n)
}

func minutes(m float64) string {
	if m == 0 {
		return ""
	}
	return fmt.Sprintf("%.1f min", m)
}

// outcome is the finding in short.
func (r *Report) outcome() [][2]string {
	f := r.Finding
	v, _ := house.ParseVerdict(f.Verdict) // as it was written
	verdict := v.Words()
	if f.Probability > 0 && f.ID != string(house.Undecided) {
		verdict += fmt.Sprintf(" (%.0f %% likely)", 100*f.Probability)
	}
	out := [][2]string{{"Found", f.Title}, {"Verdict", verdict}, {"Urgency", f.Urgency}}
	if len(f.Faults) > 1 {
		out = append(out, [2]string{"Still possible", titles(f.Faults)})
	}
	out = append(out, [][2]string{
		{"Evidence", prefixed("looks and readings ", numbers(f.Evidence))},
		{"Commonly from", f.Commonly}, {"Parts", strings.Join(f.Parts, ", ")}, {"Skills", strings.Join(f.Skills, ", ")},
	}...)
	if c := r.Closed; c != nil {
		out = append(out, [2]string{"Turned out", strings.TrimSpace(c.Fault.Title + " " + bracketed(c.Note))})
	}
	return said(out)
}

func prefixed(head, text string) string {
	if text == "" {
		return ""
	}
	return head + text
}

func bracketed(text string) string {
	if text == "" {
		return ""
	}
	return "(" + text + ")"
}

func titles(faults []Fault) string {
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = f.Title
	}
	return strings.Join(words, "; ")
}

func said(pairs [][2]string) [][2]string {
	var out [][2]string
	for _, p := range pairs {
		if p[1] != "" {
			out = append(out, p)
		}
	}
	return out
}

func (r *Report) probeLines() []string {
	out := make([]string, len(r.Probes))
	for i, p := range r.Probes {
		out[i] = strings.TrimSpace(clock(p.At)+" "+p.What) + ": " + p.Shown + " (" + p.House + ")" + prefixed("; ", p.ruling())
	}
	return out
}

// ruling says what a probe ruled out; a long list is counted.
func (p Probe) ruling() string {
	switch n := len(p.RuledOut); {
	case n == 0:
		return ""
	case n <= ruledNamed:
		return "ruled out: " + titles(p.RuledOut)
	default:
		return fmt.Sprintf("ruled out %d, among them: %s", n, titles(p.RuledOut[:ruledNamed]))
	}
}

// ruledNamed is how many faults a line names before it counts.
const ruledNamed = 4

func eventLines(list []Event) []string {
	out := make([]string, len(list))
	for i, e := range list {
		out[i] = strings.TrimSpace(clock(e.At) + " " + e.Text)
	}
	return out
}
