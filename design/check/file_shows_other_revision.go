package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// FileShowsOtherRevision finds exports and photographs of another revision than the
// plan's.
var FileShowsOtherRevision = Rule{
	Rule: finding.Rule{
		Name: "file-shows-other-revision", Severity: finding.Warning,
		Reason: "A builder who prints or cuts from the file may make the part as it was.",
		Remedy: "make the file anew, or look at what changed and set shows to this revision where it still holds",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, f := range shipped(w.Plan) {
			if !f.Shows.Given() || f.Shows.Text == w.Plan.Revision.Text {
				continue
			}
			report(finding.Finding{
				At: f.Shows.At, Subject: f.File.Text,
				Message: fmt.Sprintf("%s shows revision %s, the plan is at %s", f.File.Text, f.Shows.Text, w.Plan.Revision.Text),
				Also:    []finding.Related{{At: w.Plan.Revision.At, Say: "the plan's revision"}},
			})
		}
	},
}
