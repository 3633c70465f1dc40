package formula

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/quantity"
)

// A Result is what a formula comes to: a value, or, for comparisons and what
// is made of them, a truth.
type Result struct {
	Value   quantity.Value
	Truth   bool
	IsTruth bool
}

// Eval works the formula out; the value carries its spread to the first order
// (see the package text). A comparison is judged at the nominal values;
// Margins tells whether it holds throughout.
//
// Of a choice, and of and/or, all parts are checked for dimensions, but a
// failure such as a division by zero counts only in the part that decides.
func (e *Expr) Eval(scope Scope) (Result, *Error) {
	result, contributions, failed := e.vary(scope)
	if failed != nil {
		return Result{}, failed
	}
	if !result.IsTruth {
		result.Value.Minus, result.Value.Plus = Total(contributions)
	}
	return result, nil
}

// Value works out a formula that must come to a value, not a truth.
func (e *Expr) Value(scope Scope) (quantity.Value, *Error) {
	result, failed := e.Eval(scope)
	if failed != nil {
		return quantity.Value{}, failed
	}
	if result.IsTruth {
		return quantity.Value{}, fault(e.root, fmt.Sprintf("%s is a comparison where a value is needed", e.text(e.root)), nil)
	}
	return result.Value, nil
}

// text is the source of a node, shortened for a message.
func (e *Expr) text(n *Node) string {
	const most = 60
	text := e.source[n.Offset : n.Offset+n.Length]
	if len(text) > most {
		return strings.TrimSpace(string(text[:most])) + "…"
	}
	return string(text)
}

// evaluator works out one formula once, at nominal values but for the one
// input that is varied.
type evaluator struct {
	expr  *Expr
	scope Scope
	names map[string]lookup // what the scope answered; shared between passes
	watch *inputs           // collects what has a spread; nil when varying
	moved leaf              // the input that is varied
	to    float64           // its value in SI units, or its shift
	aside int               // above zero inside a part that does not decide

	// below tells of each divisor whether it is negative at the nominal
	// values: one whose sign turns within a spread has passed through zero.
	below map[*Node]bool
}

type lookup struct {
	value quantity.Value
	err   error
}

// leaf identifies an input of a formula: a name wherever it stands, or one
// literal, spread or call.
type leaf struct {
	name string
	node *Node
}

// inputs are the leaves with a spread in the order they are met.
type inputs struct {
	leaves []leaf
	list   []Input
	seen   map[leaf]bool
}

// take records a value with a spread and returns it without, moved to where
// this pass wants it.
func (ev *evaluator) take(l leaf, called string, v quantity.Value) quantity.Value {
	if v.HasSpread() && ev.watch != nil && ev.aside == 0 && !ev.watch.seen[l] {
		ev.watch.seen[l] = true
		ev.watch.leaves = append(ev.watch.leaves, l)
		ev.watch.list = append(ev.watch.list, Input{Name: called, Offset: -1, Value: v})
		if l.node != nil {
			last := &ev.watch.list[len(ev.watch.list)-1]
			last.Offset, last.Length = l.node.Offset, l.node.Length
		}
	}
	v = v.Nominal()
	if ev.watch == nil && l == ev.moved {
		v.SI = ev.to
	}
	return v
}

func (ev *evaluator) eval(n *Node) (Result, *Error) {
	switch n.Kind {
	case Number, Constant:
		return Result{Value: ev.take(leaf{node: n}, n.Text, n.Value)}, nil
	case Name:
		v, failed := ev.lookup(n)
		return Result{Value: v}, failed
	case Call:
		if !isBuiltin(n.Text) {
			v, failed := ev.call(n)
			return Result{Value: v}, failed
		}
		return ev.builtin(n)
	case Unary:
		return ev.unary(n)
	case Spread:
		v, failed := ev.spread(n)
		return Result{Value: v}, failed
	case Fit:
		v, failed := ev.value(n.Args[0])
		if failed != nil {
			return Result{}, failed
		}
		if !v.Is(quantity.Length) {
			return Result{}, ev.fail(n, nil, "the fit %s follows %s; a fit belongs to a diameter", n.Text, v.Dim.Article())
		}
		v.Fit = n.Text
		return Result{Value: v}, nil
	}
	return ev.binary(n)
}

// fail makes an Error at a node.
func (ev *evaluator) fail(n *Node, cause error, format string, args ...any) *Error {
	failed := fault(n, fmt.Sprintf(format, args...), cause)
	failed.kind = ownFault
	return failed
}

