package compose

import (
	"slices"

	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
	"plansheaf/publish/scene"
)

// assembled shows an assembly put together, its parts list by the numbers of the
// balloons, and the assembly taken apart.
func (c *composer) assembled(a *plan.Assembly) []page.Block {
	var together, apart []page.Block
	for _, drawn := range c.Pictures.Assembled[a.ID.Text] {
		only, _ := c.only(func(s *check.Situation) bool { return slices.Contains(drawn.Cases, s) || !takes(s, a) })
		together = append(together, page.Figure{Picture: drawn.Together, Only: only, Caption: c.said("%s, put together", a.Title.Value)})
		if drawn.Apart != nil {
			apart = append(apart, page.Figure{Picture: drawn.Apart, Only: only, Caption: c.said("%s, taken apart along the ways in which it goes together", a.Title.Value)})
		}
	}
	if t := c.items(a); t != nil {
		together = append(together, *t)
	}
	return slices.Concat(together, apart, c.clearances(a))
}

// takes reports whether the machine has an assembly under a situation.
func takes(s *check.Situation, a *plan.Assembly) bool {
	return s.Reckoning.Tally().Assembled[a.ID.Text] > 0
}

// items is an assembly's own parts list, numbered as its pictures are; nil for one
// that holds nothing.
func (c *composer) items(a *plan.Assembly) *page.Table {
	t := &page.Table{ID: "items", Columns: []page.Column{
		{Head: c.said("Item"), Align: page.Right}, {Head: c.said("Part")}, {Head: c.said("Count"), Align: page.Right},
	}}
	all := c.Pictures.Items[a.ID.Text]
	lists := make(map[*check.Situation][]scene.Item, len(c.all))
	for _, s := range c.all {
		lists[s] = scene.Present(all, scene.Items(s.Reckoning, a))
	}
	for _, item := range all {
		place := func(s *check.Situation) int {
			return slices.IndexFunc(lists[s], func(own scene.Item) bool { return own.ID == item.ID })
		}
		only, _ := c.only(func(s *check.Situation) bool { return place(s) >= 0 || !takes(s, a) })
		some := c.under(only)
		t.Rows = append(t.Rows, page.Row{Only: only, Cells: cells(
			some.vary(func(s *check.Situation) []page.Inline { return number(place(s) + 1) }),
			c.reference(plan.Word{Text: item.ID}),
			some.vary(func(s *check.Situation) []page.Inline {
				if i := place(s); i >= 0 {
					return number(lists[s][i].Count)
				}
				return number(0)
			}),
		)})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}
