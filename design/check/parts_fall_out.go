package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// PartsFallOut finds steps that turn the work over while parts of it lie loose: added
// before, held by no joint but one that slides, with room below them as the work comes to
// lie.
var PartsFallOut = Rule{
	Rule: finding.Rule{
		Name: "parts-fall-out", Severity: finding.Advice,
		Reason: "What only lies in its place falls out when the work is turned over.",
		Remedy: "fasten it first, add it after the work has been turned, or say in the text what holds it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		rec := s.Sequence()
		for i := range rec.Graph.Steps {
			rest := rec.Card(i).Rest
			if len(rest.Falls) == 0 || rest.On == plan.Hand {
				continue
			}
			step := rec.Graph.Steps[i]
			var names []string
			for _, name := range rest.Falls {
				names = append(names, fmt.Sprintf("%q", name))
			}
			falls, them := names[0]+" falls", "it"
			if len(names) > 1 {
				falls, them = strings.Join(names, ", ")+" fall", "them"
			}
			report(finding.Finding{
				At: restAt(step.Step), Subject: step.String(),
				Message: fmt.Sprintf("%s out when %s lays the work %s: no joint holds %s yet", falls, step, restText(rest.On), them),
			})
		}
	},
}

// restAt is where a step says how the work lies.
func restAt(st *plan.Step) finding.Span {
	if st.RestsOn.Given() {
		return st.RestsOn.At
	}
	return st.ID.At
}
