package check

import (
	"plansheaf/design/chain"
	"plansheaf/design/finding"
)

// ChainToleranceMissing finds sizes in tolerance chains that have no tolerance, nor a general one.
var ChainToleranceMissing = Rule{
	Rule: finding.Rule{
		Name: "chain-tolerance-missing", Severity: finding.Warning,
		Reason: "A size without a tolerance counts as exact, and the gap looks surer than it is.",
		Remedy: "give the size a tolerance, or the plan a general one: tolerances: ISO 2768-m",
	},
	Each: chainFaults(chain.NoTolerance),
}
