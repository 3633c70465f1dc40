package reckon

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// Draws is how often the inputs of a calculation are drawn at random.
const Draws = 2000

// maxDrawWork bounds, in nodes of formulas, what one reckoning spends on drawing: some
// seconds.
const maxDrawWork = 850_000_000

// Drawn is what one value came to when its inputs were drawn: mean and standard
// deviation in SI units.
type Drawn struct {
	Mean, Deviation float64
	Draws, Lost     int // Lost: had no value, such as outside of a table
}

// Samples are a calculation's results and conditions with its inputs drawn at random,
// each as normal, its limits at three standard deviations either side of their middle.
// The same calculation has the same draws on every run.
type Samples struct {
	results    map[string]Drawn
	conditions map[string]float64
}

// Of is what was drawn of a given or a result, by its name in the calculation; false
// where nothing with a spread leads to it.
func (s *Samples) Of(name string) (Drawn, bool) {
	d, found := s.results[name]
	return d, found
}

// Share is the share of draws in which a condition holds; a draw in which it has no
// value counts as one in which it does not.
func (s *Samples) Share(c *plan.Calc, f plan.Formula) (float64, bool) {
	share, found := s.conditions[conditionName(c, f)]
	return share, found
}

// Sample draws the inputs of a calculation, once; nil where the reckoning has no work
// left for it, or nothing with a spread leads to the calculation.
func (r *Reckoning) Sample(c *plan.Calc) *Samples {
	w := r.spreading()
	if s, known := w.samples[c.ID.Text]; known {
		return s
	}
	s := w.sample(c)
	w.samples[c.ID.Text] = s
	return s
}

// A drawing is the sampling of one calculation as it goes on.
type drawing struct {
	w       *web
	targets []int // values
	truths  []truth
	leaves  []int
	list    []int // what leans on the leaves, in order
	ways    []float64
	counts  counts
}

// counts are what the draws of one calculation come to.
type counts struct {
	Moments []moments // of each target
	Held    []int     // draws in which each truth holds
	Steps   int64     // that formulas took, of those that all formulas of the plan may take
}

// A truth is a condition: the gaps of its comparisons, or the node of the whole.
type truth struct {
	name  string
	whole int
	gaps  []int
	ops   []string
}

// moments gather mean and squares, by Welford's method.
type moments struct {
	N, Lost       int
	Mean, Squares float64
}

func (m *moments) add(x float64) {
	m.N++
	off := x - m.Mean
	m.Mean += off / float64(m.N)
	m.Squares += off * (x - m.Mean)
}

func (w *web) sample(c *plan.Calc) *Samples {
	d := w.drawing(c)
	if len(d.leaves) == 0 {
		return nil
	}
	cost := 0
	for _, at := range d.list {
		cost += w.nodes[at].work()
	}
	if cost*Draws > w.draws {
		if !w.tired {
			w.tired = true // said once, for all that come after
			w.r.note(SpreadNotFollowed, finding.Finding{
				At: c.Title.At, Subject: c.ID.Text,
				Message: "the spreads of this calculation, and of others after it, are of the first order only: drawing their inputs at random would take too long",
			})
		}
		return nil
	}
	w.draws -= cost * Draws
	d.known(c.ID.Text)
	return d.samples(c)
}

// all draws so often as is to be, each calculation with numbers of its own.
func (d *drawing) all(calculation string) {
	left, work := d.w.left, d.w.r.shapes.work
	before := work.Done()
	seed := fnv.New64a()
	seed.Write([]byte(calculation))
	source := rand.New(rand.NewPCG(seed.Sum64(), uint64(len(calculation))))
	d.ways = make([]float64, len(d.w.nodes))
	d.counts = counts{Moments: make([]moments, len(d.targets)), Held: make([]int, len(d.truths))}
	for range Draws {
		d.draw(source)
	}
	d.w.restore(d.list)
	d.w.left = left
	d.counts.Steps = work.Done() - before
}

// drawing finds what a calculation's samples go through.
func (w *web) drawing(c *plan.Calc) *drawing {
	d := &drawing{w: w}
	target := func(name string) {
		if at, known := w.index[c.ID.Text+"."+name]; known && at >= 0 && !w.nodes[at].bad && len(w.nodes[at].effects) > 0 {
			d.targets = append(d.targets, at)
		}
	}
	for _, g := range c.Givens {
		target(g.Name.Text)
	}
	for _, f := range c.Finds {
		target(f.Name.Text)
	}
	all := slices.Clone(d.targets)
	for _, list := range [][]plan.Require{c.Requires, c.Limits} {
		for _, q := range list {
			if t, ok := w.truthOf(c, q); ok {
				d.truths = append(d.truths, t)
				all = append(append(all, t.gaps...), t.whole)
			}
		}
	}
	for _, at := range w.cone(all...) {
		if w.nodes[at].isLeaf() {
			d.leaves = append(d.leaves, at)
		}
	}
	// By name, so that the order of the plan's files does not matter.
	slices.SortFunc(d.leaves, func(a, b int) int { return strings.Compare(w.nodes[a].name, w.nodes[b].name) })
	d.list = w.between(d.leaves, all)
	return d
}

