package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
)

// StrandTooShort finds cables, hoses and wires that do not reach from end to end,
// drawn straight from place to place, at rest or at the ends of the motions.
var StrandTooShort = Rule{
	Rule: finding.Rule{
		Name: "strand-too-short", Severity: finding.Error,
		Reason: "The builder cuts it as stated, and it does not reach.",
		Remedy: "make it longer than its straight path: bends, slack and what goes into its ends come on top",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		if len(s.Layout.Strands()) == 0 {
			return
		}
		said := map[string]bool{} // each strand once, in the first pose that shows it
		for _, p := range s.poses() {
			for _, st := range p.layout.Strands() {
				if st.Stated <= 0 || st.Over() >= 0 || said[st.Instance.Path] {
					continue
				}
				said[st.Instance.Path] = true
				subject, also := instanceSubject(st.Instance)
				report(finding.Finding{
					At: st.Part.Part.Strand.Length.At, Subject: subject, Also: []finding.Related{also},
					Message: p.at(fmt.Sprintf("%q is %s long, and the straight path from place to place is %s", st.Instance.Use.ID.Text, mm(st.Stated), hundredths(st.Path))),
					Remedy:  fmt.Sprintf("make it more than %s long, and add what bends, slack and its ends take", mm(math.Ceil(st.Path))),
				})
			}
		}
	},
}
