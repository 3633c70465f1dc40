package data

import (
	"encoding/json"

	"plansheaf/design/finding"
)

// findingsFile is the form in which findings are written as JSON.
type findingsFile struct {
	Errors   int               `json:"errors"`
	Warnings int               `json:"warnings"`
	Advice   int               `json:"advice"`
	Notes    int               `json:"notes"`
	Waived   int               `json:"waived"`
	Findings []finding.Finding `json:"findings"`
}

// FindingsJSON writes the findings with their counts.
func FindingsJSON(list []finding.Finding) ([]byte, error) {
	n := finding.Count(list)
	if list == nil {
		list = []finding.Finding{}
	}
	return indented(findingsFile{n.Errors, n.Warnings, n.Advice, n.Notes, n.Waived, list})
}

func indented(v any) ([]byte, error) {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(b, '\n'), nil
}
