package reckon

import (
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

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

// calcOf is the calculation that a named value belongs to, nil for none.
func (r *Reckoning) calcOf(name string) *plan.Calc {
	head, _, dotted := strings.Cut(name, ".")
	if !dotted {
		return nil
	}
	return r.Plan.Calc(head)
}

// scopeIn is the scope inside of a calculation, or the plan's.
func (r *Reckoning) scopeIn(c *plan.Calc) formula.Scope {
	if c == nil {
		return planScope{r}
	}
	return calcScope{r, c}
}

// scopeOf is where the formula of a named value stands.
func (r *Reckoning) scopeOf(name string) formula.Scope { return r.scopeIn(r.calcOf(name)) }

// placeOf is where a calculation's input or result has its name, or where the
// formula of another named value stands.
func (r *Reckoning) placeOf(name string) finding.Span {
	if c := r.calcOf(name); c != nil {
		_, rest, _ := strings.Cut(name, ".")
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
