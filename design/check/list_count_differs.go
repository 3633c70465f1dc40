package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// ListCountDiffers finds counts of parts lists kept elsewhere that differ from what the
// machine holds.
var ListCountDiffers = Rule{
	Rule: finding.Rule{
		Name: "list-count-differs", Severity: finding.Warning,
		Reason: "Two lists of one machine are shipped, and whoever follows the wrong one is short of parts or has some left.",
		Remedy: "export the list again, or correct the assembly",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, c := range w.comparedLists() {
			for _, l := range c.rows {
				if l.id == "" {
					continue
				}
				has := c.held(l.id)
				if has == l.count || c.s.Bill.Line(l.id) != nil && has == 0 { // used by amount, not by count
					continue
				}
				f := finding.Finding{
					At: l.rows[0].At, Subject: l.id,
					Message: fmt.Sprintf("the list counts %d %q, the plan holds %d%s", l.count, l.id, has, c.under()),
				}
				if place := c.place(l.id); place.Known() {
					f.Also = append(f.Also, finding.Related{At: place, Say: fmt.Sprintf("the plan's, %d of it", has)})
				}
				for _, more := range l.rows[1:min(len(l.rows), mostRelated)] {
					f.Also = append(f.Also, finding.Related{At: more.At, Say: fmt.Sprintf("%d more here", more.Count)})
				}
				report(f)
			}
		}
	},
}

// mostRelated bounds how many rows of a list one finding shows.
const mostRelated = 6
