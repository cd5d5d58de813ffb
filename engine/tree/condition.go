package tree

import (
	"errors"
	"fmt"
	"regexp"
	"sort"
	"strings"
	"unicode"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/conf"
	exprfile "github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/vm"

	"stepdown/engine/source"
)

// Caps on a condition, checked before the library sees it: its parser recurses
// by bracket and overflows the stack on enough of them.
const (
	conditionBytesMax = 1024
	bracketsMax       = 16
)

// Condition is one branch's `when`, compiled. It is safe for several
// goroutines.
type Condition struct {
	Text string
	Pos  source.Pos

	program *vm.Program
	names   []*Name
	cuts    map[*Name][]float64
}

// Program is what executes, with limits put in as constants.
func (c *Condition) Program() *vm.Program { return c.program }

// Names lists the readings and looks that are compared.
func (c *Condition) Names() []*Name { return append([]*Name(nil), c.names...) }

// Cuts are the constants a reading is compared with, ascending, each once: the
// condition does not change between two neighbours.
func (c *Condition) Cuts(n *Name) []float64 { return append([]float64(nil), c.cuts[n]...) }

// compileAll compiles the conditions of a measuring step.
func (l *loader) compileAll(d *draft, sd *stepDraft, read readings) {
	if len(l.lib.Limits) == 0 {
		return // limits.yaml cannot be read, which is reported; every name would be unknown
	}
	for i, v := range sd.whens {
		b := &sd.step.Branches[i]
		b.When = l.compile(d.tree, sd.step, v, b.Because != "", read[sd.step])
	}
}

// compile checks and compiles one condition; nil is reported.
func (l *loader) compile(t *Tree, s *Step, v *source.Value, because bool, read nameSet) *Condition {
	text, ok := l.conditionText(v)
	if !ok {
		return nil
	}
	config := l.config(t)
	parsed, err := parser.ParseWithConfig(text, config)
	if err != nil {
		l.unreadable(v, err)
		return nil
	}
	c := &Condition{Text: text, Pos: v.Pos, cuts: map[*Name][]float64{}}
	j := judge{l: l, tree: t, step: s, text: v, because: because, read: read, into: c}
	if !j.condition(parsed.Node) {
		return nil
	}
	if _, err = checker.Check(parsed, config); err == nil {
		c.program, err = compiler.Compile(parsed, config)
	}
	if err != nil {
		l.unreadable(v, err)
		return nil
	}
	c.finish()
	return c
}

// config is how the conditions of a tree are compiled.
func (l *loader) config(t *Tree) *conf.Config {
	d := l.drafts[t.ID]
	if d.config != nil {
		return d.config
	}
	c := conf.CreateNew()
	expr.DisableAllBuiltins()(c)
	for name := range c.Disabled {
		delete(c.Builtins, name)
	}
	expr.AsBool()(c)
	expr.Optimize(false)(c) // what runs is what was judged
	c.WithEnv(t.blank())
	d.config = c
	return c
}

// conditionText checks what must hold before the text is parsed.
func (l *loader) conditionText(v *source.Value) (string, bool) {
	if v == nil || v.Kind == source.Scalar && v.Text == "" && !v.Quoted() {
		return "", false // missing, or swallowed by a tag: reported
	}
	if v.String(l.r) == "" || v.Kind != source.Scalar {
		return "", false
	}
	text := v.Text
	if v.Style == source.Literal {
		text = strings.TrimRight(text, "\n")
	}
	deep, at := brackets(text)
	_, exact := v.At(0)
	switch {
	case len(text) > conditionBytesMax:
		l.r.Add(v.Pos, CodeLong, "split it into several branches", "the condition has %d bytes, the most is %d", len(text), conditionBytesMax)
	case v.Style == source.Folded || !exact || strings.ContainsAny(text, "\n\r"):
		l.r.Add(v.Pos, CodeOneLine, "write it on one line, without > and without \\", "a condition is one line of plain or quoted text")
	case deep > bracketsMax:
		l.span(v, at, at+1, CodeDeep, "", "brackets are %d deep, the most is %d", deep, bracketsMax)
	default:
		if i := comment(text); i >= 0 {
			l.span(v, i, i+2, CodeDenied, "put it in `because`", "a comment inside a condition")
			return "", false
		}
		return text, strings.TrimSpace(text) != ""
	}
	return "", false
}

