package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// JointFastenedTooEarly finds joints that a step makes before their parts are
// there. A part whose absence in all steps is reported by itself is passed over.
var JointFastenedTooEarly = Rule{
	Rule: finding.Rule{
		Name: "joint-fastened-too-early", Severity: finding.Error,
		Reason: "The builder is told to fasten something that is not there yet.",
		Remedy: "fasten it in the step that adds the last of its parts, or in a later one",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			for _, deed := range o.Handled(j).Fastens {
				path, adds := o.Missing(a, j, deed.Step)
				if path == "" {
					continue
				}
				message := fmt.Sprintf("%q needs %q, which the step %s adds later", j.ID.Text, path, o.Say(adds))
				remedy := fmt.Sprintf("fasten it in %s, or add %q before", o.Say(adds), path)
				if !o.Before(deed.Step, adds) {
					message = fmt.Sprintf("%q needs %q, and nothing says that the step %s, which adds it, comes before", j.ID.Text, path, o.Say(adds))
					remedy = fmt.Sprintf("name %s under needs", o.Say(adds))
				}
				report(finding.Finding{
					At: deed.Word.At, Subject: jointSubject(a, j), Message: message, Remedy: remedy,
					Also: []finding.Related{{At: o.Steps[adds].Step.ID.At, Say: "added here"}},
				})
			}
		})
	},
}
