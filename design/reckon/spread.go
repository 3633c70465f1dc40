package reckon

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A Driver is an input with a spread and what it does to a result when it goes
// from its lowest to its highest value alone, in the result's SI units.
type Driver struct {
	Name      string // dotted: "press_force.friction", "opening"
	Low, High float64
	Share     float64 // of the result's statistical variance, 0 to 1
}

// Reach is how far the input moves the result, at most, to either side.
func (d Driver) Reach() float64 { return math.Max(math.Abs(d.Low), math.Abs(d.High)) }

// half is the effect of the input, taken as even to both sides.
func (d Driver) half() float64 { return math.Abs(d.High-d.Low) / 2 }

// A Spread is a value with how far it may lie off.
type Spread struct {
	// Value carries the worst case: all inputs at once at those ends of their spreads
	// that take it furthest. A value that turns round between the ends of an input,
	// such as x² about 0, is seen at the ends only.
	Value quantity.Value
	// Statistical carries the statistical spread to the first order: each input counts
	// as normal, its limits at three standard deviations either side of the middle
	// between them, and so does the value. It need not lie even about the nominal value.
	Statistical quantity.Value
	Drivers     []Driver // the strongest first
	// Bent tells that the effects of the inputs do not add up, so that the first order
	// may be wrong.
	Bent bool
}

// bentBy is the share of the statistical reach by which curvature, or what inputs do
// together, may leave the sum of the effects before a spread counts as bent.
const bentBy = 0.1

// Show is a named value with its worst-case spread: a plan value, a part's property, a
// calculation's given or result.
func (r *Reckoning) Show(name string) (quantity.Value, error) {
	s, err := r.Spread(name)
	return s.Value, err
}

// Drivers is a named value with its worst-case spread and the inputs that cause it.
func (r *Reckoning) Drivers(name string) (quantity.Value, []Driver, error) {
	s, err := r.Spread(name)
	return s.Value, s.Drivers, err
}

// Spread is how far a named value may lie off. Each input that carries a spread where
// it is written is followed to the value through values, calculations and properties
// given by formulas, so that one which enters by several ways counts once; a spread of
// a length inside a shape does not reach the part's mass.
func (r *Reckoning) Spread(name string) (Spread, error) {
	v, err := planScope{r}.Lookup(name)
	if err != nil {
		return Spread{Value: v, Statistical: v}, err
	}
	v = v.Nominal()
	w := r.spreading()
	before := len(w.nodes)
	at := w.add(name, 0)
	w.follow(before)
	if at < 0 || w.nodes[at].bad {
		return Spread{Value: v, Statistical: v}, nil
	}
	s := w.spreadOf(at)
	if w.nodes[at].partly {
		r.note(SpreadNotFollowed, finding.Finding{
			At: r.placeOf(name), Message: fmt.Sprintf("the spread of %s is not worked out: too many values with a spread lead to it, or to others before it", name),
		})
		return Spread{Value: v, Statistical: v}, nil
	}
	for _, e := range w.nodes[at].effects {
		if e.bad {
			r.note(SpreadNotFollowed, finding.Finding{
				At: r.placeOf(name), Message: fmt.Sprintf("the spread of %s leaves %s out: with that at an end of its spread there is no value", name, w.nodes[e.leaf].name),
			})
		}
	}
	return s, nil
}

