package compose

import (
	"math"
	"slices"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// byAssembly is the parts list assembly by assembly, with what each weighs and where
// its centre of mass lies.
func (c *composer) byAssembly() *page.Page {
	pg := &page.Page{
		ID: "by-assembly", Title: c.say("Parts by assembly"), Kind: page.PartsList, Parent: "parts",
		Summary: c.say("What each assembly holds, what it weighs, and where its centre of mass lies."),
		Blocks: []page.Block{
			c.paragraph("Each table lists what stands in the assembly itself and what its own joints take; an assembly within it is one row here and has a table of its own."),
			c.paragraph("A centre of mass is given along the assembly's axes x (right), y (back) and z (up), with every motion at rest. Each body counts at the centroid of its shape; what has no shape or no place of its own is left out and named."),
		},
	}
	balances := map[*check.Situation]map[string]bill.Balance{}
	counts := map[*check.Situation]held{}
	for _, s := range c.all {
		counts[s] = heldOf(s)
		balances[s] = map[string]bill.Balance{}
		for _, b := range bill.Balances(s.Reckoning, s.Layout) {
			balances[s][b.Assembly.ID.Text] = b
		}
	}
	for _, a := range c.order {
		only, exists := c.only(func(s *check.Situation) bool { return takes(s, a) })
		if !exists {
			continue
		}
		some := c.under(only)
		link := page.Link{To: assemblyTarget(a), Words: page.Words(a.Title.Value)}
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: a.ID.Text, Words: []page.Inline{link}, Only: only},
			page.Facts{Only: only, Facts: some.balanceFacts(a, balances)})
		if t := some.heldTable(a, only, counts); len(t.Rows) > 0 {
			pg.Blocks = append(pg.Blocks, t)
		}
	}
	return pg
}

func (c *composer) balanceFacts(a *plan.Assembly, balances map[*check.Situation]map[string]bill.Balance) []page.Fact {
	facts := []page.Fact{
		{Label: c.say("In the machine"), Words: c.vary(func(s *check.Situation) []page.Inline { return number(s.Reckoning.Tally().Assembled[a.ID.Text]) })},
		{Label: c.say("Mass of one"), Words: c.vary(func(s *check.Situation) []page.Inline {
			kg, _ := s.Reckoning.AssemblyMass(a)
			return []page.Inline{c.mass(kg)}
		})},
		{Label: c.say("Centre of mass"), Words: c.vary(func(s *check.Situation) []page.Inline {
			b := balances[s][a.ID.Text]
			if b.Mass <= 0 {
				return c.said("not known")
			}
			return []page.Inline{c.place3(b.Centre.X, b.Centre.Y, b.Centre.Z)}
		})},
		{Label: c.say("Time"), Words: c.vary(func(s *check.Situation) []page.Inline { return page.Words(c.duration(minutesOf(s, a))) })},
	}
	left := false
	words := c.vary(func(s *check.Situation) []page.Inline {
		var names [][]page.Inline
		for _, id := range balances[s][a.ID.Text].Left {
			left = true
			names = append(names, []page.Inline{c.partLink(c.plan.Part(id))})
		}
		if len(names) == 0 {
			return c.said("nothing")
		}
		return joined(names)
	})
	if left {
		facts = append(facts, page.Fact{Label: c.say("Left out of the centre"), Words: words})
	}
	return facts
}

// place3 is a place in space, to a tenth of a millimetre, in both systems.
func (c *composer) place3(x, y, z float64) page.Inline {
	tenth := func(mm float64) float64 { return math.Round(mm*10)/10 + 0 }
	write := func(system quantity.System) string {
		text := ""
		for i, mm := range []float64{tenth(x), tenth(y), tenth(z)} {
			if i > 0 {
				text += ", "
			}
			text += []string{"x ", "y ", "z "}[i] + quantity.Text(quantity.MM(mm), system)
		}
		return text
	}
	first, second := quantity.Metric, quantity.Inch
	if c.system == quantity.Inch {
		first, second = second, first
	}
	return page.Measure{First: write(first), Second: write(second)}
}

