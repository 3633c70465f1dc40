package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// PlacedOnAbsentPart finds parts whose place hangs on one that the choice leaves
// out: what belts run around and are pressed by, what strands reach, what telescoping
// parts are fixed to. A seat on nothing is found when parts are placed.
var PlacedOnAbsentPart = Rule{
	Rule: finding.Rule{
		Name: "placed-on-absent-part", Severity: finding.Error,
		Reason: "For the builder who chose otherwise the part has no place: what it hangs on is not there.",
		Remedy: "tie it to the same choice with only, or give it a place that is always there",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, a := range s.Reckoning.Plan.Assemblies {
			if !s.assembled(a) {
				continue
			}
			for _, u := range a.Holds {
				if !u.Only.Fits(s.Case.Options) {
					continue
				}
				for _, w := range hangsOn(u) {
					if _, absent := s.instances(a, w); absent != nil {
						report(finding.Finding{
							At: w.At, Subject: a.ID.Text + "." + u.ID.Text,
							Message: fmt.Sprintf("%q hangs on %q, which is there only with %s", u.ID.Text, w.Text, onlyText(absent.Only)),
							Also:    []finding.Related{{At: absent.ID.At, Say: "the part that is left out"}},
						})
					}
				}
			}
		}
	},
}

// hangsOn are the features of others that a use without a rigid place hangs on.
func hangsOn(u *plan.Use) []plan.Word {
	words := append([]plan.Word(nil), u.Around...)
	for _, e := range u.Between {
		words = append(words, e.Theirs)
	}
	for _, w := range []plan.Word{u.Pressed, u.From, u.To} {
		if w.Given() {
			words = append(words, w)
		}
	}
	for _, stop := range u.Via {
		if stop.Of.Given() {
			words = append(words, stop.Of)
		}
	}
	return words
}
