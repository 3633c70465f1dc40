package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// NumberTyped finds quantities typed into texts that agree with a value of the plan.
var NumberTyped = Rule{
	Rule: finding.Rule{
		Name: "number-typed", Severity: finding.Note,
		Reason: "It agrees today; the next change of the value leaves the text behind.",
		Remedy: "let the text print the value, in braces",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, t := range w.typed() {
			if t.agrees {
				report(finding.Finding{
					At: t.at, Subject: t.subject,
					Message: fmt.Sprintf("%s is typed and agrees with %s", t.words, t.name),
					Remedy:  fmt.Sprintf("write {%s}", t.name),
				})
			}
		}
	},
}
