package quantity

import (
	"errors"
	"fmt"
)

// Errors of arithmetic that callers may tell apart with errors.Is.
var (
	// ErrMismatch marks dimensions, currencies or temperatures that do not go together.
	ErrMismatch = errors.New("dimensions do not agree")
	// ErrUndefined marks a result that no number expresses: division by zero, root of a negative number.
	ErrUndefined = errors.New("not a number")
)

var (
	errExponent       = mismatch("the exponent of a unit exceeds %d", maxExponent)
	errFraction       = mismatch("the power leaves a unit whose exponent is no simple fraction")
	errNegativeSpread = undefined("a spread is negative")
)

// kindError is an error that is ErrMismatch or ErrUndefined without saying
// so in its text, which stands in findings.
type kindError struct {
	text string
	kind error
}

func (e *kindError) Error() string { return e.text }
func (e *kindError) Unwrap() error { return e.kind }

func mismatch(format string, args ...any) error {
	return &kindError{fmt.Sprintf(format, args...), ErrMismatch}
}

func undefined(format string, args ...any) error {
	return &kindError{fmt.Sprintf(format, args...), ErrUndefined}
}
