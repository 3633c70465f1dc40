package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// OrderNotGoneThrough says where there was too much to find out whether everything can
// be reached and put in when its step comes.
var OrderNotGoneThrough = Rule{
	Rule: finding.Rule{
		Name: "order-not-gone-through", Severity: finding.Warning,
		Reason: "Whether the builder can reach every screw and put every part in was not found out from this step on.",
		Remedy: "divide the assembly into smaller ones, each with its own steps",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		rec := s.Sequence()
		for _, skip := range rec.Skipped {
			step := rec.Graph.Steps[skip.From]
			report(finding.Finding{
				At: step.Step.ID.At, Subject: step.String(),
				Message: fmt.Sprintf("the assembly %q has too much in it: from the step %q on its order of work was not gone through", skip.Assembly.ID.Text, step.Step.ID.Text),
			})
		}
	},
}
