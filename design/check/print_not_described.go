package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// PrintNotDescribed finds printed parts without a material or the face to print on.
var PrintNotDescribed = Rule{
	Rule: finding.Rule{
		Name: "print-not-described", Severity: finding.Warning,
		Reason: "Plastic and way up decide whether a printed part holds: it splits along its layers and softens with heat.",
		Remedy: "name the plastic, material: petg, and the face on the bed, print: {face: bottom}",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if p.Made.Text != plan.Printed {
				continue
			}
			var lacks []string
			if !p.Material.Given() && !p.Stock.Given() {
				lacks = append(lacks, "material")
			}
			if p.Print == nil || !p.Print.Face.Given() {
				lacks = append(lacks, "face to print on")
			}
			if len(lacks) > 0 {
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%q is printed and names no %s", p.ID.Text, strings.Join(lacks, " and no ")),
				})
			}
		}
	},
}
