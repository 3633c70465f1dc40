package formula

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/quantity"
)

// A Warning is something in a formula that works out but is probably not what
// is meant.
type Warning struct {
	Offset, Length int
	Message        string
	Remedy         string
	shown          bool // the message shows the function that it is about
}

// Warnings finds products in which a rotational speed meets a lead without a
// turn. A lead is a length per turn, yet its dimension is a length: speed *
// lead in radians per second is too large by 2π. A length counts as a lead
// when its name ends so (or in pitch, which is likewise per turn or tooth);
// the radius in speed * radius is rightly multiplied by radians.
//
// The term of a sum is looked at for the first thing that it goes through, an
// equation in the middle of its interval, a function as it is called; a warning
// about a function marks the call.
func (e *Expr) Warnings(scope Scope) []Warning {
	if !multiplies(e.root) {
		return nil
	}
	w := warner{ev: newEvaluator(e, scope), seen: map[string]bool{}}
	w.visit(e.root, false)
	return w.found
}

type warner struct {
	ev    *evaluator
	found []Warning
	seen  map[string]bool // functions, of which the first call is looked at
}

// visit looks at each product as a whole: inside says that the node is a
// factor of one that has been looked at.
func (w *warner) visit(n *Node, inside bool) {
	product := isProduct(n)
	if product && !inside {
		w.look(n)
	}
	local, held := w.local(n)
	for i, arg := range n.Args {
		within := n.Kind == Solve && i == 2 || n.Kind == Sum && i > 0
		if !within {
			w.visit(arg, product)
		} else if held {
			w.in(w.ev.holding(local), func(inner *warner) { inner.visit(arg, false) })
		}
	}
	if n.Kind == Call {
		w.visitFunction(n)
	}
}

// multiplies reports whether a product may be in a formula, or in a function that it calls.
func multiplies(n *Node) bool {
	return isProduct(n) || n.Kind == Call || slices.ContainsFunc(n.Args, multiplies)
}

// in has what an evaluator knows looked at.
func (w *warner) in(ev *evaluator, look func(*warner)) {
	inner := warner{ev: ev, seen: w.seen}
	look(&inner)
	w.found = append(w.found, inner.found...)
}

// local is what the local of a solve or sum stands for once.
func (w *warner) local(n *Node) (local, bool) {
	switch n.Kind {
	case Sum:
		rounds, failed := w.ev.rounds(n)
		if failed != nil || len(rounds) == 0 {
			return local{}, false
		}
		return rounds[0], true
	case Solve:
		from, failed := w.ev.value(n.Args[0])
		if failed != nil {
			return local{}, false
		}
		to, failed := w.ev.value(n.Args[1])
		if failed != nil || !from.Is(to.Dim) {
			return local{}, false
		}
		from.SI = (from.SI + to.SI) / 2
		return local{name: n.Local, value: from.Nominal()}, true
	}
	return local{}, false
}

// visitFunction looks into a function as it is called here.
func (w *warner) visitFunction(n *Node) {
	f := w.ev.scope.Function(n.Text)
	if f == nil || isBuiltin(n.Text) || w.seen[n.Text] {
		return
	}
	w.seen[n.Text] = true
	inner, failed := w.ev.enter(n, f)
	if failed != nil {
		return // Eval reports it
	}
	w.in(inner, func(in *warner) {
		in.visit(f.Is.root, false)
		for i := range in.found {
			warning := &in.found[i]
			warning.Offset, warning.Length = n.Offset, n.Length
			if !warning.shown {
				warning.Message += ", in " + shorten([]rune(f.String()))
				warning.shown = true
			}
		}
	})
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
			w.ev.expr.text(n), w.ev.expr.text(spin), w.ev.expr.text(lead)),
		Remedy: fmt.Sprintf("write %s * %s / 1 turn", w.ev.expr.text(spin), w.ev.expr.text(lead)),
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
