package tree

import (
	"regexp"
	"strings"

	"github.com/expr-lang/expr/ast"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// judge walks a condition from the top and allows only what it names; limits
// become constants on the way. It collects the readings compared, and with
// what.
type judge struct {
	l       *loader
	tree    *Tree
	step    *Step
	text    *source.Value
	because bool
	read    nameSet
	into    *Condition
}

// fault reports a problem under a node and is false.
func (j *judge) fault(n ast.Node, code, hint, format string, args ...any) bool {
	at := n.Location()
	j.l.span(j.text, at.From, at.To, code, hint, format, args...)
	return false
}

const asIn = "compare a reading with a limit, as in rc < control_min"

// condition judges a node that must be true or false.
func (j *judge) condition(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.BoolNode:
		return true
	case *ast.UnaryNode:
		if n.Operator == "not" || n.Operator == "!" {
			return j.condition(n.Node)
		}
	case *ast.BinaryNode:
		switch n.Operator {
		case "and", "or", "&&", "||":
			left := j.condition(n.Left)
			return j.condition(n.Right) && left
		case "<", "<=", ">", ">=", "==", "!=":
			return j.comparison(n)
		}
	case *ast.IdentifierNode:
		if w := j.operand(n); w.bad {
			return false
		}
		return j.fault(n, CodeCompare, asIn, "%q is compared with nothing", n.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.StringNode:
		return j.fault(n, CodeCompare, asIn, "a constant alone is no condition")
	}
	return j.deny(n)
}

// operand is one side of a comparison: a reading or look, or a constant.
type operand struct {
	name  *Name
	isNum bool
	num   float64
	limit *Limit
	isStr bool
	str   string
	bad   bool // reported
}

func (j *judge) operand(n ast.Node) operand {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return j.identifier(n)
	case *ast.IntegerNode:
		return j.number(n, float64(n.Value))
	case *ast.FloatNode:
		return j.number(n, n.Value)
	case *ast.StringNode:
		return operand{isStr: true, str: n.Value}
	case *ast.UnaryNode:
		if n.Operator == "-" {
			return j.negative(n)
		}
	case *ast.BoolNode:
		j.fault(n, CodeCompare, asIn, "true and false are compared with nothing")
		return operand{bad: true}
	case *ast.BinaryNode:
		if isComparison(n.Operator) {
			j.fault(n, CodeCompare, "join two comparisons with and", "a comparison is compared again")
			return operand{bad: true}
		}
	}
	j.deny(n)
	return operand{bad: true}
}

func isComparison(op string) bool {
	return contains([]string{"<", "<=", ">", ">=", "==", "!="}, op)
}

func (j *judge) negative(n *ast.UnaryNode) operand {
	w := j.operand(n.Node)
	switch {
	case w.bad:
	case !w.isNum:
		j.fault(n, CodeDenied, "put the minus on the constant", "a minus in front of a reading")
		w.bad = true
	}
	w.num = 0 - w.num
	return w
}

// decimalForm is a number as a person writes it; the library reads 0x10 and
// 1_000 too.
var decimalForm = regexp.MustCompile(`^([0-9]+(\.[0-9]*)?|\.[0-9]+)$`)

func (j *judge) number(n ast.Node, x float64) operand {
	at, runes := n.Location(), []rune(j.text.Text)
	if at.From < 0 || at.To > len(runes) || at.From >= at.To || !decimalForm.MatchString(string(runes[at.From:at.To])) {
		j.fault(n, CodeDenied, "write it as 24 or 24.5", "a number that is not plain decimal")
		return operand{bad: true}
	}
	return operand{isNum: true, num: x}
}

