package check

import (
	"fmt"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// ToolNeverUsed finds tools of tools.yaml that no step, joint, hole or cut calls for,
// under any choice, and no text names.
var ToolNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "tool-never-used", Severity: finding.Advice,
		Reason: "It stays off the list of tools, so either the builder misses it at a step that forgot to name it, or nobody needs it.",
		Remedy: "name it under tools in the step that needs it, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		used := map[*plan.Tool]bool{}
		for _, s := range w.Combinations() {
			for _, t := range s.Sequence().Tools() {
				for _, own := range w.Plan.Tools {
					if t.Own == own || own.Spares(t.Kind, t.Size) {
						used[own] = true
					}
				}
			}
		}
		for _, a := range w.Plan.Assemblies {
			for _, st := range a.Steps {
				for _, own := range w.Plan.Tools {
					if slices.ContainsFunc(st.Tools, func(word plan.Word) bool { return word.Text == own.ID.Text }) {
						used[own] = true
					}
				}
			}
		}
		for _, own := range w.Plan.Tools {
			if !used[own] && !w.mentions().names[own.ID.Text] {
				report(finding.Finding{
					At: own.ID.At, Subject: own.ID.Text,
					Message: fmt.Sprintf("nothing in the plan calls for the tool %q", own.ID.Text),
				})
			}
		}
	},
}
