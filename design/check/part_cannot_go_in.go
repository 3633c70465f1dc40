package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// PartCannotGoIn finds parts that have no way to their place when their step comes: moved any straight way
// they meet something before they have left it; and ways given by the plan that are not free.
var PartCannotGoIn = Rule{
	Rule: finding.Rule{
		Name: "part-cannot-go-in", Severity: finding.Error,
		Reason: "The builder stands there with a part that does not go in any more.",
		Remedy: "add it before what is in the way, or say by which way it comes in: way: [y, -z 20 mm]",
	},
	Each: obstructed("has no way in", sequence.PartShutOut, sequence.WayBlocked),
}
