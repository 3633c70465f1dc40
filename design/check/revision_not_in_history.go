package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// RevisionNotInHistory finds a history that does not tell of the plan's revision.
var RevisionNotInHistory = Rule{
	Rule: finding.Rule{
		Name: "revision-not-in-history", Severity: finding.Warning,
		Reason: "A builder half way through cannot see what this revision changed and what must be made again.",
		Remedy: "add an entry for the revision that says what changed",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		if len(w.Plan.History) == 0 || !w.Plan.Revision.Given() {
			return
		}
		for _, e := range w.Plan.History {
			if e.Revision.Text == w.Plan.Revision.Text {
				return
			}
		}
		report(finding.Finding{
			At: w.Plan.Revision.At, Subject: w.Plan.Revision.Text,
			Message: fmt.Sprintf("the history has no entry for revision %s", w.Plan.Revision.Text),
			Also:    []finding.Related{{At: w.Plan.History[0].At, Say: "the history"}},
		})
	},
}
