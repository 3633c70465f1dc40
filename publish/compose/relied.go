package compose

import (
	"slices"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/prose"
	"plansheaf/publish/page"
)

// reliedOn lists who leans on a calculation: promises, hazards, other calculations,
// sizes of parts, steps, pages.
func (c *composer) reliedOn(k *plan.Calc) []page.Block {
	var items [][]page.Inline
	entry := func(words []page.Inline) { items = append(items, words) }
	for _, claim := range c.plan.Claims {
		if c.leans.names(claim, claim)[k.ID.Text] {
			entry([]page.Inline{page.Link{To: page.Target{Page: "index", Anchor: "promises"}, Words: c.said("the promise of %s", claim.Say.Value)}})
		}
	}
	for _, h := range c.plan.Hazards {
		if c.leans.mentions(h)[k.ID.Text] || slices.ContainsFunc(h.Where, func(w plan.Word) bool { return w.Text == k.ID.Text }) {
			entry([]page.Inline{page.Link{To: hazardTarget(h), Words: c.said("the hazard %s", c.kindTitle(h.Kind.Text))}})
		}
	}
	for _, other := range c.plan.Calcs {
		if other != k && (c.leans.names(other, other)[k.ID.Text] || other.From.Text == k.ID.Text) {
			entry([]page.Inline{c.linkTo(calcTarget(other), other.Title.Value)})
		}
	}
	for _, p := range c.plan.Parts {
		if c.leans.names(p, p)[k.ID.Text] && c.taken(p) {
			entry(c.told("sizes of %s", []page.Inline{c.partLink(p)}))
		}
	}
	for _, a := range c.order {
		for _, s := range a.Steps {
			if c.leans.names(s, s)[k.ID.Text] || c.leans.mentions(s)[k.ID.Text] {
				entry(c.told("the step %s", []page.Inline{c.linkTo(stepTarget(a, s.ID.Text), s.Title.Value)}))
			}
		}
		if c.leans.names(a, a.Holds, a.Joints)[k.ID.Text] {
			entry(c.told("places and joints of %s", []page.Inline{c.linkTo(assemblyTarget(a), a.Title.Value)}))
		}
	}
	for _, p := range c.plan.Pages {
		if c.leans.mentions(p)[k.ID.Text] {
			entry(c.told("the page %s", []page.Inline{c.linkTo(page.Target{Page: "pages/" + p.ID.Text}, p.Title.Value)}))
		}
	}
	return bullets(items)
}

// leanings are the calculations that things of the plan name, by the thing. Every
// calculation asks all things, so each is looked through once.
type leanings struct{ inFormulas, inTexts map[any]map[string]bool }

func newLeanings() leanings {
	return leanings{inFormulas: map[any]map[string]bool{}, inTexts: map[any]map[string]bool{}}
}

// names are the heads of all dotted names in the formulas of what belongs to a thing.
func (l leanings) names(thing any, parts ...any) map[string]bool {
	if known := l.inFormulas[thing]; known != nil {
		return known
	}
	heads := map[string]bool{}
	for _, part := range parts {
		for _, q := range plan.QuantitiesOf(part) {
			for _, f := range q.All() {
				if !f.Given() {
					continue
				}
				for _, use := range f.Expr.Names() {
					head, _, _ := strings.Cut(use.Text, ".")
					heads[head] = true
				}
			}
		}
	}
	l.inFormulas[thing] = heads
	return heads
}

// mentions are the heads of all dotted names in braces in the texts of a thing.
func (l leanings) mentions(thing any) map[string]bool {
	if known := l.inTexts[thing]; known != nil {
		return known
	}
	heads := map[string]bool{}
	for _, t := range plan.TextsOf(thing) {
		if !strings.Contains(t.Value, "{") {
			continue
		}
		doc, _ := prose.Parse(t.Value)
		for _, r := range doc.References {
			head, _, _ := strings.Cut(r.Name, ".")
			heads[head] = true
		}
	}
	l.inTexts[thing] = heads
	return heads
}
