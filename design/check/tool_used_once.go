package check

import (
	"fmt"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// ToolUsedOnce points out tools that turn a single joint of the whole machine, unless
// the plan says that a builder owns them.
var ToolUsedOnce = Rule{
	Rule: finding.Rule{
		Name: "tool-used-once", Severity: finding.Note,
		Reason: "The builder buys or borrows a tool for one joint, where another size of screw might do.",
		Remedy: "use a size of screw that others have as well, or say under tools that a builder owns it",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		// Counted over all choices: what one machine needs once another may need often.
		type need struct {
			size   string
			joints map[string]bool
			first  finding.Finding
		}
		needs := map[string]*need{}
		var order []string
		kinds := map[string]string{} // of needs
		owned := func(kind, size string) bool {
			return slices.ContainsFunc(w.Plan.Tools, func(t *plan.Tool) bool { return t.Spares(kind, size) })
		}
		for _, s := range w.Combinations() {
			for _, t := range s.Sequence().Tools() {
				key := t.Kind + " " + t.Size
				if len(t.Joints) == 0 {
					continue
				}
				kinds[key] = t.Kind
				n := needs[key]
				if n == nil {
					u := t.Joints[0]
					n = &need{size: t.Size, joints: map[string]bool{}, first: finding.Finding{
						At: u.Joint.ID.At, Subject: jointSubject(u.Owner, u.Joint),
						Message: fmt.Sprintf("the %s %s is needed for %q alone, in %s", t.Size, t.Kind, u.Joint.ID.Text, u.Step),
					}}
					needs[key], order = n, append(order, key)
				}
				for _, u := range t.Joints {
					n.joints[jointSubject(u.Owner, u.Joint)] = true
				}
			}
		}
		usual := map[string]bool{} // kinds with a size that many joints take
		for key, n := range needs {
			usual[kinds[key]] = usual[kinds[key]] || len(n.joints) >= manyJoints
		}
		for _, key := range order {
			if n := needs[key]; len(n.joints) == 1 && usual[kinds[key]] && !owned(kinds[key], n.size) {
				report(n.first)
			}
		}
	},
}

// manyJoints is how many joints must take one size of a kind of tool before another
// size that is needed once counts as one too many.
const manyJoints = 3
