package solid

import "strings"

// Fault is one thing wrong with a shape.
type Fault struct {
	// Field is the path to what must change, as a plan spells it, from the
	// part's own map: "length", "outline", "outline.path.3", "section.slot",
	// "holes.posts.at", "holes.posts.at.2", "shape.1.d". Members of lists count
	// from 1. "d" stands for whichever key of a hole gave its diameter.
	Field string
	// Reason says what is wrong, with found and needed value in millimetres.
	Reason string
}

// Faults is the error that building a shape gives: all that is wrong with it.
type Faults []Fault

// Error lists the faults, one after the other.
func (f Faults) Error() string {
	var b strings.Builder
	for i, x := range f {
		if i > 0 {
			b.WriteString("; ")
		}
		if x.Field != "" {
			b.WriteString(x.Field + ": ")
		}
		b.WriteString(x.Reason)
	}
	return b.String()
}

// err returns the faults as an error, nil when there are none.
func (f Faults) err() error {
	if len(f) == 0 {
		return nil
	}
	return f
}

// fault returns one fault as an error.
func fault(field, reason string) error { return Faults{{field, reason}} }
