package reckon

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A web is the values, results and conditions of a plan that formulas lead to, with
// who leans on whom, so that what follows from another value of an input is worked
// out without all the rest. Solids, masses, counts and whatever else no formula gives
// stay as they are.
type web struct {
	r     *Reckoning
	under *Reckoning // answers what the web does not hold, with the web's values as they are now
	nodes []*node    // each after those that it leans on
	vals  []float64  // what each node is worth now, in SI units; a truth as 1 or 0; NaN for none
	index map[string]int
	left  int  // how much work may still be spent on effects
	draws int  // and on drawing at random
	tired bool // that was not enough
	mark  []int
	marks int

	samples map[string]*Samples // by calculation
}

// A node is one named value or one condition.
type node struct {
	name    string
	formula plan.Formula
	calc    *plan.Calc    // that the formula stands in; nil for none
	reads   formula.Reads // what the formula may ask
	scope   webScope
	uses    []int
	usedBy  []int
	cost    int
	own     quantity.Value // with the spread that is written in the formula itself
	still   quantity.Value // the nominal value
	nominal float64        // as it stands in the web's vals
	truth   bool           // it is a condition
	bad     bool           // it has no value
	quick   quick          // the formula as arithmetic; nil where it is more

	effects []effect
	spread  *Spread // once it was asked for
	partly  bool    // the effects of some inputs were not worked out
}

// An effect is what an input does to a node, at either end of its spread.
type effect struct {
	leaf      int
	low, high float64
	bad       bool // the node has no value at an end
}

// isLeaf reports whether a spread is written in the node's own formula.
func (n *node) isLeaf() bool { return !n.bad && n.own.HasSpread() }

const (
	// maxSpreadWork bounds, in nodes of formulas, what one reckoning spends on
	// following spreads: a second or two.
	maxSpreadWork = 20_000_000
	// otherCases is by how much less may be spent on a case that is not the plan's own, of
	// which there may be many.
	otherCases = 8
	// maxNodes bounds how many values a web holds.
	maxNodes = 100_000
)

// web is the plan's web, with every calculation in it.
func (r *Reckoning) spreading() *web {
	if r.woven != nil {
		return r.woven
	}
	r.Tally() // before anything is supposed
	w := &web{r: r, index: map[string]int{}, left: maxSpreadWork, draws: maxDrawWork, samples: map[string]*Samples{}}
	r.woven = w
	if !r.Case.IsDefault(r.Plan) {
		w.left, w.draws = w.left/otherCases, w.draws/otherCases
	}
	under := *r
	under.base, under.web, under.findings, under.said, under.stack = r, w, nil, map[string]bool{}, nil
	w.under = &under
	for _, c := range r.Plan.Calcs {
		if !c.Only.Fits(r.Case.Options) {
			continue
		}
		for _, g := range c.Givens {
			w.add(c.ID.Text+"."+g.Name.Text, 0)
		}
		for _, f := range c.Finds {
			w.add(c.ID.Text+"."+f.Name.Text, 0)
		}
		for _, list := range [][]plan.Require{c.Requires, c.Limits} {
			for _, q := range list {
				w.addCondition(c, q)
			}
		}
	}
	for _, v := range r.Plan.Values {
		w.add(v.ID.Text, 0)
	}
	for _, p := range r.Plan.Parts {
		if p.Length.Given() {
			w.add(p.ID.Text+".length", 0)
		}
		for _, h := range p.Has {
			w.add(p.ID.Text+"."+h.Name.Text, 0)
		}
	}
	w.follow(0)
	return w
}

// add puts a named value into the web after what it leans on, and returns its place;
// -1 for one that no formula gives, or that depends on itself.
func (w *web) add(name string, depth int) int {
	if at, known := w.index[name]; known {
		return at
	}
	w.index[name] = -1
	if m, measured := w.r.gaps[name]; measured && !m.Lost && len(w.nodes) < maxNodes {
		return w.addMeasured(name, m)
	}
	q, known := w.r.formulaOf(name)
	if !known || depth > maxDepth || len(w.nodes) >= maxNodes {
		return -1
	}
	f, ok := q.Pick(w.r.Case.Options)
	if !ok || !f.Given() {
		return -1
	}
	c := w.r.calcOf(name)
	n := w.weave(name, f, c, depth)
	var err error
	if n.still, err = w.r.Named(name); err != nil {
		n.bad = true
	} else if f.Expr.SpreadsIn(w.r.scopeIn(c)) {
		result, err := w.r.Evaluate(f, w.r.scopeOf(name))
		n.bad = err != nil
		n.own = result.Value
	}
	return w.put(n)
}

