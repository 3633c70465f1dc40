package compose

import (
	"fmt"

	"plansheaf/design/chain"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
	"plansheaf/publish/stackup"
	"plansheaf/publish/wording"
)

// chains shows the tolerance chain of a calculation, once for each that choices make
// of it: the sketch, what the gap comes to, and what does most to it.
func (c *composer) chains(k *plan.Calc) []page.Block {
	var out []page.Block
	var keys []string
	for _, s := range c.all {
		report := s.Chain(k.ID.Text)
		if report == nil || !report.Known {
			continue
		}
		key := chainKey(report)
		number := len(keys) + 1
		for _, known := range keys {
			if known == key {
				number = 0
			}
		}
		if number == 0 {
			continue
		}
		keys = append(keys, key)
		only, _ := c.only(func(s *check.Situation) bool {
			other := s.Chain(k.ID.Text)
			return other != nil && chainKey(other) == key
		})
		out = append(out, c.chain(report, number, only)...)
	}
	if len(out) > 0 {
		out = append(out, c.paragraph("Mean: every size in the middle of its tolerance; formulas name this gap. Worst case: every size at its worst limit at once. Statistically: the root of the sum of squares, each size normal with its limits at three standard deviations about the middle of its tolerance, and so the gap. A size that the drawing gives no dimension of its own counts as one with the general tolerance. Play is half of what the largest hole is wider than the smallest shaft or screw, to either side."))
	}
	return out
}

// chainKey tells chains apart by all that is shown of them.
func chainKey(r *chain.Report) string { return fmt.Sprint(r.Gap, r.Contributors, r.Found, r.Alike) }

func (c *composer) chain(r *chain.Report, number int, only page.Only) []page.Block {
	name, title := "chains/"+r.Calc.ID.Text, r.Calc.Title.Value
	if number > 1 {
		name += fmt.Sprintf("-%d", number)
	}
	var out []page.Block
	for i, pic := range stackup.Draw(r, name, title, c.system, c.tongue) {
		caption := c.said("The chain, not to scale")
		if i > 0 {
			caption = c.said("The chain, picture %d", i+1)
		}
		out = append(out, page.Figure{Picture: pic, Caption: caption, Only: only})
	}
	low, high := r.Gap.Likely()
	out = append(out, page.Facts{Only: only, Facts: []page.Fact{
		{Label: c.say("Gap as drawn"), Words: c.measured(quantity.MM(r.Gap.Nominal))},
		{Label: c.say("Mean"), Words: c.measured(quantity.MM(r.Gap.Mean))},
		{Label: c.say("Worst case"), Words: c.between(r.Gap.Low, r.Gap.High)},
		{Label: c.say("Statistically"), Words: c.between(low, high)},
	}})
	if r.Found {
		out = append(out, page.Paragraph{Only: only, Words: c.wayFound(r)})
	}
	return append(out, c.contributors(r, number, only))
}

// between is from one length to another.
func (c *composer) between(low, high float64) []page.Inline {
	return c.told("%s to %s|lengths", c.measured(quantity.MM(low)), c.measured(quantity.MM(high)))
}

// wayFound says which parts a chain leads over that the plan does not name.
func (c *composer) wayFound(r *chain.Report) []page.Inline {
	var parts [][]page.Inline
	last := ""
	for _, l := range r.Links {
		if l.Path != last {
			parts = append(parts, page.Words(l.Title))
			last = l.Path
		}
	}
	words := c.told("It takes the one shortest way over parts that touch: %s.", joined(parts))
	if r.Alike > 1 {
		words = append(append(words, page.Text(" ")), c.said("%d such ways are alike.", r.Alike)...)
	}
	return words
}

// toleranceBases say where a tolerance comes from where its own words do not.
var toleranceBases = map[chain.Basis]wording.Phrase{
	chain.Assumed: "%s, taken for want of the maker's own", chain.Unknown: "not given: it counts as exact",
}

// contributors ranks what a gap hangs on.
func (c *composer) contributors(r *chain.Report, number int, only page.Only) page.Table {
	id := "contributors"
	if number > 1 {
		id += fmt.Sprintf("-%d", number)
	}
	t := page.Table{ID: id, Only: only, Columns: []page.Column{
		{Head: c.said("No."), Align: page.Right}, {Head: c.said("Part")}, {Head: c.said("Size|between features"), Wide: true}, {Head: c.said("Dimension"), Align: page.Right}, {Head: c.said("Tolerance from")},
		{Head: c.said("Of the worst case"), Align: page.Right}, {Head: c.said("Of the variance"), Align: page.Right},
	}}
	for _, one := range r.Contributors {
		from := page.Words(one.Says)
		if phrase, special := toleranceBases[one.Basis]; special {
			from = c.said(phrase)
			if one.Basis == chain.Assumed {
				from = c.said(phrase, one.Says)
			}
		}
		title := page.Words(one.Title)
		if one.Kind == chain.Extra {
			title = c.said("Added by the plan")
		}
		t.Rows = append(t.Rows, page.Row{Cells: cells(
			page.Words(fmt.Sprint(one.Number)), title, page.Words(stackup.Features(one, c.tongue)), page.Words(stackup.Size(one, c.system)), from,
			page.Words(c.percent(one.Worst)), page.Words(c.percent(one.Variance)),
		)})
	}
	return t
}
