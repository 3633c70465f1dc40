package cutting

import (
	"math"
	"slices"
	"sort"
	"strings"
)

// A search looks for the cheapest plan of a problem whose pieces all differ.
type search struct {
	problem *Problem
	pool    []Pattern // every pattern made so far
	pivots  int
	nodes   int   // left
	tried   int   // steps of all knapsacks
	step    int64 // every cost is a multiple of it
	dearest int64 // the highest price of a bar
	missing int64 // what a piece counts that no bar is left for
	bound   int64 // proven for all
	open    int64 // proven for the branches that were not looked at
	best    []Pattern
	cost    int64 // of best
}

// mostNodes is how many branches are looked at before the gap is stated instead.
const mostNodes = 1500

// mostTried is how many steps, a few nanoseconds each, are taken before that: some
// seconds.
const mostTried = 400_000_000

func newSearch(p *Problem) *search {
	s := &search{problem: p, nodes: mostNodes, cost: math.MaxInt64, open: math.MaxInt64}
	few := int64(1)
	for _, b := range p.Bars {
		s.step, s.dearest = gcd(s.step, b.Price), max(s.dearest, b.Price)
		few += int64(b.Count)
	}
	s.step, s.dearest = max(1, s.step), max(1, s.dearest)
	s.missing = s.dearest * 2 * few
	return s
}

func (s *search) price(bar int) int64 {
	if bar == none {
		return s.missing
	}
	return s.problem.Bars[bar].Price
}

// root is the node where nothing is settled.
func (s *search) root() *node {
	n := &node{caps: map[use]int{}}
	for _, p := range s.problem.Pieces {
		n.demand = append(n.demand, p.Count)
	}
	for _, b := range s.problem.Bars {
		if b.Count > 0 {
			n.stock = append(n.stock, b.Count)
		} else {
			n.stock = append(n.stock, unlimited)
		}
		n.least = append(n.least, 0)
	}
	return n
}

// run searches and leaves the best plan and what is proven.
func (s *search) run() {
	root := s.root()
	s.greedy(root, nil)
	if s.bound = s.plain(); s.bound >= s.cost {
		return // as plain as a bar for each piece
	}
	s.missing = max(s.missing, 20*s.cost) // a small part of a piece left out must count
	r := s.relax(root)
	s.bound = max(s.bound, s.certain(root, r))
	s.branch(root, r)
	s.bound = max(s.bound, min(s.cost, s.open))
}

// up is the least cost that is not below a bound.
func (s *search) up(bound float64) int64 {
	steps := math.Ceil(bound/float64(s.step) - 1e-6)
	return int64(steps) * s.step
}

// branch goes on from a node whose program is solved.
func (s *search) branch(n *node, r relaxed) {
	if s.cost <= s.bound || s.up(r.bound) >= s.cost {
		return
	}
	if s.nodes--; s.nodes <= 0 || s.tried > mostTried {
		s.nodes = 0
		s.open = min(s.open, s.up(r.bound))
		return
	}
	s.round(n, r)
	if s.cost <= s.bound || s.up(r.bound) >= s.cost {
		return
	}
	// What bars are bought settles the cost, and what is cut from them only whether
	// they suffice: so the bars come first.
	if bar, times, found := s.torn(r); found {
		more, fewer := n.clone(), n.clone()
		more.least[bar], fewer.stock[bar] = int(math.Ceil(times)), int(math.Floor(times))
		s.enter(more, r)
		s.enter(fewer, r)
		return
	}
	at := -1
	for i := range r.times {
		if broken(r.times[i]) > 0 && !idle(r.patterns[i]) && (at < 0 || broken(r.times[i]) > broken(r.times[at])+1e-9) {
			at = i
		}
	}
	if at < 0 {
		return
	}
	p, times := r.patterns[at], int(math.Ceil(r.times[at]-1e-6))
	if more := n.settle(p, times, s.price(p.Bar)); more != nil {
		s.enter(more, r)
	}
	fewer := n.clone()
	fewer.caps[use{p.Bar, key(p.Counts)}] = times - 1
	s.enter(fewer, r)
}

