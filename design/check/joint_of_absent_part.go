package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// JointOfAbsentPart finds joints that a choice keeps although it leaves out all that
// one of their layers names.
var JointOfAbsentPart = Rule{
	Rule: finding.Rule{
		Name: "joint-of-absent-part", Severity: finding.Error,
		Reason: "The builder who chose otherwise is told to fasten something to a part that this machine does not have.",
		Remedy: "tie the joint to the same choice with only",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			layers := append(append([]plan.Layer(nil), j.Through...), j.Mine, j.Theirs)
			for _, layer := range layers {
				w, u := s.gone(a, layer)
				if u == nil {
					continue
				}
				report(finding.Finding{
					At: w.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf("the joint %q holds %q, which is there only with %s", j.ID.Text, w.Text, onlyText(u.Only)),
					Remedy:  fmt.Sprintf("write only: {%s} in the joint", onlyText(u.Only)),
					Also:    []finding.Related{{At: u.ID.At, Say: "the part that is left out"}},
				})
			}
		})
	},
}

// gone is the first feature of a layer that the case leaves out and the use that
// makes it so, where it leaves out all of them.
func (s *Situation) gone(a *plan.Assembly, layer plan.Layer) (first plan.Word, use *plan.Use) {
	for _, w := range layer.Features {
		paths, absent := s.instances(a, w)
		if len(paths) > 0 || absent == nil {
			return plan.Word{}, nil
		}
		if use == nil {
			first, use = w, absent
		}
	}
	return first, use
}

// onlyText is a condition as the plan writes it: "drive: motor".
func onlyText(o plan.Only) string {
	text := ""
	for i, c := range o.Conditions {
		if i > 0 {
			text += ", "
		}
		text += c.Choice.Text + ": "
		for n, option := range c.Options {
			if n > 0 {
				text += " or "
			}
			text += option.Text
		}
	}
	return text
}
