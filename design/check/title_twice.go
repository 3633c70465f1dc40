package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
)

// TitleTwice finds parts that have the same title.
var TitleTwice = Rule{
	Rule: finding.Rule{
		Name: "title-twice", Severity: finding.Warning,
		Reason: "Pages, bags and drawings cannot tell the two apart.",
		Remedy: "give each a title of its own that says what differs",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		first := map[string]int{}
		for i, p := range w.Plan.Parts {
			if !p.Title.Given() {
				continue
			}
			key := strings.ToLower(strings.Join(strings.Fields(p.Title.Value), " "))
			before, taken := first[key]
			if !taken {
				first[key] = i
				continue
			}
			other := w.Plan.Parts[before]
			report(finding.Finding{
				At: p.Title.At, Subject: p.ID.Text,
				Message: fmt.Sprintf("%q and %q are both called %q", other.ID.Text, p.ID.Text, p.Title.Value),
				Also:    []finding.Related{{At: other.Title.At, Say: "the other one"}},
			})
		}
	},
}
