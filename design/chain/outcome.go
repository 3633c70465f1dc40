package chain

import (
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// An Outcome is a requirement at the gap's limits.
type Outcome struct {
	Require plan.Require
	Source  string // the condition as written
	Known   bool   // whether it could be worked out
	Mean    bool   // it holds with every size in the middle of its tolerance
	Worst   bool   // it holds at both worst limits, hence always
	Likely  bool   // it holds at both statistical limits
}

// outcomes works the requirements out for the gap at its limits. A condition that
// holds at both ends holds between them, since it compares with what rises or falls.
func (b *builder) outcomes() {
	if !b.report.Known {
		return
	}
	c, g := b.report.Calc, b.report.Gap
	low, high := g.Likely()
	for _, q := range c.Requires {
		f, ok := q.That.Pick(b.r.Case.Options)
		if !ok || !f.Given() {
			continue
		}
		o := Outcome{Require: q, Source: f.Expr.Source(), Known: true}
		holds := func(gaps ...float64) bool {
			all := true
			for _, gap := range gaps {
				there := b.r.Supposing(map[string]quantity.Value{c.ID.Text + "." + plan.Gap: quantity.MM(gap)})
				result, err := f.Expr.Eval(there.CalcScope(c))
				if err != nil || !result.IsTruth {
					o.Known = false
					return false
				}
				all = all && result.Truth
			}
			return all
		}
		o.Mean, o.Worst, o.Likely = holds(g.Mean), holds(g.Low, g.High), holds(low, high)
		b.report.Requires = append(b.report.Requires, o)
	}
}