// enter goes on from a node that follows from one whose program is solved.
func (s *search) enter(n *node, before relaxed) {
	switch {
	case s.cost <= s.bound || s.up(before.bound) >= s.cost:
	case s.nodes <= 0:
		s.open = min(s.open, s.up(before.bound))
	default:
		s.branch(n, s.relax(n))
	}
}

// idle reports whether a pattern cuts nothing from a bar.
func idle(p Pattern) bool {
	return p.Bar == none || !slices.ContainsFunc(p.Counts, func(n int) bool { return n > 0 })
}

// broken is what a number is above the whole number below it, nothing when that is
// within rounding.
func broken(x float64) float64 {
	if b := x - math.Floor(x+1e-6); b > 1e-6 {
		return b
	}
	return 0
}

// torn is the bar of which a solution uses a broken number, the one nearest to half.
func (s *search) torn(r relaxed) (bar int, times float64, found bool) {
	used := make([]float64, len(s.problem.Bars))
	for i, p := range r.patterns {
		if p.Bar != none {
			used[p.Bar] += r.times[i]
		}
	}
	for b, u := range used {
		if broken(u) > 0 && (!found || math.Abs(broken(u)-0.5) < math.Abs(broken(times)-0.5)) {
			bar, times, found = b, u, true
		}
	}
	return bar, times, found
}

// round tries the whole numbers in a node's solution, the rest filled greedily.
func (s *search) round(n *node, r relaxed) {
	at := n
	for i, p := range r.patterns {
		if times := int(math.Floor(r.times[i] + 1e-6)); times > 0 && !idle(p) {
			if next := at.settle(p, times, s.price(p.Bar)); next != nil {
				at = next
			}
		}
	}
	s.greedy(at, r.prices)
	s.greedy(at, nil)
}

// greedy cuts what a node has left, each time by the pattern that is worth most for
// its price, as often as the demand allows; values of nil stand for lengths.
func (s *search) greedy(n *node, values []float64) {
	if values == nil {
		values = make([]float64, len(s.problem.Pieces))
		for i, p := range s.problem.Pieces {
			values[i] = float64(p.Length)
		}
	}
	for !n.done() {
		var best Pattern
		found, worth := false, 0.0
		for b, bar := range s.problem.Bars {
			if n.stock[b] == 0 {
				continue
			}
			counts, _ := s.fill(b, values, n.demand, 0, n.barred(b))
			if counts == nil {
				continue
			}
			sum := 0.0
			for i, c := range counts {
				sum += float64(c) * values[i]
			}
			if w := sum / math.Max(float64(bar.Price), 0.5); !found || w > worth {
				best, found, worth = Pattern{Bar: b, Counts: counts}, true, w
			}
		}
		if !found {
			piece := slices.IndexFunc(n.demand, func(d int) bool { return d > 0 })
			best = Pattern{Bar: none, Counts: make([]int, len(n.demand))}
			best.Counts[piece] = 1
		}
		next := n.settle(best, n.times(best), s.price(best.Bar))
		if next == nil || next.cost > s.cost {
			return
		}
		n = next
	}
	s.take(n)
}

// take keeps a node's plan if it is better than the best so far.
func (s *search) take(n *node) {
	patterns := merged(n.settled)
	if n.cost < s.cost || n.cost == s.cost && len(patterns) < len(s.best) {
		s.best, s.cost = patterns, n.cost
	}
}

// merged puts equal patterns together, in a settled order.
func merged(patterns []Pattern) []Pattern {
	at := map[use]int{}
	var out []Pattern
	for _, p := range patterns {
		u := use{p.Bar, key(p.Counts)}
		if i, known := at[u]; known {
			out[i].Times += p.Times
			continue
		}
		at[u] = len(out)
		out = append(out, p)
	}
	sort.SliceStable(out, func(i, j int) bool {
		if a, b := out[i], out[j]; a.Bar != b.Bar {
			return a.Bar < b.Bar
		}
		return slices.Compare(out[i].Counts, out[j].Counts) > 0
	})
	return out
}

