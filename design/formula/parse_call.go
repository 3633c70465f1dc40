package formula

import (
	"fmt"
	"slices"
	"strings"
)

// call reads the arguments of a function; the parser stands at its bracket.
func (p *parser) call(name string, start, nameEnd int) (*Node, *Error) {
	var n *Node
	var failed *Error
	open := p.at
	p.at++
	switch name {
	case "solve":
		n, failed = p.solve(start, open)
	case "sum":
		n, failed = p.sum(start, open)
	default:
		n, failed = p.plainCall(name, start, open)
	}
	if failed == nil {
		n.NameLength = nameEnd - start
	}
	return n, failed
}

func (p *parser) plainCall(name string, start, open int) (*Node, *Error) {
	args, failed := p.arguments(name, start, open)
	if failed != nil {
		return nil, failed
	}
	if known, found := builtins[name]; found && !known.allows(len(args)) {
		if known.odd {
			return nil, p.fail(start, p.at-start, "write if(condition, value, condition, value, otherwise)",
				"%s takes pairs of a condition and a value, then a last value; here are %d arguments", name, len(args))
		}
		return nil, p.fail(start, p.at-start, "", "%s takes %s, not %d", name, known.want(), len(args))
	}
	switch {
	case name == "if":
		return p.node(Cases, name, start, args...)
	case name == "has" && args[0].Kind != Name:
		return nil, p.fail(args[0].Offset, args[0].Length, "", "has takes a name, such as has(p.power)")
	}
	return p.node(Call, name, start, args...)
}

// arguments reads what stands between brackets, commas between them, and the
// closing bracket.
func (p *parser) arguments(name string, start, open int) ([]*Node, *Error) {
	var args []*Node
	for p.blanks(); p.at < len(p.source) && p.source[p.at] != ')'; {
		arg, failed := p.expression(bindOr)
		if failed != nil {
			return nil, failed
		}
		if args = append(args, arg); len(args) > maxArguments {
			return nil, p.fail(start, p.at-start, "", "%s has more than %d arguments", name, maxArguments)
		}
		if !p.comma() {
			break
		}
		if p.at < len(p.source) && p.source[p.at] == ')' {
			return nil, p.fail(p.at, 1, "", "an argument is missing after the comma")
		}
	}
	return args, p.close(open)
}

// comma passes a comma and the blanks about it; false where none stands.
func (p *parser) comma() bool {
	p.blanks()
	if p.at >= len(p.source) || p.source[p.at] != ',' {
		return false
	}
	p.at++
	p.blanks()
	return true
}

// close passes the closing bracket of the one at open.
func (p *parser) close(open int) *Error {
	p.blanks()
	switch {
	case p.at >= len(p.source):
		return p.fail(open, 1, "", "the bracket is never closed")
	case p.source[p.at] != ')':
		return p.leftover()
	}
	p.at++
	return nil
}

// How the forms with a local are written.
const (
	solveForm = "solve(x, from, to, left = right)"
	sumForm   = "sum(p, press.parts, p.mass * p.count)"
)

// solve reads solve(x, from, to, left = right); the parser stands behind its
// bracket.
func (p *parser) solve(start, open int) (*Node, *Error) {
	local, failed := p.local(start, solveForm)
	if failed != nil {
		return nil, failed
	}
	args := make([]*Node, 0, 3)
	for len(args) < 3 {
		if !p.comma() {
			return nil, p.incomplete(start, open, solveForm)
		}
		if len(args) == 2 {
			p.locals = append(p.locals, local)
		}
		arg, failed := p.expression(bindOr)
		if failed != nil {
			return nil, failed
		}
		args = append(args, arg)
	}
	p.locals = p.locals[:len(p.locals)-1]
	if equation := args[2]; equation.Kind != Binary || equation.Text != "=" {
		return nil, p.fail(equation.Offset, equation.Length, "write "+solveForm, "solve needs an equation here, two sides with = between them")
	}
	return p.form(Solve, local, start, open, args)
}

