package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// ToolUnknown finds screws of which nothing says what turns them, in joints whose steps
// name no tool either.
var ToolUnknown = Rule{
	Rule: finding.Rule{
		Name: "tool-unknown", Severity: finding.Advice,
		Reason: "The builder does not know what to turn it with, and whether a tool has room on it is not checked.",
		Remedy: "say its tool, such as bit TX 20, take a standard screw, name the tool under tools in the step, or write torque: hand for a screw with a grip",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			p := joint.Screw(s.Reckoning, j)
			if p == nil || !isScrew(p) {
				return
			}
			byFingers := p.Fastener == nil && j.Torque.Word.Text == "hand"
			if _, known := joint.ToolOf(p); known || byFingers || s.stepsNameTools(j) {
				return
			}
			report(finding.Finding{
				At: p.Part.ID.At, Subject: p.Part.ID.Text,
				Message: fmt.Sprintf("nothing says what turns %q, which holds %q", p.Part.ID.Text, j.ID.Text),
				Also:    []finding.Related{{At: j.ID.At, Say: "the joint"}},
			})
		})
	},
}

// stepsNameTools reports whether a step that fastens or tightens a joint names a tool.
func (s *Situation) stepsNameTools(j *plan.Joint) bool {
	h := s.order().Handled(j)
	if h == nil {
		return false
	}
	for _, d := range append(h.Fastens[:len(h.Fastens):len(h.Fastens)], h.Tightens...) {
		if len(s.order().Steps[d.Step].Step.Tools) > 0 {
			return true
		}
	}
	return false
}
