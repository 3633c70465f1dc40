package notation

import "strconv"

// A Kind says what a Node is.
type Kind int

// The kinds.
const (
	Row      Kind = iota + 1 // Args beside each other
	Symbol                   // a quantity's name: slanted
	Upright                  // a function's name, an index, a word
	Number                   // figures, with their sign, and π
	Unit                     // follows its number
	Operator                 // Text, of a Class
	Fraction                 // Args[0] over Args[1]
	Root                     // the square root of Args[0]
	Script                   // Args[0] with Sub, Sup or both
	Fence                    // Args[0] between brackets; Text is the opening one: ( [ | ⌈ ⌊
	Cases                    // Args: value, condition, value, condition ... ; a last value alone holds otherwise
	Large                    // a large operator such as ∑: Text, with Sub below and Sup above; Args[0] is what it works on
	Stack                    // Args one below the other, since there is no room beside each other
)

// A Class says how an operator stands between its neighbours.
type Class int

// The classes, from the loosest to the tightest.
const (
	NoClass        Class = iota
	Conjunction          // and, or: words
	Relation             // = < ≤
	Addition             // + −
	Allowance            // ±
	Multiplication       // · × and the product without a sign, whose Text is empty
	Division             // the slash of a fraction on one line
	Comma                // between arguments
	Prefix               // a sign before its operand, "not"
	Bracket              // one of two brackets that a line may end between
)

// A Node is a piece of a set formula. It does not change once it is made.
type Node struct {
	Kind     Kind
	Text     string
	Class    Class
	Args     []*Node
	Sub, Sup *Node
	level    int // how tightly it hangs together, as levelOf gives it; 0: by its kind
}

// How tightly nodes hang together.
const (
	looseOr = iota + 1
	looseAnd
	looseNot
	looseRelation
	looseSum
	looseProduct
	looseSign // a sign or a unit, loosened by a power
	loosePower
	whole
)

// levelOf is how tightly a node hangs together.
func levelOf(n *Node) int {
	if n.level > 0 {
		return n.level
	}
	switch n.Kind {
	case Fraction, Large:
		return looseProduct
	case Cases:
		return looseOr
	}
	return whole
}

// Equation is name = right side.
func Equation(name, right *Node) *Node {
	return row(looseRelation, name, operator("=", Relation), right)
}

// Sign is an operator alone.
func Sign(text string) *Node { return operator(text, Relation) }

// row puts nodes beside each other; rows among them without brackets melt into it.
func row(level int, nodes ...*Node) *Node {
	r := &Node{Kind: Row, level: level}
	for _, n := range nodes {
		if n.Kind == Row {
			r.Args = append(r.Args, n.Args...)
		} else {
			r.Args = append(r.Args, n)
		}
	}
	if len(r.Args) == 1 {
		return r.Args[0]
	}
	return r
}

func operator(text string, class Class) *Node {
	return &Node{Kind: Operator, Text: text, Class: class}
}

func upright(text string) *Node { return &Node{Kind: Upright, Text: text} }

func fence(open string, inner *Node) *Node {
	return &Node{Kind: Fence, Text: open, Args: []*Node{inner}}
}

// closing are the brackets that end what an opening one begins.
var closing = map[string]string{"(": ")", "[": "]", "|": "|", "⌈": "⌉", "⌊": "⌋", "{": ""}

// least puts brackets around a node that hangs together more loosely than level.
func least(n *Node, level int) *Node {
	if levelOf(n) < level {
		return fence("(", n)
	}
	return n
}

// GoString tells nodes apart by what they show, not by where they lie in memory.
func (n *Node) GoString() string {
	if n == nil {
		return "nil"
	}
	return strconv.Quote(Words(n))
}

// Beside is a node with words behind it, such as a unit in brackets.
func Beside(n *Node, words string) *Node {
	return row(looseOr, n, &Node{Kind: Unit, Text: words})
}

// Limit is a comparison sign with what stands to its right.
func Limit(sign string, right *Node) *Node {
	return row(looseRelation, operator(sign, Relation), right)
}
