package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
)

// StepsWaitForEachOther finds circles of steps that run through more than one
// assembly: what a step adds is put together by steps that wait for it. Circles within
// one file are found when it is read.
var StepsWaitForEachOther = Rule{
	Rule: finding.Rule{
		Name: "steps-wait-for-each-other", Severity: finding.Error,
		Reason: "There is no order in which the builder could do these steps.",
		Remedy: "take one of the needs out, or add the parts one by one",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		g := s.order().Graph
		for _, circle := range g.Circles() {
			first := g.Steps[circle[0]]
			whole := true
			var names []string
			for _, k := range circle {
				whole = whole && g.Steps[k].Assembly == first.Assembly
				names = append(names, g.Say(k))
			}
			if whole {
				continue
			}
			report(finding.Finding{
				At: first.Step.ID.At, Subject: first.String(),
				Message: fmt.Sprintf("these steps wait for each other: %s, %s", strings.Join(names, ", "), names[0]),
			})
		}
	},
}
