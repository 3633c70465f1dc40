package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// FitOffRecord finds joints whose screw, chosen by a fit, is no longer the one that was
// recorded. A record holds for the plan's own case.
var FitOffRecord = Rule{
	Rule: finding.Rule{
		Name: "fit-off-record", Severity: finding.Error,
		Reason: "The stack has changed since the screw was chosen: who has bought the recorded one has the wrong length.",
		Remedy: "look at what has changed, then record the new screw",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		s := w.Default()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			chosen, ok := j.Fastener.Pick(s.Case.Options)
			if !ok || !j.Recorded.Given() || j.Recorded.Text == chosen.Text {
				return
			}
			why := ""
			if places := s.joints().Stacks(a, j); len(places) > 0 {
				p := tightest(places)
				why = fmt.Sprintf(": %s are needed now, %s", hundredths(p.Least()), p.Sum(s.Layout))
			}
			report(finding.Finding{
				At: j.Recorded.At, Subject: jointSubject(a, j),
				Message: fmt.Sprintf("the screw is now %q, recorded was %q%s", chosen.Text, j.Recorded.Text, why),
				Also:    []finding.Related{{At: chosen.At, Say: "what it is chosen by"}},
			})
		})
	},
}

// tightest is the place that needs the longest screw.
func tightest(places []joint.Stack) *joint.Stack {
	p := &places[0]
	for i := range places {
		if places[i].Least() > p.Least() {
			p = &places[i]
		}
	}
	return p
}
