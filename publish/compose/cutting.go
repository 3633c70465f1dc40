package compose

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// cutting is the cut list: for each stock the pieces, how they come out of what is
// sold, and the picture of it.
func (c *composer) cutting() *page.Page {
	pg := &page.Page{
		ID: "cutting", Title: c.say("Cutting|to size"), Kind: page.Cutting,
		Summary: c.say("Bars and sheets, the pieces cut from them, and a layout that fits."),
		Blocks:  []page.Block{c.paragraph("Lengths are finished lengths; the saw's kerf and the trim at the ends are on top and counted. The layouts place the longest piece first and are not proven best; beside each stands how few bars or sheets any layout could do with.")},
	}
	for _, stock := range c.plan.Stock {
		id := stock.ID.Text
		only, exists := c.only(func(s *check.Situation) bool { return cutPlan(s, id) != nil })
		if !exists {
			continue
		}
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: id, Words: page.Words(stock.Title.Value), Only: only}, c.cutFacts(id, only), c.pieces(id, only))
		pg.Blocks = append(pg.Blocks, c.layouts(id, only)...)
	}
	pg.Blocks = append(pg.Blocks, c.contours()...)
	return pg
}

// layouts are the pictures of how one stock is cut.
func (c *composer) layouts(id string, only page.Only) []page.Block {
	var out []page.Block
	drawn := c.Pictures.CutPlan[id]
	for i, pic := range drawn.Pictures {
		caption := c.said("Layout for the plan's own choices")
		if n := len(drawn.Pictures); n > 1 {
			caption = c.said("Layout for the plan's own choices, picture %d of %d", i+1, n)
		}
		out = append(out, page.Figure{Picture: pic, Caption: caption, Only: only})
	}
	if drawn.More > 0 {
		out = append(out, page.Paragraph{Only: only, Words: page.Words(c.tongue.Count(drawn.More,
			"1 more is not pictured; the plan as data lists how it is cut.", "%d more are not pictured; the plan as data lists how each is cut."))})
	}
	return out
}

func cutPlan(s *check.Situation, stock string) *bill.CutPlan {
	for i := range s.Bill.Cuts {
		if s.Bill.Cuts[i].Stock.ID.Text == stock {
			return &s.Bill.Cuts[i]
		}
	}
	return nil
}

func (c *composer) cutFacts(id string, only page.Only) page.Facts {
	c = c.under(only)
	fact := func(label string, words func(k *bill.CutPlan) []page.Inline) page.Fact {
		return page.Fact{Label: label, Words: c.vary(func(s *check.Situation) []page.Inline {
			if k := cutPlan(s, id); k != nil {
				return words(k)
			}
			return page.Words("–")
		})}
	}
	stock := c.plan.StockOf(id)
	facts := page.Facts{Only: only, Facts: []page.Fact{
		fact(c.say("Buy"), func(k *bill.CutPlan) []page.Inline {
			switch {
			case k.Sold == nil:
				return c.said("the plan does not say how it is sold")
			case k.Sold.Cut:
				return c.said("cut to length")
			}
			return c.bought(k)
		}),
		fact(c.say("At least"), func(k *bill.CutPlan) []page.Inline {
			if k.Sold == nil || k.Sold.Cut {
				return page.Words("–")
			}
			return number(k.Bound)
		}),
	}}
	if stock.Kerf.Given() {
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Kerf"), Words: c.quantityWords(stock.Kerf)})
	}
	if stock.Trim.Given() {
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Trim, each end"), Words: c.quantityWords(stock.Trim)})
	}
	switch stock.Grain.Text {
	case "along":
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Grain"), Words: c.said("the length of each piece lies along the grain")})
	case "across":
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Grain"), Words: c.said("the length of each piece lies across the grain")})
	}
	return facts
}

func (c *composer) bought(k *bill.CutPlan) []page.Inline {
	n := page.Text(fmt.Sprintf("%d × ", len(k.Pieced)))
	if k.Bars() {
		return []page.Inline{n, c.measure(quantity.MM(k.Size[0]))}
	}
	return append([]page.Inline{n}, c.told("%s by %s|width and length", c.measured(quantity.MM(k.Size[0])), c.measured(quantity.MM(k.Size[1])))...)
}

// pieces is the list of what is cut from one stock.
func (c *composer) pieces(id string, only page.Only) page.Table {
	t := page.Table{ID: id + "-pieces", Only: only, Columns: []page.Column{
		{Head: c.said("Piece")}, {Head: c.said("Count"), Align: page.Right}, {Head: c.said("Size"), Align: page.Right},
	}}
	for _, p := range c.plan.Parts {
		if p.Stock.Text != id {
			continue
		}
		rowOnly, exists := c.only(func(s *check.Situation) bool { return pieceIn(s, id, p.ID.Text) != nil })
		if !exists {
			continue
		}
		c := c.under(rowOnly)
		of := func(words func(p *bill.Piece) []page.Inline) []page.Inline {
			return c.vary(func(s *check.Situation) []page.Inline {
				if piece := pieceIn(s, id, p.ID.Text); piece != nil {
					return words(piece)
				}
				return page.Words("–")
			})
		}
		t.Rows = append(t.Rows, page.Row{
			Tick: "cut-" + p.ID.Text, Only: rowOnly,
			Cells: cells([]page.Inline{c.partLink(p)},
				of(func(p *bill.Piece) []page.Inline { return number(p.Count) }),
				of(func(p *bill.Piece) []page.Inline {
					if p.Width == 0 {
						return []page.Inline{c.measure(quantity.MM(p.Length))}
					}
					return []page.Inline{c.measure(quantity.MM(p.Length)), page.Text(" × "), c.measure(quantity.MM(p.Width))}
				})),
		})
	}
	return t
}

func pieceIn(s *check.Situation, stock, part string) *bill.Piece {
	k := cutPlan(s, stock)
	if k == nil {
		return nil
	}
	for i := range k.Pieces {
		if k.Pieces[i].Part.Part.ID.Text == part {
			return &k.Pieces[i]
		}
	}
	return nil
}
