package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/standards"
)

// ScrewDoesNotPass finds holes that are too narrow for the screw that goes through.
var ScrewDoesNotPass = Rule{
	Rule: finding.Rule{
		Name: "screw-does-not-pass", Severity: finding.Error,
		Reason: "The builder stands with a screw in hand that does not go through the hole.",
		Remedy: "make the hole for this screw, or take a thinner one",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachWidth(func(p passing, wide float64) {
			if wide > p.thread.Major || s.suitsOther(p.a, p.j, wide) {
				return
			}
			remedy := ""
			if d, ok := standards.Clearance(p.thread, ""); ok {
				remedy = fmt.Sprintf("write for: %s, which drills %s", p.thread.Name, mm(d))
				if p.cut != nil {
					remedy = fmt.Sprintf("write d: %s there, the clearance of %s", mm(d), p.thread.Name)
				}
			}
			report(p.finding(fmt.Sprintf("%s (%s) does not pass %s: it is %s wide", p.thread.Name, mm(p.thread.Major), p.hole(), mm(wide)), remedy))
		})
	},
}
