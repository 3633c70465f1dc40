package plan

import "strings"

// Noun is what a part's title says that the thing is: its last plain word before a
// comma, a size, or a word such as "with"; in small letters. "Toothed pulley, 20
// teeth" is a pulley, "Motor cable 2×0.75" a cable.
func (p *Part) Noun() string {
	title, _, _ := strings.Cut(p.Title.Value, ",")
	noun := ""
	for _, w := range strings.Fields(title) {
		lower := strings.ToLower(strings.Trim(w, "()\"'"))
		switch {
		case lower == "for" || lower == "with" || lower == "of" || lower == "in" || lower == "and":
			return noun
		case strings.ContainsAny(lower, "0123456789") || len(lower) < 3:
			continue
		}
		noun = lower
	}
	return noun
}
