package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// StepOfAbsentPart finds steps whose whole work belongs to a choice that the builder
// did not make, and that stand in their way all the same.
var StepOfAbsentPart = Rule{
	Rule: finding.Rule{
		Name: "step-of-absent-part", Severity: finding.Error,
		Reason: "The builder who chose otherwise reads a step about parts that this machine does not have.",
		Remedy: "tie the step to the same choice with only",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStep(func(a *plan.Assembly, st *plan.Step) {
			first, only, all := s.absentWork(a, st)
			if !all {
				return
			}
			report(finding.Finding{
				At: first.At, Subject: stepSubject(a, st),
				Message: fmt.Sprintf("the step %q is about %q, which is there only with %s", st.ID.Text, first.Text, onlyText(only)),
				Remedy:  fmt.Sprintf("write only: {%s} in the step", onlyText(only)),
			})
		})
	},
}

// absentWork reports whether the case leaves out all that a step adds and does to
// joints, and the first of it.
func (s *Situation) absentWork(a *plan.Assembly, st *plan.Step) (first plan.Word, only plan.Only, all bool) {
	total, gone := 0, 0
	miss := func(w plan.Word, o plan.Only) {
		if gone == 0 {
			first, only = w, o
		}
		gone++
	}
	for _, w := range st.Adds {
		total++
		if paths, absent := s.instances(a, w); absent != nil && len(paths) == 0 {
			miss(w, absent.Only)
		}
	}
	for _, list := range [][]plan.Word{st.Fastens, st.Tightens, st.SlidesIn} {
		for _, w := range list {
			total++
			owner, j := jointOf(s.Reckoning.Plan, a, w)
			switch {
			case j == nil:
			case !j.Only.Fits(s.Case.Options):
				miss(w, j.Only)
			case !s.assembled(owner):
				miss(w, s.whyAbsent(owner))
			}
		}
	}
	return first, only, total > 0 && gone == total
}

// whyAbsent is the condition of the first use of an assembly that the case leaves
// out.
func (s *Situation) whyAbsent(a *plan.Assembly) plan.Only {
	for _, holder := range s.Reckoning.Plan.Assemblies {
		for _, u := range holder.Holds {
			for _, w := range u.Assembly.All() {
				if w.Text == a.ID.Text && !u.Only.Fits(s.Case.Options) {
					return u.Only
				}
			}
		}
	}
	return plan.Only{}
}
