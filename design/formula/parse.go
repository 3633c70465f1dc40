package formula

// Limits of a formula. A plan is hostile until proven otherwise; the longest
// formula of a real machine is some 200 characters.
const (
	MaxLength    = 4096 // characters
	MaxDepth     = 64   // brackets, calls and signs within one another
	MaxNodes     = 1024
	maxArguments = 32
)

// Parse reads a formula. Text that is no formula gives an Error at the first
// place that cannot be read on.
func Parse(src string) (*Expr, *Error) {
	return nil, &Error{Message: "the reader of formulas is not there yet"}
}
