package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// MotionNeverUsed finds motions that no use moves by.
var MotionNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "motion-never-used", Severity: finding.Warning,
		Reason: "The plan says that something moves, and nothing does: no check looks at what it may hit.",
		Remedy: "name it under moves of what moves, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		moved := map[string]bool{}
		for _, a := range w.Plan.Assemblies {
			for _, u := range a.Holds {
				for _, m := range u.Moves {
					for _, f := range m.By.All() {
						if !f.Given() {
							continue
						}
						for _, use := range f.Expr.Names() {
							moved[use.Text] = true
						}
					}
				}
			}
		}
		for _, m := range w.Plan.Motions {
			if !moved[m.ID.Text] {
				report(finding.Finding{
					At: m.ID.At, Subject: m.ID.Text,
					Message: fmt.Sprintf("nothing moves by %q", m.ID.Text),
				})
			}
		}
	},
}
