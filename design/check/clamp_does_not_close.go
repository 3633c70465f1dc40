package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// ClampDoesNotClose finds clamps whose screw does not bring them on to their shaft, or
// that do not go over it.
var ClampDoesNotClose = Rule{
	Rule: finding.Rule{
		Name: "clamp-does-not-close", Severity: finding.Error,
		Reason: "The clamp's halves meet before it grips, and the shaft slips; or it cannot be put on.",
		Remedy: "take a clamp for this shaft, or turn the shaft to the clamp's bore",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			clamp := joint.ClampOf(s.Reckoning, a, j)
			if clamp == nil {
				return
			}
			thin, thick, known := s.joints().ClampRange(clamp)
			if !known {
				return
			}
			for _, at := range s.joints().Matings(a, j) {
				shaft, ok := s.joints().SizeOf(at.Mine)
				if at.Mine.Part == clamp {
					shaft, ok = s.joints().SizeOf(at.Theirs)
				}
				if !ok {
					continue
				}
				say := ""
				switch {
				case shaft.High > thick+pinWithin:
					say = fmt.Sprintf("does not go on: it may be %s thick", microns(shaft.High))
				case shaft.Low < thin-pinWithin:
					say = fmt.Sprintf("is not gripped: it may be %s thin, the clamp holds down to %s", microns(shaft.Low), hundredths(thin))
				default:
					continue
				}
				report(finding.Finding{
					At: at.Theirs.Word.At, Subject: jointSubject(a, j), Message: fmt.Sprintf("%q is for %s, and the shaft (%s) %s", clamp.Part.ID.Text, mm(thick), shaft.Text, say),
					Also: []finding.Related{{At: clamp.Part.ID.At, Say: "the clamp"}},
				})
				return
			}
		})
	},
}
