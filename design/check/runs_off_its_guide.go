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
