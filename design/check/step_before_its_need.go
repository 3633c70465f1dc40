package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// StepBeforeItsNeed finds steps that stand in their file above one that they need.
var StepBeforeItsNeed = Rule{
	Rule: finding.Rule{
		Name: "step-before-its-need", Severity: finding.Warning,
		Reason: "Whoever works through the file from the top does the steps in the wrong order.",
		Remedy: "move it below the step that it needs",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		rec := s.Sequence()
		for _, l := range rec.Late {
			early, needed := rec.Graph.Steps[l.By], rec.Graph.Steps[l.Needed]
			at := early.Step.NeedsAt
			for _, w := range early.Step.Needs {
				if w.Text == needed.Step.ID.Text {
					at = w.At
				}
			}
			report(finding.Finding{
				At: at, Subject: early.String(),
				Message: fmt.Sprintf("the step %q stands above %q, which it needs", early.Step.ID.Text, needed.Step.ID.Text),
				Also:    []finding.Related{{At: needed.Step.ID.At, Say: "the step that it needs"}},
			})
		}
	},
}
