package ready_test

import (
	"regexp"
	"testing"

	"plansheaf/design/formula"
	"plansheaf/design/ready"
)

// Nothing is in the library whose numbers nobody checked.
func TestEveryCalculationIsChecked(t *testing.T) {
	checked := map[string]bool{}
	for _, row := range examples() {
		checked[row.calc] = true
	}
	for _, row := range bent() {
		checked[row.calc] = true
	}
	for _, c := range ready.All() {
		if !checked[c.Name] {
			t.Errorf("%s is checked against nothing", c.Name)
		}
	}
}

// Symbols are letters, or names of Greek ones, with an index; one for each thing.
func TestSymbolsTellThingsApart(t *testing.T) {
	spelled := regexp.MustCompile(`^[A-Za-z]+(_[A-Za-z0-9]+)?$`)
	for _, c := range ready.All() {
		seen := map[string]string{}
		check := func(name, symbol string) {
			if !spelled.MatchString(symbol) {
				t.Errorf("%s.%s: the symbol %q cannot be set", c.Name, name, symbol)
			}
			if other := seen[symbol]; other != "" {
				t.Errorf("%s: %s and %s are both %s", c.Name, other, name, symbol)
			}
			seen[symbol] = name
		}
		for _, in := range c.Inputs {
			check(in.Name, in.Symbol)
		}
		for _, f := range c.Finds {
			check(f.Name, f.Symbol)
		}
	}
}

// Every formula names only what its calculation has, and each input is used.
func TestFormulasNameWhatThereIs(t *testing.T) {
	for _, c := range ready.All() {
		used := map[string]bool{}
		look := func(e *formula.Expr) {
			if e == nil {
				return
			}
			for _, use := range e.Names() {
				used[use.Text] = true
				_, in := c.Input(use.Text)
				_, find := c.Find(use.Text)
				if !in && !find {
					t.Errorf("%s: nothing is named %q in %s", c.Name, use.Text, e.Source())
				}
			}
		}
		for _, in := range c.Inputs {
			look(in.Default)
		}
		for _, f := range c.Finds {
			look(f.Is)
		}
		for _, l := range c.Limits {
			look(l.That)
		}
		for _, in := range c.Inputs {
			if !used[in.Name] {
				t.Errorf("%s: the input %q goes into nothing", c.Name, in.Name)
			}
		}
	}
}
