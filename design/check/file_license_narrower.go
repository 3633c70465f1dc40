package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
)

// FileLicenseNarrower finds shipped files whose terms forbid what the plan's allow.
var FileLicenseNarrower = Rule{
	Rule: finding.Rule{
		Name: "file-license-narrower", Severity: finding.Advice,
		Reason: "Who sells a machine or changes the plan under its own terms would break those of this file without knowing.",
		Remedy: "replace the file by one on the plan's terms, or say on a page what may not be done with it",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, f := range shipped(w.Plan) {
			for _, ban := range []struct{ mark, what string }{{"-NC", "forbids sale"}, {"-ND", "forbids changes"}} {
				if strings.Contains(f.License.Text, ban.mark) && w.Plan.License.Given() && !strings.Contains(w.Plan.License.Text, ban.mark) {
					report(finding.Finding{
						At: f.License.At, Subject: f.File.Text,
						Message: fmt.Sprintf("%s of %s %s, %s of the plan does not", f.License.Text, f.File.Text, ban.what, w.Plan.License.Text),
						Also:    []finding.Related{{At: w.Plan.License.At, Say: "the plan's licence"}},
					})
				}
			}
		}
	},
}
