package check

import (
	"plansheaf/design/chain"
	"plansheaf/design/finding"
)

// ChainToleranceAssumed finds sizes of bought parts in tolerance chains that nobody gives a tolerance.
var ChainToleranceAssumed = Rule{
	Rule: finding.Rule{
		Name: "chain-tolerance-assumed", Severity: finding.Advice,
		Reason: "A bought part comes as its maker makes it; the drawing's general tolerance does not bind him.",
		Remedy: "give the size its spread from the maker's data sheet",
	},
	Each: chainFaults(chain.Taken),
}
