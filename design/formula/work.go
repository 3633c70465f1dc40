package formula

import (
	"fmt"
	"sync/atomic"
)

const (
	// MaxWork bounds how many steps one formula takes to work out, with all that
	// its solves, sums and functions repeat and all inputs taken to the ends of
	// their spreads: about half a second. A formula of a real machine takes some
	// hundred.
	MaxWork = 1_000_000
	// maxCalled bounds how deep functions call each other.
	maxCalled = 32
)

// Work counts the steps that formulas take together, those of a plan in all its
// cases, say. A step is a node of a formula worked out once; they are counted by
// batches, so that only formulas that repeat parts of themselves count. It is
// safe for several goroutines.
type Work struct {
	most int64
	done atomic.Int64
}

// NewWork allows for so many steps.
func NewWork(most int64) *Work { return &Work{most: most} }

// Done is how many steps were counted.
func (w *Work) Done() int64 { return w.done.Load() }

// Exhausted reports whether more steps were asked for than are allowed.
func (w *Work) Exhausted() bool { return w != nil && w.done.Load() > w.most }

// Take counts steps that were taken once and whose results are known, as in a run that
// takes them again. It is false, and none is counted, where they would not all be
// allowed.
func (w *Work) Take(steps int64) bool {
	if w == nil {
		return true
	}
	for {
		done := w.done.Load()
		if done+steps > w.most {
			return false
		}
		if w.done.CompareAndSwap(done, done+steps) {
			return true
		}
	}
}

// batch is how many steps of a formula are counted at once.
const batch = 256

// spend counts a batch; false when there were too many.
func (w *Work) spend() bool { return w == nil || w.done.Add(batch) <= w.most }

// A WorkError says that formulas take more steps than they may.
type WorkError struct {
	Most  int64
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
