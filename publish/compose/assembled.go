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
		together = append(together, page.Figure{Picture: drawn.Together, Only: only, Caption: page.Words(a.Title.Value + ", put together")})
		if drawn.Apart != nil {
			apart = append(apart, page.Figure{Picture: drawn.Apart, Only: only, Caption: page.Words(a.Title.Value + ", taken apart along the ways in which it goes together")})
		}
	}
	if t := c.items(a); t != nil {
		together = append(together, *t)
	}
	return append(together, apart...)
}

// takes reports whether the machine has an assembly under a situation.
func takes(s *check.Situation, a *plan.Assembly) bool {
	return s.Reckoning.Tally().Assembled[a.ID.Text] > 0
}

// items is an assembly's own parts list, numbered as its pictures are; nil for one
// that holds nothing.
func (c *composer) items(a *plan.Assembly) *page.Table {
	t := &page.Table{ID: "items", Columns: []page.Column{
		{Head: page.Words("Item"), Align: page.Right}, {Head: page.Words("Part")}, {Head: page.Words("Count"), Align: page.Right},
	}}
	for i, item := range c.Pictures.Items[a.ID.Text] {
		count := func(s *check.Situation) int {
			for _, own := range scene.Items(s.Reckoning, a) {
				if own.ID == item.ID {
					return own.Count
				}
			}
			return 0
		}
		only, _ := c.only(func(s *check.Situation) bool { return count(s) > 0 || !takes(s, a) })
		t.Rows = append(t.Rows, page.Row{Only: only, Cells: cells(
			number(i+1), c.reference(plan.Word{Text: item.ID}), c.vary(func(s *check.Situation) []page.Inline { return number(count(s)) }),
		)})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}
