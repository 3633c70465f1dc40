package reckon

import (
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A Measured is what is known only once the machine's parts have their places: the
// gap of a tolerance chain.
type Measured struct {
	Value quantity.Value // its spread is the worst case
	By    []Driver       // what each of its contributors does to it alone; the names are the contributors'
	Lost  bool           // it cannot be had, and a finding says why
}

// SetMeasured makes a calculation's gap known to formulas. Until then a formula that
// needs it cannot be worked out: sizes and places may not hang on what is measured on
// them.
func (r *Reckoning) SetMeasured(c *plan.Calc, m Measured) {
	if r.gaps == nil {
		r.gaps = map[string]Measured{}
	}
	r.gaps[gapName(c)] = m
}

func gapName(c *plan.Calc) string { return c.ID.Text + "." + plan.Gap }

// isGap reports whether a name inside a calculation is its chain's gap.
func isGap(c *plan.Calc, name string) bool { return c.Chain != nil && name == plan.Gap }

// gap is the gap of a calculation's chain.
func (r *Reckoning) gap(c *plan.Calc) (quantity.Value, error) {
	return r.named(gapName(c), func() (quantity.Value, error) {
		m, known := r.gaps[gapName(c)]
		switch {
		case !known:
			return quantity.Value{}, &unmeasuredError{gapName(c)}
		case m.Lost:
			return quantity.Value{}, errNoted
		}
		return m.Value, nil
	})
}

// An unmeasuredError is a gap that is asked for before the machine stands.
type unmeasuredError struct{ name string }

// Error says what the name is.
func (e *unmeasuredError) Error() string {
	return e.name + " is measured on the placed parts, so neither their sizes nor their places can hang on it"
}

// Remedy says what to do instead.
func (e *unmeasuredError) Remedy() string {
	return "give the size as it is to be, and say under require what the gap must come to"
}

// addMeasured puts what was measured into the web: a sum that leans on each of its
// contributors, which counts as nothing where the value is the one that was measured.
func (w *web) addMeasured(name string, m Measured) int {
	sum := &node{name: name, still: m.Value.Nominal(), cost: 1 + len(m.By)}
	for _, by := range m.By {
		own := sum.still
		own.SI, own.Minus, own.Plus = 0, max(0, -min(by.Low, by.High)), max(0, by.Low, by.High)
		if !own.HasSpread() {
			continue
		}
		leaf := &node{name: by.Name, still: own.Nominal(), own: own, cost: 1}
		sum.uses = append(sum.uses, w.put(leaf))
	}
	uses, nominal := sum.uses, sum.still.SI
	if len(uses) > 0 {
		sum.quick = func(vals []float64) float64 {
			x := nominal
			for _, at := range uses {
				x += vals[at]
			}
			return x
		}
	}
	return w.put(sum)
}
