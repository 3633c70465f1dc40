package finding

import (
	"fmt"
	"sort"
)

// Severity says what a finding stops.
type Severity int

const (
	// Note is information: a better way, nothing wrong.
	Note Severity = iota + 1
	// Advice is something a practised designer would do otherwise.
	Advice
	// Warning is something that will probably trouble a builder.
	Warning
	// Error is something that a builder cannot or should not build; it stops
	// publishing.
	Error
)

var severityNames = map[Severity]string{Note: "note", Advice: "advice", Warning: "warning", Error: "error"}

// String is the severity's lower-case name.
func (s Severity) String() string {
	if name, ok := severityNames[s]; ok {
		return name
	}
	return fmt.Sprintf("severity(%d)", int(s))
}

// MarshalText writes the name, so that JSON holds words.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// A Related place is a second place that helps to understand a finding.
type Related struct {
	At  Span   `json:"at"`
	Say string `json:"say"` // what stands there: "declared here", "in part \"post\""
}

// A Waiver records that the author has looked at a finding and let it stand.
type Waiver struct {
	At      Span   `json:"at"`
	Because string `json:"because"`
	Until   string `json:"until,omitempty"` // the revision after which the waiver lapses
}

// A Finding is one thing found. Rule and Severity are stamped by whoever runs
// the rule, so that a rule cannot mistype them.
type Finding struct {
	Rule     string    `json:"rule"`
	Severity Severity  `json:"severity"`
	At       Span      `json:"at"`
	Message  string    `json:"message"`
	Remedy   string    `json:"remedy,omitempty"`
	Also     []Related `json:"also,omitempty"`
	Subject  string    `json:"subject,omitempty"` // id of the part, joint, step ... that waivers name
	Choices  []string  `json:"choices,omitempty"` // "drive: motor" when it holds only under some choices
	Waived   *Waiver   `json:"waived,omitempty"`
}

// Sort orders findings by file, line, column, rule, message.
func Sort(list []Finding) {
	sort.SliceStable(list, func(i, j int) bool {
		a, b := list[i], list[j]
		if a.At.Before(b.At) || b.At.Before(a.At) {
			return a.At.Before(b.At)
		}
		if a.Rule != b.Rule {
			return a.Rule < b.Rule
		}
		return a.Message < b.Message
	})
}

// Counts are the numbers of findings by severity; waived ones count only in
// Waived.
type Counts struct {
	Errors, Warnings, Advice, Notes, Waived int
}

// Count counts a list.
func Count(list []Finding) Counts {
	var c Counts
	for _, f := range list {
		switch {
		case f.Waived != nil:
			c.Waived++
		case f.Severity == Error:
			c.Errors++
		case f.Severity == Warning:
			c.Warnings++
		case f.Severity == Advice:
			c.Advice++
		default:
			c.Notes++
		}
	}
	return c
}
