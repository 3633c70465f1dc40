package plan

import "plansheaf/design/finding"

// A Reconcile says how a parts list kept elsewhere, such as one that a CAD program
// exported, compares with the plan.
type Reconcile struct {
	File   Word // a CSV file under files/
	Part   Word // head of the column that names parts
	Count  Word // head of the column of counts; not given: each row is one piece
	Only   Only // the options that the list is for; the plan's own for other choices
	Ignore []Word
	Names  []ListName
	Data   *PartList // nil where the file cannot be read
	At     finding.Span
}

// A ListName says which part a name of the list stands for.
type ListName struct {
	Name Word // as the list has it
	Part Word // id
}

// A PartList is a parts list kept elsewhere, as its file has it.
type PartList struct {
	File string
	Head finding.Span // the head of the column that names parts
	Rows []ListRow
	// Ignored are the names of rows that were left out as the plan asks.
	Ignored []string
}

// A ListRow is one row of a parts list: what it calls the part, as it stands there,
// and how many.
type ListRow struct {
	Name  Word
	Count int
	At    finding.Span // of the count; of the name where the list has no counts
}

// Ignored reports whether something is left out of the comparison by the name that
// the list or the plan has for it.
func (r *Reconcile) Ignored(name string) bool {
	for _, w := range r.Ignore {
		if w.Text == name {
			return true
		}
	}
	return false
}
