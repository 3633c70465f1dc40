package compose

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// differences are, for each option that is not the plan's own, what it adds to the
// machine and takes away, the other choices as the plan has them.
func (c *composer) differences(choice *plan.Choice) []page.Block {
	own := c.departing(choice.ID.Text, choice.Default.Text)
	if own == nil {
		return nil
	}
	var out []page.Block
	ownTitle := ""
	for _, o := range choice.Options {
		if o.ID.Text == choice.Default.Text {
			ownTitle = o.Title.Value
		}
	}
	for _, o := range choice.Options {
		s := c.departing(choice.ID.Text, o.ID.Text)
		if s == nil || s == own {
			continue
		}
		d := bill.Between(c.plan, own.Bill, s.Bill)
		facts := []page.Fact{
			{Label: c.say("Cost"), Words: c.moreCost(d)},
			{Label: c.say("Mass"), Words: c.moreMass(d.Mass)},
			{Label: c.say("Work"), Words: page.Words(signed(d.Minutes < 0, d.Minutes == 0) + c.duration(max(d.Minutes, -d.Minutes)))},
		}
		if len(d.Sized) > 0 {
			var sized [][]page.Inline
			for _, p := range d.Sized {
				sized = append(sized, []page.Inline{c.partLink(p.Part)})
			}
			facts = append(facts, page.Fact{Label: c.say("In another size"), Words: joined(sized)})
		}
		out = append(out, page.Heading{Level: 3, ID: "instead-" + choice.ID.Text + "-" + o.ID.Text, Words: c.said("%s instead of %s", o.Title.Value, ownTitle)},
			page.Facts{Facts: facts})
		if t := c.changedParts(own, s, d, ownTitle, o.Title.Value); len(t.Rows) > 0 {
			t.ID = "instead-" + choice.ID.Text + "-" + o.ID.Text + "-parts"
			out = append(out, t)
		} else {
			out = append(out, c.paragraph("Parts and counts stay the same."))
		}
	}
	return out
}

func signed(less, none bool) string {
	switch {
	case none:
		return "±"
	case less:
		return "−"
	}
	return "+"
}

// moreCost is a difference of cost with its sign, and what it lacks.
func (c *composer) moreCost(d bill.Difference) []page.Inline {
	words := append(page.Words(signed(d.Cost < 0, d.Cost == 0)), c.money(max(d.Cost, -d.Cost)))
	if n := len(d.Unpriced); n > 0 {
		words = append(words, page.Text(c.tongue.Count(n, ", without 1 item that has no price", ", without %d items that have no price")))
	}
	return words
}

// moreMass is a difference of mass with its sign.
func (c *composer) moreMass(kg float64) []page.Inline {
	text := func(system quantity.System) string {
		return signed(kg < 0, kg == 0) + quantity.Text(quantity.Value{SI: max(kg, -kg), Dim: quantity.Mass}, system)
	}
	first, second := quantity.Metric, quantity.Inch
	if c.system == quantity.Inch {
		first, second = second, first
	}
	return []page.Inline{page.Measure{First: text(first), Second: text(second)}}
}

// changedParts lists the parts whose count or amount changes from one situation to
// another.
func (c *composer) changedParts(from, to *check.Situation, d bill.Difference, fromTitle, toTitle string) page.Table {
	t := page.Table{Columns: []page.Column{
		c.head("Part"), {Head: page.Words(fromTitle), Align: page.Right}, {Head: page.Words(toTitle), Align: page.Right}, {Head: c.said("Change|of a count"), Align: page.Right},
	}}
	for _, change := range d.Parts {
		p := change.Part.Part
		words := page.Words(fmt.Sprintf("%s%d", signed(change.To < change.From, change.To == change.From), max(change.To-change.From, change.From-change.To)))
		if change.To == change.From { // by amount
			words = nil
			if v, ok := to.Reckoning.Quantity(p.Amount); ok {
				v.SI = max(change.Amount, -change.Amount)
				words = append(page.Words(signed(change.Amount < 0, false)), c.measured(v.Nominal())...)
			}
		}
		t.Rows = append(t.Rows, page.Row{Cells: cells([]page.Inline{c.partLink(p)}, c.countWords(from, p), c.countWords(to, p), words)})
	}
	return t
}

// whatever is the most of each part that depends on the choices: enough of it for
// every way of building the machine. Parts that do not are left to the parts list.
func (c *composer) whatever() []page.Block {
	bills := make([]*bill.Bill, len(c.all))
	for i, s := range c.all {
		bills[i] = s.Bill
	}
	t := page.Table{ID: "whatever-parts", Columns: []page.Column{c.head("Part"), {Head: c.said("At most|a count"), Align: page.Right}, c.head("Taken by|options")}}
	for _, most := range bill.Whatever(c.plan, bills) {
		if len(most.In) == len(bills) {
			continue
		}
		p := most.Part.Part
		t.Rows = append(t.Rows, page.Row{Cells: cells([]page.Inline{c.partLink(p)}, c.countWords(c.all[most.In[0]], p), page.Words(c.takenBy(most.In)))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []page.Block{
		page.Heading{Level: 2, ID: "whatever", Words: c.said("Everything, whatever you choose")},
		c.paragraph("Who buys before deciding needs this many of the parts that depend on the choices; of all others, what the parts list says."),
		t,
	}
}

// takenBy names the options of some of the combinations: of each choice that matters
// to whether one is among them.
func (c *composer) takenBy(in []int) string {
	keys := make([]string, len(c.all))
	for i := range keys {
		keys[i] = fmt.Sprint(slices.Contains(in, i))
	}
	var says []string
	for _, choice := range c.dependsOn(keys) {
		var options []string
		for _, o := range choice.Options {
			if slices.ContainsFunc(in, func(i int) bool { return c.all[i].Case.Options[choice.ID.Text] == o.ID.Text }) {
				options = append(options, o.Title.Value)
			}
		}
		if len(options) < len(choice.Options) {
			says = append(says, strings.Join(options, c.say(" or ")))
		}
	}
	return strings.Join(says, ", ")
}
