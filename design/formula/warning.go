package formula

import (
	"fmt"
	"strings"

	"plansheaf/design/quantity"
)

// A Warning is something in a formula that works out but is probably not what
// is meant.
type Warning struct {
	Offset, Length int
	Message        string
	Remedy         string
}

// Warnings finds products in which a rotational speed meets a lead without a
// turn. A lead is a length per turn, yet its dimension is a length: speed *
// lead in radians per second is too large by 2π. A length counts as a lead
// when its name ends so (or in pitch, which is likewise per turn or tooth);
// the radius in speed * radius is rightly multiplied by radians.
func (e *Expr) Warnings(scope Scope) []Warning {
	w := warner{expr: e, ev: newEvaluator(e, scope)}
	w.visit(e.root, false)
	return w.found
}

type warner struct {
	expr  *Expr
	ev    *evaluator
	found []Warning
}

// visit looks at each product as a whole: inside says that the node is a
// factor of one that has been looked at.
func (w *warner) visit(n *Node, inside bool) {
	product := isProduct(n)
	if product && !inside {
		w.look(n)
	}
	for _, arg := range n.Args {
		w.visit(arg, product)
	}
}

func isProduct(n *Node) bool { return n.Kind == Binary && (n.Text == "*" || n.Text == "/") }

func (w *warner) look(n *Node) {
	var spin, lead *Node
	for _, factor := range factors(n, nil) {
		v, failed := w.ev.value(factor)
		if failed != nil {
			return // Eval reports it
		}
		switch {
		case v.Dim == quantity.AngularSpeed:
			spin = factor
		case v.Dim == quantity.Length && namesLead(factor):
			lead = factor
		}
	}
	if spin == nil || lead == nil {
		return
	}
	whole, failed := w.ev.value(n)
	if failed != nil || whole.Dim.Angular() != 1 {
		return
	}
	w.found = append(w.found, Warning{
		Offset: n.Offset, Length: n.Length,
		Message: fmt.Sprintf("%s multiplies the rotational speed %q by the lead %q without a turn: the result is 2π times too large",
			w.expr.text(n), w.expr.text(spin), w.expr.text(lead)),
		Remedy: fmt.Sprintf("write %s * %s / 1 turn", w.expr.text(spin), w.expr.text(lead)),
	})
}

// factors lists what a product multiplies, divisors left out.
func factors(n *Node, list []*Node) []*Node {
	if !isProduct(n) {
		return append(list, n)
	}
	list = factors(n.Args[0], list)
	if n.Text == "*" {
		list = factors(n.Args[1], list)
	}
	return list
}

// namesLead reports whether a name in n calls a length a lead or a pitch.
func namesLead(n *Node) bool {
	found := false
	walk(n, "", func(n *Node, _ string) {
		if n.Kind != Name {
			return
		}
		last := n.Text[strings.LastIndexByte(n.Text, '.')+1:]
		for _, word := range []string{"lead", "pitch"} {
			if last == word || strings.HasSuffix(last, "_"+word) {
				found = true
			}
		}
	})
	return found
}
