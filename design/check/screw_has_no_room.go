package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// ScrewHasNoRoom finds screws that themselves cannot be put in when their step comes: there is less room
// above their place than they are long, or no way to there.
var ScrewHasNoRoom = Rule{
	Rule: finding.Rule{
		Name: "screw-has-no-room", Severity: finding.Error,
		Reason: "The builder holds the right screw and cannot get it into its hole.",
		Remedy: "put it in before what is in the way comes, or use a shorter screw",
	},
	Each: obstructed("cannot be put in", sequence.ScrewShutOut),
}
