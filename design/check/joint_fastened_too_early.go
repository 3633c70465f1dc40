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
			for _, deed := range o.handled[j].fastens {
				path, adds := o.missing(a, j, deed.step)
				if path == "" {
					continue
				}
				message := fmt.Sprintf("%q needs %q, which the step %s adds later", j.ID.Text, path, o.say(adds))
				remedy := fmt.Sprintf("fasten it in %s, or add %q before", o.say(adds), path)
				if !o.before(deed.step, adds) {
					message = fmt.Sprintf("%q needs %q, and nothing says that the step %s, which adds it, comes before", j.ID.Text, path, o.say(adds))
					remedy = fmt.Sprintf("name %s under needs", o.say(adds))
				}
				report(finding.Finding{
					At: deed.word.At, Subject: jointSubject(a, j), Message: message, Remedy: remedy,
					Also: []finding.Related{{At: o.steps[adds].step.ID.At, Say: "added here"}},
				})
			}
		})
	},
}

// missing is the first part of a joint that is not there when a step makes it, and
// the step that adds it; "" where all are.
func (o *order) missing(a *plan.Assembly, j *plan.Joint, step int) (path string, adds int) {
	for _, w := range jointFeatures(j) {
		for _, spot := range o.s.Reckoning.Spots(a, w) {
			adding := o.there(a, spot.Path)
			here := len(adding) == 0
			for _, i := range adding {
				here = here || o.by(i, step)
			}
			if !here {
				return spot.Path, adding[0]
			}
		}
	}
	return "", 0
}
