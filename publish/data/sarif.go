package data

import (
	"net/url"

	"plansheaf/design/finding"
)

// The types below are the part of SARIF 2.1.0 (OASIS standard, 27 March 2020) that
// findings need; field names are the standard's.

type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

type sarifRun struct {
	Tool       sarifTool     `json:"tool"`
	ColumnKind string        `json:"columnKind"`
	Results    []sarifResult `json:"results"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name    string      `json:"name"`
	Version string      `json:"version"`
	Rules   []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID                   string       `json:"id"`
	ShortDescription     sarifMessage `json:"shortDescription"`
	Help                 sarifMessage `json:"help"`
	DefaultConfiguration sarifConfig  `json:"defaultConfiguration"`
}

type sarifConfig struct {
	Level string `json:"level"`
}

type sarifMessage struct {
	Text string `json:"text"`
}

type sarifResult struct {
	RuleID           string             `json:"ruleId"`
	RuleIndex        int                `json:"ruleIndex"`
	Level            string             `json:"level"`
	Message          sarifMessage       `json:"message"`
	Locations        []sarifLocation    `json:"locations,omitempty"`
	RelatedLocations []sarifLocation    `json:"relatedLocations,omitempty"`
	Suppressions     []sarifSuppression `json:"suppressions,omitempty"`
}

type sarifLocation struct {
	ID       int           `json:"id,omitempty"`
	Physical sarifPhysical `json:"physicalLocation"`
	Message  *sarifMessage `json:"message,omitempty"`
}

type sarifPhysical struct {
	Artifact sarifArtifact `json:"artifactLocation"`
	Region   *sarifRegion  `json:"region,omitempty"`
}

type sarifArtifact struct {
	URI string `json:"uri"`
}

type sarifRegion struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn,omitempty"`
	EndLine     int `json:"endLine,omitempty"`
	EndColumn   int `json:"endColumn,omitempty"`
}

type sarifSuppression struct {
	Kind          string `json:"kind"`
	Justification string `json:"justification"`
}

// SARIF writes the findings as SARIF 2.1.0 for review tools. rules are all rules
// that findings may name; version is the program's. Advice and notes are both
// SARIF's level note; waived findings carry a suppression.
func SARIF(list []finding.Finding, rules []finding.Rule, version string) ([]byte, error) {
	run := sarifRun{ColumnKind: "unicodeCodePoints", Results: []sarifResult{}}
	run.Tool.Driver = sarifDriver{Name: "plansheaf", Version: version, Rules: []sarifRule{}}
	index := map[string]int{}
	for _, r := range rules {
		index[r.Name] = len(run.Tool.Driver.Rules)
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRule{
			ID: r.Name, ShortDescription: sarifMessage{r.Reason}, Help: sarifMessage{r.Remedy},
			DefaultConfiguration: sarifConfig{sarifLevel(r.Severity)},
		})
	}
	for _, f := range list {
		at, known := index[f.Rule]
		if !known {
			at = -1
		}
		run.Results = append(run.Results, sarifOf(f, at))
	}
	return indented(sarifLog{
		Schema:  "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
		Version: "2.1.0", Runs: []sarifRun{run},
	})
}

func sarifLevel(s finding.Severity) string {
	switch s {
	case finding.Error:
		return "error"
	case finding.Warning:
		return "warning"
	}
	return "note"
}

func sarifOf(f finding.Finding, ruleIndex int) sarifResult {
	text := f.Message
	if f.Remedy != "" {
		text += ". Remedy: " + f.Remedy
	}
	r := sarifResult{RuleID: f.Rule, RuleIndex: ruleIndex, Level: sarifLevel(f.Severity), Message: sarifMessage{text}}
	if f.At.Known() {
		r.Locations = []sarifLocation{{Physical: physical(f.At)}}
	}
	for i, also := range f.Also {
		if also.At.Known() {
			r.RelatedLocations = append(r.RelatedLocations, sarifLocation{ID: i + 1, Physical: physical(also.At), Message: &sarifMessage{also.Say}})
		}
	}
	if f.Waived != nil {
		r.Suppressions = []sarifSuppression{{Kind: "inSource", Justification: f.Waived.Because}}
	}
	return r
}

func physical(at finding.Span) sarifPhysical {
	p := sarifPhysical{Artifact: sarifArtifact{URI: (&url.URL{Path: at.File}).EscapedPath()}}
	if at.Line > 0 {
		p.Region = &sarifRegion{StartLine: at.Line, StartColumn: at.Column, EndLine: at.EndLine, EndColumn: at.EndColumn}
	}
	return p
}
