package notation

import (
	"strings"

	"plansheaf/design/formula"
	"plansheaf/design/quantity"
)

// A Tongue is the words that stand in formulas.
type Tongue struct{ And, Or, Not, If, Otherwise, With string }

// English are the words in English.
var English = Tongue{And: "and", Or: "or", Not: "not", If: "if", Otherwise: "otherwise", With: "with"}

// A Setting is how formulas are set: the system that literals are printed in, and the
// words between their parts.
type Setting struct {
	System  quantity.System
	Tongue  Tongue
	Symbols map[string]string // by name without a dot: "F", "d_m"; a name that is not there is its own symbol
}

// Name is a plan's name as a symbol.
func (s Setting) Name(name string) *Node {
	if symbol, found := s.Symbols[name]; found && symbol != "" {
		return Name(symbol)
	}
	return Name(name)
}

// Function is a function with its parameters: f(x, y).
func (s Setting) Function(name string, parameters []string) *Node {
	var nodes []*Node
	for i, p := range parameters {
		if i > 0 {
			nodes = append(nodes, operator(",", Comma))
		}
		nodes = append(nodes, s.Name(p))
	}
	return row(whole, s.Name(name), fence("(", row(looseOr, nodes...)))
}

// Of is a formula as written, every name a symbol.
func (s Setting) Of(n *formula.Node) *Node {
	return builder{Setting: s}.node(n)
}

// With is a formula with values put in: for each node that has one. Spreads are left
// out; what has no value keeps its name.
func (s Setting) With(n *formula.Node, values map[*formula.Node]quantity.Value) *Node {
	return builder{Setting: s, values: values, worked: true}.node(n)
}

type builder struct {
	Setting
	worked bool
	values map[*formula.Node]quantity.Value
}

func (b builder) node(n *formula.Node) *Node {
	if v, found := b.values[n]; found && b.worked {
		return b.nominal(v)
	}
	switch n.Kind {
	case formula.Number:
		if b.worked {
			return b.nominal(n.Value)
		}
		return Value(n.Value, b.System)
	case formula.Constant:
		return &Node{Kind: Number, Text: "π"}
	case formula.Name:
		if n.Bound {
			return local(n.Text)
		}
		return b.Name(n.Text)
	case formula.Call:
		return b.call(n)
	case formula.Cases:
		return b.cases(n)
	case formula.Sum:
		return b.total(n)
	case formula.Solve:
		return b.solution(n)
	case formula.Unary:
		return b.unary(n)
	case formula.Spread:
		return b.spread(n)
	case formula.Fit:
		if b.worked {
			return b.node(n.Args[0])
		}
		return row(looseSign, least(b.node(n.Args[0]), whole), &Node{Kind: Unit, Text: n.Text})
	case formula.Binary:
		return b.binary(n)
	}
	return upright(n.Text)
}

func (b builder) nominal(v quantity.Value) *Node {
	v = v.Nominal()
	v.Fit = ""
	return Value(v, b.System)
}

func (b builder) unary(n *formula.Node) *Node {
	arg := b.node(n.Args[0])
	switch n.Text {
	case "not":
		return row(looseNot, operator(b.Tongue.Not, Prefix), least(arg, looseRelation))
	case "-":
		return row(looseSign, operator("−", Prefix), signed(arg))
	}
	return row(looseSign, operator(n.Text, Prefix), signed(arg))
}

// signed is an operand that a sign stands before.
func signed(n *Node) *Node {
	if levelOf(n) < looseProduct || begins(n, Prefix) {
		return fence("(", n)
	}
	return n
}

// begins reports whether a row begins with an operator of a class.
func begins(n *Node, class Class) bool {
	return n.Kind == Row && len(n.Args) > 0 && n.Args[0].Kind == Operator && n.Args[0].Class == class
}

func (b builder) spread(n *formula.Node) *Node {
	value := b.node(n.Args[0])
	if b.worked {
		return value
	}
	value = least(value, looseSign)
	if len(n.Args) > 1 {
		return row(looseRelation, value, operator("±", Allowance), least(b.node(n.Args[1]), looseProduct))
	}
	plus, minus := Value(n.Amount.Plus, b.System), Value(n.Amount.Minus, b.System)
	if n.Amount.Plus == n.Amount.Minus {
		return row(looseRelation, value, operator("±", Allowance), plus)
	}
	return &Node{Kind: Script, Args: []*Node{value}, level: looseRelation,
		Sup: row(looseSign, operator("+", Prefix), plus), Sub: row(looseSign, operator("−", Prefix), minus)}
}

// relations are the comparison signs as they are printed.
var relations = map[string]string{"=": "=", "!=": "≠", "<": "<", "<=": "≤", ">": ">", ">=": "≥"}

func (b builder) binary(n *formula.Node) *Node {
	switch n.Text {
	case "or":
		return b.joined(n, b.Tongue.Or, looseOr)
	case "and":
		return b.joined(n, b.Tongue.And, looseAnd)
	case "+", "-":
		return b.sum(n)
	case "*", "/":
		return b.product(n)
	case "^":
		return b.power(n)
	}
	sign, known := relations[n.Text]
	if !known {
		sign = n.Text
	}
	return row(looseRelation, least(b.node(n.Args[0]), looseSum), operator(sign, Relation), least(b.node(n.Args[1]), looseSum))
}

func (b builder) joined(n *formula.Node, word string, level int) *Node {
	return row(level, least(b.node(n.Args[0]), level), operator(word, Conjunction), least(b.node(n.Args[1]), level))
}

