package finding

// A Rule says what a kind of finding is: its name, never reused for another
// meaning, how grave it is, why it matters to the builder and what mends it.
// Whoever runs the rule stamps name and severity on what it reports.
type Rule struct {
	Name     string
	Severity Severity
	Reason   string // why it matters, a sentence
	Remedy   string // what would mend it, an imperative
}

// Stamp marks f as found by the rule; the rule's remedy stands where f has none
// of its own.
func (r Rule) Stamp(f Finding) Finding {
	f.Rule, f.Severity = r.Name, r.Severity
	if f.Remedy == "" {
		f.Remedy = r.Remedy
	}
	return f
}
