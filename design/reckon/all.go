package reckon

import "plansheaf/design/plan"

// All works out every formula that the plan holds under the case, so that its
// findings are whole. Formulas that belong to another case are left alone.
func (r *Reckoning) All() {
	for _, v := range r.Plan.Values {
		r.Quantity(v.Is)
		r.Quantity(v.From)
		r.Quantity(v.To)
	}
	for _, m := range r.Plan.Motions {
		r.Quantity(m.From)
		r.Quantity(m.To)
	}
	for _, c := range r.Plan.Claims {
		r.claim(c)
	}
	for _, n := range r.Plan.Budgets {
		r.Quantity(n.Is)
	}
	for _, p := range r.Plan.Parts {
		r.Part(p.ID.Text)
		r.all(p.Has)
		r.Quantity(p.Amount)
	}
	for _, s := range r.Plan.Stock {
		r.all(s.Has)
	}
	for _, a := range r.Plan.Assemblies {
		r.assembly(a)
	}
	for _, c := range r.Plan.Calcs {
		if c.Only.Fits(r.Case.Options) {
			r.calculation(c)
		}
	}
}

func (r *Reckoning) all(list []plan.Named) {
	for _, h := range list {
		r.Quantity(h.Is)
	}
}

// claim is worked out only where what it names exists: a claim of the motor's
// speed says nothing about a machine with a crank.
func (r *Reckoning) claim(c *plan.Claim) {
	if r.Absent(c.Is) {
		return
	}
	r.Quantity(c.Is)
	r.Quantity(c.AtLeast)
	r.Quantity(c.AtMost)
}

// Absent reports whether a quantity names a calculation that the case leaves out.
func (r *Reckoning) Absent(q plan.Quantity) bool {
	f, ok := q.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return false
	}
	for _, use := range f.Expr.Names() {
		head := plan.Word{Text: use.Text}.Path()[0]
		if c := r.Plan.Calc(head); c != nil && !c.Only.Fits(r.Case.Options) {
			return true
		}
	}
	return false
}

func (r *Reckoning) assembly(a *plan.Assembly) {
	r.all(a.Has)
	for _, use := range a.Holds {
		if !use.Only.Fits(r.Case.Options) {
			continue
		}
		for _, q := range use.Place.Of {
			r.Length(q)
		}
		for _, t := range use.Turn {
			r.Quantity(t.Angle)
		}
		for _, m := range use.Moves {
			r.Quantity(m.By)
		}
		if use.Seat != nil {
			r.Quantity(use.Seat.Gap)
			r.Quantity(use.Seat.Spin)
		}
	}
	for _, j := range a.Joints {
		if j.Only.Fits(r.Case.Options) {
			r.Quantity(j.Torque.Is)
		}
	}
	for _, s := range a.Steps {
		if s.Only.Fits(r.Case.Options) {
			r.Quantity(s.Time)
			for _, u := range s.Uses {
				r.Quantity(u.Amount)
			}
		}
	}
}

func (r *Reckoning) calculation(c *plan.Calc) {
	scope := calcScope{r, c}
	for _, g := range c.Givens {
		scope.Lookup(g.Name.Text)
	}
	for _, f := range c.Finds {
		scope.Lookup(f.Name.Text)
	}
	for _, q := range c.Requires {
		if f, ok := q.That.Pick(r.Case.Options); ok && f.Given() {
			r.Evaluate(f, scope)
		}
	}
}