// spreadOf adds up what inputs do to a node.
func (w *web) spreadOf(at int) Spread {
	n := w.nodes[at]
	if n.spread != nil {
		return *n.spread
	}
	s := Spread{Value: n.still, Statistical: n.still}
	var reach, middle, curved float64
	for _, e := range n.effects {
		if e.bad {
			continue
		}
		own := w.nodes[e.leaf].own
		d := Driver{Name: w.nodes[e.leaf].name, Low: e.low, High: e.high}
		reach = math.Hypot(reach, d.half())
		middle += (e.high - e.low) / 2 * (own.Plus - own.Minus) / (own.Plus + own.Minus)
		curved += math.Abs(e.high*own.Minus+e.low*own.Plus) / (own.Plus + own.Minus)
		s.Value.Minus += math.Max(0, -math.Min(e.low, e.high))
		s.Value.Plus += math.Max(0, math.Max(e.low, e.high))
		s.Drivers = append(s.Drivers, d)
	}
	for i := range s.Drivers {
		if half := s.Drivers[i].half(); half > 0 {
			s.Drivers[i].Share = half / reach * (half / reach)
		}
	}
	sort.SliceStable(s.Drivers, func(i, j int) bool { return s.Drivers[i].Reach() > s.Drivers[j].Reach() })
	s.Statistical.Minus, s.Statistical.Plus = reach-middle, reach+middle
	together := w.together(at, &s.Value, reach)
	s.Bent = math.Max(curved, together) > bentBy*reach
	n.spread = &s
	return s
}

// together puts the value with all inputs at their worst ends at once in place of the
// sum of their effects, and is how far the two lie apart. Where that is much, and the
// inputs are few, all combinations of their ends are looked at. Where there is no value
// with all at an end, or no work left to look, the sum stays.
func (w *web) together(at int, v *quantity.Value, reach float64) (apart float64) {
	n := w.nodes[at]
	if len(n.effects) < 2 || w.left <= 0 {
		return 0
	}
	lowest, okLow := w.corner(at, -1)
	highest, okHigh := w.corner(at, 1)
	if !okLow || !okHigh {
		return 0
	}
	minus, plus := n.still.SI-lowest, highest-n.still.SI
	apart = math.Max(math.Abs(minus-v.Minus), math.Abs(plus-v.Plus))
	idle := slices.ContainsFunc(n.effects, effect.idle)
	if rounding := 1e-12 * math.Abs(n.still.SI); apart <= rounding && !idle {
		return 0
	}
	if apart > bentBy*reach || idle {
		if least, greatest, tried := w.corners(at); tried {
			minus, plus = n.still.SI-least, greatest-n.still.SI
		}
	}
	// Where an input moves the value to one side only, the corner sees less than the ends.
	v.Minus, v.Plus = math.Max(minus, n.furthest(-1)), math.Max(plus, n.furthest(1))
	return apart
}

// furthest is how far one input alone takes a node to a side.
func (n *node) furthest(side float64) (reach float64) {
	for _, e := range n.effects {
		if !e.bad {
			reach = math.Max(reach, math.Max(side*e.low, side*e.high))
		}
	}
	return reach
}

// idle reports whether an input does nothing alone.
func (e effect) idle() bool { return e.low == 0 && e.high == 0 }

// worst is the way to the end of an input that takes the value furthest to a side: -1
// down, 1 up.
func (e effect) worst(side float64) float64 {
	low, high := side*e.low, side*e.high
	switch {
	case e.bad || low < 0 && high < 0:
		return 0
	case low > high:
		return -1
	}
	return 1
}

// Named is a named value without its spread: a plan value, a part's property, a
// calculation's given or result.
func (r *Reckoning) Named(name string) (quantity.Value, error) {
	v, err := planScope{r}.Lookup(name)
	return v.Nominal(), err
}

// NameIn is the dotted name by which the plan knows what a calculation calls name:
// its own givens and results first.
func (r *Reckoning) NameIn(c *plan.Calc, name string) string {
	if _, local := calcQuantity(c, name); local || isGap(c, name) {
		return c.ID.Text + "." + name
	}
	return name
}

// Supposing is the reckoning with values, by their dotted names, held as given, and all
// that follows worked out anew.
func (r *Reckoning) Supposing(held map[string]quantity.Value) *Reckoning {
	other := New(r.Plan, r.Case, r.shapes)
	other.fixed, other.gaps = held, r.gaps
	return other
}
