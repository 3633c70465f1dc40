package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// StrandDrawnThrough finds cables, hoses and wires that are drawn straight through
// something solid and are long enough to be led around it.
var StrandDrawnThrough = Rule{
	Rule: finding.Rule{
		Name: "strand-drawn-through", Severity: finding.Advice,
		Reason: "The drawing shows it where it cannot lie, and each builder leads it another way: past an edge, or into what moves.",
		Remedy: "name in via what it is led past: a clip, a gland, a hole",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, c := range s.Clashes().Strands {
			if spare := c.Strand.Over(); c.Through > 0 && c.Strand.Stated > 0 && spare >= c.Around && c.Around >= bends {
				f := strandFinding(c)
				f.Message += fmt.Sprintf("; around takes %s more at least, and it has %s to spare", hundredths(c.Around), hundredths(spare))
				report(f)
			}
		}
	},
}

// bends (mm) is how much longer a way may be for any cable or hose to take it by itself.
const bends = 5
