package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// InstanceAddedTwice finds parts and assemblies that two steps put into the same
// place, or one step twice.
var InstanceAddedTwice = Rule{
	Rule: finding.Rule{
		Name: "instance-added-twice", Severity: finding.Error,
		Reason: "The builder has put it in already and looks for a second one.",
		Remedy: "add it once; what is taken off and put back belongs into the step's text",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		for i, ref := range o.steps {
			for n, w := range ref.step.Adds {
				paths, _ := s.instances(ref.assembly, w)
				for _, path := range paths {
					steps := o.added[ref.assembly][path]
					first := steps[0]
					again := first != i
					for _, before := range ref.step.Adds[:n] {
						earlier, _ := s.instances(ref.assembly, before)
						for _, p := range earlier {
							again = again || p == path
						}
					}
					if again {
						report(finding.Finding{
							At: w.At, Subject: ref.assembly.ID.Text + "." + path,
							Message: fmt.Sprintf("%q is added again, the step %s has added it", path, o.say(first)),
							Also:    []finding.Related{{At: o.steps[first].step.ID.At, Say: "added here"}},
						})
						break
					}
				}
			}
		}
	},
}
