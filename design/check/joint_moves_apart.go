package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// JointMovesApart finds joints that hold together what a motion moves apart.
var JointMovesApart = Rule{
	Rule: finding.Rule{
		Name: "joint-moves-apart", Severity: finding.Error,
		Reason: "What is screwed, pinned or glued together cannot move against each other: the machine is stuck, or the joint breaks.",
		Remedy: "move both parts by the same motion, take the joint out, or let one slide, run or turn in the other",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for i, m := range s.Reckoning.Plan.Motions {
			if i >= maxPosed {
				return
			}
			poses := s.onTheWay(m)
			s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
				var t joint.Tie
				for _, l := range poses {
					for _, other := range s.joints().Apart(a, j, l) {
						if other.Apart > t.Apart {
							t = other
						}
					}
				}
				if t.Apart == 0 {
					return
				}
				report(finding.Finding{
					At: t.Other.Word.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf("%q moves %s and %s, and the joint holds them together: they come %s apart on the way", m.ID.Text, movesText(t.OnePath, t.ByOne), movesText(t.OtherPath, t.ByOther), hundredths(t.Apart)),
					Also:    []finding.Related{{At: t.One.Word.At, Say: "what it is joined to"}, {At: m.ID.At, Say: "the motion"}},
				})
			})
		}
	},
}

// movesText is how far a part moves: `"carriage.plate" by 46 mm`.
func movesText(path string, by float64) string {
	if by < gapWithin {
		return fmt.Sprintf("%q not at all", path)
	}
	return fmt.Sprintf("%q by %s", path, hundredths(by))
}

// onTheWay is the machine with a motion on its way and at either end; none where the motion
// has no range. Of the way two places are taken that are no whole shares of it, where what
// turns would look as at rest.
func (s *Situation) onTheWay(m *plan.Motion) []*layout.Layout {
	from, to, err := s.Reckoning.Range(m)
	if err != nil {
		return nil
	}
	var out []*layout.Layout
	for _, share := range []float64{0, 0.382, 0.809, 1} {
		at := from
		at.SI += share * (to.SI - from.SI)
		if l, err := s.Layout.At(map[string]quantity.Value{m.ID.Text: at}); err == nil {
			out = append(out, l)
		}
	}
	return out
}
