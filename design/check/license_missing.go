package check

import "plansheaf/design/finding"

// LicenseMissing finds a plan that does not say on what terms it may be built.
var LicenseMissing = Rule{
	Rule: finding.Rule{
		Name: "license-missing", Severity: finding.Warning,
		Reason: "Without terms nobody may copy, build or change the plan, whatever its author means.",
		Remedy: "name a licence by its SPDX identifier, license: CERN-OHL-S-2.0",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		if !w.Plan.License.Given() && w.Plan.Title.Given() {
			report(finding.Finding{At: w.Plan.Title.At, Subject: "license", Message: "the plan names no licence"})
		}
	},
}
