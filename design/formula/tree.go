package formula

import "plansheaf/design/quantity"

// A Kind says what a Node of a formula is.
type Kind int

const (
	Number   Kind = iota + 1 // a literal; Value holds it
	Constant                 // pi; Value holds it
	Name                     // Text is the name, with its dots; Bound when it stands for a local
	Call                     // Text is the function, Args its arguments: one of the language, or of the scope (a table's column, a Function)
	Unary                    // Text is "-", "+" or "not"; Args[0]
	Binary                   // Text is + - * / ^ = != < <= > >= and or; Args[0], Args[1]
	Spread                   // Args[0] with a spread: ± Args[1], or Amount when it is literal
	Fit                      // Args[0] with the tolerance class Text
	Cases                    // if(...): Args are a condition and a value by turns, and last the value that else holds; see Branches
	Solve                    // solve(...): the Local between Args[0] and Args[1] for which Args[2], a Binary "=", holds
	Sum                      // sum(...): Args[1] added up for each Local of Args[0], a Group or List; where Args[2], if there, holds
	Group                    // of a Sum: Text names what the scope lists, "press.parts"
	List                     // of a Sum: Args written out, in brackets
)

// A Node is a place in a formula's tree. Brackets leave no node: the tree has
// the order, and printing puts back those that are needed.
type Node struct {
	Kind           Kind
	Text           string // operator, name, function, or the literal as written
	Local          string // of a Solve or Sum: the name that holds within it
	Bound          bool   // of a Name: up to its first dot it is the local of a Solve or Sum around it, or a Function's parameter
	Value          quantity.Value
	Amount         quantity.Spread
	Args           []*Node
	Offset, Length int // in the source, in characters; brackets around the whole left out
	NameLength     int // of a Call, Cases, Solve, Sum: the characters of the function's name
}

// A Branch is a value of a Cases node and the condition under which it is taken:
// the first whose condition holds.
type Branch struct{ When, Then *Node }

// Branches takes a Cases node apart; otherwise is the value that is taken when
// no condition holds.
func (n *Node) Branches() (list []Branch, otherwise *Node) {
	for i := 0; i+1 < len(n.Args); i += 2 {
		list = append(list, Branch{When: n.Args[i], Then: n.Args[i+1]})
	}
	return list, n.Args[len(n.Args)-1]
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
	In             string // the scope's function that it is a bare argument of, "has", or "sum" in a list; empty elsewhere
	Group          bool   // what a sum goes through, "press.parts": it lists things and has no value
}

// A CallUse is a call of a function that the scope answers.
type CallUse struct {
	Text           string // "curve.torque", "diagonal"
	Offset, Length int    // of the function's name
	Args           int
}

// Names returns every use of a name in the order written. Locals, the x of
// solve(x, ...), are not among them. A bare argument of one of the scope's
// functions, the left_post of diagonal(left_post, ...), is, with In set: it may
// name a thing that has no value. So may a name in the list of a sum. For what
// lies behind groups and functions see Leans.
func (e *Expr) Names() []NameUse {
	var uses []NameUse
	walk(e.root, "", func(n *Node, in string) {
		switch {
		case n.Kind == Name && !n.Bound:
			uses = append(uses, NameUse{Text: n.Text, Offset: n.Offset, Length: n.Length, In: in})
		case n.Kind == Group:
			uses = append(uses, NameUse{Text: n.Text, Offset: n.Offset, Length: n.Length, Group: true})
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

// walk visits the tree in the order written; in is the function that
// the node is an argument of where a bare name may stand for a thing.
func walk(n *Node, in string, visit func(*Node, string)) {
	visit(n, in)
	in = ""
	switch {
	case n.Kind == Call && (!isBuiltin(n.Text) || n.Text == "has"):
		in = n.Text
	case n.Kind == List:
		in = "sum"
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
