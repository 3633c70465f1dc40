package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// PartNeverUsed finds parts that no assembly, joint, step or altered part takes,
// under any choice.
var PartNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "part-never-used", Severity: finding.Error,
		Reason: "The builder buys or makes it and then looks in vain for its place.",
		Remedy: "place it in an assembly, name it in a joint, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if !used(w, p.ID.Text) {
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("no assembly, joint or step uses the part %q, whatever the builder chooses", p.ID.Text),
				})
			}
		}
	},
}

// used reports whether any case takes the part, or an altered part is made of it.
func used(w *Work, id string) bool {
	for _, s := range w.Situations {
		if s.Bill.Line(id) != nil {
			return true
		}
	}
	for _, p := range w.Plan.Parts {
		if p.Of.Text == id && p.ID.Text != id && used(w, p.ID.Text) {
			return true
		}
	}
	return false
}
