package check

import (
	"fmt"
	"regexp"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// DesignationNotHeld finds screws that a text names by size and length and that no
// joint of its step, assembly or machine takes.
var DesignationNotHeld = Rule{
	Rule: finding.Rule{
		Name: "designation-not-held", Severity: finding.Warning,
		Reason: "Text and list name different screws, and the builder cannot tell which one is meant.",
		Remedy: "let the text print the joint's screw, {frame.head_to_post.screw}",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.mentions().passages {
			for _, m := range designation.FindAllStringSubmatchIndex(p.plain, -1) {
				name := fmt.Sprintf("M%sx%s", p.plain[m[2]:m[3]], p.plain[m[4]:m[5]])
				if _, isThread := standards.ThreadByName(name); isThread {
					continue // M8x1 is a fine thread
				}
				held, has := w.held(p, name)
				if has {
					continue
				}
				message := fmt.Sprintf("the text says %s, no joint here takes it", name)
				if len(held) > 0 {
					message += "; here are " + strings.Join(held, ", ")
				}
				report(finding.Finding{At: p.text.Place(m[0], m[1]-m[0]), Subject: p.subject(), Message: message})
			}
		}
	},
}

var designation = regexp.MustCompile(`\bM([0-9]+(?:\.[0-9]+)?) ?[x×] ?([0-9]+(?:\.[0-9]+)?)\b`)

// held reports whether a joint within a text's reach takes the screw, and the screws
// of the same thread that are there.
func (w *Work) held(p passage, name string) (others []string, has bool) {
	size, _, _ := strings.Cut(name, "x")
	seen := map[string]bool{}
	for _, s := range w.Combinations() {
		look := func(j *plan.Joint) {
			for _, id := range s.Reckoning.JointParts(j) {
				part := s.Reckoning.Part(id)
				if part == nil || part.Fastener == nil || part.Fastener.Length == 0 {
					continue
				}
				is := fmt.Sprintf("%sx%s", part.Fastener.Size, part.Fastener.LengthText)
				has = has || is == name
				if part.Fastener.Thread.Size == size && !seen[is] {
					seen[is] = true
					others = append(others, is)
				}
			}
		}
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			if p.assembly == nil || p.assembly == a {
				look(j)
			}
		})
		if p.step == nil {
			continue
		}
		for _, list := range [][]plan.Word{p.step.Fastens, p.step.Tightens, p.step.SlidesIn} {
			for _, w := range list {
				if _, j := jointOf(s.Reckoning.Plan, p.assembly, w); j != nil {
					look(j)
				}
			}
		}
	}
	return others, has
}
