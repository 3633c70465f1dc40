package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// ScrewOutOfReach finds screws that no tool turns when their step comes: neither key, driver, bit, spanner nor
// socket has room on them, with the machine in any position.
var ScrewOutOfReach = Rule{
	Rule: finding.Rule{
		Name: "screw-out-of-reach", Severity: finding.Error,
		Reason: "The builder has everything in place and cannot tighten it.",
		Remedy: "tighten it before what is in the way comes in, or give the tool room",
	},
	Each: obstructed("cannot be tightened", sequence.OutOfReach),
}
