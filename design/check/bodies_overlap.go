package check

import (
	"plansheaf/design/clash"
	"plansheaf/design/finding"
)

// BodiesOverlap finds bodies that fill the same room where the machine stands at rest,
// deeper than a file takes off.
var BodiesOverlap = Rule{
	Rule: finding.Rule{
		Name: "bodies-overlap", Severity: finding.Error,
		Reason: "Two things cannot be in one place: the builder cannot put the second one in.",
		Remedy: "move one of them or take off what is in the way; state what is meant with overlaps",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, fault := range s.overlapFaults() {
			if fault.beyond() > clash.Slight {
				report(s.overlapFaultFinding(&fault))
			}
		}
	},
}