// form closes the brackets of a solve or sum and makes its node.
func (p *parser) form(kind Kind, local string, start, open int, args []*Node) (*Node, *Error) {
	if failed := p.close(open); failed != nil {
		return nil, failed
	}
	word := "solve"
	if kind == Sum {
		word = "sum"
	}
	n, failed := p.node(kind, word, start, args...)
	if failed == nil {
		n.Local = local
	}
	return n, failed
}

// sum reads sum(p, group, term) or sum(p, group, term, condition); the parser
// stands behind its bracket.
func (p *parser) sum(start, open int) (*Node, *Error) {
	local, failed := p.local(start, sumForm)
	if failed != nil {
		return nil, failed
	}
	if !p.comma() {
		return nil, p.incomplete(start, open, sumForm)
	}
	over, failed := p.over()
	if failed != nil {
		return nil, failed
	}
	args := []*Node{over}
	p.locals = append(p.locals, local)
	for len(args) < 3 && p.comma() {
		arg, failed := p.expression(bindOr)
		if failed != nil {
			return nil, failed
		}
		args = append(args, arg)
	}
	p.locals = p.locals[:len(p.locals)-1]
	if len(args) < 2 {
		return nil, p.incomplete(start, open, sumForm)
	}
	return p.form(Sum, local, start, open, args)
}

// over reads what a sum goes through: a group's name, or a list in brackets.
func (p *parser) over() (*Node, *Error) {
	start := p.at
	switch {
	case p.at < len(p.source) && p.source[p.at] == '(':
		p.at++
		items, failed := p.arguments("a sum", start, start)
		if failed != nil {
			return nil, failed
		}
		if len(items) == 0 {
			return nil, p.fail(start, p.at-start, "", "the list is empty")
		}
		return p.node(List, "", start, items...)
	case p.at < len(p.source) && isNameStart(p.source[p.at]):
		name := p.name()
		return p.node(Group, name, start)
	}
	return nil, p.fail(start, min(1, len(p.source)-start), "write "+sumForm,
		"a sum goes through a group, such as press.parts or press.steps, or a list in brackets, (left, right)")
}

// local reads the name that holds within a form.
func (p *parser) local(start int, form string) (string, *Error) {
	p.blanks()
	from := p.at
	name := p.name()
	if name == "" || !isNameStart([]rune(name)[0]) {
		return "", p.fail(start, p.at-start, "write "+form, "a name must stand first in the brackets")
	}
	length := p.at - from
	switch {
	case strings.Contains(name, "."):
		return "", p.fail(from, length, "write "+form, "%s is no plain name", name)
	case IsWord(name):
		return "", p.fail(from, length, "", "%s is a word of the language, not a name", name)
	case slices.Contains(p.locals, name):
		return "", p.fail(from, length, "give it another name", "%s is the name of another thing around it already", name)
	}
	return name, nil
}

// incomplete is the error for a form that ends too soon.
func (p *parser) incomplete(start, open int, form string) *Error {
	if p.at >= len(p.source) {
		return p.fail(open, 1, "", "the bracket is never closed")
	}
	if p.source[p.at] != ')' {
		return p.leftover()
	}
	p.at++
	word, _, _ := strings.Cut(form, "(")
	return p.fail(start, p.at-start, "write "+form, "%s is not complete", word)
}

// named makes the node of a name, bound where it stands for a local.
func (p *parser) named(text string, start int) (*Node, *Error) {
	n, failed := p.node(Name, text, start)
	if failed == nil {
		head, _, _ := strings.Cut(text, ".")
		n.Bound = slices.Contains(p.locals, head)
	}
	return n, failed
}

// allows reports whether a function takes so many arguments.
func (a arity) allows(n int) bool {
	return n >= a.least && n <= a.most && (!a.odd || n%2 == 1)
}

// want says how many arguments there must be.
func (a arity) want() string {
	switch {
	case a.most == 1:
		return "one argument"
	case a.least == a.most:
		return fmt.Sprintf("%d arguments", a.least)
	}
	return fmt.Sprintf("%d to %d arguments", a.least, a.most)
}
