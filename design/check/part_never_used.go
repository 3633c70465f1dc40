package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// PartNeverUsed finds parts that no assembly, joint, step or altered part takes,
// under any choice. Fasteners have a rule of their own.
var PartNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "part-never-used", Severity: finding.Error,
		Reason: "The builder buys or makes it and then looks in vain for its place.",
		Remedy: "place it in an assembly, name it in a joint, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if !isFastener(p) && !w.has(p.ID.Text) && !w.standsIn(p.ID.Text) {
				where := "no assembly, joint or step uses"
				if p.Made.Text == plan.Consumable {
					where = "no step or joint uses"
				}
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%s %q, whatever the builder chooses", where, p.ID.Text),
				})
			}
		}
	},
}

// isFastener reports whether a part is a standard fastener or says what fastener
// it is.
func isFastener(p *plan.Part) bool { return p.Standard.Given() || p.Fastener != nil }

// has reports whether any case takes the part.
func (w *Work) has(id string) bool {
	for _, s := range w.Situations {
		if s.has(id) {
			return true
		}
	}
	return false
}

// any reports whether something holds in any case.
func (w *Work) any(holds func(s *Situation) bool) bool {
	for _, s := range w.Situations {
		if holds(s) {
			return true
		}
	}
	return false
}
