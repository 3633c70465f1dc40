package compose

import (
	"strings"

	"plansheaf/design/change"
	"plansheaf/publish/page"
)

// since tells what a revision changed in an earlier one, kind by kind: what the plan says
// otherwise.
func (c *composer) since(since *change.Comparison) []page.Block {
	id := "since-" + strings.ToLower(since.Old.Revision)
	blocks := []page.Block{page.Heading{Level: 2, ID: id, Words: c.said("Since revision %s", since.Old.Revision)}}
	t := page.Table{ID: id + "-table", Columns: []page.Column{{Head: c.said("What|of a change")}, {Head: c.said("Before|a change")}, {Head: c.said("Now|after a change")}}}
	for _, x := range since.Changes {
		if x.Follows || x.Kind == change.OfPlan {
			continue
		}
		t.Rows = append(t.Rows, page.Row{Section: true, Cells: cells(c.became(x))})
		if x.What == change.Added || x.What == change.Removed {
			continue
		}
		for _, f := range x.Lines {
			t.Rows = append(t.Rows, page.Row{Cells: cells(page.Words(c.fieldName(f.What)), page.Words(f.Old), page.Words(f.New))})
		}
	}
	if len(t.Rows) == 0 {
		return append(blocks, c.paragraph("Nothing that a builder would notice."))
	}
	return append(blocks, c.paragraph("What the plan's files say otherwise, in their own words; what only follows from it is left out."), t)
}

// became is a sentence about what became of a thing.
func (c *composer) became(x change.Change) []page.Inline {
	name, was := x.ID, x.Was
	if x.Title != "" {
		name = x.Title + " (" + x.ID + ")"
	}
	if x.Had != "" {
		was = x.Had + " (" + orID(x.Was, x.ID) + ")"
	}
	switch x.What {
	case change.Added:
		return c.said("%s is new|a change", name)
	case change.Removed:
		return c.said("%s is gone|a change", name)
	case change.Renamed:
		return c.said("%s was called %s", name, was)
	case change.Replaced:
		return c.said("%s takes the place of %s", name, was)
	}
	return page.Words(name)
}

func orID(was, id string) string {
	if was != "" {
		return was
	}
	return id
}
