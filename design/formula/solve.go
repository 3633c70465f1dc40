package formula

import (
	"errors"
	"fmt"
	"strings"

	"plansheaf/design/quantity"
)

// solve works out solve(x, from, to, left = right): the one x of the interval
// for which the sides are equal. At the nominal values the whole interval is
// searched (see roots); with an input moved, the root is followed from there.
func (ev *evaluator) solve(n *Node) (quantity.Value, *Error) {
	from, failed := ev.value(n.Args[0])
	if failed != nil {
		return from, failed
	}
	to, failed := ev.value(n.Args[1])
	if failed != nil {
		return from, failed
	}
	order, err := from.Compare(to)
	if err != nil {
		return from, ev.refuse(n, err, err.Error(), n.Args[0], n.Args[1])
	}
	if order >= 0 {
		return from, ev.fail(n, quantity.ErrUndefined, "%s: %s to %s is no interval in which to look for %s", ev.expr.text(n),
			quantity.Text(from, quantity.Metric), quantity.Text(to, quantity.Metric), n.Local)
	}
	inner := *ev
	inner.loose = true
	s := &search{ev: &inner, node: n, low: from, high: to}
	at := spot{n, ev.trail}
	if start, known := ev.roots[at]; known && ev.watch == nil && !ev.loose {
		if x, found := follow(s.gap, from.SI, to.SI, start); found && s.failed == nil {
			return s.like(x), nil
		}
	}
	found := roots(s.gap, from.SI, to.SI)
	if s.failed != nil {
		return from, s.failed
	}
	if len(found.at) != 1 || len(found.along) > 0 {
		return from, s.unsolved(found)
	}
	if ev.watch != nil && !ev.loose {
		put(&ev.roots, at, found.at[0])
	}
	return s.like(found.at[0]), nil
}

// search tries values for the unknown of one solve.
type search struct {
	ev        *evaluator
	node      *Node
	low, high quantity.Value
	failed    *Error // what ends the search
	undefined *Error // why some value gave no result
	where     float64
}

// like is a value of the unknown.
func (s *search) like(x float64) quantity.Value {
	v := s.low.Nominal()
	v.SI, v.Fit = x, ""
	return v
}

// at is the evaluator with the unknown at x.
func (s *search) at(x float64) *evaluator {
	return s.ev.holding(local{name: s.node.Local, value: s.like(x)})
}

// gap is how far left lies above right at x, in SI units, and how large the two
// are; ok is false where they have no value.
func (s *search) gap(x float64) (gap, size float64, ok bool) {
	if s.failed != nil {
		return 0, 0, false
	}
	left, right, failed := s.sides(x)
	if failed == nil {
		return left.SI - right.SI, max(left.SI, -left.SI, right.SI, -right.SI), true
	}
	if !errors.Is(failed, quantity.ErrUndefined) {
		if failed.kind == ownFault && !errors.As(failed, new(*WorkError)) {
			failed = adding(failed, ", for %s = %s", s.node.Local, quantity.Text(s.like(x), quantity.Metric))
		}
		s.failed = failed
	} else if s.undefined == nil {
		s.undefined, s.where = failed, x
	}
	return 0, 0, false
}

func (s *search) sides(x float64) (left, right quantity.Value, failed *Error) {
	inner, equation := s.at(x), s.node.Args[2]
	if left, failed = inner.value(equation.Args[0]); failed != nil {
		return left, right, failed
	}
	if right, failed = inner.value(equation.Args[1]); failed != nil {
		return left, right, failed
	}
	if _, err := left.Compare(right); err != nil {
		return left, right, inner.clash(equation, left, right, err)
	}
	return left, right, nil
}

// unsolved words why there is not one root.
func (s *search) unsolved(found rootsFound) *Error {
	ev, n := s.ev, s.node
	equation := ev.expr.text(n.Args[2])
	between := fmt.Sprintf("between %s and %s", quantity.Text(s.low, quantity.Metric), quantity.Text(s.high, quantity.Metric))
	switch {
	case len(found.along) > 0:
		along := found.along[0]
		if along[0] > s.low.SI || along[1] < s.high.SI {
			between = fmt.Sprintf("from %s to about %s", quantity.Text(s.like(along[0]), quantity.Metric), quantity.Text(s.like(along[1]), quantity.Metric))
		}
		failed := ev.fail(n, quantity.ErrUndefined, "%s holds for every %s %s", equation, n.Local, between)
		failed.Remedy = "narrow the interval, or ask in a way that one value alone answers"
		return failed
	case len(found.at) > 1:
		failed := ev.fail(n, quantity.ErrUndefined, "%s has %s %s: %s", equation, count(found), between, s.list(found.at))
		failed.Remedy = "narrow the interval to the one that is meant"
		return failed
	}
	ends, valued := s.ends()
	message := fmt.Sprintf("%s has no root %s: %s", equation, between, strings.Join(ends, "; "))
	if len(found.jumps) > 0 {
		message += fmt.Sprintf("; the sides change places without meeting at %s", s.list(found.jumps))
	}
	if s.undefined != nil && valued {
		message += fmt.Sprintf("; at %s = %s, %s", n.Local, quantity.Text(s.like(s.where), quantity.Metric), s.undefined.Message)
	}
	failed := ev.fail(n, quantity.ErrUndefined, "%s", message)
	failed.Remedy = "widen the interval, or see whether the sides can be equal at all"
	return failed
}

const shownRoots = 5

func count(found rootsFound) string {
	if found.more || len(found.at) > shownRoots {
		return fmt.Sprintf("more than %d roots", min(len(found.at)-1, shownRoots))
	}
	return fmt.Sprintf("%d roots", len(found.at))
}

// list shows values of the unknown: "x = 2 mm and 7 mm".
func (s *search) list(at []float64) string {
	var texts []string
	for _, x := range at[:min(len(at), shownRoots)] {
		texts = append(texts, quantity.Text(s.like(x), quantity.Metric))
	}
	text := texts[len(texts)-1]
	if len(texts) > 1 {
		text = strings.Join(texts[:len(texts)-1], ", ") + " and " + text
	}
	return s.node.Local + " = " + text
}

// ends shows what the sides of the equation come to at both ends of the interval;
// valued is false where at one of them they come to nothing.
func (s *search) ends() (texts []string, valued bool) {
	valued = true
	for _, x := range []quantity.Value{s.low, s.high} {
		text := fmt.Sprintf("at %s = %s, ", s.node.Local, quantity.Text(x, quantity.Metric))
		left, right, failed := s.sides(x.SI)
		if failed != nil {
			texts = append(texts, text+failed.Message)
			valued = false
			continue
		}
		texts = append(texts, text+strings.Join(s.said(left, right), " and "))
	}
	return texts, valued
}

// said shows each side with its value; a literal shows itself.
func (s *search) said(sides ...quantity.Value) []string {
	var texts []string
	for i, side := range s.node.Args[2].Args {
		if text := s.ev.expr.text(side); side.Kind != Number {
			texts = append(texts, text+" is "+quantity.Text(sides[i], quantity.Metric))
		}
	}
	return texts
}
