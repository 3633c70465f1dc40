package check

import (
	"fmt"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
)

// MotionMeetsStrand finds motions on whose way something runs into a cable, hose or wire,
// or that draw one into something.
var MotionMeetsStrand = Rule{
	Rule: finding.Rule{
		Name: "motion-meets-strand", Severity: finding.Warning,
		Reason: "It gives way a few times, and then it is caught, chafed through or torn off.",
		Remedy: "lead it out of the way: name in via what holds it there; where its end goes along, what carries the loop",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, t := range s.Clashes().Travels {
			for _, c := range t.Snags {
				report(s.snagged(t, c))
			}
		}
	},
}

func (s *Situation) snagged(t *clash.Travel, c clash.Snag) finding.Finding {
	subject, also := instanceSubject(c.Strand.Instance)
	says := fmt.Sprintf("%q runs into %q", c.Body.Name(), c.Strand.Instance.Path)
	if c.Carried {
		says = fmt.Sprintf("%q is drawn into %q", c.Strand.Instance.Path, c.Body.Name())
	}
	f := finding.Finding{At: also.At, Subject: subject, Message: fmt.Sprintf("with %s %s, at %s of the machine (the motion goes from %s to %s, the strand is %s thick)",
		s.standsText(t.Motion, c.First), says, placeText(c.At), s.travelled(t.From), s.travelled(t.To), mm(c.Strand.D))}
	if b := c.Body.In; b.Use != nil {
		f.Also = append(f.Also, finding.Related{At: b.Use.ID.At, Say: "what it meets"})
	}
	f.Also = append(f.Also, motionAt(t.Motion))
	return f
}
