package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// TightenedNeverStarted finds joints that a step tightens, or leaves loose, although
// no step before it has started them loosely.
var TightenedNeverStarted = Rule{
	Rule: finding.Rule{
		Name: "tightened-never-started", Severity: finding.Error,
		Reason: "The builder looks for loose screws and finds none, or finds no screws at all.",
		Remedy: "start it with fastens and loose in an earlier step, or fasten it here",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			h := o.Handled(j)
			for _, t := range h.Tightens {
				started := false
				for _, l := range h.Loose {
					started = started || o.Before(l.Step, t.Step)
				}
				if !started {
					report(finding.Finding{
						At: t.Word.At, Subject: jointSubject(a, j),
						Message: fmt.Sprintf("the step %s tightens %q, and no step before it left it loose", o.Say(t.Step), j.ID.Text),
						Also:    []finding.Related{{At: j.ID.At, Say: "the joint"}},
					})
				}
			}
			for _, l := range h.Loose {
				made := false
				for _, f := range h.Fastens {
					made = made || o.By(f.Step, l.Step)
				}
				if !made {
					report(finding.Finding{
						At: l.Word.At, Subject: jointSubject(a, j),
						Message: fmt.Sprintf("the step %s leaves %q loose without having put it in", o.Say(l.Step), j.ID.Text),
						Remedy:  "name it under fastens of the same step",
					})
				}
			}
		})
	},
}
