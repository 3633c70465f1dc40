package formula

import (
	"errors"
	"strings"

	"plansheaf/design/quantity"
)

// A local is a name that holds within a solve, a sum or a function.
type local struct {
	name   string
	value  quantity.Value // where it is neither of the following
	member *Member        // a thing that a sum goes through
	group  string         // that lists it
	alias  string         // a name written out in a sum's list
	fault  *Error         // why it has no value, where it can only stand for a thing
	outer  *local         // the one around it; nil for the outermost
}

// says is what a local stands for, for messages.
func (l local) says() string {
	switch {
	case l.member != nil:
		return l.member.Name
	case l.alias != "":
		return l.alias
	}
	return quantity.Text(l.value, quantity.Metric)
}

// holding is the evaluator with one more local.
func (ev *evaluator) holding(l local) *evaluator {
	inner := *ev
	l.outer = ev.locals
	inner.locals = &l
	return &inner
}

// held is the innermost local of a name.
func (ev *evaluator) held(name string) (local, bool) {
	for l := ev.locals; l != nil; l = l.outer {
		if l.name == name {
			return *l, true
		}
	}
	return local{}, false
}

// errUnheld marks a local outside of what gives it a value: what is shown or
// warned of before that.
var errUnheld = errors.New("it has no value by itself")

// local works out a bound name.
func (ev *evaluator) local(n *Node) (quantity.Value, *Error) {
	head, rest, dotted := strings.Cut(n.Text, ".")
	l, found := ev.held(head)
	switch {
	case !found:
		return quantity.Value{}, fault(n, n.Text+": "+errUnheld.Error(), errUnheld)
	case l.fault != nil && !dotted:
		return quantity.Value{}, l.fault
	case l.member != nil && !dotted:
		failed := ev.fail(n, nil, "%s is one of %s and has no value by itself", head, l.group)
		failed.Remedy = "name a property of it, such as " + head + "." + property(l.group)
		return quantity.Value{}, failed
	case l.member != nil:
		full := l.member.Name + "." + rest
		return ev.ask(n, l.group+" "+full, full, func() (quantity.Value, error) { return l.member.Property(rest) })
	case l.alias != "":
		full := l.alias
		if dotted {
			full += "." + rest
		}
		return ev.ask(n, full, full, func() (quantity.Value, error) { return ev.scope.Lookup(full) })
	case dotted:
		return quantity.Value{}, ev.fail(n, nil, "%s is a value and has no %q", head, rest)
	}
	return l.value, nil
}

// property is one that the things of a group are sure to have.
func property(group string) string {
	if strings.HasSuffix(group, ".steps") {
		return "time"
	}
	return "mass"
}

// has tells whether a name has a value: a property that not every part has.
func (ev *evaluator) has(n *Node) (Result, *Error) {
	_, failed := ev.value(n.Args[0])
	var unknown *UnknownNameError
	if failed != nil && errors.As(failed, &unknown) {
		return Result{IsTruth: true}, nil
	}
	return Result{Truth: true, IsTruth: true}, failed
}
