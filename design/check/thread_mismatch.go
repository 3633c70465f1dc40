package check

import (
	"fmt"
	"math"

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
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			s.nutMismatch(a, j, report)
			s.runMismatch(a, j, report)
		})
	},
}

// runMismatch looks at a thread that turns in use: diameter and lead of screw and nut.
func (s *Situation) runMismatch(a *plan.Assembly, j *plan.Joint, report func(finding.Finding)) {
	if j.Kind.Text != plan.Run {
		return
	}
	for _, at := range s.joints().Matings(a, j) {
		mine, theirs := s.joints().LeadOf(at.Mine), s.joints().LeadOf(at.Theirs)
		fit, round := s.joints().FitOf(at)
		name := fmt.Sprintf("%q turns in %q", at.Mine.Word.Text, at.Theirs.Word.Text)
		message := ""
		wide, narrow := math.Max(at.Mine.Feature.D, at.Theirs.Feature.D), math.Min(at.Mine.Feature.D, at.Theirs.Feature.D)
		switch {
		case mine > 0 && theirs > 0 && math.Abs(mine-theirs) > threadWithin:
			message = fmt.Sprintf("%s, and their leads are %s and %s", name, hundredths(mine), hundredths(theirs))
		case s.joints().Hand(at.Mine)*s.joints().Hand(at.Theirs) < 0:
			message = fmt.Sprintf("%s, and they are %s and %s", name, handText(s.joints().Hand(at.Mine)), handText(s.joints().Hand(at.Theirs)))
		case round && math.Abs(fit.Shaft.Nominal-fit.Hole.Nominal) > runWithin*fit.Shaft.Nominal:
			message = fmt.Sprintf("%s, and their diameters are %s and %s", name, hundredths(fit.Shaft.Nominal), hundredths(fit.Hole.Nominal))
		case !round && wide > 0 && narrow > 0 && wide-narrow > runWithin*wide:
			message = fmt.Sprintf("%s, and their diameters are %s and %s", name, hundredths(at.Mine.Feature.D), hundredths(at.Theirs.Feature.D))
		}
		if message != "" {
			report(finding.Finding{At: at.Theirs.Word.At, Subject: jointSubject(a, j), Message: message, Also: []finding.Related{{At: at.Mine.Word.At, Say: "the screw"}}})
			return
		}
	}
}

// handText says of which hand a thread is.
func handText(hand int) string {
	if hand < 0 {
		return "a left-hand thread"
	}
	return "a right-hand thread"
}

// runWithin is the share by which a nut may be drawn narrower than its screw: at the
// thread's minor diameter, which for a trapezoidal thread lies a pitch below the major.
const runWithin = 0.35

// seatSuits reports whether the seat of a joint's insert is made for a thread: then an
// insert of another is told as the wrong one for its seat.
func (s *Situation) seatSuits(a *plan.Assembly, j *plan.Joint, thread standards.Thread) bool {
	if len(j.Through) == 0 {
		return false
	}
	for _, w := range j.Through[len(j.Through)-1].Features {
		for _, spot := range s.Reckoning.Spots(a, w) {
			if spot.Hole != nil && spot.Hole.Kind.Text == plan.Insert {
				t, ok := standards.ThreadByName(spot.Hole.Thread.Text)
				return ok && sameThread(thread, t)
			}
		}
	}
	return false
}

// nutMismatch looks at the thread of a joint's nut or insert.
func (s *Situation) nutMismatch(a *plan.Assembly, j *plan.Joint, report func(finding.Finding)) {
	_, thread, ok := s.screwOf(j)
	nut := joint.NutOf(s.Reckoning, j)
	if !ok || nut == nil || !isNut(nut) {
		return
	}
	t, ok := joint.ThreadOf(s.Reckoning, nut)
	if !ok || sameThread(thread, t) || s.seatSuits(a, j, thread) {
		return
	}
	w, _ := j.Into.Pick(s.Case.Options)
	report(finding.Finding{
		At: w.At, Subject: jointSubject(a, j),
		Message: fmt.Sprintf("the screw is %s, %q takes %s%s", thread.Name, w.Text, t.Name, lookalike(thread, t)),
		Also:    []finding.Related{{At: nut.Part.ID.At, Say: "the nut"}},
	})
}
