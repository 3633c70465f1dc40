package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// SlotNutNeverSlidIn finds slot nuts that go in at the end of a bar and whose step
// comes when both ways along the slot are shut, be it by a joint's parts or by
// anything else that stands there.
var SlotNutNeverSlidIn = Rule{
	Rule: finding.Rule{
		Name: "slot-nut-never-slid-in", Severity: finding.Error,
		Reason: "The slot is closed at both ends and the nuts are outside: the machine must come apart again.",
		Remedy: "name the joint under slides_in of a step before the slot closes, or use nuts that go in from the front",
	},
	Each: obstructed("has slot nuts that cannot be slid in any more", sequence.SlotShut),
}
