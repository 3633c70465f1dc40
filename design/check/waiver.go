package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var (
	// WaiverPast finds waivers whose last revision is behind us.
	WaiverPast = finding.Rule{
		Name: "waiver-past", Severity: finding.Error,
		Reason: "The author let something stand up to a revision, and that revision is past.",
		Remedy: "mend what the waiver lets stand, or give the waiver a later revision and say why",
	}
	// WaiverForNothing finds waivers that no finding answers to.
	WaiverForNothing = finding.Rule{
		Name: "waiver-for-nothing", Severity: finding.Warning,
		Reason: "A waiver that waives nothing hides the next fault of its kind.",
		Remedy: "take the waiver out, or correct its rule and subject",
	}
	// WaiverWithoutReason finds waivers that do not say why.
	WaiverWithoutReason = finding.Rule{
		Name: "waiver-without-reason", Severity: finding.Error,
		Reason: "Followers read the waivers as open questions; one without a reason answers none.",
		Remedy: "say why it may stand, under because",
	}
)

func waiverRules() []finding.Rule {
	return []finding.Rule{WaiverPast, WaiverForNothing, WaiverWithoutReason}
}

// waive marks the findings that the plan lets stand, and finds fault with the
// waivers themselves.
func waive(p *plan.Plan, found []finding.Finding) []finding.Finding {
	var own []finding.Finding
	for _, w := range p.Waivers {
		switch {
		case !w.Because.Given():
			own = append(own, WaiverWithoutReason.Stamp(finding.Finding{At: w.At, Message: fmt.Sprintf("the waiver of %s does not say why", w.Rule.Text)}))
			continue
		case past(p, w.Until):
			own = append(own, WaiverPast.Stamp(finding.Finding{
				At: w.Until.At, Subject: w.Subject.Text,
				Message: fmt.Sprintf("the waiver of %s ends with revision %s, this is revision %s", w.Rule.Text, w.Until.Text, p.Revision.Text),
			}))
			continue
		}
		if !apply(w, found) {
			own = append(own, WaiverForNothing.Stamp(finding.Finding{
				At: w.Rule.At, Subject: w.Subject.Text,
				Message: fmt.Sprintf("nothing is found by %s at %q", w.Rule.Text, w.Subject.Text),
			}))
		}
	}
	return append(found, own...)
}

func apply(w *plan.Waiver, found []finding.Finding) (any bool) {
	for i := range found {
		f := &found[i]
		if f.Rule != w.Rule.Text || f.Subject != w.Subject.Text || f.Waived != nil {
			continue
		}
		f.Waived = &finding.Waiver{At: w.At, Because: w.Because.Value, Until: w.Until.Text}
		any = true
	}
	return any
}

// past reports whether until stands before the plan's revision in its history. A
// revision that the history does not know lies ahead.
func past(p *plan.Plan, until plan.Word) bool {
	if !until.Given() {
		return false
	}
	now, then := -1, -1
	for i, e := range p.History {
		if e.Revision.Text == p.Revision.Text {
			now = i
		}
		if e.Revision.Text == until.Text {
			then = i
		}
	}
	if now < 0 || then < 0 || now == then {
		return false
	}
	// A history may be written oldest or newest first; its dates tell which.
	newestFirst := p.History[0].Date.Text > p.History[len(p.History)-1].Date.Text
	return (then < now) != newestFirst
}
