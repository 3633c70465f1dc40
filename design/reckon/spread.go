package reckon

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
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

// shares gives each driver its share of the variance, and is the statistical reach
// of all together: the root of the sum of squares.
func shares(drivers []Driver) (reach float64) {
	for _, d := range drivers {
		reach = math.Hypot(reach, d.half())
	}
	for i := range drivers {
		if half := drivers[i].half(); half > 0 {
			drivers[i].Share = half / reach * (half / reach)
		}
	}
	return reach
}

// Show is a named value with its spread: a plan value, a part's property, a
// calculation's given or result.
func (r *Reckoning) Show(name string) (quantity.Value, error) {
	v, _, err := r.Drivers(name)
	return v, err
}

// Drivers is a named value with its worst-case spread and the inputs that cause
// it, the strongest first. Each input that carries a spread where it is written is
// taken to its ends alone, everything that follows is worked out anew, and the
// effects are added as if all went wrong at once. Inputs reach the result through
// values, calculations and properties given by formulas; a spread of a length
// inside a shape does not reach the part's mass.
func (r *Reckoning) Drivers(name string) (v quantity.Value, drivers []Driver, err error) {
	d, known := r.driven[name]
	if !known {
		d.value, d.drivers, d.err = r.drive(name)
		r.driven[name] = d
	}
	return d.value, d.drivers, d.err
}

// driven is what Drivers found out of one name.
type driven struct {
	value   quantity.Value
	drivers []Driver
	err     error
}

// maxFollowed bounds how many values one reckoning works out anew to follow
// spreads: some hundred results of a dozen inputs each.
const maxFollowed = 100_000

func (r *Reckoning) drive(name string) (v quantity.Value, drivers []Driver, err error) {
	v, err = planScope{r}.Lookup(name)
	if err != nil {
		return v, nil, err
	}
	leaves := map[string]plan.Formula{}
	r.leaves(name, leaves, map[string]bool{})
	names := make([]string, 0, len(leaves))
	for leaf := range leaves {
		names = append(names, leaf)
	}
	sort.Strings(names)
	for _, leaf := range names {
		given, err := r.Evaluate(leaves[leaf], r.scopeOf(leaf))
		if err != nil || !given.Value.HasSpread() {
			continue
		}
		if r.followed > maxFollowed {
			r.note(SpreadNotFollowed, finding.Finding{
				At: r.placeOf(name), Message: fmt.Sprintf("the spread of %s is not worked out: too many values with a spread lead to it, or to others before it", name),
			})
			return v.Nominal(), nil, nil
		}
		low, okLow := r.following(name, leaf, given.Value, given.Value.Low())
		high, okHigh := r.following(name, leaf, given.Value, given.Value.High())
		if !okLow || !okHigh {
			continue
		}
		d := Driver{Name: leaf, Low: low - v.SI, High: high - v.SI}
		v.Minus += math.Max(0, -math.Min(d.Low, d.High))
		v.Plus += math.Max(0, math.Max(d.Low, d.High))
		drivers = append(drivers, d)
	}
	sort.SliceStable(drivers, func(i, j int) bool { return drivers[i].Reach() > drivers[j].Reach() })
	shares(drivers)
	return v, drivers, nil
}

// following is the named result when a leaf stands at an end.
func (r *Reckoning) following(name, leaf string, at quantity.Value, si float64) (float64, bool) {
	at = at.Nominal()
	at.SI = si
	other := New(r.Plan, r.Case, r.shapes)
	other.fixed = map[string]quantity.Value{leaf: at}
	v, err := planScope{other}.Lookup(name)
	r.followed += other.worked
	return v.SI, err == nil
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
	if _, local := calcQuantity(c, name); local {
		return c.ID.Text + "." + name
	}
	return name
}

// Supposing is the reckoning with values, by their dotted names, held as given.
func (r *Reckoning) Supposing(held map[string]quantity.Value) *Reckoning {
	other := New(r.Plan, r.Case, r.shapes)
	other.fixed = held
	return other
}

// placeOf is where a calculation's input or result has its name, or where the
// formula of another named value stands.
func (r *Reckoning) placeOf(name string) finding.Span {
	head, rest, _ := strings.Cut(name, ".")
	if c := r.Plan.Calc(head); c != nil {
		for _, g := range c.Givens {
			if g.Name.Text == rest {
				return g.Name.At
			}
		}
		for _, f := range c.Finds {
			if f.Name.Text == rest {
				return f.Name.At
			}
		}
	}
	q, _ := r.formulaOf(name)
	f, _ := q.Pick(r.Case.Options)
	return f.At
}

// scopeOf is where the formula of a named value stands.
func (r *Reckoning) scopeOf(name string) formula.Scope {
	if head, _, dotted := strings.Cut(name, "."); dotted {
		if c := r.Plan.Calc(head); c != nil {
			return calcScope{r, c}
		}
	}
	return planScope{r}
}

// leaves collects the named formulas with a spread of their own that a value
// leans on, itself included.
func (r *Reckoning) leaves(name string, found map[string]plan.Formula, seen map[string]bool) {
	if seen[name] || len(seen) > maxLeafSearch {
		return
	}
	seen[name] = true
	q, known := r.formulaOf(name)
	if !known {
		return
	}
	f, ok := q.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return
	}
	if f.Expr.HasSpread() {
		found[name] = f
	}
	head, _, _ := strings.Cut(name, ".")
	calc := r.Plan.Calc(head)
	for _, use := range f.Expr.Names() {
		inner := use.Text
		if calc != nil {
			if _, local := calcQuantity(calc, inner); local {
				inner = calc.ID.Text + "." + inner
			}
		}
		r.leaves(inner, found, seen)
	}
}

// maxLeafSearch bounds how many values one result may lean on.
const maxLeafSearch = 5000

// formulaOf is the formula that a named value was given by.
func (r *Reckoning) formulaOf(name string) (plan.Quantity, bool) {
	head, rest, dotted := strings.Cut(name, ".")
	p := r.Plan
	if !dotted {
		if v := p.Value(head); v != nil && r.Case.Ends[head] == AsGiven {
			return v.Is, true
		}
		return plan.Quantity{}, false
	}
	if c := p.Calc(head); c != nil {
		return calcQuantity(c, rest)
	}
	if part := p.Part(head); part != nil {
		if rest == "length" && part.Length.Given() {
			return part.Length, true
		}
		return has(part.Has, rest)
	}
	if s := p.StockOf(head); s != nil {
		return has(s.Has, rest)
	}
	if a := p.Assembly(head); a != nil {
		return has(a.Has, rest)
	}
	return plan.Quantity{}, false
}
