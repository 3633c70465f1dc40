package check

import (
	"fmt"
	"strings"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
)

// MotionsNotFollowed finds parts that several motions move to each other, and of which it
// could not be told whether they keep apart wherever these stand.
var MotionsNotFollowed = Rule{
	Rule: finding.Rule{
		Name: "motions-not-followed", Severity: finding.Advice,
		Reason: "Each motion by itself was followed from end to end; what happens with several of them under way is not known for these.",
		Remedy: "leave more room between the ways of the two, or move each by one motion only; else try it by hand and say so in a step",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		told := map[string]bool{}
		for _, o := range s.Clashes().Open {
			f := s.notFollowed(o)
			if key := f.Subject + fmt.Sprint(o.Coupled); !told[key] {
				told[key] = true
				report(f)
			}
		}
	},
}

func (s *Situation) notFollowed(o clash.Open) finding.Finding {
	var names []string
	for _, m := range o.Motions {
		names = append(names, m.ID.Text)
	}
	why := "they come so near each other in so many places that looking closer was given up"
	if o.Coupled {
		why = "one of these motions alters what another does"
	}
	text := fmt.Sprintf("whether %q and %q keep apart with %s in the middle of their ranges is not known: %s", o.A.Name(), o.B.Name(), strings.Join(names, " and "), why)
	f := s.about(commonHolder(o.A, o.B), o.A, o.B, text)
	for _, m := range o.Motions {
		f.Also = append(f.Also, motionAt(m))
	}
	return f
}
