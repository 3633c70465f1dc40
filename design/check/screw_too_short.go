package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// ScrewTooShort finds screws that do not fill their nut, or turn in too little thread.
var ScrewTooShort = Rule{
	Rule: finding.Rule{
		Name: "screw-too-short", Severity: finding.Error,
		Reason: "The screw does not reach its thread, or holds by a few turns that strip when it is tightened.",
		Remedy: "take a longer screw, or make the stack thinner",
	},
	Each: aboutLength(shortText),
}

// lengthWithin is by how much, in millimetres, a length may miss before it counts:
// what adding up leaves.
const lengthWithin = 1e-6

// shortText says by how much a screw is too short, "" where it is not.
func shortText(s *Situation, p *joint.Stack) string {
	switch {
	case p.Length == 0 || p.Catch == joint.Nothing:
		return ""
	case p.Headless() && p.Joint.Kind.Text == plan.Grip && !p.Touches:
		return fmt.Sprintf("%s meets nothing of what it is to hold: its axis misses it", screwText(p))
	}
	least := p.Least()
	if p.Catch == joint.InNut {
		least = p.To - p.Head
	}
	if p.Wood() {
		return woodText(s, p)
	}
	if p.Length >= least-lengthWithin {
		return ""
	}
	needs := fmt.Sprintf("it needs %s, has %s: %s", hundredths(p.Least()), hundredths(p.Length), p.Sum(s.Layout))
	switch filled := p.Filled(); {
	case filled <= lengthWithin:
		return fmt.Sprintf("%s ends %s before its thread begins; %s", screwText(p), hundredths(p.From-p.Tip()), needs)
	case p.Catch == joint.InNut:
		return fmt.Sprintf("%s ends %s inside the nut; %s", screwText(p), hundredths(-p.Past()), needs)
	default:
		return fmt.Sprintf("%s turns in %s of thread, %s too little; %s", screwText(p), hundredths(filled), hundredths(least-p.Length), needs)
	}
}

// woodText says by how much a wood screw's thread is too short, "" where it is not.
func woodText(s *Situation, p *joint.Stack) string {
	if p.Short() <= lengthWithin {
		return ""
	}
	return fmt.Sprintf("%s has %s of its thread in %q, %s too little; it needs: %s", screwText(p), hundredths(p.Filled()), p.Last().Word.Text, hundredths(p.Short()), p.Sum(s.Layout))
}
