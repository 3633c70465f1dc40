package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
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
		seen := map[*plan.Assembly]*presence{}
		for i, ref := range o.Steps {
			there := seen[ref.Assembly]
			if there == nil {
				there = &presence{whole: map[string]int{}, inside: map[string]int{}}
				seen[ref.Assembly] = there
			}
			for _, w := range ref.Step.Adds {
				paths, _ := s.instances(ref.Assembly, w)
				again, first := "", 0
				for _, path := range paths {
					if before, known := there.add(path, i); known && again == "" {
						again, first = path, before
					}
				}
				if again != "" {
					report(finding.Finding{
						At: w.At, Subject: ref.Assembly.ID.Text + "." + again,
						Message: fmt.Sprintf("%q is added again, the step %s has added it", again, o.Say(first)),
						Also:    []finding.Related{{At: o.Steps[first].Step.ID.At, Say: "added here"}},
					})
				}
			}
		}
	},
}

// A presence is what steps have added so far: paths, and what paths lie inside of.
type presence struct{ whole, inside map[string]int }

// add records that a step adds a path, and reports the step that has added it, what
// holds it, or a piece of it before.
func (p *presence) add(path string, step int) (before int, known bool) {
	if before, known = p.whole[path]; !known {
		before, known = p.inside[path]
	}
	for end := strings.LastIndexByte(path, '.'); end > 0; end = strings.LastIndexByte(path[:end], '.') {
		if first, has := p.whole[path[:end]]; has && !known {
			before, known = first, true
		}
		if _, has := p.inside[path[:end]]; !has {
			p.inside[path[:end]] = step
		}
	}
	if _, has := p.whole[path]; !has {
		p.whole[path] = step
	}
	return before, known
}
