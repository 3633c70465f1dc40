package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// PropertyToldTwice finds properties under has that follow from the part or assembly
// anyway.
var PropertyToldTwice = Rule{
	Rule: finding.Rule{
		Name: "property-told-twice", Severity: finding.Error,
		Reason: "Formulas read the property that follows from the part, never the one under has; of the two only one can be right.",
		Remedy: "take it out, or give it a name of its own",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		r := w.Default().Reckoning
		for _, a := range w.Plan.Assemblies {
			for _, h := range a.Has {
				if plan.IsAssemblyProperty(h.Name.Text) {
					report(finding.Finding{
						At: h.Name.At, Subject: a.ID.Text + "." + h.Name.Text,
						Message: fmt.Sprintf("%s.%s is rolled up from what the assembly holds", a.ID.Text, h.Name.Text),
					})
				}
			}
		}
		for _, p := range w.Plan.Parts {
			for _, h := range p.Has {
				if !r.BuiltIn(p.ID.Text, h.Name.Text) {
					continue
				}
				message := fmt.Sprintf("%s.%s follows from the part", p.ID.Text, h.Name.Text)
				if v, err := r.PartProperty(p.ID.Text, h.Name.Text); err == nil {
					message += fmt.Sprintf(": it is %s", quantity.Text(v, System(w.Plan)))
				}
				report(finding.Finding{
					At: h.Name.At, Subject: p.ID.Text + "." + h.Name.Text, Message: message,
					Remedy: fmt.Sprintf("take it out, or give it a name of its own, such as race_%s or belt_%s", h.Name.Text, h.Name.Text),
				})
			}
		}
	},
}
