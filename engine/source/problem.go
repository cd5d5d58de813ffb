package source

import (
	"fmt"
	"sort"
	"strings"

	"github.com/mattn/go-runewidth"
)

// Problem is one thing wrong with a file.
//
// Message is lower case, without a full stop, and names the offending value
// and the expected form; Hint is the mend and may be empty. Line is the source
// line with every character that could disturb a terminal replaced by '?', one
// for one, so that Pos.Col still counts in it. Width is the number of runes
// under the caret, at least one.
type Problem struct {
	Pos     Pos
	Code    string
	Message string
	Hint    string
	Line    string
	Width   int
}

// snippetCells is the widest source line shown: a longer one is cut to a
// window about the caret, or one bad file of a single line floods the screen.
const snippetCells = 100

// cells measures terminal cells without asking the environment.
var cells = &runewidth.Condition{}

// Render gives the problem as its lines, without a final newline.
func (p Problem) Render() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s (%s)", Clean(p.Pos.String()), Clean(p.Message), Clean(p.Code))
	if p.Line != "" && p.Pos.Col > 0 {
		line, caret := p.snippet()
		fmt.Fprintf(&b, "\n    %s\n    %s", line, caret)
	}
	if p.Hint != "" {
		fmt.Fprintf(&b, "\n    hint: %s", Clean(p.Hint))
	}
	return b.String()
}

// snippet gives the source line and the caret line under it. A tab stays a
// tab in both, so the caret stands right at any tab width.
func (p Problem) snippet() (line, caret string) {
	runes := []rune(maskControls(p.Line))
	at := min(p.Pos.Col-1, len(runes))
	from, to := window(runes, at)
	var pad strings.Builder
	lead := ""
	if from > 0 {
		lead = "..."
		pad.WriteString("   ")
	}
	for _, c := range runes[from:at] {
		if c == '\t' {
			pad.WriteRune(c)
			continue
		}
		pad.WriteString(strings.Repeat(" ", cells.RuneWidth(c)))
	}
	tail := ""
	if to < len(runes) {
		tail = "..."
	}
	end := min(at+max(p.Width, 1), to)
	marks := 0
	for _, c := range runes[at:max(at, end)] {
		marks += cells.RuneWidth(c)
	}
	line = strings.TrimRight(lead+string(runes[from:to])+tail, " \t")
	return line, pad.String() + strings.Repeat("^", max(marks, 1))
}

// window picks the part of a long line to show: all of it where it fits.
func window(runes []rune, at int) (from, to int) {
	if len(runes) <= snippetCells {
		return 0, len(runes)
	}
	from = max(0, at-snippetCells/2)
	to = min(len(runes), from+snippetCells)
	return max(0, to-snippetCells), to
}

// Problems is everything wrong, in the order of the files; it is an error.
type Problems []Problem

// Error renders every problem.
func (ps Problems) Error() string { return ps.Render(0) }

// Err is nil when there are no problems.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

// Render gives the problems one after another, at most limit of them (0 means
// all), and says how many more there are.
func (ps Problems) Render(limit int) string {
	shown := ps.Sorted()
	more := 0
	if limit > 0 && len(shown) > limit {
		more = len(shown) - limit
		shown = shown[:limit]
	}
	parts := make([]string, 0, len(shown)+1)
	for _, p := range shown {
		parts = append(parts, p.Render())
	}
	if more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(parts, "\n")
}

// Sorted gives the problems by place, code and message, each once.
func (ps Problems) Sorted() Problems {
	out := append(Problems(nil), ps...)
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		switch {
		case a.Pos != b.Pos:
			return a.Pos.Before(b.Pos)
		case a.Code != b.Code:
			return a.Code < b.Code
		}
		return a.Message < b.Message
	})
	kept := out[:0]
	for _, p := range out {
		if n := len(kept); n > 0 && same(kept[n-1], p) {
			continue
		}
		kept = append(kept, p)
	}
	return kept
}

func same(a, b Problem) bool {
	return a.Pos == b.Pos && a.Code == b.Code && a.Message == b.Message
}
