package formula

import (
	"errors"
	"fmt"
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
	if n := e.root; (n.Kind == Number || n.Kind == Constant) && !n.Value.HasSpread() {
		return Result{Value: n.Value.Nominal()}, nil // most of a plan's
	}
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
func (e *Expr) text(n *Node) string { return shorten(e.source[n.Offset : n.Offset+n.Length]) }

func shorten(text []rune) string {
	const most = 60
	if len(text) > most {
		return strings.TrimSpace(string(text[:most])) + "…"
	}
	return string(text)
}

// A pass works out one formula once, at nominal values but for the one input
// that is varied, with whatever functions it calls.
type pass struct {
	names map[string]*lookup // what the scope answered; shared between passes once there is some
	lists map[string]listed  // likewise, of groups
	watch *inputs            // collects what has a spread; nil when varying
	moved leaf               // the input that is varied
	to    float64            // its value in SI units
	high  bool               // whether that is its upper end, for a spread about what may move itself
	aside int                // above zero inside a part that does not decide
	steps *int               // taken by this formula, all passes together

	// below tells of each divisor whether it is negative at the nominal
	// values: one whose sign turns within a spread has passed through zero.
	below map[spot]bool
	roots map[spot]float64 // what each solve found at the nominal values
}

// evaluator works out a formula, or the function that it calls, within a pass.
type evaluator struct {
	*pass
	expr   *Expr
	scope  Scope
	locals *local   // the innermost
	inside []string // the functions being worked out, each called by the one before
	trail  uint64   // by which calls and rounds the way led here
	loose  bool     // on the way to a root, where signs turn as they like
}

// A spot is a node at one of the times that it is worked out.
type spot struct {
	node  *Node
	trail uint64
}

// follow is the trail one turn further on: into a node, in its round i.
func (ev *evaluator) follow(n *Node, i int) uint64 {
	const prime = 1099511628211 // of the FNV hash
	return ((ev.trail^uint64(n.Offset+1))*prime ^ uint64(i+1)) * prime
}

// newEvaluator prepares to work out an expression at nominal values.
func newEvaluator(e *Expr, scope Scope) *evaluator {
	all := &struct { // in one piece: formulas are worked out by the million
		ev    evaluator
		pass  pass
		steps int
	}{}
	all.pass.steps = &all.steps
	all.ev = evaluator{expr: e, scope: scope, pass: &all.pass}
	return &all.ev
}

// put puts a value into a map that is made when there is one: most formulas are short,
// and worked out by the million.
func put[K comparable, V any](m *map[K]V, key K, value V) {
	if *m == nil {
		*m = map[K]V{}
	}
	(*m)[key] = value
}

// listed is what the scope answered for a group.
type listed struct {
	members []Member
	err     error
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
		put(&ev.watch.seen, l, true)
		ev.watch.leaves = append(ev.watch.leaves, l)
		ev.watch.list = append(ev.watch.list, Input{Name: called, Offset: -1, Value: v})
		if l.node != nil && len(ev.inside) == 0 {
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
	if failed := ev.step(n); failed != nil {
		return Result{}, failed
	}
	switch n.Kind {
	case Number, Constant:
		return Result{Value: ev.take(leaf{node: n}, n.Text, n.Value)}, nil
	case Name:
		v, failed := ev.lookup(n)
		return Result{Value: v}, failed
	case Call:
		return ev.call(n)
	case Cases:
		return ev.cases(n)
	case Solve:
		v, failed := ev.solve(n)
		return Result{Value: v}, failed
	case Sum:
		v, failed := ev.sum(n)
		return Result{Value: v}, failed
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

// step counts a node worked out.
func (ev *evaluator) step(n *Node) *Error {
	*ev.steps++
	if *ev.steps > MaxWork {
		err := &WorkError{Most: MaxWork}
		return ev.fail(n, err, "%s", err)
	}
	if *ev.steps%batch != 0 {
		return nil
	}
	if all := ev.scope.Work(); !all.spend() {
		err := &WorkError{Most: all.most, Whole: true}
		return ev.fail(n, err, "%s", err)
	}
	return nil
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
	if n.Bound {
		return ev.local(n)
	}
	v, failed := ev.ask(n, n.Text, n.Text, func() (quantity.Value, error) { return ev.scope.Lookup(n.Text) })
	if failed != nil && failed.Remedy == "" {
		if _, err := quantity.ParseUnit(n.Text); err == nil {
			failed.Remedy = fmt.Sprintf("%s is a unit: write a number before it", n.Text)
		}
	}
	return v, failed
}

// ask has the scope answer once for a name; key tells it from others, full is
// what the plan calls it, by which an input is known wherever it stands.
func (ev *evaluator) ask(n *Node, key, full string, answer func() (quantity.Value, error)) (quantity.Value, *Error) {
	found := ev.names[key]
	if found == nil {
		found = &lookup{}
		found.value, found.err = answer()
		if found.err == nil && !found.value.Finite() {
			found.err = fmt.Errorf("%s is no finite number", full)
		}
		put(&ev.names, key, found)
	}
	if found.err != nil {
		return quantity.Value{}, fault(n, found.err.Error(), found.err)
	}
	return ev.take(leaf{name: full}, full, found.value), nil
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
		return ev.shift(v, wide), nil
	}
	return ev.take(leaf{node: n}, ev.expr.text(n), wide), nil
}

// shift moves a value to the end of the spread that stands about it: the value
// may itself have moved, and differ from round to round of a sum.
func (ev *evaluator) shift(v, wide quantity.Value) quantity.Value {
	if ev.high {
		v.SI += wide.Plus - v.Plus
	} else {
		v.SI -= wide.Minus - v.Minus
	}
	return v.Nominal()
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
		return Result{}, ev.refuse(n, err, err.Error(), n.Args[0])
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
	at := spot{n, ev.trail}
	switch {
	case ev.loose:
		return nil
	case ev.watch != nil:
		put(&ev.below, at, divisor.SI < 0)
		return nil
	}
	if below, known := ev.below[at]; known && below != (divisor.SI < 0) {
		return errPole
	}
	return nil
}

var errPole error = poleError{}

// poleError is a result that runs off to infinity within a spread.
type poleError struct{}

func (poleError) Error() string { return "the divisor passes through zero within the spread" }
func (poleError) Unwrap() error { return quantity.ErrUndefined }

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
