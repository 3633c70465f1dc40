package formula

import (
	"fmt"
	"math"
	"unicode"

	"plansheaf/design/quantity"
)

// Limits of a formula. A plan is hostile until proven otherwise; the longest
// formula of a real machine is some 200 characters.
const (
	MaxLength    = 4096 // characters
	MaxDepth     = 64   // brackets, calls and signs within one another
	MaxNodes     = 1024
	maxArguments = 32
)

// How tightly operators bind, loosest first.
const (
	bindOr = iota + 1
	bindAnd
	bindNot
	bindCompare
	bindSum
	bindProduct
	bindSign
	bindPower
	bindSpread
)

// Parse reads a formula. Text that is no formula gives an Error at the first
// place that cannot be read on.
func Parse(src string) (*Expr, *Error) {
	p := parser{source: []rune(src)}
	if len(p.source) > MaxLength {
		return nil, &Error{Offset: MaxLength, Length: len(p.source) - MaxLength,
			Message: fmt.Sprintf("the formula has %d characters, more than %d", len(p.source), MaxLength),
			Remedy:  "give parts of it names of their own"}
	}
	root, failed := p.expression(bindOr)
	if failed != nil {
		return nil, failed
	}
	p.blanks()
	if p.at < len(p.source) {
		return nil, p.leftover()
	}
	return &Expr{source: p.source, root: root}, nil
}

// parser is a Pratt parser: prefix reads what a formula may start with, and
// expression joins it to what follows as long as that binds tightly enough.
type parser struct {
	source       []rune
	at           int
	depth, nodes int
	locals       []string // names of the solves and sums around the place
}

func (p *parser) blanks() {
	for p.at < len(p.source) && unicode.IsSpace(p.source[p.at]) {
		p.at++
	}
}

func (p *parser) fail(start, length int, remedy, format string, args ...any) *Error {
	return &Error{Offset: start, Length: length, Message: fmt.Sprintf(format, args...), Remedy: remedy}
}

// node makes a node that reaches from start to where the parser is.
func (p *parser) node(kind Kind, text string, start int, args ...*Node) (*Node, *Error) {
	p.nodes++
	if p.nodes > MaxNodes {
		return nil, p.fail(start, p.at-start, "give parts of it names of their own", "the formula has more than %d parts", MaxNodes)
	}
	return &Node{Kind: kind, Text: text, Args: args, Offset: start, Length: p.at - start}, nil
}

// expression reads a value and every operator after it that binds at least as
// tightly as least.
func (p *parser) expression(least int) (*Node, *Error) {
	p.depth++
	defer func() { p.depth-- }()
	p.blanks()
	start := p.at
	if p.depth > MaxDepth {
		return nil, p.fail(start, min(1, len(p.source)-start), "give parts of it names of their own", "the formula nests deeper than %d", MaxDepth)
	}
	left, failed := p.prefix()
	for failed == nil {
		end := p.at
		op, bind := p.operator()
		if op == "" || bind < least {
			p.at = end
			return left, nil
		}
		left, failed = p.join(left, start, op, bind)
	}
	return nil, failed
}

// join reads what follows an operator and joins it to left.
func (p *parser) join(left *Node, start int, op string, bind int) (*Node, *Error) {
	switch op {
	case "fit":
		fit, n := quantity.ScanFit(p.source[p.at:])
		p.at += n
		return p.node(Fit, fit, start, left)
	case "±":
		return p.spread(left, start)
	}
	rightBind := bind + 1
	if op == "^" {
		rightBind = bindSign // groups from the right, and takes a sign: 2^-1
	}
	right, failed := p.expression(rightBind)
	if failed != nil {
		return nil, failed
	}
	joined, failed := p.node(Binary, op, start, left, right)
	if failed != nil {
		return nil, failed
	}
	if bind == bindCompare {
		p.blanks()
		end := p.at
		if next, bind := p.operator(); bind == bindCompare {
			return nil, p.fail(end, p.at-end, "join two comparisons by and: a < b and b < c", "a comparison is compared again with %s", next)
		}
		p.at = end
	}
	return joined, nil
}

