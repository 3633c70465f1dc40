package compose

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// mostSaws bounds the rows of one stock's order of cuts; the data have them all.
const mostSaws = 300

// sawing is the order in which one stock is cut under the plan's own choices: a row
// a cut, or for bars a row a length and bar.
func (c *composer) sawing(id string, only page.Only) []page.Block {
	k := cutPlan(c.all[0], id)
	if k == nil || len(k.Settings) == 0 {
		return nil
	}
	t := page.Table{ID: id + "-order", Only: only}
	intro := c.said("Set the stop from the blade; rows with the same stop are cut before it is moved. Parts are lettered as they come off; the numbers are those in the picture. What falls off lies between stop and blade.")
	head := []page.Column{{Head: c.said("Cut|one with a saw"), Align: page.Right}, {Head: c.said("Stop|of a saw"), Align: page.Right}, {Head: c.said("From|what is cut")}, {Head: c.said("Runs|a cut")}, {Head: c.said("Falls off")}, {Head: c.said("Remains")}}
	if k.Bars() {
		intro = c.said("Set the stop from the blade; rows with the same stop are cut before it is moved.")
		head = []page.Column{{Head: c.said("Stop|of a saw"), Align: page.Right}, {Head: c.said("From|what is cut")}, {Head: c.said("Piece")}, {Head: c.said("From each"), Align: page.Right}}
	}
	t.Columns = head
	if slices.ContainsFunc(k.Settings, bill.Setting.Mitred) {
		intro = append(append(intro, page.Text(" ")), c.said("Saw angles are from a square cut, stops to a piece's far tip. Mitred pieces of one bar are cut one after the other, every other one turned over as in the picture where that is so, so that one cut ends a piece and begins the next; before them the bar is cut square.")...)
	}
	more := 0
	for _, setting := range k.Settings {
		stop := c.measured(quantity.MM(setting.Stop))
		for _, saw := range setting.Saws {
			if len(t.Rows) == mostSaws {
				more++
				continue
			}
			row := page.Row{Tick: fmt.Sprintf("saw-%s-%d", id, len(t.Rows)+1), Cells: c.sawCells(k, setting, saw, stop)}
			t.Rows = append(t.Rows, row)
		}
	}
	out := []page.Block{page.Heading{Level: 3, ID: id + "-saw", Words: c.said("Order of the cuts"), Only: only}, page.Paragraph{Words: intro, Only: only}}
	if trim := c.measured(quantity.MM(k.Trim)); k.Trim > 0 {
		first := c.told("First trim %s off all four sides of each sheet.", trim)
		if k.Bars() {
			first = c.told("First trim %s off one end of each bar.", trim)
		}
		out = append(out, page.Paragraph{Words: first, Only: only})
	}
	out = append(out, t)
	if more > 0 {
		out = append(out, page.Paragraph{Only: only, Words: page.Words(c.tongue.Count(more, "1 more cut is not listed; the plan as data has it.", "%d more cuts are not listed; the plan as data has them."))})
	}
	return out
}

func (c *composer) sawCells(k *bill.CutPlan, setting bill.Setting, saw bill.Saw, stop []page.Inline) []page.Cell {
	if k.Bars() {
		piece := []page.Inline{c.partLink(saw.Off.Part.Part)}
		if setting.Mitred() {
			piece = append(append(piece, page.Text(", ")), c.mitres(setting.Angles)...)
		}
		return cells(stop, c.sticksWords(k, saw), piece, number(saw.Each))
	}
	of := c.sticksWords(k, saw)
	if saw.Of > 0 {
		of = append(of, page.Text(", "+c.say("part %s|of a sheet", bill.PanelName(saw.Of))))
	}
	runs := c.said("lengthwise|a cut")
	if saw.Along {
		runs = c.said("crosswise|a cut")
	}
	var left []page.Inline
	if saw.Left != nil {
		left = c.outcome(*saw.Left)
	}
	return cells(number(saw.Number), stop, of, runs, c.outcome(saw.Off), left)
}

// mitres are the angles of a bar's two ends.
func (c *composer) mitres(angles [2]float64) []page.Inline {
	words := func(radians float64) []page.Inline {
		degrees := math.Round(radians*180/math.Pi*1e6) / 1e6
		angle, err := quantity.New(degrees, "deg")
		if err != nil {
			return number(int(degrees))
		}
		return c.measured(angle)
	}
	switch {
	case angles[0] == angles[1]:
		return c.told("both ends at %s|of a bar", words(angles[0]))
	case angles[0] == 0 || angles[1] == 0:
		return c.told("one end at %s|of a bar", words(angles[0]+angles[1]))
	}
	return c.told("one end at %s, the other at %s|of a bar", words(angles[0]), words(angles[1]))
}

// sticksWords are the bars or sheets that a cut is made on, by their numbers in the
// picture.
func (c *composer) sticksWords(k *bill.CutPlan, saw bill.Saw) []page.Inline {
	first, last := saw.Stick+1, saw.Stick+saw.Times
	switch {
	case k.Bars() && first == last:
		return c.said("bar %d", first)
	case k.Bars():
		return c.said("bars %d to %d, each", first, last)
	case first == last:
		return c.said("sheet %d|of stock", first)
	}
	return c.said("sheets %d to %d, each|of stock", first, last)
}

// outcome is what a cut makes.
func (c *composer) outcome(o bill.Outcome) []page.Inline {
	size := func() []page.Inline {
		return []page.Inline{c.measure(quantity.MM(o.Size[0])), page.Text(" × "), c.measure(quantity.MM(o.Size[1]))}
	}
	switch {
	case o.Part != nil:
		return []page.Inline{c.partLink(o.Part.Part)}
	case o.Panel > 0:
		return append(page.Words(c.say("part %s|of a sheet", bill.PanelName(o.Panel))+", "), size()...)
	case o.Empty():
		return c.said("chips")
	}
	return append(page.Words(c.say("left over")+", "), size()...)
}

// grains are the words on how pieces lie to the grain of their stock, where it has
// one.
func (c *composer) grains(stock *plan.Stock) []page.Inline {
	if stock.Grain.Text != "along" && stock.Grain.Text != "across" {
		return nil
	}
	items := [][]page.Inline{c.said("the length of each piece lies along the grain")}
	if stock.Grain.Text == "across" {
		items[0] = c.said("the length of each piece lies across the grain")
	}
	for _, p := range c.plan.Parts {
		if p.Stock.Text != stock.ID.Text || p.Grain.Text == "" || p.Grain.Text == stock.Grain.Text {
			continue
		}
		link := []page.Inline{c.partLink(p)}
		switch p.Grain.Text {
		case "along":
			items = append(items, c.told("%s along it|the grain", link))
		case "across":
			items = append(items, c.told("%s across it|the grain", link))
		default:
			items = append(items, c.told("%s either way|to the grain", link))
		}
	}
	return joined(items)
}

// cutBy is with what sheets of a stock are cut.
func (c *composer) cutBy(id string) []page.Inline {
	return c.vary(func(s *check.Situation) []page.Inline {
		if k := cutPlan(s, id); k != nil && k.Routed() {
			return c.said("a router or laser, around each piece")
		}
		return c.said("a saw, from edge to edge")
	})
}
