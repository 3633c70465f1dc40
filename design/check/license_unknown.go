package check

import (
	"fmt"
	"strings"

	"github.com/github/go-spdx/v2/spdxexp"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// LicenseUnknown finds licences that SPDX does not list.
var LicenseUnknown = Rule{
	Rule: finding.Rule{
		Name: "license-unknown", Severity: finding.Warning,
		Reason: "A name that no list knows leaves the reader to guess which terms are meant.",
		Remedy: "write the SPDX identifier, such as CERN-OHL-S-2.0 or CC-BY-SA-4.0, or LicenseRef- and a name of your own",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		look := func(license plan.Word, subject string) {
			if !license.Given() || isLicense(license.Text) {
				return
			}
			f := finding.Finding{At: license.At, Subject: subject, Message: fmt.Sprintf("SPDX lists no licence %q", license.Text)}
			if known, right := spdxexp.ActiveLicense(license.Text); known {
				f.Remedy = fmt.Sprintf("write %s", right)
			}
			report(f)
		}
		look(w.Plan.License, "license")
		for _, f := range shipped(w.Plan) {
			look(f.License, f.File.Text)
		}
	},
}

// longestLicense bounds what is read as an SPDX expression.
const longestLicense = 300

func isLicense(text string) bool {
	if len(text) > longestLicense || strings.Count(text, "(") > 20 {
		return false
	}
	ok, _ := spdxexp.ValidateLicenses([]string{text})
	return ok
}

// shipped are all files that the plan and its parts tell of.
func shipped(p *plan.Plan) []plan.PartFile {
	list := append([]plan.PartFile(nil), p.Shipped...)
	for _, part := range p.Parts {
		list = append(list, part.Files...)
	}
	return list
}
