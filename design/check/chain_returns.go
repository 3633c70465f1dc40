package check

import (
	"plansheaf/design/chain"
	"plansheaf/design/finding"
)

// ChainReturns finds tolerance chains that come back to a part.
var ChainReturns = Rule{
	Rule: finding.Rule{
		Name: "chain-returns", Severity: finding.Error,
		Reason: "A part that a chain passes twice is held by two ways at once, and its size would count twice.",
		Remedy: "name features so that the chain passes each part once",
	},
	Each: chainFaults(chain.Twice),
}
