package plan

import "plansheaf/design/finding"

// A Mitre says how the ends of a bar are cut on a slant.
type Mitre struct {
	// Start and End are the angles by which the saw is turned from a square cut; an
	// end without one is square.
	Start, End Quantity
	// Long is the side of the bar that keeps its full length; where there are two,
	// the first is that of the start, the second that of the end.
	Long []Word
	At   finding.Span
}

// LongAt is the side that keeps the full length at the start (0) or the end (1).
func (m *Mitre) LongAt(end int) Word {
	if len(m.Long) == 0 {
		return Word{}
	}
	return m.Long[min(end, len(m.Long)-1)]
}
