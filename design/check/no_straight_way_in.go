package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// NoStraightWayIn finds parts that leave their place freely, but meet something further out on every straight
// way.
var NoStraightWayIn = Rule{
	Rule: finding.Rule{
		Name: "no-straight-way-in", Severity: finding.Warning,
		Reason: "The builder must find a crooked way in, which may not be there.",
		Remedy: "say by which way it comes in: way: [y, -z 20 mm]; or add it earlier",
	},
	Each: obstructed("has no straight way in", sequence.PartMeets),
}
