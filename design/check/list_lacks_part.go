package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// ListLacksPart finds parts of the machine that a parts list, which the plan says to
// compare, does not have.
var ListLacksPart = Rule{
	Rule: finding.Rule{
		Name: "list-lacks-part", Severity: finding.Warning,
		Reason: "The machine holds a part that the list leaves out: one of the two was forgotten when the other changed.",
		Remedy: "export the list again, ignore the part, or take it out of the assembly",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, c := range w.comparedLists() {
			if c.by == nil {
				continue // it may list some parts only
			}
			for _, line := range c.s.Bill.Lines {
				p := line.Part.Part
				if line.Count == 0 || c.named[p.ID.Text] || c.ignores(p) {
					continue
				}
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("the plan holds %d %q%s, the list %s has none", line.Count, p.ID.Text, c.under(), c.list.File),
					Also:    []finding.Related{{At: c.list.Head, Say: "the list"}, {At: c.by.File.At, Say: "compared here"}},
				})
			}
		}
	},
}
