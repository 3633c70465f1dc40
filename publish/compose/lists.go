package compose

import (
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// partGroup is a section of the parts list.
type partGroup struct {
	title string
	parts []*plan.Part
}

// groups sorts the parts that any combination takes: by their file, standard parts
// together at the end.
func (c *composer) groups() []partGroup {
	var list []partGroup
	var standard []*plan.Part
	at := map[string]int{}
	for _, p := range c.plan.Parts {
		if !c.taken(p) {
			continue
		}
		if p.Standard.Given() {
			standard = append(standard, p)
			continue
		}
		i, known := at[p.Group]
		if !known {
			i = len(list)
			at[p.Group] = i
			list = append(list, partGroup{title: capital(strings.ReplaceAll(p.Group, "_", " "))})
		}
		list[i].parts = append(list[i].parts, p)
	}
	if len(standard) > 0 {
		list = append(list, partGroup{title: c.say("Standard parts"), parts: standard})
	}
	return list
}

// partsList is the parts list of the whole machine.
func (c *composer) partsList() *page.Page {
	t := page.Table{
		ID: "list", Sort: true,
		Columns: []page.Column{
			{Head: c.said("Item"), Align: page.Right}, {Head: c.said("Part")}, {Head: c.said("Count"), Align: page.Right},
			{Head: c.said("Material"), Wide: true}, {Head: c.said("Size"), Wide: true}, {Head: c.said("Mass each"), Align: page.Right, Wide: true},
			{Head: c.said("Where"), Wide: true},
		},
	}
	items := make(map[*check.Situation]int, len(c.all)) // rows so far that a combination has
	for _, g := range c.groups() {
		t.Rows = append(t.Rows, page.Row{Section: true, Cells: []page.Cell{{Words: page.Words(g.title)}}})
		for _, p := range g.parts {
			for _, s := range c.all {
				if s.Bill.Line(p.ID.Text) != nil {
					items[s]++
				}
			}
			t.Rows = append(t.Rows, c.partRow(p, items))
		}
	}
	total := c.vary(func(s *check.Situation) []page.Inline { return []page.Inline{c.mass(s.Bill.Mass)} })
	t.Foot = []page.Row{{Cells: cells(nil, c.said("Whole machine"), nil, nil, nil, total, nil)}}
	return &page.Page{
		ID: "parts", Title: c.say("Parts"), Kind: page.PartsList,
		Summary: c.say("Everything the machine holds, with counts for the whole machine."),
		Blocks:  []page.Block{c.paragraph("Counts are for the whole machine, fasteners included, without spares. An altered part is listed as what it becomes; what it is made from is on the shopping list."), c.furtherLists(), t, page.Heading{Level: 2, ID: "by-kind", Words: c.said("By kind|of part")}, c.byKind()},
	}
}

// furtherLists leads to the lists that sort the same parts in other ways.
func (c *composer) furtherLists() page.List {
	entry := func(to []page.Inline) page.Item { return page.Item{Blocks: []page.Block{page.Paragraph{Words: to}}} }
	list := page.List{Items: []page.Item{entry(c.to("by-assembly", "Parts by assembly")), entry(c.to("by-step", "Parts by step"))}}
	if c.printsAny() {
		list.Items = append(list.Items, entry(c.to("prints", "Printed parts")))
	}
	return list
}

func cells(words ...[]page.Inline) []page.Cell {
	out := make([]page.Cell, len(words))
	for i, w := range words {
		out[i].Words = w
	}
	return out
}

func (c *composer) partRow(p *plan.Part, items map[*check.Situation]int) page.Row {
	only, _ := c.only(func(s *check.Situation) bool { return s.Bill.Line(p.ID.Text) != nil })
	c = c.under(only)
	worked := c.all[0].Reckoning.Part(p.ID.Text)
	count := c.vary(func(s *check.Situation) []page.Inline { return c.countWords(s, p) })
	item := c.vary(func(s *check.Situation) []page.Inline {
		if s.Bill.Line(p.ID.Text) == nil { // what an altered part is made from
			return page.Words("–")
		}
		return number(items[s])
	})
	var where [][]page.Inline
	for _, a := range c.order {
		if n := c.countIn(a, p); n != nil {
			link := page.Link{To: assemblyTarget(a), Words: page.Words(a.Title.Value)}
			where = append(where, append([]page.Inline{link, page.Text(" ")}, n...))
		}
	}
	return page.Row{
		ID: p.ID.Text, Only: only,
		Cells: cells(item, []page.Inline{c.partLink(p)}, count, page.Words(worked.Material.Title), c.sizeWords(p), c.massWords(p), joined(where)),
	}
}

// countWords is how many of a part one combination takes: pieces, or the amount of
// a consumable.
func (c *composer) countWords(s *check.Situation, p *plan.Part) []page.Inline {
	line := s.Bill.Line(p.ID.Text)
	switch {
	case line == nil:
		return page.Words("–")
	case line.Count == 0 && line.Amount > 0:
		if v, ok := s.Reckoning.Quantity(p.Amount); ok {
			v.SI = line.Amount
			return c.measured(v.Nominal())
		}
		return c.said("as needed")
	}
	return number(line.Count)
}

// countIn is how many of a part an assembly holds over all of its instances; nil
// for none in any combination.
func (c *composer) countIn(a *plan.Assembly, p *plan.Part) []page.Inline {
	any := false
	words := c.vary(func(s *check.Situation) []page.Inline {
		if line := s.Bill.Line(p.ID.Text); line != nil {
			for _, share := range line.By {
				if share.Assembly == a {
					any = true
					return number(share.Count)
				}
			}
		}
		return page.Words("0")
	})
	if !any {
		return nil
	}
	return words
}

// sizeWords is what a part measures: length for bars, outline and thickness for
// sheets, the box it takes up for others, the designation of standard parts.
func (c *composer) sizeWords(p *plan.Part) []page.Inline {
	if p.Standard.Given() {
		return page.Words(p.Standard.Text)
	}
	return c.vary(func(s *check.Situation) []page.Inline {
		worked := s.Reckoning.Part(p.ID.Text)
		switch {
		case p.Loop != nil || p.Strand != nil:
			if v, err := s.Reckoning.PartProperty(p.ID.Text, "length"); err == nil {
				return c.told("%s long", c.measured(v))
			}
			return nil
		case p.Length.Given():
			if v, ok := s.Reckoning.Quantity(p.Length); ok {
				return c.told("%s long", c.measured(v))
			}
			return nil
		case worked == nil || worked.Solid == nil:
			return nil
		}
		size := worked.Solid.Box().Max.Sub(worked.Solid.Box().Min)
		return []page.Inline{c.box(size.X, size.Y, size.Z)}
	})
}

// box is three sizes in both systems: "260 × 120 × 10 mm".
func (c *composer) box(x, y, z float64) page.Inline {
	write := func(system quantity.System) string {
		var texts []string
		for _, mm := range []float64{x, y, z} {
			texts = append(texts, quantity.Text(quantity.MM(mm), system))
		}
		return shareUnit(texts)
	}
	first, second := quantity.Metric, quantity.Inch
	if c.system == quantity.Inch {
		first, second = second, first
	}
	return page.Measure{First: write(first), Second: write(second)}
}

// shareUnit joins sizes and leaves the unit to the last where all have the same.
func shareUnit(texts []string) string {
	_, unit, found := strings.Cut(texts[len(texts)-1], " ")
	for i := range texts[:len(texts)-1] {
		if number, own, ok := strings.Cut(texts[i], " "); found && ok && own == unit {
			texts[i] = number
		}
	}
	return strings.Join(texts, " × ")
}

func (c *composer) massWords(p *plan.Part) []page.Inline {
	return c.vary(func(s *check.Situation) []page.Inline {
		if worked := s.Reckoning.Part(p.ID.Text); worked != nil && worked.Weighed {
			return []page.Inline{c.mass(worked.Mass)}
		}
		return nil // such as glue: nobody weighs it on the machine
	})
}
