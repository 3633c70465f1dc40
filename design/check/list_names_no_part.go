package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// ListNamesNoPart finds names in parts lists kept elsewhere that stand for nothing in
// the plan, and words of reconcile that neither the list nor the plan has.
var ListNamesNoPart = Rule{
	Rule: finding.Rule{
		Name: "list-names-no-part", Severity: finding.Warning,
		Reason: "The list has a part that the plan does not build in: one of the two was forgotten when the other changed.",
		Remedy: "say under names which part it stands for, ignore it, or add the part",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, c := range w.comparedLists() {
			for _, l := range c.rows {
				if l.id != "" {
					continue
				}
				f := finding.Finding{
					At: l.rows[0].Name.At, Subject: c.list.File + " " + l.rows[0].Name.Text,
					Message: fmt.Sprintf("the list counts %d %q, and no part of the plan has that name", l.count, l.rows[0].Name.Text),
				}
				if c.by != nil {
					f.Also = []finding.Related{{At: c.by.File.At, Say: "compared here"}}
				}
				report(f)
			}
			if c.by == nil {
				continue
			}
			for _, word := range c.idle() {
				report(finding.Finding{
					At: word.At, Subject: c.list.File + " " + word.Text,
					Message: fmt.Sprintf("neither the list nor the plan has %q", word.Text), Remedy: "take it out, or write the name as the list has it",
					Also: []finding.Related{{At: c.list.Head, Say: "the list's names"}},
				})
			}
		}
	},
}