// value works out a node that must come to a value.
func (ev *evaluator) value(n *Node) (quantity.Value, *Error) {
	result, failed := ev.eval(n)
	if failed != nil {
		return quantity.Value{}, failed
	}
	if result.IsTruth {
		return quantity.Value{}, ev.fail(n, quantity.ErrMismatch, "%s is a comparison where a value is needed", ev.expr.text(n))
	}
	return result.Value, nil
}

// truth works out a node that must come to a truth.
func (ev *evaluator) truth(n *Node) (bool, *Error) {
	result, failed := ev.eval(n)
	if failed != nil {
		return false, failed
	}
	if !result.IsTruth {
		failed := ev.fail(n, quantity.ErrMismatch, "%s is a value where a comparison is needed", ev.expr.text(n))
		failed.Remedy = "compare it, such as " + ev.expr.text(n) + " > 0"
		return false, failed
	}
	return result.Truth, nil
}

func (ev *evaluator) lookup(n *Node) (quantity.Value, *Error) {
	found, known := ev.names[n.Text]
	if !known {
		found.value, found.err = ev.scope.Lookup(n.Text)
		if found.err == nil && !found.value.Finite() {
			found.err = fmt.Errorf("%s is no finite number", n.Text)
		}
		ev.names[n.Text] = found
	}
	if found.err != nil {
		failed := fault(n, found.err.Error(), found.err)
		if _, err := quantity.ParseUnit(n.Text); err == nil && failed.Remedy == "" {
			failed.Remedy = fmt.Sprintf("%s is a unit: write a number before it", n.Text)
		}
		return quantity.Value{}, failed
	}
	return ev.take(leaf{name: n.Text}, n.Text, found.value), nil
}

// call asks the scope. Arguments are worked out when the scope wants them,
// and once only, lest nested calls multiply the work.
func (ev *evaluator) call(n *Node) (quantity.Value, *Error) {
	args := make([]Arg, len(n.Args))
	faults := make([]*Error, len(n.Args))
	for i, argument := range n.Args {
		var done bool
		var v quantity.Value
		args[i] = Arg{Offset: argument.Offset, Length: argument.Length, value: func() (quantity.Value, *Error) {
			if !done {
				v, faults[i] = ev.value(argument)
				done = true
			}
			return v, faults[i]
		}}
		if argument.Kind == Name {
			args[i].Name = argument.Text
		}
	}
	v, err := ev.scope.Call(n.Text, args)
	if err != nil {
		var inner *Error
		if errors.As(err, &inner) && slices.Contains(faults, inner) {
			return quantity.Value{}, inner // an argument's own fault is marked where it lies
		}
		name := *n
		name.Length = n.NameLength
		failed := fault(&name, err.Error(), err)
		var unknown *UnknownNameError
		if near := nearestFunction(n.Text); near != "" && failed.Remedy == "" && errors.As(err, &unknown) {
			failed.Remedy = fmt.Sprintf("is %q meant?", near)
		}
		return quantity.Value{}, failed
	}
	if !v.Finite() {
		return quantity.Value{}, fault(n, fmt.Sprintf("%s is no finite number", ev.expr.text(n)), nil)
	}
	if ev.watch == nil && v.HasSpread() && ev.moved.node == n {
		// The call's own spread lies about a value that may itself have moved.
		v.SI += ev.to
		return v.Nominal(), nil
	}
	return ev.take(leaf{node: n}, ev.expr.text(n), v), nil
}

// spread works out a value with a spread of its own beside what the value may
// have already.
func (ev *evaluator) spread(n *Node) (quantity.Value, *Error) {
	v, failed := ev.value(n.Args[0])
	if failed != nil {
		return v, failed
	}
	amount := n.Amount
	if len(n.Args) > 1 {
		reach, failed := ev.value(n.Args[1])
		if failed != nil {
			return v, failed
		}
		amount = quantity.Spread{Minus: reach, Plus: reach}
	}
	wide, err := v.WithSpread(amount)
	if err != nil {
		return v, ev.fail(n, err, "%s: %s", ev.expr.text(n), err)
	}
	if ev.watch == nil && ev.moved.node == n {
		v.SI += ev.to
		return v, nil
	}
	return ev.take(leaf{node: n}, ev.expr.text(n), wide), nil
}

