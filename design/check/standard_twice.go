package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// StandardTwice finds two ids for one standard part.
var StandardTwice = Rule{
	Rule: finding.Rule{
		Name: "standard-twice", Severity: finding.Warning,
		Reason: "The list shows the same screw on two lines, so the builder buys two packs where one would do.",
		Remedy: "keep one id and use it in all joints",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		first := map[string]*plan.Part{}
		for _, p := range w.Plan.Parts {
			reckoned := w.Default().Reckoning.Part(p.ID.Text)
			if reckoned == nil || reckoned.Fastener == nil {
				continue
			}
			name := reckoned.Fastener.String()
			other := first[name]
			if other == nil {
				first[name] = p
				continue
			}
			report(finding.Finding{
				At: p.Standard.At, Subject: p.ID.Text,
				Message: fmt.Sprintf("%q and %q are the same part, %s", other.ID.Text, p.ID.Text, name),
				Also:    []finding.Related{{At: other.Standard.At, Say: "the other one"}},
			})
		}
	},
}
