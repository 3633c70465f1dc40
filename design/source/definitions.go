package source

import (
	"fmt"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

// checkDefinitions reports functions of calculations that could not be called by their
// name, for the language has one so called, and parameters that stand for two things.
func (g *reading) checkDefinitions() {
	for _, c := range g.plan.Calcs {
		for _, d := range c.Defines {
			if slices.Contains(formula.Functions(), d.Name.Text) {
				g.report(idClash, d.Name.At, fmt.Sprintf("%q is a function of every formula already", d.Name.Text), "give this function another name")
			}
			g.checkParameters(d)
		}
	}
}

func (g *reading) checkParameters(d plan.Definition) {
	seen := map[string]finding.Span{}
	for _, p := range d.Parameters {
		if first, twice := seen[p.Text]; twice {
			g.report(idClash, p.At, fmt.Sprintf("%s has two parameters called %q", d.Name.Text, p.Text), "give one of them another name", finding.Related{At: first, Say: "the other one"})
		}
		seen[p.Text] = p.At
		if formula.IsWord(p.Text) {
			g.report(idClash, p.At, fmt.Sprintf("%q, a parameter of %s, is a word of every formula", p.Text, d.Name.Text), "give it another name")
		}
	}
}