// spine lists the operands of operators that group from the left, and the signs
// before all but the first. A node with a value ends it.
func (b builder) spine(n *formula.Node, signs string) (operands []*formula.Node, ops []string) {
	for n.Kind == formula.Binary && strings.Contains(signs, n.Text) {
		if _, valued := b.values[n]; valued {
			break
		}
		operands, ops = append(operands, n.Args[1]), append(ops, n.Text)
		n = n.Args[0]
	}
	operands = append(operands, n)
	for i, j := 0, len(operands)-1; i < j; i, j = i+1, j-1 {
		operands[i], operands[j] = operands[j], operands[i]
	}
	for i, j := 0, len(ops)-1; i < j; i, j = i+1, j-1 {
		ops[i], ops[j] = ops[j], ops[i]
	}
	return operands, ops
}

func (b builder) sum(n *formula.Node) *Node {
	operands, ops := b.spine(n, "+-")
	nodes := []*Node{least(b.node(operands[0]), looseSum)}
	for i, op := range ops {
		term, sign, level := b.node(operands[i+1]), "+", looseSum
		if op == "-" {
			sign, level = "−", looseProduct
		}
		if term = least(term, level); begins(term, Prefix) {
			term = fence("(", term)
		}
		nodes = append(nodes, operator(sign, Addition), term)
	}
	return row(looseSum, nodes...)
}

// product sets a run of * and /: what follows a division's divisor begins a new
// factor, so that a / b * c is the fraction a over b, times c.
func (b builder) product(n *formula.Node) *Node {
	operands, ops := b.spine(n, "*/")
	var factors, above, below []*Node
	end := func() {
		if len(below) > 0 {
			factors = append(factors, &Node{Kind: Fraction, Args: []*Node{times(above), times(numbersFirst(below))}})
		} else {
			factors = append(factors, above...)
		}
		above, below = nil, nil
	}
	above = []*Node{b.node(operands[0])}
	for i, op := range ops {
		next := b.node(operands[i+1])
		switch {
		case op == "/":
			below = append(below, next)
		case len(below) > 0:
			end()
			above = []*Node{next}
		default:
			above = append(above, next)
		}
	}
	end()
	return times(factors)
}

// numbersFirst puts plain numbers before other factors: 2 r, not r × 2.
func numbersFirst(factors []*Node) []*Node {
	var numbers, others []*Node
	for _, f := range factors {
		if f.Kind == Number {
			numbers = append(numbers, f)
		} else {
			others = append(others, f)
		}
	}
	return append(numbers, others...)
}

// times multiplies factors, with brackets around those that need them.
func times(factors []*Node) *Node {
	if len(factors) == 1 {
		return factors[0]
	}
	var nodes []*Node
	for i, f := range factors {
		f = least(f, looseProduct)
		if f.Kind == Large && i+1 < len(factors) {
			f = fence("(", f)
		}
		if i == 0 {
			nodes = append(nodes, f)
			continue
		}
		if begins(f, Prefix) || levelOf(f) == looseNot {
			f = fence("(", f)
		}
		nodes = append(nodes, operator(sign(tail(nodes[len(nodes)-1]), head(f)), Multiplication), f)
	}
	return row(looseProduct, nodes...)
}

// head and tail are the outermost nodes of what stands side by side.
func head(n *Node) *Node {
	for n.Kind == Row && len(n.Args) > 0 {
		n = n.Args[0]
	}
	return n
}

func tail(n *Node) *Node {
	for n.Kind == Row && len(n.Args) > 0 {
		n = n.Args[len(n.Args)-1]
	}
	return n
}

// sign is the sign of multiplication between two factors; empty where none is needed:
// behind a plain number and between letters. Words need a dot, figures a cross.
func sign(left, right *Node) string {
	plain := left.Kind == Number || left.Kind == Script && left.Args[0].Kind == Number && short(right)
	switch {
	case figure(right) || right.Kind == Script && figure(head(right.Args[0])):
		return "×"
	case left.Kind == Unit:
		return "×"
	case right.Kind == Fence && right.Text == "(" && figure(head(right.Args[0])) && (plain || left.Kind == Fence):
		return "×"
	case right.Kind == Fraction || left.Kind == Fraction || right.Kind == Cases || left.Kind == Cases || left.Kind == Large:
		return "·"
	case plain:
		return ""
	case short(left) && (short(right) || right.Kind == Number || right.Kind == Root || right.Kind == Upright):
		return ""
	}
	return "·"
}

// square functions take their power behind the name: sin².
var squared = map[string]bool{"sin": true, "cos": true, "tan": true}

func (b builder) power(n *formula.Node) *Node {
	base, over := n.Args[0], Linear(b.node(n.Args[1]))
	if base.Kind == formula.Call && squared[base.Text] && len(base.Args) == 1 && over.Kind == Number && over.Text != "−1" {
		if _, valued := b.values[base]; !valued {
			return b.function(&Node{Kind: Script, Args: []*Node{upright(base.Text)}, Sup: over}, base.Args)
		}
	}
	under := b.node(base)
	switch {
	case under.Kind == Script && under.Sup == nil && under.level == 0:
		return &Node{Kind: Script, Args: under.Args, Sub: under.Sub, Sup: over, level: loosePower}
	case under.Kind == Fraction, under.Kind == Cases, under.Kind == Large, under.Kind == Root, under.Kind == Row, levelOf(under) < whole:
		under = fence("(", under)
	}
	return &Node{Kind: Script, Args: []*Node{under}, Sup: over, level: loosePower}
}
