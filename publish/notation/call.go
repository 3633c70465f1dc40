package notation

import (
	"strings"

	"plansheaf/design/formula"
)

// printedFunctions are functions whose printed name differs from the written one.
var printedFunctions = map[string]string{"asin": "arcsin", "acos": "arccos", "atan": "arctan", "atan2": "arctan2"}

// openings are functions that are brackets of their own.
var openings = map[string]string{"abs": "|", "ceil": "⌈", "floor": "⌊"}

// bare functions may leave the brackets around a single letter out: sin φ.
var bare = map[string]bool{"sin": true, "cos": true, "tan": true, "asin": true, "acos": true, "atan": true, "ln": true, "log10": true}

func (b builder) call(n *formula.Node) *Node {
	open, bracketed := openings[n.Text]
	switch {
	case len(n.Args) == 1 && n.Text == "sqrt":
		return &Node{Kind: Root, Args: []*Node{b.node(n.Args[0])}}
	case len(n.Args) == 1 && bracketed:
		return fence(open, b.node(n.Args[0]))
	case len(n.Args) == 1 && n.Text == "exp":
		return b.exponential(n)
	case n.Text == "log10":
		return b.function(&Node{Kind: Script, Args: []*Node{upright("log")}, Sub: &Node{Kind: Number, Text: "10"}}, n.Args)
	}
	name := n.Text
	if printed, found := printedFunctions[name]; found {
		name = printed
	}
	if len(n.Args) == 1 && bare[n.Text] {
		return b.function(upright(name), n.Args)
	}
	symbol := upright(spaced(name))
	if strings.Contains(name, ".") || b.own(n.Text) {
		symbol = Name(name)
	}
	return row(whole, symbol, b.arguments(n.Args))
}

// own reports whether a function is not one of the language's.
func (b builder) own(name string) bool {
	for _, known := range formula.Functions() {
		if known == name {
			return false
		}
	}
	return true
}

// function is a function's name with its one argument.
func (b builder) function(name *Node, args []*formula.Node) *Node {
	if len(args) == 1 {
		if arg := b.node(args[0]); short(arg) {
			return row(loosePower, name, arg)
		}
	}
	return row(whole, name, b.arguments(args))
}

func (b builder) arguments(args []*formula.Node) *Node {
	var nodes []*Node
	for i, arg := range args {
		if i > 0 {
			nodes = append(nodes, operator(",", Comma))
		}
		n := b.node(arg)
		if len(args) > 1 && n.Kind == Cases {
			n = fence("(", n)
		}
		nodes = append(nodes, n)
	}
	inner := row(looseOr, nodes...)
	return fence("(", inner)
}

// exponential is a power of e, unless the power would be tall.
func (b builder) exponential(n *formula.Node) *Node {
	over := b.node(n.Args[0])
	if tall(over) {
		return row(whole, upright("exp"), fence("(", over))
	}
	return &Node{Kind: Script, Args: []*Node{upright("e")}, Sup: over, level: loosePower}
}

// tall reports whether a node is higher than a line of letters.
func tall(n *Node) bool {
	switch n.Kind {
	case Fraction, Cases, Large, Stack:
		return true
	}
	for _, arg := range n.Args {
		if tall(arg) {
			return true
		}
	}
	return false
}

// cases are the branches of an if; an if in its last branch goes on with them.
func (b builder) cases(n *formula.Node) *Node {
	c := &Node{Kind: Cases}
	for {
		branches, otherwise := n.Branches()
		for _, branch := range branches {
			c.Args = append(c.Args, least(b.node(branch.Then), looseRelation), row(looseOr, operator(b.Tongue.If, Prefix), b.node(branch.When)))
		}
		n = otherwise
		if _, valued := b.values[n]; valued || n.Kind != formula.Cases {
			break
		}
	}
	c.Args = append(c.Args, least(b.node(n), looseRelation), upright(b.Tongue.Otherwise))
	return c
}

// total is a sum over things: its index below the sign says over which.
func (b builder) total(n *formula.Node) *Node {
	below := []*Node{local(n.Local), operator("∈", Relation), b.over(n.Args[0])}
	if len(n.Args) > 2 {
		below = append(below, operator(",", Comma), b.node(n.Args[2]))
	}
	return &Node{Kind: Large, Text: "∑", Sub: Linear(row(looseOr, below...)), Args: []*Node{least(b.node(n.Args[1]), looseProduct)}}
}

// over is what a sum goes through: a group's name, or a list.
func (b builder) over(n *formula.Node) *Node {
	if n.Kind == formula.Group {
		return upright(spaced(strings.ReplaceAll(n.Text, ".", " ")))
	}
	nodes := []*Node{upright("{")}
	for i, item := range n.Args {
		if i > 0 {
			nodes = append(nodes, operator(",", Comma))
		}
		nodes = append(nodes, b.node(item))
	}
	return row(whole, append(nodes, upright("}"))...)
}

// solution is the value of a name for which an equation holds, and between what it is
// looked for.
func (b builder) solution(n *formula.Node) *Node {
	x := local(n.Local)
	return row(looseOr, x, operator(b.Tongue.With, Conjunction), b.node(n.Args[2]), operator(",", Comma),
		least(b.node(n.Args[0]), looseSum), operator("≤", Relation), x, operator("≤", Relation), least(b.node(n.Args[1]), looseSum))
}
