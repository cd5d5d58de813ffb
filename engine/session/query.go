package session

import (
	"strings"
	"time"
)

// Why says what the open question is for.
func (b *Book) Why(s State) []string {
	switch {
	case s.pending.Ask != nil && s.pending.Ask.Why != "":
		return append([]string{s.pending.Ask.Why}, b.outcomes(s)...)
	case s.pending.Caution != nil:
		return []string{"What comes next can hurt; this is read first.", "Source: " + strings.Join(s.pending.Caution.Source, "; ")}
	case s.pending.Do != nil && s.step != nil && s.phase == walking:
		return []string{"It brings the house to where the next reading can be made.", s.facts.Equipment.Words(s.step.Why)}
	case s.pending.Do != nil:
		return []string{"It leaves the house safe."}
	}
	switch s.asked {
	case askedRetake:
		return []string{"One of the readings or looks so far must be wrong, or more than one thing is. Made again, the later one counts; if it stands, the call goes on with it."}
	case askedEmergency:
		return []string{"Any of these comes before the house: the call ends at once, with what to do."}
	case askedPeople, askedTemperature:
		return []string{"It sets how soon somebody must come."}
	case askedWords, askedComplaint:
		return []string{"It picks the questions that follow."}
	}
	return []string{"It decides what can be asked of this house, and of whom."}
}

// Record gives the record as lines, oldest first.
func (s State) Record() []string {
	var out []string
	if s.gates.words != "" {
		out = append(out, "Complaint: "+s.gates.words)
	}
	for _, e := range s.log {
		if line := e.String(); line != "" {
			out = append(out, line)
		}
	}
	return out
}

func (e Entry) String() string {
	stamp := ""
	if !e.At.IsZero() {
		stamp = e.At.Format(time.TimeOnly) + "  "
	}
	switch e.Kind {
	case EntryRead:
		return stamp + e.Seen.String()
	case EntryCaution:
		return stamp + "caution acknowledged: " + e.Text
	case EntryUnable:
		return stamp + "unable: " + e.Text
	case EntryNote:
		return stamp + "note: " + e.Text
	case EntryFinding:
		return "finding: " + e.Text
	case EntryOpened:
		return stamp + "opened as " + e.Text
	}
	return stamp + e.Text
}
