package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// NutNotHeld finds nuts that turn along with their screw while no spanner or socket reaches them.
var NutNotHeld = Rule{
	Rule: finding.Rule{
		Name: "nut-not-held", Severity: finding.Error,
		Reason: "The screw turns and turns, and never becomes tight.",
		Remedy: "hold the nut in a pocket or slot, leave a spanner room, or tighten before what is in the way comes in",
	},
	Each: obstructed("has a nut that cannot be held", sequence.NutNotHeld),
}
