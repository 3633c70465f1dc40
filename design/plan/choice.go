package plan

import "plansheaf/design/finding"

// A Choice is something that the builder decides.
type Choice struct {
	ID      Word
	Title   Text
	Options []Option
	Default Word
}

// An Option is one answer to a Choice.
type Option struct {
	ID    Word
	Title Text
}

// A Selection is one option for each choice: choice id to option id.
type Selection map[string]string

// Only limits something to some options of some choices; empty means always.
type Only struct {
	Conditions []Condition
	At         finding.Span
}

// A Condition names a choice and the options of it that serve.
type Condition struct {
	Choice  Word
	Options []Word
}

// Fits reports whether something with this Only exists under sel.
func (o Only) Fits(sel Selection) bool {
	for _, cond := range o.Conditions {
		fits := false
		for _, option := range cond.Options {
			fits = fits || sel[cond.Choice.Text] == option.Text
		}
		if !fits {
			return false
		}
	}
	return true
}

// Defaults is the selection of every choice's default option.
func (p *Plan) Defaults() Selection {
	sel := Selection{}
	for _, c := range p.Choices {
		sel[c.ID.Text] = c.Default.Text
	}
	return sel
}
