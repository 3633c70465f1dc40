package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// NutHasNoWay finds nuts that cannot be put in when their step comes: trapped by a part that came before,
// or kept from a slot whose ends and mouth are closed.
var NutHasNoWay = Rule{
	Rule: finding.Rule{
		Name: "nut-has-no-way", Severity: finding.Error,
		Reason: "The nut belongs where nothing can be put any more: the machine must come apart again.",
		Remedy: "put it in while its place is open; a nut in a slot is named under slides_in of an earlier step",
	},
	Each: obstructed("has a nut that cannot be put in", sequence.NutShutOut),
}
