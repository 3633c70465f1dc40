package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// AssemblyNeverUsed finds assemblies that the machine holds under no choice.
var AssemblyNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "assembly-never-used", Severity: finding.Error,
		Reason: "The builder would put it together and find no place for it.",
		Remedy: "place it in the machine or in one of its assemblies, or take its file out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, a := range w.Plan.Assemblies {
			if !w.any(func(s *Situation) bool { return s.assembled(a) }) {
				report(finding.Finding{
					At: a.Title.At, Subject: a.ID.Text,
					Message: fmt.Sprintf("nothing holds the assembly %q, whatever the builder chooses", a.ID.Text),
				})
			}
		}
	},
}
