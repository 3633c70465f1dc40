package reckon

import (
	"errors"
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// partScope answers a part's properties by their plain names, then the plan's own.
type partScope struct {
	planScope
	id string
}

func (s partScope) Lookup(name string) (quantity.Value, error) {
	v, err := s.r.PartProperty(s.id, name)
	var unknown *formula.UnknownNameError
	if err == nil || !errors.As(err, &unknown) {
		return v, err
	}
	if other, fails := s.planScope.Lookup(name); fails == nil {
		return other, nil
	}
	return v, err
}

// A Serving is whether a part is as a condition asks.
type Serving struct {
	Holds bool
	Known bool    // false where a property that is asked for is not told
	Told  []Named // what the condition names, in its order
}

// A Named is a name in a formula with its value.
type Named struct {
	Name  string
	Value quantity.Value
	Known bool
}

// Serves asks a part for what a condition names by the plain names of properties,
// such as "width >= 600 mm". What cannot be told is no finding here.
func (r *Reckoning) Serves(id string, when plan.Quantity) Serving {
	f, ok := when.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return Serving{}
	}
	scope := partScope{planScope{r}, id}
	result, fault := f.Expr.Eval(scope)
	out := Serving{Known: fault == nil && result.IsTruth, Holds: fault == nil && result.IsTruth && result.Truth}
	seen := map[string]bool{}
	for _, use := range f.Expr.Names() {
		if !use.Group && !seen[use.Text] {
			seen[use.Text] = true
			v, err := scope.Lookup(use.Text)
			out.Told = append(out.Told, Named{Name: use.Text, Value: v, Known: err == nil})
		}
	}
	return out
}

// purchases works out what things cost and on which terms.
func (r *Reckoning) purchases() {
	for _, s := range r.Plan.Suppliers {
		r.QuantityIn(s.Shipping.Price, quantity.Money)
		r.QuantityIn(s.Shipping.FreeFrom, quantity.Money)
		r.QuantityIn(s.Least, quantity.Money)
		for _, sale := range s.Sells {
			r.QuantityIn(sale.Price, quantity.Money)
			r.Whole(sale.Pack)
			r.Whole(sale.Least)
			for _, b := range sale.Breaks {
				r.Whole(b.From)
				r.QuantityIn(b.Price, quantity.Money)
			}
		}
	}
	for _, p := range r.Plan.Parts {
		if p.Buy != nil {
			r.QuantityIn(p.Buy.Price, quantity.Money)
		}
		for _, o := range p.Or {
			r.substitute(p, o)
		}
	}
}

// substitute reports a condition that is none, or that names what no part has.
func (r *Reckoning) substitute(p *plan.Part, o plan.Substitute) {
	f, ok := o.When.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return
	}
	if result, err := r.Evaluate(f, partScope{planScope{r}, p.ID.Text}); err == nil && !result.IsTruth {
		r.note(WrongDimension, finding.Finding{
			At: f.At, Subject: p.ID.Text,
			Message: fmt.Sprintf("this is %s, what an alternative must be is a comparison: thick >= 18 mm", result.Value.Dim.Article()),
			Remedy:  "say what its properties must be at least, or at most",
		})
	}
}
