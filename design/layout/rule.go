package layout

import "plansheaf/design/finding"

// CannotPlace finds uses whose place does not follow from what the plan says.
var CannotPlace = finding.Rule{
	Name: "cannot-place", Severity: finding.Error,
	Reason: "Where the part stands cannot be worked out, so it can neither be drawn in its place nor checked there.",
	Remedy: "give its place with at and turn, or name faces and features that exist",
}

// SeatMisses finds features that a seat lines up although they cannot all meet.
var SeatMisses = finding.Rule{
	Name: "seat-misses", Severity: finding.Error,
	Reason: "The builder gets the first pair together and finds the next one beside its place.",
	Remedy: "make the distances between the features agree on both parts, or take the pair out that need not meet",
}

// Rules lists the rules of this package.
func Rules() []finding.Rule { return []finding.Rule{CannotPlace, SeatMisses} }
