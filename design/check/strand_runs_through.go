package check

import (
	"fmt"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
)

// StrandRunsThrough finds cables, hoses and wires in whose way from place to place
// something solid stands, and that are too short to be led around it.
var StrandRunsThrough = Rule{
	Rule: finding.Rule{
		Name: "strand-runs-through", Severity: finding.Warning,
		Reason: "It reaches on the drawing, straight through what stands there; on the machine it ends before its plug.",
		Remedy: "take a longer one, and name in via what it is led past",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, c := range s.Clashes().Strands {
			spare := c.Strand.Over()
			if c.Strand.Stated <= 0 || spare < 0 || spare >= c.Around || c.Through == 0 && c.Around < yields {
				continue // one that is too short for the straight way is found by its own rule
			}
			f := strandFinding(c)
			f.Message += fmt.Sprintf("; around takes %s more at least, and it has %s to spare", hundredths(c.Around), hundredths(spare))
			report(f)
		}
	},
}

// yields (mm) is how much too short a taut cable or hose may be to lie beside what it is
// drawn into: as much as it stretches and its ends give.
const yields = 0.5

// strandFinding is a finding about a strand that goes straight through something.
func strandFinding(c clash.Crossed) finding.Finding {
	subject, also := instanceSubject(c.Strand.Instance)
	text := fmt.Sprintf("%q is drawn straight through %q, from %s of the machine on", c.Strand.Instance.Path, c.Body.Name(), placeText(c.At))
	if c.Through == 0 {
		text = fmt.Sprintf("%q is drawn %s into %q, at %s of the machine", c.Strand.Instance.Path, hundredths(c.Deep), c.Body.Name(), placeText(c.At))
	}
	if c.Through > 1 {
		text += fmt.Sprintf(", and through %s other things", number(c.Through-1))
	}
	f := finding.Finding{At: also.At, Subject: subject, Message: text}
	if b := c.Body.In; b.Use != nil {
		f.Also = append(f.Also, finding.Related{At: b.Use.ID.At, Say: "what it goes through"})
	}
	return f
}
