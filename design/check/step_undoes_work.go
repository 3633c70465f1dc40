package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
)

// StepUndoesWork finds joints that a step leaves loose again after an earlier one made
// them tight, and such as are pulled tight twice: work that is done, undone and done
// again.
var StepUndoesWork = Rule{
	Rule: finding.Rule{
		Name: "step-undoes-work", Severity: finding.Warning,
		Reason: "The builder undoes what an earlier step has made, and makes it once more.",
		Remedy: "leave it loose in the step that fastens it, and tighten it once, where it stays so",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			h := o.Handled(j)
			again := func(d sequence.Deed, by int, words string) {
				report(finding.Finding{
					At: d.Word.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf(words, o.Say(d.Step), j.ID.Text, o.Say(by)),
					Also:    []finding.Related{{At: o.Steps[by].Step.ID.At, Say: "made tight here"}},
				})
			}
			for _, l := range h.Loose {
				if by, known := tightBefore(o, h, l.Step); known {
					again(l, by, "the step %s leaves %q loose, which %s has made tight")
				}
			}
			for i, t := range h.Tightens {
				for _, first := range h.Tightens[:i] {
					if o.Before(first.Step, t.Step) {
						again(t, first.Step, "the step %s tightens %q, which %s has tightened")
						break
					}
				}
			}
		})
	},
}

// tightBefore is a step before one that makes a joint tight.
func tightBefore(o *order, h *sequence.Handling, step int) (by int, known bool) {
	for _, t := range h.Tightens {
		if o.Before(t.Step, step) {
			return t.Step, true
		}
	}
	for _, f := range h.Fastens {
		started := false
		for _, l := range h.Loose {
			started = started || l.Step == f.Step
		}
		if !started && o.Before(f.Step, step) {
			return f.Step, true
		}
	}
	return 0, false
}
