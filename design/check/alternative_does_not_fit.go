package check

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// AlternativeDoesNotFit finds parts that are to serve instead of another and are not
// as the conditions ask.
var AlternativeDoesNotFit = Rule{
	Rule: finding.Rule{
		Name: "alternative-does-not-fit", Severity: finding.Error,
		Reason: "The builder takes the plan's word that it serves as well, buys it, and it does not.",
		Remedy: "name one that is as the condition asks, tell what it lacks under has, or ask for no more than the machine needs",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, p := range s.Reckoning.Plan.Parts {
			for _, o := range p.Or {
				if s.Reckoning.Plan.Part(o.Part.Text) == nil {
					continue
				}
				for _, when := range bill.Conditions(p, o) {
					s.serves(o.Part.Text, when, func(why string, condition finding.Span) {
						f := finding.Finding{
							At: o.Part.At, Subject: p.ID.Text,
							Message: fmt.Sprintf("%q is to serve instead of %q, but %s", o.Part.Text, p.ID.Text, why),
						}
						if condition != o.Part.At {
							f.Also = []finding.Related{{At: condition, Say: "the condition"}}
						}
						report(f)
					})
				}
			}
		}
	},
}

// serves tells why a part is not as a condition asks.
func (s *Situation) serves(id string, when plan.Quantity, tell func(why string, condition finding.Span)) {
	f, ok := when.Pick(s.Case.Options)
	if !ok || !f.Given() || s.Reckoning.Part(id) == nil {
		return
	}
	serving := s.Reckoning.Serves(id, when)
	if serving.Holds {
		return
	}
	var told, untold []string
	for _, n := range serving.Told {
		if n.Known {
			told = append(told, n.Name+" is "+quantity.Text(n.Value.Nominal(), System(s.Reckoning.Plan)))
		} else {
			untold = append(untold, n.Name)
		}
	}
	switch {
	case len(untold) > 0:
		tell(fmt.Sprintf("the plan does not tell its %s, where %s is asked", strings.Join(untold, ", "), f.Expr.Source()), f.At)
	case serving.Known:
		tell(fmt.Sprintf("%s, where %s is asked", strings.Join(told, ", "), f.Expr.Source()), f.At)
	}
}

// standsIn reports whether a part may take the place of one that some case takes.
func (w *Work) standsIn(id string) bool {
	for _, p := range w.Plan.Parts {
		names := func(o plan.Substitute) bool { return o.Part.Text == id }
		if p.ID.Text != id && slices.ContainsFunc(p.Or, names) && w.has(p.ID.Text) {
			return true
		}
	}
	return false
}
