package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// FileNeverUsed finds files under files/ that nothing names.
var FileNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "file-never-used", Severity: finding.Warning,
		Reason: "It is shipped to every builder, and no page tells what it is or which revision it shows.",
		Remedy: "name it in the part, page or plan that it belongs to, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, f := range w.Plan.Files {
			if !w.mentions().files[f.Path] {
				report(finding.Finding{
					At: finding.WholeFile(f.Path), Subject: f.Path,
					Message: fmt.Sprintf("nothing names the file %s", f.Path),
				})
			}
		}
	},
}
