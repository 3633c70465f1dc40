package check

import (
	"plansheaf/design/chain"
	"plansheaf/design/finding"
)

// ChainEndUnclear finds features of tolerance chains that have no one place along the chain.
var ChainEndUnclear = Rule{
	Rule: finding.Rule{
		Name: "chain-end-unclear", Severity: finding.Error,
		Reason: "The chain needs one place along its direction for each feature.",
		Remedy: "name a face square to the chain, an axis across it, or say with towards which wall or end is meant",
	},
	Each: chainFaults(chain.Unsuitable),
}
