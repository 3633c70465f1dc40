package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// OverlapNotThere finds overlaps that the plan states and that are not there.
var OverlapNotThere = Rule{
	Rule: finding.Rule{
		Name: "overlap-not-there", Severity: finding.Warning,
		Reason: "The statement hides the next real clash of the two, and tells the reader what is no longer true.",
		Remedy: "take overlaps out",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, u := range s.Clashes().Unneeded {
			report(finding.Finding{
				At: u.Says.With.At, Subject: u.Assembly.ID.Text + "." + u.Use.ID.Text,
				Message: fmt.Sprintf("%q is stated to overlap with %q and does not", u.Use.ID.Text, u.Says.With.Text),
			})
		}
	},
}