// brackets gives how deep the brackets go and the rune where they first go too
// deep.
func brackets(text string) (deepest, at int) {
	deep := 0
	for i, c := range []rune(text) {
		switch {
		case strings.ContainsRune("([{", c):
			deep++
			if deep == bracketsMax+1 && deepest == bracketsMax {
				at = i
			}
			deepest = max(deepest, deep)
		case strings.ContainsRune(")]}", c):
			deep--
		}
	}
	return deepest, at
}

// comment finds where the library would skip text; an answer's id has no
// slash, so none is lost.
func comment(text string) int {
	for _, mark := range []string{"//", "/*"} {
		if i := strings.Index(text, mark); i >= 0 {
			return len([]rune(text[:i]))
		}
	}
	return -1
}

// span reports a problem under runes from to to of a condition.
func (l *loader) span(v *source.Value, from, to int, code, hint, format string, args ...any) {
	n := len([]rune(v.Text))
	from = max(0, min(from, n-1))
	to = max(from+1, min(to, n))
	if pos, ok := v.At(from); ok {
		l.r.AddSpan(pos, to-from, code, hint, format, args...)
		return
	}
	v.Report(l.r, code, hint, format, args...)
}

// unreadable reports what the library says of a condition, in our words.
func (l *loader) unreadable(v *source.Value, err error) {
	hint := asIn
	var at *exprfile.Error
	if !errors.As(err, &at) {
		v.Report(l.r, CodeSyntax, hint, "the condition cannot be read: %s", lower(err.Error()))
		return
	}
	what := lower(at.Message)
	if token := tokenForm.FindStringSubmatch(at.Message); token != nil {
		what = "unexpected " + token[1]
		if token[1] == `"="` {
			hint = "write == where two things must be equal"
		}
	}
	if strings.HasPrefix(at.Message, "unexpected token EOF") {
		what = "it stops too early"
	}
	l.span(v, at.From, at.To, CodeSyntax, hint, "the condition cannot be read: %s", what)
}

// tokenForm takes the word out of the library's own naming of a token.
var tokenForm = regexp.MustCompile(`^unexpected token [A-Za-z]+\((".*")\)$`)

// lower makes a library's message fit ours.
func lower(s string) string {
	r := []rune(strings.TrimSuffix(strings.TrimSpace(s), "."))
	if len(r) > 0 {
		r[0] = unicode.ToLower(r[0])
	}
	return string(r)
}

// blank is the names of a tree with a zero of their type, for the type check.
func (t *Tree) blank() map[string]any {
	out := make(map[string]any, len(t.names))
	for _, n := range t.names {
		if n.IsLook() {
			out[n.ID] = ""
		} else {
			out[n.ID] = 0.0
		}
	}
	return out
}

func (c *Condition) use(n *Name) {
	if !contains(c.names, n) {
		c.names = append(c.names, n)
	}
}

func (c *Condition) cut(n *Name, x float64) {
	c.use(n)
	if !contains(c.cuts[n], x) {
		c.cuts[n] = append(c.cuts[n], x)
	}
}

func (c *Condition) finish() {
	sort.Slice(c.names, func(i, j int) bool { return c.names[i].slot < c.names[j].slot })
	for _, cuts := range c.cuts {
		sort.Float64s(cuts)
	}
}

// Holds runs the condition on what was read and seen.
func (c *Condition) Holds(e *Env) (bool, error) {
	for _, n := range c.names {
		if !e.has(n) {
			return false, fmt.Errorf("%s: %q was not read", c.Pos, n.ID)
		}
		e.load(n)
	}
	out, err := e.machine.Run(c.program, e.vars)
	if err != nil {
		return false, fmt.Errorf("%s: %w", c.Pos, err)
	}
	return out.(bool), nil
}
