package compose

import (
	"math"
	"slices"

	"plansheaf/design/check"
	"plansheaf/design/clash"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// clearances are the machine's motions, with where it has the least room on the way of
// each; none for other assemblies and machines without motions.
func (c *composer) clearances(a *plan.Assembly) []page.Block {
	if a.ID.Text != c.plan.Machine.Text || len(c.plan.Motions) == 0 {
		return nil
	}
	t := page.Table{ID: "room", Columns: []page.Column{
		{Head: c.said("Motion")}, {Head: c.said("Way|of a motion")}, {Head: c.said("Least room"), Align: page.Right}, {Head: c.said("Between"), Wide: true}, {Head: c.said("Where it stands then"), Wide: true},
	}}
	for _, m := range c.plan.Motions {
		find := func(s *check.Situation) *clash.Travel { return travelOf(s, m) }
		only, exists := c.only(func(s *check.Situation) bool { return find(s) != nil })
		if !exists {
			continue
		}
		of := func(words func(t *clash.Travel) []page.Inline) []page.Inline {
			return c.under(only).vary(func(s *check.Situation) []page.Inline {
				if t := find(s); t != nil {
					return words(t)
				}
				return nil
			})
		}
		nearest := func(words func(n *clash.Clearance) []page.Inline) []page.Inline {
			return of(func(t *clash.Travel) []page.Inline {
				if t.Least == nil {
					return nil
				}
				return words(t.Least)
			})
		}
		t.Rows = append(t.Rows, page.Row{Only: only, Cells: cells(
			c.motionWords(m),
			of(func(t *clash.Travel) []page.Inline {
				return c.told("%s to %s|a way", c.measured(t.From), c.measured(t.To))
			}),
			of(c.roomWords),
			nearest(func(n *clash.Clearance) []page.Inline {
				return c.told("%s and %s|two bodies", []page.Inline{page.Verbatim(n.A.Name())}, []page.Inline{page.Verbatim(n.B.Name())})
			}),
			of(c.standsWords),
		)})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []page.Block{page.Heading{Level: 2, ID: "clearance", Words: c.said("Room on the way of each motion")}, t}
}

// travelOf is what was found on the way of a motion; nil where it moves nothing.
func travelOf(s *check.Situation, m *plan.Motion) *clash.Travel {
	travels := s.Clashes().Travels
	if i := slices.IndexFunc(travels, func(t *clash.Travel) bool { return t.Motion == m }); i >= 0 {
		return travels[i]
	}
	return nil
}

// motionWords name a motion, with what the plan says that it is.
func (c *composer) motionWords(m *plan.Motion) []page.Inline {
	name := []page.Inline{page.Verbatim(m.ID.Text)}
	if !m.About.Given() {
		return name
	}
	return c.told("%s: %s|a motion", name, c.inline(m.About))
}

// roomWords say how near bodies come to each other on a motion's way.
func (c *composer) roomWords(t *clash.Travel) []page.Inline {
	switch {
	case len(t.Clashes) > 0:
		return c.said("they run into each other")
	case t.Least == nil:
		return c.told("more than %s|room", c.measured(quantity.MM(clash.Looked)))
	case t.Least.AtLeast:
		return c.told("at least %s|room", c.length(t.Least.Gap))
	}
	return c.length(t.Least.Gap)
}

// standsWords say where a motion stands with the two bodies that come nearest as near as
// they come: a place, or from where to where.
func (c *composer) standsWords(t *clash.Travel) []page.Inline {
	if t.Least == nil {
		return nil
	}
	var out []page.Inline
	for _, p := range t.Places {
		if p.A.Name() != t.Least.A.Name() || p.B.Name() != t.Least.B.Name() {
			continue
		}
		from, to := stands(p.From), stands(p.To)
		words := c.measured(from)
		if math.Abs(to.SI-from.SI) > stretched*math.Abs(t.To.SI-t.From.SI) {
			words = c.told("%s to %s|a way", c.measured(from), c.measured(to))
		}
		if len(out) > 0 {
			out = append(out, page.Text("; "))
		}
		out = append(out, words...)
	}
	if len(out) == 0 {
		return c.measured(stands(t.Least.Stands))
	}
	return out
}

// stretched is the share of a motion's range from which on a place is told as a way.
const stretched = 0.02

// stands is where a motion stands, to a tenth of a millimetre or of its unit.
func stands(v quantity.Value) quantity.Value {
	v = v.Nominal()
	if v.Is(quantity.Length) {
		v.SI = math.Round(v.SI*1e4) / 1e4
	}
	return v
}
