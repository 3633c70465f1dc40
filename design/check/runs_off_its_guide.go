package check

import (
	"fmt"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// RunsOffItsGuide finds nuts that do not stand on their thread with all of their length,
// and bushes that run over the end of their rod, wherever motions take them.
var RunsOffItsGuide = Rule{
	Rule: finding.Rule{
		Name: "runs-off-its-guide", Severity: finding.Error,
		Reason: "A nut that hangs over the end of its thread bears on fewer turns and wears them out; once off it does not come back by itself. A bush at a rod's end tilts and wears to a funnel.",
		Remedy: "make the thread or the rod longer, move it, or end the travel before",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachGuided(func(g *clash.Guided) string {
			if g.Off <= 0 {
				return ""
			}
			return s.runsOffText(g)
		}, report)
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			if j.Kind.Text != plan.Run || s.threadsStand(a, j) || len(j.Mine.Features) == 0 || len(j.Theirs.Features) == 0 {
				return
			}
			mine, theirs := j.Mine.Features[0], j.Theirs.Features[0]
			report(finding.Finding{
				At: theirs.At, Subject: jointSubject(a, j), Also: []finding.Related{{At: mine.At, Say: "what it runs on"}},
				Message: fmt.Sprintf("%q cannot be followed on %q: one of them has no round shape or hole where its thread is", theirs.Text, mine.Text),
				Remedy:  "give the part a shape or a hole where its thread is, and name that in the joint",
			})
		})
	},
}

// eachGuided reports what is said of guided places, once for each joint that it is said
// of.
func (s *Situation) eachGuided(say func(g *clash.Guided) string, report func(finding.Finding)) {
	told := map[string]bool{}
	list := s.Clashes().Guided
	for i := range list {
		g := &list[i]
		text := say(g)
		subject := jointSubject(g.Held.Assembly, g.Held.Joint)
		if text == "" || told[subject+text] {
			continue
		}
		told[subject+text] = true
		report(finding.Finding{
			At: g.Mating.Theirs.Word.At, Subject: subject, Message: text,
			Also: []finding.Related{{At: g.Mating.Mine.Word.At, Say: "what it runs on"}},
		})
	}
}

func (s *Situation) runsOffText(g *clash.Guided) string {
	inner, outer := g.Inner.Word.Text, g.Outer.Word.Text
	stands := "as drawn"
	if len(g.Stands) > 0 {
		stands = "with " + s.allStand(g.Stands)
	}
	if g.Off >= g.InnerLong {
		return fmt.Sprintf("%s %q (%s long) is off %q altogether, %s past its end", stands, inner, hundredths(g.InnerLong), outer, hundredths(g.Off-g.InnerLong))
	}
	what := "the end of"
	if g.Held.Joint.Kind.Text == plan.Run {
		what = "the end of the thread"
	}
	return fmt.Sprintf("%s %q (%s long) hangs %s over %s %q", stands, inner, hundredths(g.InnerLong), hundredths(g.Off), what, outer)
}

// threadsStand reports whether it is known where the threads of a joint lie: in round
// features of some length.
func (s *Situation) threadsStand(a *plan.Assembly, j *plan.Joint) bool {
	places := s.joints().Matings(a, j)
	for _, at := range places {
		if at.Mine.Feature.Depth <= 0 || at.Theirs.Feature.Depth <= 0 {
			return false
		}
	}
	return len(places) > 0
}