// settle is the node with a pattern cut so many times more; nil where it may not be
// cut so often. What it gives beyond the demand is left out.
func (n *node) settle(p Pattern, times int, price int64) *node {
	u := use{p.Bar, key(p.Counts)}
	left, capped := n.caps[u]
	if capped && left < times || p.Bar != none && n.stock[p.Bar] != unlimited && n.stock[p.Bar] < times {
		return nil
	}
	next := n.clone()
	if capped {
		next.caps[u] = left - times
	}
	if p.Bar != none && n.stock[p.Bar] != unlimited {
		next.stock[p.Bar] -= times
	}
	if p.Bar != none {
		next.least[p.Bar] = max(0, next.least[p.Bar]-times)
	}
	put := func(p Pattern) {
		for i, c := range p.Counts {
			next.demand[i] -= c * p.Times
		}
		next.settled = append(next.settled, p)
		next.cost += price * int64(p.Times)
	}
	if whole := min(times, next.whole(p)); whole > 0 {
		put(Pattern{Bar: p.Bar, Counts: p.Counts, Times: whole})
		times -= whole
	}
	for ; times > 0; times-- {
		counts := make([]int, len(p.Counts))
		for i, c := range p.Counts {
			counts[i] = min(c, next.demand[i])
		}
		if slices.Max(counts) == 0 {
			break // the demand is met without it
		}
		put(Pattern{Bar: p.Bar, Counts: counts, Times: 1})
	}
	return next
}

// whole is how often a pattern can be cut without giving more than is wanted.
func (n *node) whole(p Pattern) int {
	times := math.MaxInt
	for i, c := range p.Counts {
		if c > 0 {
			times = min(times, n.demand[i]/c)
		}
	}
	return times
}

// times is how often a pattern may be cut without giving more than is wanted, at
// least once.
func (n *node) times(p Pattern) int {
	times := n.whole(p)
	if p.Bar != none && n.stock[p.Bar] != unlimited {
		times = min(times, n.stock[p.Bar])
	}
	if left, capped := n.caps[use{p.Bar, key(p.Counts)}]; capped {
		times = min(times, left)
	}
	return max(1, times)
}

func (n *node) clone() *node {
	c := &node{demand: slices.Clone(n.demand), stock: slices.Clone(n.stock), least: slices.Clone(n.least), settled: slices.Clip(n.settled), cost: n.cost, caps: make(map[use]int, len(n.caps))}
	for u, left := range n.caps {
		c.caps[u] = left
	}
	return c
}

func (n *node) done() bool { return !slices.ContainsFunc(n.demand, func(d int) bool { return d > 0 }) }

// allows reports whether a pattern may be cut at a node and gives no more than is
// wanted.
func (n *node) allows(p Pattern) bool {
	if n.stock[p.Bar] == 0 {
		return false
	}
	for i, c := range p.Counts {
		if c > n.demand[i] {
			return false
		}
	}
	left, capped := n.caps[use{p.Bar, key(p.Counts)}]
	return !capped || left > 0
}

// barred are the patterns of a bar that have a limit of their own: they are known
// already, and are not to be found anew.
func (n *node) barred(bar int) map[string]bool {
	var barred map[string]bool
	for u := range n.caps {
		if u.bar == bar {
			if barred == nil {
				barred = map[string]bool{}
			}
			barred[u.counts] = true
		}
	}
	return barred
}

// sorted are the capped patterns in a settled order.
func (n *node) sorted() []use {
	uses := make([]use, 0, len(n.caps))
	for u := range n.caps {
		uses = append(uses, u)
	}
	slices.SortFunc(uses, func(a, b use) int {
		if a.bar != b.bar {
			return a.bar - b.bar
		}
		return strings.Compare(a.counts, b.counts)
	})
	return uses
}
