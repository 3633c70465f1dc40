package formula

import "plansheaf/design/quantity"

// A Result is what a formula comes to: a value, or, for comparisons and what
// is made of them, a truth.
type Result struct {
	Value   quantity.Value
	Truth   bool
	IsTruth bool
}

// Eval works the formula out. Both sides of a choice are checked for
// dimensions; only the one taken is worked out.
func (e *Expr) Eval(scope Scope) (Result, *Error) {
	return Result{}, &Error{Message: "working out is not there yet"}
}

// A Margin is a comparison that must hold, with both sides worked out.
type Margin struct {
	Op          string // = != < <= > >=
	Left, Right quantity.Value
	Gap         quantity.Value // Left - Right, with the spread of the difference
	Holds       bool           // at the nominal values
	Throughout  bool           // wherever within the spreads
}
