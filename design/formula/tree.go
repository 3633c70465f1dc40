package formula

import "plansheaf/design/quantity"

// A Kind says what a Node of a formula is.
type Kind int

const (
	Number   Kind = iota + 1 // a literal; Value holds it
	Constant                 // pi; Value holds it
	Name                     // Text is the name, with its dots
	Call                     // Text is the function, Args its arguments
	Unary                    // Text is "-", "+" or "not"; Args[0]
	Binary                   // Text is + - * / ^ = != < <= > >= and or; Args[0], Args[1]
	Spread                   // Args[0] with a spread: ± Args[1], or Amount when it is literal
	Fit                      // Args[0] with the tolerance class Text
)

// A Node is a place in a formula's tree. Brackets leave no node: the tree has
// the order, and printing puts back those that are needed.
type Node struct {
	Kind           Kind
	Text           string // operator, name, function, or the literal as written
	Value          quantity.Value
	Amount         quantity.Spread
	Args           []*Node
	Offset, Length int // in the source, in characters; brackets around the whole left out
	NameLength     int // of a Call: the characters of the function's name
}

// An Expr is a formula that has been read. It does not change, and may be
// used from several goroutines.
type Expr struct {
	source []rune
	root   *Node
}

// Source returns the formula as written.
func (e *Expr) Source() string { return string(e.source) }

// Root returns the tree, for typesetting. It must not be changed.
func (e *Expr) Root() *Node { return e.root }

// A NameUse is a name that a formula uses, at one place.
type NameUse struct {
	Text           string // dotted: "lead_screw.lead", "rods.1"
	Offset, Length int
	In             string // the scope's function that it is a bare argument of; empty elsewhere
}

// A CallUse is a call of a function that the scope answers.
type CallUse struct {
	Text           string // "curve.torque", "diagonal"
	Offset, Length int    // of the function's name
	Args           int
}

// Names returns every use of a name in the order written. A bare argument of
// one of the scope's functions, the left_post of diagonal(left_post, ...), is
// among them with In set: it may name a thing that has no value.
func (e *Expr) Names() []NameUse {
	var uses []NameUse
	walk(e.root, "", func(n *Node, in string) {
		if n.Kind == Name {
			uses = append(uses, NameUse{Text: n.Text, Offset: n.Offset, Length: n.Length, In: in})
		}
	})
	return uses
}

// Calls returns every call that the scope must answer, in the order written.
func (e *Expr) Calls() []CallUse {
	var uses []CallUse
	walk(e.root, "", func(n *Node, _ string) {
		if n.Kind == Call && !isBuiltin(n.Text) {
			uses = append(uses, CallUse{Text: n.Text, Offset: n.Offset, Length: n.NameLength, Args: len(n.Args)})
		}
	})
	return uses
}

// walk visits the tree in the order written; in is the scope's function that
// the node is an argument of.
func walk(n *Node, in string, visit func(*Node, string)) {
	visit(n, in)
	in = ""
	if n.Kind == Call && !isBuiltin(n.Text) {
		in = n.Text
	}
	for _, arg := range n.Args {
		walk(arg, in, visit)
	}
}

// Literal returns the value of a formula that is a literal and nothing else,
// a sign before it allowed.
func (e *Expr) Literal() (quantity.Value, bool) {
	switch n := e.root; {
	case n.Kind == Number:
		return n.Value, true
	case n.Kind == Unary && n.Text == "-" && n.Args[0].Kind == Number:
		v, err := n.Args[0].Value.Neg()
		return v, err == nil
	}
	return quantity.Value{}, false
}

// HasSpread reports whether a spread is written in the formula itself, in a
// literal such as 0.15 ± 0.03 or after a name. What the scope's values carry
// is not counted.
func (e *Expr) HasSpread() bool {
	found := false
	walk(e.root, "", func(n *Node, _ string) {
		if n.Kind == Spread || n.Value.HasSpread() {
			found = true
		}
	})
	return found
}
