package formula

import "errors"

// An Error says what is wrong with a formula and which characters of it.
type Error struct {
	Offset, Length int // in characters of the source
	Message        string
	Remedy         string // may be empty
	Cause          error  // what the scope or the arithmetic returned; may be nil
	kind           faultKind
	shown          bool // the message shows the function in which it came about
	frame          int  // of an argument's fault that came up later: how deep in functions its text stands, from 1
}

// faultKind tells a fault of this formula from one that the scope handed on.
type faultKind int

const (
	handedOn faultKind = iota
	ownFault
)

// Error returns the message.
func (e *Error) Error() string { return e.Message }

// Unwrap returns the cause, so that errors.As finds a *CycleError or the
// *Error of another formula that this one leans on.
func (e *Error) Unwrap() error { return e.Cause }

// fault makes an Error at a node.
func fault(n *Node, message string, cause error) *Error {
	failed := &Error{Offset: n.Offset, Length: n.Length, Message: message, Cause: cause}
	var helpful interface{ Remedy() string }
	if cause != nil && errors.As(cause, &helpful) {
		failed.Remedy = helpful.Remedy()
	}
	return failed
}
