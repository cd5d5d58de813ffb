package trees_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"stepdown/cautions"
	"stepdown/engine/caution"
	"stepdown/engine/house"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// said is everything a finding tells one audience.
func said(f *tree.Finding, who house.Audience) []string {
	t := f.For(who)
	return append(append([]string{f.Title, t.Is, t.Proof, t.Confirm}, t.Do...), t.Tell...)
}

// jargon is what a homeowner should not have to know: the parts' trade names,
// letters of screws, covers and jumpers, and what things cost.
var jargon = regexp.MustCompile(`(?i)\b(cover|jumper|contactor|transformer|relay|sequencer|conductor|terminal|solenoid|ohms?|price|cost|cheap|\$|dollars?|24[ -]volts?|VA|armature|primary|secondary|strip)\b|\b[RCYGWOBL] (to|and) [RCYGWOBL]\b`)

// TestHomeownersAreToldNoJargon reads every text but the title, which names
// the part for whoever comes.
func TestHomeownersAreToldNoJargon(t *testing.T) {
	lib := library(t)
	for id, f := range lib.Findings {
		for _, line := range said(f, house.Homeowner)[1:] {
			if word := jargon.FindString(line); word != "" {
				t.Errorf("%s says %q to a homeowner: %s", id, word, line)
			}
		}
	}
}

// TestTicketsFitAScreen: 24 lines of 80, with urgency, parts, skills and the
// heading of each.
func TestTicketsFitAScreen(t *testing.T) {
	const linesMax, columns = 24, 76
	rows := func(lines ...string) int {
		n := 0
		for _, l := range lines {
			n += 1 + (len([]rune(l))-1)/columns
		}
		return n
	}
	for id, f := range library(t).Findings {
		const headings = 7 // title, urgency, what, seen, caller, technician, rule
		n := headings + rows(said(f, house.Dispatcher)[1:]...) + rows(strings.Join(f.Parts, ", "), strings.Join(f.Skills, ", "))
		if n > linesMax {
			t.Errorf("the ticket of %s takes %d lines", id, n)
		}
	}
}

// forbidden are acts nobody is ever told to do; a line that names one must
// forbid it, or bound it, in the same breath.
var forbidden = []struct {
	act     *regexp.Regexp
	bounded *regexp.Regexp
}{
	{regexp.MustCompile(`(?i)\bbridge[ds]?\b|jumper (across|past|over)`), regexp.MustCompile(`(?i)\bnever\b|through a bridge|bridge in`)},
	{regexp.MustCompile(`(?i)\b(larger|bigger|stronger) (one|fuse)|fuse.*(larger|bigger)`), regexp.MustCompile(`(?i)never larger`)},
	{regexp.MustCompile(`(?i)\breset\b`), regexp.MustCompile(`(?i)\bonce\b|before any reset|never reset|before reset|no more`)},
	{regexp.MustCompile(`(?i)fit .*new fuse|new fuse`), regexp.MustCompile(`(?i)\bone\b|before a new`)},
	{regexp.MustCompile(`(?i)capacitor.*(screwdriver|short )`), regexp.MustCompile(`(?i)never`)},
}

func TestNobodyIsToldToDoWhatIsForbidden(t *testing.T) {
	check := func(where, line string) {
		for _, f := range forbidden {
			if f.act.MatchString(line) && !f.bounded.MatchString(line) {
				t.Errorf("%s: %s", where, line)
			}
		}
	}
	lib := library(t)
	for id, f := range lib.Findings {
		for _, who := range house.Audiences() {
			for _, line := range said(f, who) {
				check(string(id), line)
			}
		}
	}
	for _, tr := range lib.InOrder() {
		for _, s := range tr.Steps {
			check(s.String(), s.Why)
		}
	}
	set, problems := caution.Load(cautions.FS)
	if len(problems) > 0 {
		t.Fatal(problems.Error())
	}
	for _, id := range set.IDs() {
		c, _ := set.Get(id)
		check(id, strings.Join(c.Text, " "))
	}
}

// TestFindingsNameCautionsThatExist: and one that sends hands to line voltage
// names the caution for it.
func TestFindingsNameCautionsThatExist(t *testing.T) {
	set, _ := caution.Load(cautions.FS)
	line := regexp.MustCompile(`\b(L1|L2|T1|T2)\b|\bline leads\b|primary`)
	for id, f := range library(t).Findings {
		has := map[string]bool{}
		for _, c := range f.Cautions {
			has[c] = true
			if _, ok := set.Get(c); !ok {
				t.Errorf("%s names caution %q, which has no file", id, c)
			}
		}
		t2 := f.For(house.Tech)
		if line.MatchString(strings.Join(t2.Do, " ")+t2.Confirm) && !has["line-voltage"] {
			t.Errorf("%s sends hands to line voltage without its caution", id)
		}
	}
}

// TestNoTextNamesAMaker is a short net: capitalised words in the middle of a
// sentence are letters of screws, units, or known.
func TestNoTextNamesAMaker(t *testing.T) {
	word := regexp.MustCompile(`[a-z,] ([A-Z][a-z]{2,})\b`)
	known := map[string]bool{"Class": true, "When": true}
	err := fs.WalkDir(trees.FS, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path == "limits.yaml" || strings.HasPrefix(path, "equipment") || path == "weights.yaml" {
			return err
		}
		text, err := fs.ReadFile(trees.FS, path)
		for _, m := range word.FindAllSubmatch(text, -1) {
			if !known[string(m[1])] {
				t.Errorf("%s: what is %q?", path, m[1])
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
