package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// NumberDiffers finds quantities typed into texts that come close to a value of the
// plan and are not it. That they mean that value is inferred: from the sentence,
// which names it, or from the number alone.
var NumberDiffers = Rule{
	Rule: finding.Rule{
		Name: "number-differs", Severity: finding.Warning,
		Reason: "Most numbers that almost agree once did: the design has moved and the text has not.",
		Remedy: "let the text print the value, in braces",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, t := range w.typed() {
			if !t.agrees {
				report(finding.Finding{
					At: t.at, Subject: t.subject,
					Message: fmt.Sprintf("the text says %s, %s is %s", t.words, t.name, quantity.Text(t.value, System(w.Plan))),
					Remedy:  fmt.Sprintf("write {%s} if that is meant", t.name),
				})
			}
		}
	},
}
