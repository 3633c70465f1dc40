package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// SlidesInForNothing finds steps that put in slot nuts for a joint that takes none,
// or that is already made.
var SlidesInForNothing = Rule{
	Rule: finding.Rule{
		Name: "slides-in-for-nothing", Severity: finding.Warning,
		Reason: "The builder puts nuts into a slot that no screw will find, or that are needed no more.",
		Remedy: "name a joint that goes into a slot nut and is made in a later step",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			h := o.Handled(j)
			for _, d := range h.Slides {
				f := finding.Finding{At: d.Word.At, Subject: jointSubject(a, j), Also: []finding.Related{{At: j.ID.At, Say: "the joint"}}}
				nut := joint.NutOf(s.Reckoning, j)
				if nut == nil || nut.Part.Fastener == nil || !nut.Part.Fastener.Slot.Given() {
					f.Message = fmt.Sprintf("%q goes into no slot nut", j.ID.Text)
					report(f)
					continue
				}
				for _, made := range h.Fastens {
					if o.Before(made.Step, d.Step) {
						f.Message = fmt.Sprintf("%q is already made by the step %s", j.ID.Text, o.Say(made.Step))
						report(f)
						break
					}
				}
			}
		})
	},
}
