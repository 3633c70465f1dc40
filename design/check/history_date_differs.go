package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// HistoryDateDiffers finds a revision with two dates, and one that is dated before
// the revision that it follows.
var HistoryDateDiffers = Rule{
	Rule: finding.Rule{
		Name: "history-date-differs", Severity: finding.Warning,
		Reason: "Of two dates for one revision, a builder cannot tell which drawings are the newer ones.",
		Remedy: "give plan and history the same date",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		p := w.Plan
		for _, e := range p.History {
			switch {
			case e.Revision.Text == p.Revision.Text && p.Date.Given() && e.Date.Text != p.Date.Text:
				report(finding.Finding{
					At: e.Date.At, Subject: e.Revision.Text,
					Message: fmt.Sprintf("the history dates revision %s %s, the plan %s", e.Revision.Text, e.Date.Text, p.Date.Text),
					Also:    []finding.Related{{At: p.Date.At, Say: "the plan's date"}},
				})
			case e.Revision.Text != p.Revision.Text && p.Date.Given() && e.Date.Text > p.Date.Text:
				report(finding.Finding{
					At: e.Date.At, Subject: e.Revision.Text,
					Message: fmt.Sprintf("revision %s is dated %s, after the plan's revision %s of %s", e.Revision.Text, e.Date.Text, p.Revision.Text, p.Date.Text),
					Remedy:  "correct the date, or the plan's revision",
					Also:    []finding.Related{{At: p.Date.At, Say: "the plan's date"}},
				})
			}
		}
	},
}
