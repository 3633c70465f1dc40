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
		if namesIn(claim, k.ID.Text) {
			entry([]page.Inline{page.Link{To: page.Target{Page: "index", Anchor: "promises"}, Words: c.said("the promise of %s", claim.Say.Value)}})
		}
	}
	for _, h := range c.plan.Hazards {
		if mentions(h, k.ID.Text) || slices.ContainsFunc(h.Where, func(w plan.Word) bool { return w.Text == k.ID.Text }) {
			entry([]page.Inline{page.Link{To: hazardTarget(h), Words: c.said("the hazard %s", c.kindTitle(h.Kind.Text))}})
		}
	}
	for _, other := range c.plan.Calcs {
		if other != k && (namesIn(other, k.ID.Text) || other.From.Text == k.ID.Text) {
			entry([]page.Inline{c.linkTo(calcTarget(other), other.Title.Value)})
		}
	}
	for _, p := range c.plan.Parts {
		if namesIn(p, k.ID.Text) && c.taken(p) {
			entry(c.told("sizes of %s", []page.Inline{c.partLink(p)}))
		}
	}
	for _, a := range c.order {
		for _, s := range a.Steps {
			if namesIn(s, k.ID.Text) || mentions(s, k.ID.Text) {
				entry(c.told("the step %s", []page.Inline{c.linkTo(stepTarget(a, s.ID.Text), s.Title.Value)}))
			}
		}
		if namesIn(a.Holds, k.ID.Text) || namesIn(a.Joints, k.ID.Text) {
			entry(c.told("places and joints of %s", []page.Inline{c.linkTo(assemblyTarget(a), a.Title.Value)}))
		}
	}
	for _, p := range c.plan.Pages {
		if mentions(p, k.ID.Text) {
			entry(c.told("the page %s", []page.Inline{c.linkTo(page.Target{Page: "pages/" + p.ID.Text}, p.Title.Value)}))
		}
	}
	return bullets(items)
}

// namesIn reports whether a formula of a thing names a calculation's value.
func namesIn(thing any, id string) bool {
	for _, q := range plan.QuantitiesOf(thing) {
		for _, f := range q.All() {
			if !f.Given() {
				continue
			}
			for _, use := range f.Expr.Names() {
				if head, _, _ := strings.Cut(use.Text, "."); head == id {
					return true
				}
			}
		}
	}
	return false
}

// mentions reports whether a text of a thing has a calculation, or a value of it, in
// braces.
func mentions(thing any, id string) bool {
	for _, t := range plan.TextsOf(thing) {
		if !strings.Contains(t.Value, id) {
			continue
		}
		doc, _ := prose.Parse(t.Value)
		for _, r := range doc.References {
			if head, _, _ := strings.Cut(r.Name, "."); head == id {
				return true
			}
		}
	}
	return false
}
