package tree

import (
	"strconv"
	"strings"

	"github.com/expr-lang/expr/ast"
)

// deny reports a construct that is not allowed; whatever is not named here is
// denied too.
func (j *judge) deny(n ast.Node) bool {
	const hint = "a condition is comparisons joined by and, or, not"
	what := "this"
	switch n := n.(type) {
	case *ast.BinaryNode:
		return j.denyOperator(n, n.Operator)
	case *ast.UnaryNode:
		return j.fault(n, CodeDenied, hint, "the operator %s is not allowed in a condition", n.Operator)
	case *ast.ConditionalNode:
		return j.denyChoice()
	case *ast.VariableDeclaratorNode:
		what = "let"
	case *ast.SequenceNode:
		if i := strings.IndexRune(j.text.Text, ';'); i >= 0 {
			i = len([]rune(j.text.Text[:i]))
			j.l.span(j.text, i, i+1, CodeDenied, hint, "; is not allowed in a condition")
			return false
		}
		what = "a sequence"
	case *ast.MemberNode, *ast.ChainNode, *ast.SliceNode:
		what = "a part of a value"
	case *ast.CallNode, *ast.BuiltinNode, *ast.PredicateNode, *ast.PointerNode:
		what = "a call"
	case *ast.ArrayNode, *ast.MapNode, *ast.PairNode:
		what = "a list"
	case *ast.NilNode:
		what = "nil"
	case *ast.BytesNode:
		what = "a byte string"
	}
	return j.fault(n, CodeDenied, hint, "%s is not allowed in a condition", what)
}

func (j *judge) denyOperator(n ast.Node, op string) bool {
	hint := "a condition is comparisons joined by and, or, not"
	switch op {
	case "+", "-", "*", "/", "%", "**", "^":
		hint = "read a difference as a pair of its own, from one end to the other"
	case "in", "..":
		hint = "write a range as 20 <= rc <= 30, a choice as rc < 20 or rc > 30"
	}
	return j.fault(n, CodeDenied, hint, "the operator %s is not allowed in a condition", op)
}

// denyChoice finds the ? or if, whose node has no place of its own.
func (j *judge) denyChoice() bool {
	for _, word := range []string{"?", "if"} {
		if i := strings.Index(j.text.Text, word); i >= 0 {
			i = len([]rune(j.text.Text[:i]))
			j.l.span(j.text, i, i+len(word), CodeDenied, "write one branch for each case", "a choice is not allowed in a condition")
			break
		}
	}
	return false
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