// weave makes a node with all that its formula names in the web already.
func (w *web) weave(name string, f plan.Formula, c *plan.Calc, depth int) *node {
	n := &node{name: name, formula: f, calc: c, cost: costOf(f.Expr)}
	n.scope = webScope{Scope: w.under.scopeIn(c), w: w, local: map[string]int{}}
	n.reads = f.Expr.Reads(w.r.scopeIn(c))
	for _, use := range n.reads.Names {
		at := w.add(w.fullName(c, use), depth+1)
		if at < 0 {
			continue
		}
		n.scope.local[use] = at
		if !slices.Contains(n.uses, at) {
			n.uses = append(n.uses, at)
		}
	}
	return n
}

func (w *web) put(n *node) int {
	at := len(w.nodes)
	w.nodes = append(w.nodes, n)
	w.mark = append(w.mark, 0)
	w.index[n.name] = at
	for _, use := range n.uses {
		w.nodes[use].usedBy = append(w.nodes[use].usedBy, at)
	}
	switch {
	case n.bad:
		n.nominal = math.NaN()
	case !n.truth:
		n.nominal = n.still.SI
	}
	w.vals = append(w.vals, n.nominal)
	if n.bad || n.formula.Expr == nil || n.own.HasSpread() {
		return at
	}
	// What the arithmetic comes to at the nominal values tells whether it is the formula's.
	if f := quickly(n.formula.Expr, n.scope.local, w.vals); f != nil && math.Abs(f(w.vals)-n.nominal) <= 1e-9*math.Abs(n.nominal) {
		n.quick = f
	}
	return at
}

// conditionName names a condition by where it stands; names of the plan have no bars.
func conditionName(c *plan.Calc, f plan.Formula) string {
	return fmt.Sprintf("%s|%s|%s", c.ID.Text, f.At, f.Expr.Source())
}

// addCondition puts a condition into the web: the whole of it, and each side of what
// it compares.
func (w *web) addCondition(c *plan.Calc, q plan.Require) {
	f, ok := q.That.Pick(w.r.Case.Options)
	if !ok || !f.Given() {
		return
	}
	name := conditionName(c, f)
	if _, known := w.index[name]; known || len(w.nodes) >= maxNodes {
		return
	}
	scope := w.r.CalcScope(c)
	add := func(name string, e *formula.Expr) {
		n := w.weave(name, plan.Formula{Expr: e, At: f.At}, c, 0)
		result, err := e.Eval(scope)
		n.bad = err != nil
		n.still, n.own, n.truth = result.Value.Nominal(), result.Value, result.IsTruth
		if result.Truth {
			n.nominal = 1
		}
		w.put(n)
	}
	add(name, f.Expr)
	for i, one := range f.Expr.Comparisons() {
		add(sideName(name, i, "left"), one.Left)
		add(sideName(name, i, "right"), one.Right)
		w.addGap(sideName(name, i, "gap"), sideName(name, i, "left"), sideName(name, i, "right"))
	}
}

func sideName(condition string, i int, side string) string {
	return fmt.Sprintf("%s|%d|%s", condition, i, side)
}

// addGap puts the difference of two nodes into the web.
func (w *web) addGap(name, left, right string) {
	l, r := w.index[left], w.index[right]
	n := &node{name: name, uses: []int{l, r}, cost: 1, bad: w.nodes[l].bad || w.nodes[r].bad}
	n.still = w.nodes[l].still
	n.still.SI -= w.nodes[r].still.SI
	w.put(n)
}

// costOf is about how many places of a formula are gone through to work it out.
func costOf(e *formula.Expr) int {
	var count func(at *formula.Node) int
	count = func(at *formula.Node) int {
		n := 1
		for _, arg := range at.Args {
			n += count(arg)
		}
		if at.Kind == formula.Solve {
			n *= solveTries
		}
		return min(n, formula.MaxWork)
	}
	return count(e.Root())
}

// solveTries is about how many values an equation is tried with.
const solveTries = 150

// webScope answers a formula's names from the web as it stands now.
type webScope struct {
	formula.Scope
	w     *web
	local map[string]int
}

// Lookup is the value that a name has now.
func (s webScope) Lookup(name string) (quantity.Value, error) {
	if at, held := s.local[name]; held {
		return s.w.standing(at)
	}
	return s.Scope.Lookup(name)
}

// standing is what a node is worth now.
func (w *web) standing(at int) (quantity.Value, error) {
	v := w.nodes[at].still
	if v.SI = w.vals[at]; math.IsNaN(v.SI) {
		return quantity.Value{}, errNoted
	}
	return v, nil
}

// now is the value of a name that the web holds.
func (w *web) now(name string) (v quantity.Value, err error, held bool) {
	at, known := w.index[name]
	if !known || at < 0 {
		return v, nil, false
	}
	v, err = w.standing(at)
	return v, err, true
}

