package check

import (
	"fmt"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// ScrewIsNoScrew finds joints whose screw, pin, rivet, ring, washer or nut is something else.
var ScrewIsNoScrew = Rule{
	Rule: finding.Rule{
		Name: "screw-is-no-screw", Severity: finding.Error,
		Reason: "The joint is told to be held by something that holds nothing, or in a place where it cannot.",
		Remedy: "name a standard screw, washer or nut, or say in the part what fastener it is: fastener: {screw: M6}",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			look := func(ref plan.Reference, what string, is func(id string) bool) {
				w, ok := ref.Pick(s.Case.Options)
				if !ok || s.Reckoning.Part(w.Text) == nil || is(w.Text) {
					return
				}
				report(finding.Finding{
					At: w.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf("%q is no %s", w.Text, what),
					Also:    []finding.Related{{At: s.Reckoning.Plan.Part(w.Text).ID.At, Say: "what it is"}},
				})
			}
			// A part whose designation cannot be read is reported for that.
			unread := func(id string) bool {
				p := s.Reckoning.Part(id)
				return p.Part.Standard.Given() && p.Fastener == nil
			}
			what, is := fastenerOf(j)
			look(j.Fastener, what, func(id string) bool { return unread(id) || is(s.Reckoning.Part(id)) })
			look(j.Into, "nut or insert", func(id string) bool { return unread(id) || isNut(s.Reckoning.Part(id)) })
			for _, w := range append(append([]plan.Reference(nil), j.UnderHead...), j.UnderNut...) {
				look(w, "washer", func(id string) bool { return unread(id) || isWasher(s.Reckoning.Part(id)) })
			}
		})
	},
}

// fastenerOf is what a joint's fastener must be, in words and as a test.
func fastenerOf(j *plan.Joint) (what string, is func(*reckon.Part) bool) {
	of := func(kinds ...standards.Kind) func(*reckon.Part) bool {
		return func(p *reckon.Part) bool { return p.Fastener != nil && slices.Contains(kinds, p.Fastener.Kind) }
	}
	switch j.Kind.Text {
	case plan.Pin:
		return "pin", of(standards.Pin, standards.SpringPin)
	case plan.Rivet:
		return "rivet", of(standards.Rivet)
	case plan.Ring:
		return "retaining ring", of(standards.Ring)
	}
	return "screw", isScrew
}
