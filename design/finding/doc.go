// Package finding holds a place in a plan's source text and a finding about it.
//
// A finding is something true of the plan that its author or its builder would
// want to know: what was found, where, why it matters, what would mend it. A
// failure of the program itself is a Go error, never a finding.
//
// The package reads no files and prints no pages; lines and columns count from
// 1, columns in characters as editors do.
package finding