// again works a node out with what its names are worth now; its own spread takes it
// by a share of the way to an end: -1 is the lower one, 1 the upper one.
func (w *web) again(at int, way float64) {
	n := w.nodes[at]
	w.left -= n.work()
	switch {
	case n.quick != nil:
		x := n.quick(w.vals)
		if math.IsInf(x, 0) {
			x = math.NaN()
		}
		w.vals[at] = x
	case len(n.uses) == 0 && !n.bad && n.own.HasSpread():
		w.vals[at] = moved(n.own, way)
	case n.formula.Expr == nil:
		w.vals[at] = w.vals[n.uses[0]] - w.vals[n.uses[1]]
	default:
		w.vals[at] = n.evaluate(way)
	}
}

// work is what it takes to work the node out, the whole language being so much slower
// than arithmetic.
func (n *node) work() int {
	if n.formula.Expr == nil || n.quick != nil {
		return n.cost
	}
	return 20 * n.cost
}

// evaluate works a node's formula out with the whole language.
func (n *node) evaluate(way float64) float64 {
	result, err := n.formula.Expr.Eval(n.scope)
	switch {
	case err != nil:
		return math.NaN()
	case !result.IsTruth:
		return moved(result.Value, way)
	case result.Truth:
		return 1
	}
	return 0
}

// moved is where a value stands a share of the way to an end of its spread.
func moved(v quantity.Value, way float64) float64 {
	if way < 0 {
		return v.SI + way*v.Minus
	}
	return v.SI + way*v.Plus
}

// restore puts nodes back to their nominal values.
func (w *web) restore(list []int) {
	for _, at := range list {
		w.vals[at] = w.nodes[at].nominal
	}
}

// followers are the nodes that lean on any of those given, in order, themselves
// included.
func (w *web) followers(from ...int) []int {
	return w.reach(from, func(n *node) []int { return n.usedBy }, nil)
}

// cone is all that the given nodes lean on, in order, themselves included.
func (w *web) cone(of ...int) []int {
	return w.reach(of, func(n *node) []int { return n.uses }, nil)
}

// reach are the nodes that next leads to, among those that stand in inside; nil for all.
func (w *web) reach(from []int, next func(*node) []int, inside map[int]bool) []int {
	w.marks++
	var list, open []int
	open = append(open, from...)
	for len(open) > 0 {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		if w.mark[at] == w.marks {
			continue
		}
		w.mark[at] = w.marks
		list = append(list, at)
		for _, to := range next(w.nodes[at]) {
			if inside == nil || inside[to] {
				open = append(open, to)
			}
		}
	}
	slices.Sort(list)
	return list
}

// follow takes each input that the nodes from first on lean on to its ends alone, and
// keeps what that does to them. Where the work is spent, the rest is marked as not
// worked out.
func (w *web) follow(first int) {
	if first >= len(w.nodes) {
		return
	}
	fresh := make([]int, 0, len(w.nodes)-first)
	for at := first; at < len(w.nodes); at++ {
		fresh = append(fresh, at)
	}
	inside := w.cone(fresh...)
	member := make([]bool, len(w.nodes))
	for _, at := range inside {
		member[at] = true
	}
	for _, leaf := range inside {
		if !w.nodes[leaf].isLeaf() {
			continue
		}
		list := slices.DeleteFunc(w.followers(leaf), func(at int) bool { return !member[at] })
		w.left -= len(list)
		if w.left <= 0 {
			for _, at := range list {
				w.nodes[at].partly = true
			}
			continue
		}
		low := w.atEnd(leaf, list, -1)
		high := w.atEnd(leaf, list, 1)
		for i, at := range list {
			if n := w.nodes[at]; at >= first && !n.bad {
				n.effects = append(n.effects, effect{
					leaf: leaf, low: low[i] - n.nominal, high: high[i] - n.nominal, bad: math.IsNaN(low[i] + high[i]),
				})
			}
		}
	}
}

// atEnd is what the nodes come to when the leaf goes all the way to an end.
func (w *web) atEnd(leaf int, list []int, way float64) []float64 {
	out := make([]float64, len(list))
	for i, at := range list {
		if at == leaf {
			w.vals[at] = moved(w.nodes[at].own, way)
		} else {
			w.again(at, 0)
		}
		out[i] = w.vals[at]
	}
	w.restore(list)
	return out
}

// between are the nodes that lean on any of the leaves and lead to any of the targets,
// in order, both included.
func (w *web) between(leaves, targets []int) []int {
	inside := w.cone(targets...)
	member := make(map[int]bool, len(inside))
	for _, at := range inside {
		member[at] = true
	}
	w.left -= len(inside)
	return w.reach(leaves, func(n *node) []int { return n.usedBy }, member)
}
