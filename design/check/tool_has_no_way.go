package check

import (
	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// ToolHasNoWay finds screws that a tool would turn if there were a straight way to put it on.
var ToolHasNoWay = Rule{
	Rule: finding.Rule{
		Name: "tool-has-no-way", Severity: finding.Warning,
		Reason: "The builder sees the screw and cannot bring the key to it, unless by some crooked way.",
		Remedy: "tighten it before what is in the way comes in, or leave the tool a way",
	},
	Each: obstructed("is hard to get at", sequence.NoWayForTool),
}