// spread reads the amounts after a value; the parser stands before the ±.
func (p *parser) spread(left *Node, start int) (*Node, *Error) {
	amount, n, syntax := quantity.ScanSpread(p.source[p.at:])
	if syntax != nil {
		return nil, p.literalError(syntax)
	}
	if n > 0 {
		p.at += n
		spread, failed := p.node(Spread, "±", start, left)
		if failed == nil {
			spread.Amount = amount
		}
		return spread, failed
	}
	if p.source[p.at] == '+' {
		p.at += len("+/-")
	} else {
		p.at++
	}
	right, failed := p.expression(bindSpread + 1)
	if failed != nil {
		return nil, failed
	}
	return p.node(Spread, "±", start, left, right)
}

func (p *parser) literalError(syntax *quantity.SyntaxError) *Error {
	return &Error{Offset: p.at + syntax.Offset, Length: syntax.Length, Message: syntax.Message, Remedy: syntax.Remedy}
}

// operator reads the operator that stands next; empty when there is none.
// Signs of the printed page (× · ≤ ≥ ≠ and the true minus) are read too, for
// what the program prints may be pasted back. A fit and a spread count as
// operators that are left unread.
func (p *parser) operator() (op string, bind int) {
	p.blanks()
	if p.at >= len(p.source) {
		return "", 0
	}
	rest := p.source[p.at:]
	if _, n, err := quantity.ScanSpread(rest); n > 0 || err != nil || rest[0] == '±' || hasPrefix(rest, "+/-") || hasPrefix(rest, "+/−") {
		return "±", bindSpread
	}
	if _, n := quantity.ScanFit(rest); n > 0 {
		return "fit", bindSpread
	}
	for _, word := range []struct {
		text string
		bind int
	}{{"and", bindAnd}, {"or", bindOr}} {
		if hasPrefix(rest, word.text) && (len(rest) == len(word.text) || !isNameRune(rest[len(word.text)])) {
			p.at += len(word.text)
			return word.text, word.bind
		}
	}
	for _, sign := range signs {
		if hasPrefix(rest, sign.text) {
			p.at += len([]rune(sign.text))
			return sign.op, sign.bind
		}
	}
	return "", 0
}

// signs are the operators by their spelling; a longer one stands before the
// one that it begins with.
var signs = []struct {
	text, op string
	bind     int
}{
	{"<=", "<=", bindCompare}, {">=", ">=", bindCompare}, {"!=", "!=", bindCompare}, {"==", "=", bindCompare},
	{"=", "=", bindCompare}, {"<", "<", bindCompare}, {">", ">", bindCompare},
	{"≤", "<=", bindCompare}, {"≥", ">=", bindCompare}, {"≠", "!=", bindCompare},
	{"+", "+", bindSum}, {"-", "-", bindSum}, {"−", "-", bindSum},
	{"*", "*", bindProduct}, {"×", "*", bindProduct}, {"·", "*", bindProduct}, {"/", "/", bindProduct},
	{"^", "^", bindPower},
}

func hasPrefix(text []rune, prefix string) bool {
	i := 0
	for _, r := range prefix {
		if i >= len(text) || text[i] != r {
			return false
		}
		i++
	}
	return true
}

// prefix reads what a value may start with.
func (p *parser) prefix() (*Node, *Error) {
	p.blanks()
	start := p.at
	if start >= len(p.source) {
		if len(p.source) == 0 {
			return nil, p.fail(0, 0, "", "the formula is empty")
		}
		return nil, p.fail(start, 0, "", "a value is missing at the end")
	}
	switch r := p.source[start]; {
	case r == '(':
		return p.bracket()
	case r == '±' || r >= '0' && r <= '9' || r == '.':
		return p.literal()
	case r == '-' || r == '−' || r == '+':
		return p.sign(r)
	case isNameStart(r):
		return p.word()
	}
	return nil, p.missing()
}

func (p *parser) bracket() (*Node, *Error) {
	open := p.at
	p.at++
	inner, failed := p.expression(bindOr)
	if failed != nil {
		return nil, failed
	}
	p.blanks()
	if p.at < len(p.source) && p.source[p.at] == ')' {
		p.at++
		return inner, nil
	}
	if p.at < len(p.source) {
		return nil, p.leftover()
	}
	return nil, p.fail(open, 1, "", "the bracket is never closed")
}