func (ev *evaluator) unary(n *Node) (Result, *Error) {
	if n.Text == "not" {
		truth, failed := ev.truth(n.Args[0])
		return Result{Truth: !truth, IsTruth: true}, failed
	}
	v, failed := ev.value(n.Args[0])
	if failed != nil || n.Text == "+" {
		return Result{Value: v}, failed
	}
	negative, err := v.Neg()
	if err != nil {
		return Result{}, ev.fail(n, err, "%s: %s", ev.expr.text(n), err)
	}
	return Result{Value: negative}, nil
}

func (ev *evaluator) binary(n *Node) (Result, *Error) {
	if n.Text == "and" || n.Text == "or" {
		return ev.logic(n)
	}
	left, failed := ev.value(n.Args[0])
	if failed != nil {
		return Result{}, failed
	}
	right, failed := ev.value(n.Args[1])
	if failed != nil {
		return Result{}, failed
	}
	var v quantity.Value
	var err error
	switch n.Text {
	case "+":
		v, err = left.Add(right)
	case "-":
		v, err = left.Sub(right)
	case "*":
		v, err = left.Mul(right)
	case "/":
		if v, err = left.Div(right); err == nil {
			err = ev.passesZero(n, right)
		}
	case "^":
		v, err = left.Pow(right)
	default:
		order, err := left.Compare(right)
		if err != nil {
			return Result{}, ev.clash(n, left, right, err)
		}
		return Result{Truth: holds(n.Text, order), IsTruth: true}, nil
	}
	if err != nil {
		return Result{}, ev.clash(n, left, right, err)
	}
	return Result{Value: v}, nil
}

// passesZero notes the sign of a divisor at the nominal values, and refuses
// the other sign when an input has moved.
func (ev *evaluator) passesZero(n *Node, divisor quantity.Value) error {
	if ev.watch != nil {
		ev.below[n] = divisor.SI < 0
		return nil
	}
	if below, known := ev.below[n]; known && below != (divisor.SI < 0) {
		return errPole
	}
	return nil
}

var errPole = errors.New("the divisor passes through zero within the spread")

// holds tells whether a comparison holds for the order -1, 0 or 1 of its sides.
func holds(op string, order int) bool {
	switch op {
	case "=":
		return order == 0
	case "!=":
		return order != 0
	case "<":
		return order < 0
	case "<=":
		return order <= 0
	case ">":
		return order > 0
	}
	return order >= 0
}

// logic works out and/or. Both sides must be truths; when the left decides, a
// failure of the right that is no clash of dimensions does not matter.
func (ev *evaluator) logic(n *Node) (Result, *Error) {
	left, failed := ev.truth(n.Args[0])
	if failed != nil {
		return Result{}, failed
	}
	decided := left == (n.Text == "or")
	if decided {
		return Result{Truth: left, IsTruth: true}, ev.inspect(n.Args[1], nil)
	}
	right, failed := ev.truth(n.Args[1])
	return Result{Truth: right, IsTruth: true}, failed
}

// inspect checks a part that does not decide: it must agree in dimension
// within itself and, where it is a value, with v. Other failures are passed
// over, and so is the whole check when inputs are varied.
func (ev *evaluator) inspect(n *Node, v *quantity.Value) *Error {
	if ev.watch == nil {
		return nil
	}
	ev.aside++
	defer func() { ev.aside-- }()
	var other quantity.Value
	var failed *Error
	if v == nil {
		_, failed = ev.truth(n)
	} else {
		other, failed = ev.value(n)
	}
	if failed != nil {
		if failed.kind == ownFault && errors.Is(failed, quantity.ErrMismatch) {
			return failed
		}
		return nil
	}
	if v == nil {
		return nil
	}
	if err := v.Agree(other); err != nil {
		return ev.fail(n, err, "%s gives %s where the other branch gives %s", ev.expr.text(n), other.Dim.Article(), v.Dim.Article())
	}
	return nil
}

// clash words the error of an operator: what was written, what it does, and
// the values met where the text does not show them.
func (ev *evaluator) clash(n *Node, left, right quantity.Value, err error) *Error {
	written := ev.expr.text(n)
	met := ""
	if n.Args[0].Kind != Number || n.Args[1].Kind != Number {
		met = fmt.Sprintf(" (%s %s %s)", quantity.Text(left, quantity.Metric), n.Text, quantity.Text(right, quantity.Metric))
	}
	a, b := left.Dim.Article(), right.Dim.Article()
	if left.Dim.Same(right.Dim) || !errors.Is(err, quantity.ErrMismatch) {
		return ev.fail(n, err, "%s: %s%s", written, err, met)
	}
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
