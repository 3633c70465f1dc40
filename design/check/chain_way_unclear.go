package check

import (
	"plansheaf/design/chain"
	"plansheaf/design/finding"
)

// ChainWayUnclear finds tolerance chains between whose ends more than one way leads.
var ChainWayUnclear = Rule{
	Rule: finding.Rule{
		Name: "chain-way-unclear", Severity: finding.Error,
		Reason: "Each way has sizes of its own, and which one sets the gap is for the designer to say.",
		Remedy: "name a feature of the way that counts under through",
	},
	Each: chainFaults(chain.Several),
}
