package reckon

import (
	"errors"
	"fmt"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// All works out every formula that the plan holds under the case, so that its
// findings are whole. Formulas that belong to another case are left alone.
func (r *Reckoning) All() {
	for _, v := range r.Plan.Values {
		r.plain(v.ID.Text) // by name first, so that a circle is shown from here
		r.alike(v.Is, v.From, v.To)
	}
	for _, m := range r.Plan.Motions {
		r.alike(m.From, m.To)
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
		r.stock(s)
	}
	r.purchases()
	for _, t := range r.Plan.Tools {
		r.QuantityIn(t.Lifts, quantity.Mass)
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

// alike works out quantities that are of the same kind as the first.
func (r *Reckoning) alike(first plan.Quantity, others ...plan.Quantity) {
	is, ok := r.Quantity(first)
	for _, q := range others {
		switch {
		case !q.Given():
		case ok:
			r.QuantityIn(q, is.Dim)
		default:
			r.Quantity(q)
		}
	}
}

// stock works out how a bar or sheet is sold and cut.
func (r *Reckoning) stock(s *plan.Stock) {
	r.all(s.Has)
	r.Length(s.Kerf)
	r.Length(s.Trim)
	r.Quantity(s.Mass)
	for _, sold := range s.Sold {
		r.Length(sold.Length)
		for _, side := range sold.Size {
			r.Length(side)
		}
		if perLength, err := quantity.Money.Div(quantity.Length); err == nil && sold.Cut {
			r.QuantityIn(sold.Price, perLength)
		} else {
			r.QuantityIn(sold.Price, quantity.Money)
		}
		r.QuantityIn(sold.PerCut, quantity.Money)
	}
}

// claim is worked out only where what it names exists: a claim of the motor's
// speed says nothing about a machine with a crank.
func (r *Reckoning) claim(c *plan.Claim) {
	if r.Absent(c.Is) {
		return
	}
	r.alike(c.Is, c.AtLeast, c.AtMost)
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
		for _, leg := range use.Way {
			r.Length(leg.By)
		}
		for _, o := range use.Overlaps {
			r.Length(o.By)
		}
		if use.Seat != nil {
			r.Quantity(use.Seat.Gap)
			r.Quantity(use.Seat.Spin)
		}
	}
	for _, j := range a.Joints {
		if j.Only.Fits(r.Case.Options) {
			r.QuantityIn(j.Torque.Is, quantity.Torque)
		}
	}
	for _, s := range a.Steps {
		if s.Only.Fits(r.Case.Options) {
			r.QuantityIn(s.Time, quantity.Time)
			r.Whole(s.People)
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
	for _, q := range append(slices.Clone(c.Requires), c.Limits...) {
		f, ok := q.That.Pick(r.Case.Options)
		if !ok || !f.Given() {
			continue
		}
		if result, err := r.Evaluate(f, scope); err == nil && !result.IsTruth {
			r.note(WrongDimension, finding.Finding{
				At: f.At, Subject: c.ID.Text,
				Message: fmt.Sprintf("this is %s, a requirement is a comparison: force >= 4 kN", result.Value.Dim.Article()),
				Remedy:  "say what the value must be at least, or at most",
			})
		}
	}
	for _, g := range c.Graphs {
		r.graph(c, g)
	}
	if r.Case.IsDefault(r.Plan) { // records hold at the defaults
		for _, rec := range c.Recorded {
			r.recorded(c, rec)
		}
	}
}

// graph reports what a graph names that is not there, or ends of another kind than its
// input.
func (r *Reckoning) graph(c *plan.Calc, g plan.Graph) {
	for _, name := range []plan.Word{g.Of, g.Against} {
		_, err := planScope{r}.Lookup(r.NameIn(c, name.Text))
		var unknown *formula.UnknownNameError
		if errors.As(err, &unknown) {
			r.note(UnknownName, finding.Finding{At: name.At, Subject: c.ID.Text, Message: fmt.Sprintf("the graph is of %q, and %s", name.Text, unknown), Remedy: unknown.Remedy()})
		}
	}
	against, err := r.Named(r.NameIn(c, g.Against.Text))
	if err != nil {
		return
	}
	for _, end := range []plan.Quantity{g.From, g.To} {
		r.evaluateAs(end, against.Dim, calcScope{r, c})
	}
}

// recorded works out what was recorded of a result, which must be of its kind.
func (r *Reckoning) recorded(c *plan.Calc, rec plan.Record) {
	scope := calcScope{r, c}
	if _, found := calcQuantity(c, rec.Name.Text); !found && !isGap(c, rec.Name.Text) {
		r.note(UnknownName, finding.Finding{
			At: rec.Name.At, Subject: c.ID.Text,
			Message: fmt.Sprintf("the calculation %q has no result %q to compare with", c.ID.Text, rec.Name.Text),
			Remedy:  "record a result by the name it has under find",
		})
		return
	}
	if is, err := scope.Lookup(rec.Name.Text); err == nil {
		r.evaluateAs(rec.Is, is.Dim, scope)
	}
}
