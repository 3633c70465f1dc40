package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// ThreadMismatch finds screws that do not fit the thread they go into: that of a
// tapped hole, of an insert, of a nut, or the hole in which they form their own.
var ThreadMismatch = Rule{
	Rule: finding.Rule{
		Name: "thread-mismatch", Severity: finding.Error,
		Reason: "The screw does not turn in, or starts askew and strips the thread.",
		Remedy: "give both the same thread",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachPassing(func(p passing) {
			h := p.spot.Hole
			if h == nil || !p.bites || (h.Kind.Text != plan.Tap && h.Kind.Text != plan.Forms && h.Kind.Text != plan.Insert) {
				return
			}
			t, ok := standards.ThreadByName(h.Thread.Text)
			if !ok || sameThread(p.thread, t) {
				return
			}
			report(p.finding(fmt.Sprintf("the screw is %s, %s takes %s%s", p.thread.Name, p.hole(), t.Name, lookalike(p.thread, t)),
				fmt.Sprintf("make the hole for %s, or take a screw %s", p.thread.Name, t.Name)))
		})
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) { s.nutMismatch(a, j, report) })
	},
}

// nutMismatch looks at the thread of a joint's nut or insert.
func (s *Situation) nutMismatch(a *plan.Assembly, j *plan.Joint, report func(finding.Finding)) {
	_, thread, ok := s.screwOf(j)
	nut := joint.NutOf(s.Reckoning, j)
	if !ok || nut == nil || !isNut(nut) {
		return
	}
	t, ok := joint.ThreadOf(s.Reckoning, nut)
	if !ok || sameThread(thread, t) {
		return
	}
	w, _ := j.Into.Pick(s.Case.Options)
	report(finding.Finding{
		At: w.At, Subject: jointSubject(a, j),
		Message: fmt.Sprintf("the screw is %s, %q takes %s%s", thread.Name, w.Text, t.Name, lookalike(thread, t)),
		Also:    []finding.Related{{At: nut.Part.ID.At, Say: "the nut"}},
	})
}
