package compose

import (
	"plansheaf/design/check"
	"plansheaf/design/sequence"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// tools is the list of tools that joints, holes, cuts and steps call for.
func (c *composer) tools() *page.Page {
	t := page.Table{ID: "tools", Columns: []page.Column{
		{Head: c.said("Tool")}, {Head: c.said("Size")}, {Head: c.said("Where it is used"), Wide: true},
	}}
	lists := make(map[*check.Situation][]sequence.Tool, len(c.all))
	var names []sequence.Tool // every tool of any combination, by kind and size
	seen := map[string]bool{}
	for _, s := range c.all {
		lists[s] = s.Sequence().Tools()
		for _, tool := range lists[s] {
			if k := tool.Kind + "|" + tool.Size; !seen[k] {
				seen[k] = true
				names = append(names, tool)
			}
		}
	}
	find := func(s *check.Situation, like sequence.Tool) *sequence.Tool {
		for i := range lists[s] {
			if lists[s][i].Kind == like.Kind && lists[s][i].Size == like.Size {
				return &lists[s][i]
			}
		}
		return nil
	}
	for _, like := range names {
		only, _ := c.only(func(s *check.Situation) bool { return find(s, like) != nil })
		where := c.vary(func(s *check.Situation) []page.Inline {
			if tool := find(s, like); tool != nil {
				return c.toolUses(tool)
			}
			return nil
		})
		t.Rows = append(t.Rows, page.Row{Tick: "tool-" + like.Kind + like.Size, Only: only, Cells: cells(page.Words(capital(c.say(wording.Phrase(like.Kind)))), page.Words(like.Size), where)})
	}
	return &page.Page{
		ID: "tools", Title: c.say("Tools"), Kind: page.Tools,
		Summary: c.say("Every tool that the screws, holes, cuts and steps call for."),
		Blocks:  []page.Block{t},
	}
}

func (c *composer) toolUses(tool *sequence.Tool) []page.Inline {
	var items [][]page.Inline
	for _, p := range tool.Parts {
		items = append(items, []page.Inline{c.partLink(p)})
	}
	for _, s := range tool.Steps {
		title := s.Step.Title.Value
		items = append(items, []page.Inline{c.linkTo(stepTarget(s.Assembly, s.Step.ID.Text), c.say("step %s", title))})
	}
	return joined(items)
}
