package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// ChoiceChangesNothing finds choices that nothing depends on.
var ChoiceChangesNothing = Rule{
	Rule: finding.Rule{
		Name: "choice-changes-nothing", Severity: finding.Warning,
		Reason: "The builder is asked to decide and gets the same machine either way.",
		Remedy: "tie what differs to it with only or by, or take the choice out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, c := range w.Plan.Choices {
			if !w.mentions().choices[c.ID.Text] {
				report(finding.Finding{
					At: c.ID.At, Subject: c.ID.Text,
					Message: fmt.Sprintf("nothing depends on the choice %q: %s all give the same machine", c.ID.Text, optionNames(c)),
				})
			}
		}
	},
}

func optionNames(c *plan.Choice) string {
	text := ""
	for i, o := range c.Options {
		switch {
		case i > 0 && i == len(c.Options)-1:
			text += " and "
		case i > 0:
			text += ", "
		}
		text += o.ID.Text
	}
	return text
}
