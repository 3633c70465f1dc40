package formula

import "fmt"

const (
	// MaxWork bounds how many steps one formula takes to work out, with all that
	// its solves, sums and functions repeat and all inputs taken to the ends of
	// their spreads: about a second. A formula of a real machine takes some
	// hundred.
	MaxWork = 2_000_000
	// maxCalled bounds how deep functions call each other.
	maxCalled = 32
)

// Work counts the steps that several formulas take together. A step is a node
// of a formula worked out once. It may be shared by one goroutine only.
type Work struct {
	Done, Most int // Most 0: no limit
}

// spend counts a step; false when there were too many.
func (w *Work) spend() bool {
	if w == nil {
		return true
	}
	w.Done++
	return w.Most == 0 || w.Done <= w.Most
}

// A WorkError says that formulas take more steps than they may.
type WorkError struct {
	Most  int
	Whole bool // all formulas of a plan together, not one
}

// Error says how many steps are too many.
func (e *WorkError) Error() string {
	if e.Whole {
		return fmt.Sprintf("the formulas of the plan take more than %d steps together", e.Most)
	}
	return fmt.Sprintf("the formula takes more than %d steps", e.Most)
}

// Remedy says what makes a formula long.
func (e *WorkError) Remedy() string {
	return "let fewer solves, sums and functions stand inside one another"
}
