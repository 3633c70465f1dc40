package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/risk"
)

// HazardMissing finds what can hurt in the machine and no hazard of the plan
// answers.
var HazardMissing = Rule{
	Rule: finding.Rule{
		Name: "hazard-missing", Severity: finding.Error,
		Reason: "Something that can hurt is there, and the builder is neither warned of it nor protected from it.",
		Remedy: "describe the hazard under safety/, with what is done against it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, c := range risk.Open(s.Reckoning) {
			report(finding.Finding{
				At: c.At, Subject: c.Subject,
				Message: fmt.Sprintf("%s; no hazard of kind %s answers it", c.Why, strings.Join(c.Kinds, " or ")),
				Remedy:  fmt.Sprintf("add a hazard: kind: %s, where: %s", c.Kinds[0], c.Subject),
			})
		}
	},
}