// identifier finds a limit, or a name that was read on every path.
func (j *judge) identifier(n *ast.IdentifierNode) operand {
	word := n.Value
	if limit, ok := j.l.lib.Limits[word]; ok {
		return operand{isNum: true, num: limit.Value, limit: &limit}
	}
	name := j.find(word)
	if name == nil {
		j.fault(n, CodeUnknown, j.nearest(word), "no reading, look or limit is called %q", word)
		return operand{bad: true}
	}
	if name.Step != j.step && !j.read.has(name.slot) {
		hint := ""
		if j.l.r.Len() < hintsMax {
			hint = "it comes here by " + j.tree.pathWithout(name, j.step)
		}
		j.fault(n, CodeNotRead, hint, "%q is not read on every path to step %q", word, j.step.ID)
		return operand{bad: true}
	}
	n.Value = name.ID // a look goes by two words
	return operand{name: name}
}

// find gives the name a word stands for; the step's own come first, so that a
// name given twice is one problem and not two.
func (j *judge) find(word string) *Name {
	for _, n := range j.step.Names() {
		if n.ID == word {
			return n
		}
	}
	return j.tree.words[word]
}

func (j *judge) nearest(word string) string {
	if j.l.r.Len() > hintsMax {
		return ""
	}
	var words []string
	for _, n := range j.tree.names {
		if n.Step == j.step || j.read.has(n.slot) {
			words = append(words, n.ID)
		}
	}
	return didYouMean(word, append(words, j.l.lib.limitNames()...))
}

func (j *judge) comparison(n *ast.BinaryNode) bool {
	left, right := j.operand(n.Left), j.operand(n.Right)
	if left.bad || right.bad {
		return false
	}
	name, constant, side := left, right, &n.Right
	if name.name == nil {
		name, constant, side = right, left, &n.Left
	}
	switch {
	case name.name == nil:
		return j.fault(n, CodeCompare, asIn, "two constants are compared")
	case constant.name != nil:
		return j.fault(n, CodeCompare, "read the difference as a pair of its own, from one end to the other",
			"%q is compared with %q, not with a constant", left.name.ID, right.name.ID)
	case name.name.IsLook():
		return j.seen(n, name.name, constant)
	case !constant.isNum:
		return j.fault(*side, CodeCompare, asIn, "%q is a number of %s", name.name.ID, name.name.Quantity().Title())
	}
	return j.measured(name.name, constant, side)
}

// measured judges a reading against a constant and puts the constant in.
func (j *judge) measured(name *Name, c operand, side *ast.Node) bool {
	switch unit := name.Quantity().Unit(); {
	case c.limit != nil && c.limit.Unit != "" && c.limit.Unit != unit:
		return j.fault(*side, CodeUnit, "", "%q is in %s and the limit %q in %s", name.ID, unit, c.limit.Name, c.limit.Unit)
	case c.limit == nil && !j.because:
		return j.fault(*side, CodeBare, "use a limit, or add because: ... to this branch", "the number %v stands bare", plain(c.num))
	}
	number := &ast.FloatNode{Value: c.num}
	number.SetLocation((*side).Location())
	*side = number
	j.into.cut(name, c.num)
	return true
}

// seen judges a look against one of its answers.
func (j *judge) seen(n *ast.BinaryNode, name *Name, c operand) bool {
	look := name.Look()
	switch {
	case n.Operator != "==" && n.Operator != "!=":
		return j.fault(n, CodeCompare, "write == or !=", "the look %q has no order", name.ID)
	case !c.isStr:
		return j.fault(n, CodeCompare, "as in "+name.ID+` == "`+look.AnswerID(1)+`"`, "the look %q is compared with a number", name.ID)
	}
	if _, err := look.ParseAnswer(c.str); err != nil || strings.TrimSpace(c.str) != c.str {
		at := n.Right
		if _, ok := at.(*ast.StringNode); !ok {
			at = n.Left
		}
		return j.fault(at, CodeAnswerID, didYouMean(c.str, answerIDs(look)), "%q is no answer of %s", c.str, look)
	}
	j.into.use(name)
	return true
}

func answerIDs(look house.Look) []string {
	var out []string
	for _, a := range look.Answers() {
		out = append(out, look.AnswerID(a))
	}
	return out
}
