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
		return j.denyWord("write one branch for each case", "?", "if")
	case *ast.VariableDeclaratorNode:
		return j.denyWord(hint, "let")
	case *ast.SequenceNode:
		return j.denyWord(hint, ";")
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

// denyWord reports a construct whose node has no place of its own by the first
// of its words that stands in the text.
func (j *judge) denyWord(hint string, words ...string) bool {
	for _, word := range words {
		if i := strings.Index(j.text.Text, word); i >= 0 {
			i = len([]rune(j.text.Text[:i]))
			j.l.span(j.text, i, i+len(word), CodeDenied, hint, "%s is not allowed in a condition", word)
			return false
		}
	}
	j.text.Report(j.l.r, CodeDenied, hint, "this is not allowed in a condition")
	return false
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
