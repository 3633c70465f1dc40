package formula

import (
	"fmt"
	"strings"

	"plansheaf/design/quantity"
)

// A Scope knows what a formula's names mean. Whatever error it returns is
// located at the name or call; one that has a method Remedy() string passes
// its remedy on, and errors.As finds it in the Error.
type Scope interface {
	// Lookup returns the value of a name, "opening" or "lead_screw.lead".
	Lookup(name string) (quantity.Value, error)
	// Call answers a function that is none of the built-in ones, such as a
	// table's column "curve.torque" or "diagonal". There may be any number of
	// arguments, none included. It may be called several times in one Eval,
	// with arguments varied within their spreads.
	Call(name string, args []Arg) (quantity.Value, error)
}

// An Arg is an argument of a call to the scope.
type Arg struct {
	Name           string // the bare name if the argument is one, else empty
	Offset, Length int    // in the formula
	value          func() (quantity.Value, *Error)
}

// Value works the argument out; not before, for a bare name may mean a thing
// that has no value. The error, if any, is an *Error.
func (a Arg) Value() (quantity.Value, error) {
	if a.value == nil {
		return quantity.Value{}, fmt.Errorf("the argument has no value")
	}
	v, failed := a.value()
	if failed != nil {
		return quantity.Value{}, failed
	}
	return v, nil
}

// A CycleError says that a name depends on itself. Path lists the names in
// order of use, the first again at the end.
type CycleError struct{ Path []string }

// Error shows the whole loop: "a -> b -> a".
func (e *CycleError) Error() string {
	return "the value depends on itself: " + strings.Join(e.Path, " -> ")
}

// Remedy says what to do about a loop.
func (e *CycleError) Remedy() string { return "give one of these names a value of its own" }

// An UnknownNameError says that nothing answers to a name.
type UnknownNameError struct {
	Name    string
	Nearest string // a name that may be meant; may be empty
}

// Error names the name.
func (e *UnknownNameError) Error() string { return fmt.Sprintf("nothing is named %q", e.Name) }

// Remedy suggests the nearest name.
func (e *UnknownNameError) Remedy() string {
	if e.Nearest == "" {
		return ""
	}
	return fmt.Sprintf("is %q meant?", e.Nearest)
}

// Values is a Scope of plain names with values, without functions.
type Values map[string]quantity.Value

// Lookup returns the value of a name or an *UnknownNameError.
func (v Values) Lookup(name string) (quantity.Value, error) {
	if value, found := v[name]; found {
		return value, nil
	}
	return quantity.Value{}, &UnknownNameError{Name: name}
}

// Call knows no function.
func (v Values) Call(name string, _ []Arg) (quantity.Value, error) {
	return quantity.Value{}, &UnknownNameError{Name: name}
}
