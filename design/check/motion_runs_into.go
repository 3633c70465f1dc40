package check

import (
	"fmt"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// MotionRunsInto finds motions on whose way something runs into something else.
var MotionRunsInto = Rule{
	Rule: finding.Rule{
		Name: "motion-runs-into", Severity: finding.Error,
		Reason: "The machine stops there, or breaks what is in the way.",
		Remedy: "end the travel before, or make room",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, t := range s.Clashes().Travels {
			for _, c := range t.Clashes {
				if !s.wrongScrew(c.A) && !s.wrongScrew(c.B) && s.astray().meets(c.In, c.A, c.B, c.Depth) == nil {
					report(s.runsInto(t, c))
				}
			}
		}
	},
}

func (s *Situation) runsInto(t *clash.Travel, c clash.Clash) finding.Finding {
	text := fmt.Sprintf("with %s%s %q first touches %q, at %s of the machine; they overlap by %s", s.standsText(t.Motion, c.First), s.othersText(c.Others), c.A.Name(), c.B.Name(), placeText(c.At), hundredths(c.Depth))
	if s.travelled(c.Deepest) != s.travelled(c.First) {
		text += fmt.Sprintf(" with %s", s.standsText(t.Motion, c.Deepest))
	}
	if c.Passes {
		text += "; at the end they are apart again"
	}
	text += fmt.Sprintf(" (it goes from %s to %s)", s.travelled(t.From), s.travelled(t.To))
	if c.Instances > 1 {
		text += fmt.Sprintf("; in each of %s %q", number(c.Instances), c.In.Assembly.ID.Text)
	}
	f := s.about(c.In, c.A, c.B, text)
	f.Also = append(f.Also, motionAt(t.Motion))
	return f
}

func motionAt(m *plan.Motion) finding.Related {
	return finding.Related{At: m.ID.At, Say: "the motion"}
}
