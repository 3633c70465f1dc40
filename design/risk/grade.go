package risk

import (
	"slices"
	"strings"

	"plansheaf/design/plan"
)

var (
	severities = []string{"slight", "serious", "severe"}
	chances    = []string{"remote", "possible", "likely"}
)

// Grade is a risk's severity and chance as numbers from 0; ok is false where one of
// them is missing.
func Grade(r plan.Risk) (severity, chance int, ok bool) {
	severity, chance = slices.Index(severities, r.Severity.Text), slices.Index(chances, r.Chance.Text)
	return severity, chance, severity >= 0 && chance >= 0
}

// DoubleInsulated reports whether a part says in its title, or in what to ask for,
// that no part of it that can be touched needs earth (protection class II of
// IEC 61140).
func DoubleInsulated(p *plan.Part) bool {
	if mentionsClassTwo(p.Title.Value) {
		return true
	}
	return p.Buy != nil && mentionsClassTwo(p.Buy.AskFor.Value)
}

func mentionsClassTwo(text string) bool {
	text = strings.ToLower(strings.ReplaceAll(text, "-", " "))
	return strings.Contains(text, "double insulated") || strings.Contains(text, "protection class ii") || strings.Contains(text, "protection class 2")
}