// truthOf is a condition of the web.
func (w *web) truthOf(c *plan.Calc, q plan.Require) (truth, bool) {
	f, ok := q.That.Pick(w.r.Case.Options)
	if !ok || !f.Given() {
		return truth{}, false
	}
	t := truth{name: conditionName(c, f)}
	at, known := w.index[t.name]
	if !known || w.nodes[at].bad {
		return t, false
	}
	t.whole = at
	for i, one := range f.Expr.Comparisons() {
		t.gaps = append(t.gaps, w.index[sideName(t.name, i, "gap")])
		t.ops = append(t.ops, one.Op)
	}
	return t, true
}

// draw works everything out once with inputs at random.
func (d *drawing) draw(source *rand.Rand) {
	for _, leaf := range d.leaves {
		d.ways[leaf] = way(d.w.nodes[leaf].own, source.NormFloat64())
	}
	for _, at := range d.list {
		d.w.again(at, d.ways[at])
	}
	for i, at := range d.targets {
		if x := d.w.vals[at]; math.IsNaN(x) {
			d.counts.Moments[i].Lost++
		} else {
			d.counts.Moments[i].add(x)
		}
	}
	for i, t := range d.truths {
		if d.w.holds(t) {
			d.counts.Held[i]++
		}
	}
}

// way is the way, in shares of the distance to the end on its side, to a point so many
// standard deviations from the middle of a spread, whose limits are at three.
func way(v quantity.Value, deviations float64) float64 {
	off := (v.Plus-v.Minus)/2 + deviations*(v.Plus+v.Minus)/6
	switch {
	case off < 0 && v.Minus > 0:
		return off / v.Minus
	case off > 0 && v.Plus > 0:
		return off / v.Plus
	}
	return 0
}

// holds reports whether a condition holds as the web stands now.
func (w *web) holds(t truth) bool {
	if len(t.gaps) == 0 {
		return w.vals[t.whole] == 1
	}
	for i, at := range t.gaps {
		x := w.vals[at]
		if math.IsNaN(x) || !Holds(t.ops[i], x, w.allowance(w.nodes[at])) {
			return false
		}
	}
	return true
}

// allowance is how far the sides of a gap may lie apart and still be equal, for the
// rounding of arithmetic.
func (w *web) allowance(gap *node) float64 {
	return alike(w.vals[gap.uses[0]], w.vals[gap.uses[1]])
}

// Holds tells whether a comparison holds for the difference of its sides, left less
// right, that may be off zero by an allowance.
func Holds(op string, gap, allowance float64) bool {
	switch op {
	case "<":
		return gap < -allowance
	case "<=":
		return gap <= allowance
	case ">":
		return gap > allowance
	case ">=":
		return gap >= -allowance
	case "=":
		return math.Abs(gap) <= allowance
	}
	return math.Abs(gap) > allowance
}

// samples sums the draws up.
func (d *drawing) samples(c *plan.Calc) *Samples {
	s := &Samples{results: map[string]Drawn{}, conditions: map[string]float64{}}
	for i, at := range d.targets {
		m := d.counts.Moments[i]
		one := Drawn{Mean: m.Mean, Draws: Draws, Lost: m.Lost}
		if m.N > 1 {
			one.Deviation = math.Sqrt(m.Squares / float64(m.N-1))
		}
		s.results[strings.TrimPrefix(d.w.nodes[at].name, c.ID.Text+".")] = one
	}
	for i, t := range d.truths {
		s.conditions[t.name] = float64(d.counts.Held[i]) / Draws
	}
	return s
}

// A Condition is a condition of a calculation with the spreads of what it compares.
type Condition struct {
	Gaps   []Gap // one for each comparison, joined by and; none for other conditions
	Spread bool  // something with a spread leads to it
	Holds  bool  // at the nominal values
}

// A Gap is one comparison.
type Gap struct {
	Op          string
	Left, Right Spread
	Between     Spread  // left less right, an input on both sides counted once
	Allowance   float64 // by which the sides may differ and still be equal
}

// Condition is a requirement or a limit of a calculation; false where it cannot be
// worked out.
func (r *Reckoning) Condition(c *plan.Calc, q plan.Require) (Condition, bool) {
	w := r.spreading()
	t, ok := w.truthOf(c, q)
	if !ok {
		return Condition{}, false
	}
	whole := w.nodes[t.whole]
	out := Condition{Holds: whole.nominal == 1}
	for _, at := range append(slices.Clone(t.gaps), t.whole) {
		n := w.nodes[at]
		out.Spread = out.Spread || len(n.effects) > 0 || n.partly
	}
	for i, at := range t.gaps {
		gap := w.nodes[at]
		if gap.bad {
			return out, false
		}
		out.Gaps = append(out.Gaps, Gap{
			Op: t.ops[i], Left: w.spreadOf(gap.uses[0]), Right: w.spreadOf(gap.uses[1]), Between: w.spreadOf(at), Allowance: w.allowance(gap),
		})
	}
	return out, true
}
