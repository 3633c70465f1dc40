package compose

import (
	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
)

// byStep is what each step takes, to lay out before the work begins.
func (c *composer) byStep() *page.Page {
	t := page.Table{ID: "kits", Columns: []page.Column{{Head: c.said("Count"), Align: page.Right}, c.head("Part")}}
	kits := map[*check.Situation]map[*plan.Step]*bill.Kit{}
	for _, s := range c.all {
		kits[s] = map[*plan.Step]*bill.Kit{}
		all := bill.Kits(s.Reckoning, s.Sequence())
		for i := range all {
			kits[s][all[i].Step] = &all[i]
		}
	}
	for _, a := range c.order {
		for _, st := range a.Steps {
			t.Rows = append(t.Rows, c.kitRows(a, st, func(s *check.Situation) *bill.Kit { return kits[s][st] })...)
		}
	}
	return &page.Page{
		ID: "by-step", Title: c.say("Parts by step"), Kind: page.PartsList, Parent: "parts",
		Summary: c.say("What to lay out for each step, in the order of work."),
		Blocks: []page.Block{
			c.paragraph("Counts are for doing the step once; a step of an assembly that the machine has several of says how often it is done. Screws, washers and nuts stand in the step that starts them."),
			t,
		},
	}
}

// kitRows are a heading and the rows of what one step takes; none where it takes
// nothing.
func (c *composer) kitRows(a *plan.Assembly, st *plan.Step, of func(s *check.Situation) *bill.Kit) []page.Row {
	var ids []string // in the order in which they are laid out
	seen := map[string]bool{}
	note := func(id string) {
		if !seen[id] {
			seen[id] = true
			ids = append(ids, id)
		}
	}
	for _, s := range c.all {
		if kit := of(s); kit != nil {
			for _, item := range kit.Items {
				note(item.ID())
			}
			for _, u := range kit.Uses {
				note(u.Part.Part.ID.Text)
			}
		}
	}
	if len(ids) == 0 {
		return nil
	}
	only, _ := c.only(func(s *check.Situation) bool { return of(s) != nil })
	c = c.under(only)
	head := []page.Inline{page.Link{To: stepTarget(a, st.ID.Text), Words: page.Words(a.Title.Value + ": " + st.Title.Value)}}
	head = append(head, c.vary(func(s *check.Situation) []page.Inline {
		if kit := of(s); kit != nil && kit.Times > 1 {
			return c.said(" (%d times)|a step is done", kit.Times)
		}
		return nil
	})...)
	rows := []page.Row{{Section: true, Only: only, Cells: cells(head)}}
	for _, id := range ids {
		count := func(s *check.Situation) []page.Inline { return c.kitCount(of(s), id) }
		rowOnly, _ := c.only(func(s *check.Situation) bool { return count(s) != nil })
		rowOnly = append(only[:len(only):len(only)], rowOnly...)
		rows = append(rows, page.Row{
			Tick: "kit-" + a.ID.Text + "-" + st.ID.Text + "-" + id, Only: rowOnly,
			Cells: cells(c.under(rowOnly).vary(count), c.reference(plan.Word{Text: id})),
		})
	}
	return rows
}

// kitCount is how many, or how much, of something a kit has; nil for none.
func (c *composer) kitCount(kit *bill.Kit, id string) []page.Inline {
	if kit == nil {
		return nil
	}
	for _, item := range kit.Items {
		if item.ID() == id {
			return number(item.Count)
		}
	}
	for _, u := range kit.Uses {
		if u.Part.Part.ID.Text == id {
			return c.measured(u.Amount.Nominal())
		}
	}
	return nil
}
