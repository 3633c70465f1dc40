package reckon

import (
	"slices"
	"strings"

	"plansheaf/design/plan"
)

// Inputs are the names of what a named value of a calculation is worked out from: values
// that are written down as they are, properties that no formula gives, and, on the way
// to those, values of the plan and properties of its things that formulas give, such as
// a post's length; not the results of other calculations.
// Those of the calculation itself come first, by their names in it, in its order; then
// the others, dotted, by name.
func (r *Reckoning) Inputs(c *plan.Calc, name string) []string {
	w := r.spreading()
	at, known := w.index[c.ID.Text+"."+name]
	if !known || at < 0 {
		return nil
	}
	found := map[string]bool{}
	for _, i := range w.cone(at) {
		n := w.nodes[i]
		if n.formula.Expr == nil {
			if len(n.uses) > 0 || n.own.HasSpread() {
				continue // measured on the placed parts, not given
			}
			found[n.name] = true
			continue
		}
		leans := n.formula.Expr.Leans(w.r.scopeOf(n.name))
		if len(leans) == 0 || r.calcOf(n.name) == nil {
			found[n.name] = true
		}
		for _, use := range leans {
			if _, inside := n.scope.local[use]; !inside {
				found[use] = true
			}
		}
	}
	delete(found, c.ID.Text+"."+name)
	var own, others []string
	for _, g := range c.Givens {
		if full := c.ID.Text + "." + g.Name.Text; found[full] {
			own = append(own, g.Name.Text)
			delete(found, full)
		}
	}
	for one := range found {
		if _, err := r.Named(one); err == nil {
			others = append(others, one)
		}
	}
	slices.Sort(others)
	return append(own, others...)
}

// Followers are the names of the values, properties and results that formulas work out
// from a named value, itself included, by name.
func (r *Reckoning) Followers(name string) []string {
	w := r.spreading()
	at, known := w.index[name]
	if !known || at < 0 {
		return []string{name}
	}
	var names []string
	for _, i := range w.followers(at) {
		if n := w.nodes[i]; !strings.Contains(n.name, "|") {
			names = append(names, n.name)
		}
	}
	slices.Sort(names)
	return names
}
