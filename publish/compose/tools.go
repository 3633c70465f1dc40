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
		{Head: c.said("Tool")}, {Head: c.said("Size")}, {Head: c.said("How often"), Align: page.Right}, {Head: c.said("At hand|a tool")}, {Head: c.said("Where it is used"), Wide: true},
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
		some := c.under(only)
		of := func(words func(tool *sequence.Tool) []page.Inline) []page.Inline {
			return some.vary(func(s *check.Situation) []page.Inline {
				if tool := find(s, like); tool != nil {
					return words(tool)
				}
				return nil
			})
		}
		t.Rows = append(t.Rows, page.Row{Tick: "tool-" + like.Kind + like.Size, Only: only, Cells: cells(
			page.Words(capital(c.say(wording.Phrase(like.Kind)))), page.Words(like.Size), of(c.toolCount), of(c.toolOwned), of(c.toolUses),
		)})
	}
	return &page.Page{
		ID: "tools", Title: c.say("Tools"), Kind: page.Tools,
		Summary: c.say("Every tool that the screws, holes, cuts and steps call for."),
		Blocks: []page.Block{
			c.paragraph("How often counts the screws and nuts that a tool turns or holds; for other tools, parts and steps. What is needed once or for one joint is better borrowed than bought."),
			t,
		},
	}
}

// toolCount is at how many places a tool turns or holds something, or for how many parts
// and steps it is needed; what is needed for one thing alone is pointed out.
func (c *composer) toolCount(tool *sequence.Tool) []page.Inline {
	count := len(tool.Parts) + len(tool.Steps)
	if len(tool.Joints) > 0 {
		count = tool.Turns() + len(tool.Parts)
	}
	switch {
	case tool.Two():
		return c.said("%d, two at once|of a tool", count)
	case !tool.Once():
		return number(count)
	case count == 1:
		return c.said("once")
	}
	return c.said("%d in one joint|screws", count)
}

// toolOwned says whether the plan takes a tool to be in the builder's workshop.
func (c *composer) toolOwned(tool *sequence.Tool) []page.Inline {
	if tool.Own != nil && tool.Own.Owned {
		return c.said("taken to be there")
	}
	return c.said("to get")
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
