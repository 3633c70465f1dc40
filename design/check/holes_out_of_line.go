package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
)

// HolesOutOfLine finds places of joints through whose holes no straight screw goes, or
// whose shaft misses its hole: they miss each other by more than their play allows.
var HolesOutOfLine = Rule{
	Rule: finding.Rule{
		Name: "holes-out-of-line", Severity: finding.Error,
		Reason: "The builder finds the second screw beside its hole, and files or drills anew.",
		Remedy: "move one of the holes, or the part, by what they miss",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		astray := s.astray()
		for _, one := range astray.all() {
			f := one.finding()
			for _, o := range s.overlapping() {
				if s.strayIn(o) == one {
					f.Also = append(f.Also, finding.Related{At: inAssembly(o.deepest.In, o.deepest.A).word.At, Say: s.overlapText(o)})
				}
			}
			report(f)
		}
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			missing := map[int]joint.Miss{}
			say := func(p *joint.Stack) string {
				miss, found := s.joints().MissOf(p)
				if !found || astray.tells(a) != nil {
					return ""
				}
				missing[p.Place] = miss
				return fmt.Sprintf("%q and %q %s", miss.Guide.Word.Text, miss.Other.Word.Text, miss.Says())
			}
			placesSaying(places, say, func(text string, at []joint.Stack) {
				f := s.aboutScrew(a, j, at, len(places), text)
				f.At = missing[at[0].Place].Other.Word.At
				report(f)
			})
		})
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			said := map[string]bool{}
			for _, at := range s.joints().Matings(a, j) {
				if text := s.besideText(j, at); text != "" && !said[text] && astray.tells(a) == nil {
					said[text] = true
					report(finding.Finding{
						At: at.Theirs.Word.At, Subject: jointSubject(a, j), Message: text,
						Also: []finding.Related{{At: at.Mine.Word.At, Say: "what goes in"}},
					})
				}
			}
		})
	},
}

// besideWithin (mm) is how far a running thread may lie off its nut.
const besideWithin = 0.05

// besideText says by how much a shaft misses its hole, "" where it goes in.
func (s *Situation) besideText(j *plan.Joint, at layout.Mating) string {
	fit, ok := s.joints().FitOf(at)
	if !ok && (j.Kind.Text != plan.Run || at.Mine.Feature.D <= 0 || at.Theirs.Feature.D <= 0) {
		return ""
	}
	allowed := math.Max(fit.Most/2, 0) + joint.InLine
	if j.Kind.Text == plan.Run {
		allowed = besideWithin
	}
	name := fmt.Sprintf("%q and %q", at.Mine.Spot.Path+"."+at.Mine.Spot.Feature, at.Theirs.Spot.Path+"."+at.Theirs.Spot.Feature)
	switch {
	case at.Tilt > joint.Straight:
		return fmt.Sprintf("%s stand askew to each other by %s°", name, hundredthsOf(at.Tilt*180/math.Pi))
	case at.Aside > allowed:
		return fmt.Sprintf("the axes of %s miss by %s, their play allows %s", name, hundredths(at.Aside), hundredths(math.Max(fit.Most/2, 0)))
	}
	return ""
}