// heldTable is what one assembly holds itself, in one of it and in the whole machine.
func (c *composer) heldTable(a *plan.Assembly, only page.Only, counts map[*check.Situation]held) page.Table {
	t := page.Table{ID: "list-" + a.ID.Text, Only: only, Columns: []page.Column{
		c.head("Part"), {Head: c.said("In one|assembly"), Align: page.Right}, {Head: c.said("In all|assemblies"), Align: page.Right},
	}}
	row := func(id string, name []page.Inline) {
		in := func(s *check.Situation) int { return counts[s][a][id] }
		rowOnly, exists := c.only(func(s *check.Situation) bool { return in(s) > 0 })
		if !exists {
			return
		}
		some := c.under(rowOnly)
		t.Rows = append(t.Rows, page.Row{Only: rowOnly, Cells: cells(name,
			some.vary(func(s *check.Situation) []page.Inline {
				return number(in(s) / max(1, s.Reckoning.Tally().Assembled[a.ID.Text]))
			}),
			some.vary(func(s *check.Situation) []page.Inline { return number(in(s)) }),
		)})
	}
	any := map[string]bool{}
	for _, s := range c.all {
		for id := range counts[s][a] {
			any[id] = true
		}
	}
	for _, sub := range c.order {
		if any[sub.ID.Text] {
			row(sub.ID.Text, []page.Inline{c.linkTo(assemblyTarget(sub), sub.Title.Value)})
		}
	}
	for _, p := range c.plan.Parts {
		if any[p.ID.Text] {
			row(p.ID.Text, []page.Inline{c.partLink(p)})
		}
	}
	return t
}

// held is how many of each part and assembly stand directly in each assembly, in the
// whole machine, by their ids.
type held map[*plan.Assembly]map[string]int

func heldOf(s *check.Situation) held {
	out := held{}
	add := func(in *plan.Assembly, id string, n int) {
		if out[in] == nil {
			out[in] = map[string]int{}
		}
		out[in][id] += n
	}
	for _, i := range s.Reckoning.Tally().Instances {
		if i.Assembly != nil {
			add(i.Parent.Assembly, i.Assembly.ID.Text, 1)
		}
	}
	for _, line := range s.Bill.Lines {
		for _, share := range line.By {
			add(share.Assembly, line.Part.Part.ID.Text, share.Count)
		}
	}
	return out
}

// kindNames are what tables call kinds of part.
var kindNames = map[string]wording.Phrase{
	plan.Cut: "Cut from bars", plan.Sheet: "Cut from sheets", plan.Machined: "Machined", plan.Turned: "Turned", plan.Printed: "Printed",
	plan.Altered: "Bought and altered", plan.Bought: "Bought", bill.Standard: "Standard parts", plan.Consumable: "Consumables",
}

// byKind is how many parts there are of each kind.
func (c *composer) byKind() page.Table {
	t := page.Table{ID: "kinds", Columns: []page.Column{
		c.head("Kind|of parts"), {Head: c.said("Different parts"), Align: page.Right}, {Head: c.said("Pieces"), Align: page.Right}, {Head: c.said("Mass"), Align: page.Right},
	}}
	sums := map[*check.Situation]map[string]bill.Sum{}
	var order []string
	for _, s := range c.all {
		sums[s] = map[string]bill.Sum{}
		for _, sum := range s.Bill.ByKind() {
			if !slices.Contains(order, sum.Of) {
				order = append(order, sum.Of)
			}
			sums[s][sum.Of] = sum
		}
	}
	for _, kind := range order {
		only, _ := c.only(func(s *check.Situation) bool { return sums[s][kind].Lines > 0 })
		some := c.under(only)
		t.Rows = append(t.Rows, page.Row{Only: only, Cells: cells(c.said(kindNames[kind]),
			some.vary(func(s *check.Situation) []page.Inline { return number(sums[s][kind].Lines) }),
			some.vary(func(s *check.Situation) []page.Inline {
				if kind == plan.Consumable {
					return c.said("as needed")
				}
				return number(sums[s][kind].Pieces)
			}),
			some.vary(func(s *check.Situation) []page.Inline {
				if sums[s][kind].Mass <= 0 {
					return page.Words("–")
				}
				return []page.Inline{c.mass(sums[s][kind].Mass)}
			}),
		)})
	}
	return t
}
