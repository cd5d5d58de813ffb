package source

import (
	"fmt"
	"strings"
)

// Reporter collects the problems of one or more files and knows their lines.
// It is not safe for two goroutines.
type Reporter struct {
	files    map[string][]string
	problems Problems
	limit    int
}

// keptMax bounds what a hostile file can make a Reporter hold: "and N more" does
// not count past it.
const keptMax = 1000

// NewReporter gives an empty Reporter that shows every problem.
func NewReporter() *Reporter { return &Reporter{files: map[string][]string{}} }

// Limit caps how many problems Err shows before "and N more"; 0 shows all.
func (r *Reporter) Limit(n int) { r.limit = n }

// AddFile makes the lines of a file known. Parse does it by itself; a file in
// another format (a journal, say) is added by hand.
func (r *Reporter) AddFile(name string, data []byte) {
	if r.files == nil {
		r.files = map[string][]string{}
	}
	r.files[name] = splitLines(data)
}

// splitLines cuts at LF and drops the CR of a CRLF.
func splitLines(data []byte) []string {
	lines := strings.Split(string(data), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimSuffix(l, "\r")
	}
	return lines
}

// Add reports a problem at one rune. hint may be empty.
func (r *Reporter) Add(pos Pos, code, hint, format string, args ...any) {
	r.AddSpan(pos, 1, code, hint, format, args...)
}

// AddSpan reports a problem with a caret under width runes from pos on.
func (r *Reporter) AddSpan(pos Pos, width int, code, hint, format string, args ...any) {
	if len(r.problems) >= keptMax {
		return
	}
	r.problems = append(r.problems, Problem{
		Pos:     pos,
		Code:    code,
		Message: Clean(fmt.Sprintf(format, args...)),
		Hint:    Clean(hint),
		Line:    maskControls(r.line(pos)),
		Width:   max(width, 1),
	})
}

func (r *Reporter) line(pos Pos) string {
	lines := r.files[pos.File]
	if pos.Line < 1 || pos.Line > len(lines) {
		return ""
	}
	return lines[pos.Line-1]
}

// Len is the number of problems so far: a loader compares it before and after
// a part to know whether that part is sound.
func (r *Reporter) Len() int { return len(r.problems) }

// Last is the problem reported last; there is one.
func (r *Reporter) Last() Problem { return r.problems[len(r.problems)-1] }

// Problems gives what was collected, sorted, each once.
func (r *Reporter) Problems() Problems { return r.problems.Sorted() }

// Err is nil when nothing was reported; otherwise its text is the problems,
// capped by Limit, and errors.As finds the Problems in it.
func (r *Reporter) Err() error {
	if len(r.problems) == 0 {
		return nil
	}
	return &capped{problems: r.Problems(), limit: r.limit}
}

// capped is Problems with the Reporter's limit on what is shown.
type capped struct {
	problems Problems
	limit    int
}

func (c *capped) Error() string { return c.problems.Render(c.limit) }
func (c *capped) Unwrap() error { return c.problems }
