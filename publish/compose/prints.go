package compose

import (
	"math"
	"slices"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
)

// prints is the list of printed parts with how each is printed; nil where nothing is.
func (c *composer) prints() *page.Page {
	if !c.printsAny() {
		return nil
	}
	t := page.Table{ID: "prints", Columns: []page.Column{
		c.head("Part"), {Head: c.said("Count"), Align: page.Right}, c.head("Plastic"), {Head: c.said("On the bed|a face"), Wide: true},
		{Head: c.said("Walls"), Align: page.Right, Wide: true}, {Head: c.said("Infill"), Align: page.Right, Wide: true}, {Head: c.said("Layer"), Align: page.Right, Wide: true},
		{Head: c.said("Mass each"), Align: page.Right}, {Head: c.said("Time each"), Align: page.Right},
	}}
	lists := map[*check.Situation][]bill.Print{}
	spools := map[*check.Situation][]bill.Spool{}
	for _, s := range c.all {
		lists[s], spools[s] = s.Bill.Prints(s.Reckoning)
	}
	for _, p := range c.plan.Parts {
		if p.Made.Text != plan.Printed {
			continue
		}
		find := func(s *check.Situation) *bill.Print {
			for i := range lists[s] {
				if lists[s][i].Part.Part == p {
					return &lists[s][i]
				}
			}
			return nil
		}
		if only, exists := c.only(func(s *check.Situation) bool { return find(s) != nil }); exists {
			t.Rows = append(t.Rows, c.under(only).printRow(p, only, find))
		}
	}
	sum := c.vary(func(s *check.Situation) []page.Inline { return c.spoolWords(spools[s]) })
	time := c.vary(func(s *check.Situation) []page.Inline { return c.printTime(lists[s]) })
	return &page.Page{
		ID: "prints", Title: c.say("Printed parts"), Kind: page.PartsList, Parent: "parts",
		Summary: c.say("What to print, how it lies on the bed, and how much plastic and time it takes."),
		Blocks: []page.Block{
			c.paragraph("Settings and times are the plan's. A mass that the plan does not give is estimated: walls (number × line width × upright surface), closed layers below and above (number × layer height × level surface), and between them the share of infill, times the plastic's density. Where the plan is silent, the nozzle is 0.4 mm, a line an eighth wider, a layer 0.2 mm, and 4 layers are closed on either side. Supports, skirts and failed prints are on top. Common practice, no source."),
			t,
			page.Facts{Facts: []page.Fact{{Label: c.say("Plastic in all"), Words: sum}, {Label: c.say("Printing time in all"), Words: time}}},
		},
	}
}

// printsAny reports whether any combination holds a printed part.
func (c *composer) printsAny() bool {
	return slices.ContainsFunc(c.all, func(s *check.Situation) bool {
		return slices.ContainsFunc(s.Bill.Lines, func(l bill.Line) bool { return l.Part.Part.Made.Text == plan.Printed && l.Count > 0 })
	})
}

func (c *composer) printRow(p *plan.Part, only page.Only, find func(s *check.Situation) *bill.Print) page.Row {
	of := func(words func(s *check.Situation, one *bill.Print) []page.Inline) []page.Inline {
		return c.vary(func(s *check.Situation) []page.Inline {
			if one := find(s); one != nil {
				return words(s, one)
			}
			return page.Words("–")
		})
	}
	how := p.Print
	if how == nil {
		how = &plan.Print{}
	}
	return page.Row{Tick: "print-" + p.ID.Text, Only: only, Cells: cells(
		[]page.Inline{c.partLink(p)},
		of(func(_ *check.Situation, one *bill.Print) []page.Inline { return number(one.Count) }),
		of(func(_ *check.Situation, one *bill.Print) []page.Inline { return page.Words(one.Part.Material.Title) }),
		c.faceWords(how.Face.Text), page.Words(how.Walls.Text), c.quantityWords(how.Infill), c.quantityWords(how.Layer),
		of(func(_ *check.Situation, one *bill.Print) []page.Inline { return c.printMass(one) }),
		of(func(_ *check.Situation, one *bill.Print) []page.Inline {
			if !one.Timed {
				return c.said("not given")
			}
			return page.Words(c.duration(one.Minute))
		}),
	)}
}

// printMass is what one printed part weighs, and whether that is an estimate.
func (c *composer) printMass(one *bill.Print) []page.Inline {
	p := one.Part
	switch {
	case !p.Weighed:
		return c.said("not known")
	case !one.Estimated() && (p.Part.Mass.Given() || p.Filament != nil):
		return []page.Inline{c.mass(p.Mass)}
	case p.Filament == nil || p.Filament.Solid:
		return c.told("%s, if full|a printed part", []page.Inline{c.mass(p.Mass)})
	}
	return c.told("about %s|mass", []page.Inline{c.mass(roughly(p.Mass))})
}

// roughly rounds an estimated mass to the gram, below ten to a tenth of it.
func roughly(kg float64) float64 {
	per := 1000.0
	if kg < 0.01 {
		per = 10_000
	}
	return math.Round(kg*per) / per
}

func (c *composer) spoolWords(spools []bill.Spool) []page.Inline {
	var items [][]page.Inline
	for _, s := range spools {
		mass := []page.Inline{c.mass(s.Mass)}
		if s.Estimated {
			mass = c.told("about %s|mass", []page.Inline{c.mass(roughly(s.Mass))})
		}
		words := c.told("%s of %s|plastic", mass, page.Words(s.Material.Title))
		if n := len(s.Unweighed); n > 0 {
			words = append(words, page.Text(c.tongue.Count(n, " and 1 part of unknown mass", " and %d parts of unknown mass")))
		}
		items = append(items, words)
	}
	if len(items) == 0 {
		return c.said("none|plastic")
	}
	return joined(items)
}

func (c *composer) printTime(list []bill.Print) []page.Inline {
	minutes, unknown := 0.0, 0
	for _, one := range list {
		minutes += one.Minute * float64(one.Count)
		if !one.Timed {
			unknown += one.Count
		}
	}
	words := page.Words(c.duration(minutes))
	if unknown > 0 {
		words = append(words, page.Text(c.tongue.Count(unknown, ", without 1 piece whose time is not given", ", without %d pieces whose time is not given")))
	}
	return words
}
