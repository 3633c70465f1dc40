package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// ScrewInStrand finds screws, nuts and washers that sit in a cable, hose or wire where a
// hole or a clip holds it, so that it cannot give way.
var ScrewInStrand = Rule{
	Rule: finding.Rule{
		Name: "screw-in-strand", Severity: finding.Error,
		Reason: "The screw goes through the cable, or the cable lies where the screw has to go: one of them cannot be put in, or a conductor is cut.",
		Remedy: "take a shorter screw, or lead the strand through another place",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, c := range s.Clashes().Pierced {
			subject, also := instanceSubject(c.Strand.Instance)
			f := finding.Finding{At: also.At, Subject: subject, Message: fmt.Sprintf("%q sits %s deep in %q, at %s of the machine, where %q holds it",
				c.Body.Name(), hundredths(c.Depth), c.Strand.Instance.Path, placeText(c.At), c.Strand.Stops[c.Stop].Path)}
			f.Also = append(f.Also, finding.Related{At: c.Body.Joint.ID.At, Say: "its joint"})
			report(f)
		}
	},
}
