package reckon

import (
	"maps"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// Posed is a reckoning of the same plan and case in which the motions named stand
// where at says instead of where they rest. It shares the solids of r.
func (r *Reckoning) Posed(at map[string]quantity.Value) *Reckoning {
	other := New(r.Plan, r.Case, r.shapes)
	other.fixed, other.gaps, other.still = maps.Clone(at), r.gaps, r
	return other
}

// resting is the value of a name that motions do not move, where it is known with them at
// rest.
func (r *Reckoning) resting(name string) (v quantity.Value, known bool) {
	if r.still == nil {
		return v, false
	}
	e := r.still.memo[name]
	if e == nil || !e.done || e.err != nil || r.shapes.mover(r.Plan).moves(name) {
		return v, false
	}
	return e.value, true
}

// Range is how far a motion reaches, from its one end to the other; to may be the
// lower one.
func (r *Reckoning) Range(m *plan.Motion) (from, to quantity.Value, err error) {
	if from, err = r.evaluate(m.From, planScope{r}); err != nil {
		return from, to, err
	}
	if to, err = r.evaluateAs(m.To, from.Dim, planScope{r}); err != nil {
		return from, to, err
	}
	return from.Nominal(), to.Nominal(), nil
}
