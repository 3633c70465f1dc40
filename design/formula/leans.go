package formula

import (
	"maps"
	"slices"
	"strings"
)

const (
	maxLeans   = 10_000  // names that Leans returns
	maxLeaning = 100_000 // nodes that it looks at
)

// Leans returns the full names of all that a formula leans on, each once, in the
// order met: groups of sums taken apart into their members' properties
// ("left_post.mass"), functions into what their formulas name. Which of them
// count in the end (of a choice, or where a sum has a condition) is left open.
// Groups that the scope does not know are passed over: Eval reports them.
func (e *Expr) Leans(scope Scope) []string { return e.Reads(scope).Names }

// Reads are all that a formula may ask of its scope. Formulas that are written alike,
// whose scopes give alike answers to the same questions, come to the same.
type Reads struct {
	Names     []string   // as Leans has them
	Groups    [][]string // each group of a sum: its name, then its members in order, or why it has none
	Functions []string   // those written as formulas, as they are defined
	Calls     []string   // what else the scope answers, "curve.torque"
	Whole     bool       // false: there are more than were looked at
}

// Reads returns what a formula may ask of a scope.
func (e *Expr) Reads(scope Scope) Reads {
	l := leaning{scope: scope, seen: map[string]bool{}, called: map[string]bool{}, asked: map[string]bool{}}
	l.visit(e.root, nil)
	l.found.Whole = l.steps <= maxLeaning && len(l.found.Names) < maxLeans
	return l.found
}

type leaning struct {
	scope  Scope
	found  Reads
	seen   map[string]bool // names
	asked  map[string]bool // groups, functions and other calls
	inside []string        // functions being looked into
	called map[string]bool
	steps  int
}

// first reports whether a group or call is met for the first time.
func (l *leaning) first(what string) bool {
	known := l.asked[what]
	l.asked[what] = true
	return !known
}

// visit collects names; stands tells what locals stand for, nothing for a value.
func (l *leaning) visit(n *Node, stands map[string][]string) {
	if l.steps++; l.steps > maxLeaning {
		return
	}
	switch n.Kind {
	case Name:
		l.name(n, stands)
	case Sum:
		inner := maps.Clone(stands)
		if inner == nil {
			inner = map[string][]string{}
		}
		inner[n.Local] = l.things(n.Args[0].Args, n.Args[0], stands)
		for _, arg := range n.Args[1:] {
			l.visit(arg, inner)
		}
		return
	case Call:
		if isBuiltin(n.Text) {
			break
		}
		f := l.scope.Function(n.Text)
		switch first := l.first("call " + n.Text); {
		case first && f != nil:
			l.found.Functions = append(l.found.Functions, f.String())
		case first:
			l.found.Calls = append(l.found.Calls, n.Text)
		}
		if f != nil && len(n.Args) == len(f.Parameters) {
			l.function(n, f, stands)
			return
		}
	}
	for _, arg := range n.Args {
		l.visit(arg, stands)
	}
}

// function looks into a function: once, or for each call where parameters stand for
// names, of things or values.
func (l *leaning) function(n *Node, f *Function, stands map[string][]string) {
	inner := map[string][]string{}
	for i, arg := range n.Args {
		if arg.Kind == Name {
			inner[f.Parameters[i]] = l.things([]*Node{arg}, nil, stands)
		} else {
			l.visit(arg, stands)
		}
	}
	if slices.Contains(l.inside, f.Name) || len(inner) == 0 && l.called[f.Name] {
		return
	}
	l.called[f.Name] = true
	l.inside = append(l.inside, f.Name)
	l.visit(f.Is.root, inner)
	l.inside = l.inside[:len(l.inside)-1]
}

func (l *leaning) name(n *Node, stands map[string][]string) {
	if !n.Bound {
		l.add(n.Text)
		return
	}
	head, rest, dotted := strings.Cut(n.Text, ".")
	for _, thing := range stands[head] {
		if dotted {
			thing += "." + rest
		}
		l.add(thing)
	}
}

func (l *leaning) add(name string) {
	if !l.seen[name] && len(l.found.Names) < maxLeans {
		l.seen[name] = true
		l.found.Names = append(l.found.Names, name)
	}
}

// things are what names stand for: those of a list, or the members of a group.
func (l *leaning) things(items []*Node, over *Node, stands map[string][]string) []string {
	var things []string
	if over != nil && over.Kind == Group {
		members, err := l.scope.Members(over.Text)
		for _, m := range members {
			things = append(things, m.Name)
		}
		if l.first("group " + over.Text) {
			said := append([]string{over.Text}, things...)
			if err != nil {
				said = append(said, err.Error())
			}
			l.found.Groups = append(l.found.Groups, said)
		}
		return things
	}
	for _, item := range items {
		head, _, dotted := strings.Cut(item.Text, ".")
		switch {
		case item.Kind == Name && !item.Bound:
			things = append(things, item.Text)
		case item.Kind == Name && !dotted:
			things = append(things, stands[head]...)
		default:
			l.visit(item, stands)
		}
	}
	return things
}

// SpreadsIn reports whether a spread is written in the formula itself or in one of
// the scope's functions that it calls. What the scope's values carry is not counted.
func (e *Expr) SpreadsIn(scope Scope) bool {
	seen := map[string]bool{}
	var spreads func(e *Expr) bool
	spreads = func(e *Expr) bool {
		if e.HasSpread() {
			return true
		}
		for _, use := range e.Calls() {
			if f := scope.Function(use.Text); f != nil && !seen[use.Text] {
				seen[use.Text] = true
				if spreads(f.Is) {
					return true
				}
			}
		}
		return false
	}
	return spreads(e)
}
