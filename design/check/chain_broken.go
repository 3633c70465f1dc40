package check

import (
	"plansheaf/design/chain"
	"plansheaf/design/finding"
)

// ChainBroken finds tolerance chains whose parts do not touch, or that nothing leads along.
var ChainBroken = Rule{
	Rule: finding.Rule{
		Name: "chain-broken", Severity: finding.Error,
		Reason: "A chain whose parts do not touch says nothing about the gap.",
		Remedy: "name features that lie on each other, in order",
	},
	Each: chainFaults(chain.Apart),
}
