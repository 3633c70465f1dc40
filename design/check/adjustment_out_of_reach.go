package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// AdjustmentOutOfReach finds joints that must stay within reach on the finished machine, and do not.
var AdjustmentOutOfReach = Rule{
	Rule: finding.Rule{
		Name: "adjustment-out-of-reach", Severity: finding.Error,
		Reason: "Belts stretch and frames move: to adjust it, the machine must come apart.",
		Remedy: "leave a key room, or turn the screw the other way round",
	},
	Each: obstructed("says stays_reachable, but cannot be reached on the finished machine", sequence.Unadjustable),
}
