package check

import (
	"plansheaf/design/clash"
	"plansheaf/design/finding"
)

// BodiesOverlapSlightly finds bodies that fill the same room by no more than the
// tolerances of their making.
var BodiesOverlapSlightly = Rule{
	Rule: finding.Rule{
		Name: "bodies-overlap-slightly", Severity: finding.Warning,
		Reason: "Made as drawn the parts do not go together; whoever makes them well has to file.",
		Remedy: "leave as much as the tolerance of both between them; state what is meant with overlaps",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, fault := range s.overlapFaults() {
			if fault.beyond() <= clash.Slight {
				report(s.overlapFaultFinding(&fault))
			}
		}
	},
}
