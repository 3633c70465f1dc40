package formula

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/quantity"
)

// refuse makes an Error at a node that shows what was written, why it cannot be
// worked out, and the operands that are to blame with their values.
func (ev *evaluator) refuse(n *Node, cause error, why string, operands ...*Node) *Error {
	return ev.fail(n, cause, "%s: %s%s", ev.expr.text(n), why, ev.met(operands...))
}

const (
	shownNames   = 6 // names whose values one operand is shown with, at most
	shownOperand = 4 // operands shown, at most
)

// met shows operands with their values: ": a - b is −3 mm² with a = 2 mm², b =
// 5 mm²". Literals show themselves. It is empty where nothing is to be said.
func (ev *evaluator) met(operands ...*Node) string {
	var all []string
	for _, operand := range operands {
		if text := ev.shown(operand); text != "" && len(all) < shownOperand && !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	if len(all) == 0 {
		return ""
	}
	separator := ", "
	if strings.Contains(strings.Join(all, ""), " with ") {
		separator = "; "
	}
	return ": " + strings.Join(all, separator)
}

func (ev *evaluator) shown(n *Node) string {
	literal := n.Kind == Unary && n.Args[0].Kind == Number
	if n.Kind == Number || n.Kind == Constant || literal {
		return ""
	}
	v, failed := ev.value(n)
	if failed != nil {
		return ""
	}
	text := ev.expr.text(n) + " is " + quantity.Text(v, quantity.Metric)
	if n.Kind == Name {
		return text
	}
	var names []string
	seen := map[string]bool{}
	walk(n, "", func(inner *Node, _ string) {
		if inner.Kind != Name || seen[inner.Text] || len(names) == shownNames {
			return
		}
		seen[inner.Text] = true
		if v, failed := ev.value(inner); failed == nil {
			names = append(names, inner.Text+" = "+quantity.Text(v, quantity.Metric))
		}
	})
	if len(names) > 0 {
		text += " with " + strings.Join(names, ", ")
	}
	return text
}

// clash words the error of an operator: what was written, what it does, and
// the values met where the text does not show them.
func (ev *evaluator) clash(n *Node, left, right quantity.Value, err error) *Error {
	written := ev.expr.text(n)
	a, b := left.Dim.Article(), right.Dim.Article()
	if n.Text == "/" && right.SI == 0 {
		return ev.refuse(n, err, err.Error(), n.Args[1])
	}
	if left.Dim.Same(right.Dim) || !errors.Is(err, quantity.ErrMismatch) {
		return ev.refuse(n, err, err.Error(), n.Args...)
	}
	met := ev.met(n.Args...)
	switch n.Text {
	case "+":
		return ev.fail(n, err, "%s adds %s to %s%s", written, a, b, met)
	case "-":
		return ev.fail(n, err, "%s takes %s from %s%s", written, b, a, met)
	case "*", "/", "^":
		return ev.fail(n, err, "%s: %s%s", written, err, met)
	}
	return ev.fail(n, err, "%s compares %s with %s%s", written, a, b, met)
}

// adding says more to a message, once: where in a sum or on the way to a root it
// came about.
func adding(failed *Error, format string, args ...any) *Error {
	more := *failed
	more.Message += fmt.Sprintf(format, args...)
	return &more
}