func (p *parser) literal() (*Node, *Error) {
	start := p.at
	literal, syntax := quantity.Scan(p.source[start:])
	if syntax != nil {
		return nil, p.literalError(syntax)
	}
	p.at += literal.Length
	n, failed := p.node(Number, string(p.source[start:p.at]), start)
	if failed == nil {
		n.Value = literal.Value
	}
	return n, failed
}

// sign reads a minus or plus and what it stands before. It belongs to the
// number itself where the order would matter: on a temperature scale, before
// an unequal spread, and in a spread without a value.
func (p *parser) sign(r rune) (*Node, *Error) {
	start := p.at
	if literal, syntax := quantity.Scan(p.source[start:]); syntax == nil {
		v := literal.Value
		if literal.Bare || v.Absolute || math.Abs(v.Minus-v.Plus) > 0 {
			return p.literal()
		}
	}
	p.at++
	operand, failed := p.expression(bindPower)
	if failed != nil {
		return nil, failed
	}
	text := "-"
	if r == '+' {
		text = "+"
	}
	return p.node(Unary, text, start, operand)
}

// word reads a name, a call, pi or not.
func (p *parser) word() (*Node, *Error) {
	start := p.at
	text := p.name()
	switch text {
	case "not":
		operand, failed := p.expression(bindCompare)
		if failed != nil {
			return nil, failed
		}
		return p.node(Unary, "not", start, operand)
	case "and", "or":
		return nil, p.fail(start, len(text), "", "a value is missing before %s", text)
	case "pi", "π":
		n, failed := p.node(Constant, "pi", start)
		if failed == nil {
			n.Value = quantity.Number(math.Pi)
		}
		return n, failed
	}
	nameEnd := p.at
	p.blanks()
	if p.at < len(p.source) && p.source[p.at] == '(' {
		return p.call(text, start, nameEnd)
	}
	p.at = nameEnd
	if isBuiltin(text) {
		return nil, p.fail(start, nameEnd-start, fmt.Sprintf("write %s(...)", text), "the function %s has no arguments", text)
	}
	return p.named(text, start)
}

// name reads a name with its dots. After a dot a number may stand: rods.1.
func (p *parser) name() string {
	start := p.at
	for p.at < len(p.source) {
		r := p.source[p.at]
		dot := r == '.' && p.at+1 < len(p.source) && isNameRune(p.source[p.at+1])
		if !isNameRune(r) && !dot {
			break
		}
		p.at++
	}
	return string(p.source[start:p.at])
}

func isNameStart(r rune) bool { return r == '_' || unicode.IsLetter(r) }

func isNameRune(r rune) bool { return isNameStart(r) || r >= '0' && r <= '9' }

// missing is the error for a place where a value should start.
func (p *parser) missing() *Error {
	r := p.source[p.at]
	switch r {
	case ')':
		return p.fail(p.at, 1, "", "a value is missing before the closing bracket")
	case ',':
		return p.fail(p.at, 1, "", "a value is missing before the comma")
	case '"', '\'':
		return p.fail(p.at, 1, "", "a text in quotes has no place in a formula")
	}
	probe := *p
	if op, _ := probe.operator(); op != "" && probe.at > p.at {
		return p.fail(p.at, probe.at-p.at, "", "a value is missing before %s", string(p.source[p.at:probe.at]))
	}
	return p.fail(p.at, 1, "", "%q has no meaning in a formula", r)
}

// leftover is the error for what follows a value and cannot join to it.
func (p *parser) leftover() *Error {
	r := p.source[p.at]
	switch {
	case r == ')':
		return p.fail(p.at, 1, "", "the bracket was never opened")
	case r == ',':
		return p.fail(p.at, 1, "write decimals with a point", "a comma stands outside a function's arguments")
	case r == '(' || isNameRune(r) || r == '.':
		end := p.at + 1
		for r != '(' && end < len(p.source) && isNameRune(p.source[end]) {
			end++
		}
		return p.fail(p.at, end-p.at, "put an operator such as * between them", "%q follows a value without an operator", string(p.source[p.at:end]))
	}
	return p.fail(p.at, 1, "", "%q has no meaning in a formula", r)
}
