package compose

import (
	"fmt"
	"slices"

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
		Blocks:  []page.Block{c.paragraph("Lengths are finished lengths; the saw's kerf and the trim at the ends are on top and counted. Beside each layout stands whether it is proven that none is better, or how far from that it may be.")},
	}
	for _, stock := range c.plan.Stock {
		id := stock.ID.Text
		only, exists := c.only(func(s *check.Situation) bool { return cutPlan(s, id) != nil })
		if !exists {
			continue
		}
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: id, Words: page.Words(stock.Title.Value), Only: only}, c.cutFacts(id, only), c.pieces(id, only))
		pg.Blocks = append(pg.Blocks, c.layouts(id, only)...)
		pg.Blocks = append(pg.Blocks, c.sawing(id, only)...)
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
		fact(c.say("Take"), func(k *bill.CutPlan) []page.Inline {
			switch {
			case k.ToLength != nil:
				return c.said("buy it cut to length")
			case len(k.Ways) == 0:
				return c.said("the plan does not say how it is sold")
			}
			return c.barsTaken(k)
		}),
		fact(c.say("Best|of a cut plan"), func(k *bill.CutPlan) []page.Inline { return c.best(k) }),
	}}
	if stock.Kerf.Given() {
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Kerf"), Words: c.quantityWords(stock.Kerf)})
	}
	if stock.Trim.Given() {
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Trim, each end"), Words: c.quantityWords(stock.Trim)})
	}
	if stock.Section == nil {
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Cut by"), Words: c.cutBy(id)})
	}
	if grain := c.grains(stock); grain != nil {
		facts.Facts = append(facts.Facts, page.Fact{Label: c.say("Grain"), Words: grain})
	}
	return facts
}

// barsTaken are the bars or sheets that a cut plan takes, of each size how many.
func (c *composer) barsTaken(k *bill.CutPlan) []page.Inline {
	var items [][]page.Inline
	for way, n := range k.Taken() {
		if n == 0 {
			continue
		}
		w := k.Ways[way]
		item := append([]page.Inline{page.Text(fmt.Sprintf("%d × ", n))}, c.stockSize(k, w.Size)...)
		if w.Sold == nil {
			item = append(item, page.Text(" "+c.say("on hand")))
		}
		items = append(items, item)
	}
	return joined(items)
}

func (c *composer) stockSize(k *bill.CutPlan, size [2]float64) []page.Inline {
	if k.Bars() {
		return []page.Inline{c.measure(quantity.MM(size[0]))}
	}
	return c.told("%s by %s|width and length", c.measured(quantity.MM(size[0])), c.measured(quantity.MM(size[1])))
}

// best says how good a cut plan is known to be, and what the stock costs cut to
// length where it is sold both ways.
func (c *composer) best(k *bill.CutPlan) []page.Inline {
	var items [][]page.Inline
	switch money := func(m bill.Money) string { return m.Rounded().Text(c.plan.Currency.Text) }; {
	case len(k.Pieced) == 0:
	case k.Counted && k.Proven():
		items = append(items, c.said("no plan takes fewer"))
	case k.Counted:
		items = append(items, c.said("no plan takes fewer than %d", k.Fewest))
	case k.Proven():
		items = append(items, c.said("%s; no plan costs less", money(k.Cost.Money)))
	default:
		items = append(items, c.said("%s; no plan costs less than %s", money(k.Cost.Money), money(k.Bound)))
	}
	if len(k.Pieced) > 0 && slices.ContainsFunc(k.Pieces, bill.Piece.Mitred) {
		items = append(items, c.said("mitred pieces are taken to lie one after the other, a row of one shape on each bar"))
	}
	if k.CutCost.Known && k.ToLength == nil {
		items = append(items, c.said("bought cut to length it costs %s", k.CutCost.Money.Text(c.plan.Currency.Text)))
	}
	if k.ToLength != nil && k.Cost.Known && len(k.Ways) > 0 {
		items = append(items, c.said("whole bars would cost %s", k.Cost.Money.Rounded().Text(c.plan.Currency.Text)))
	}
	if len(items) == 0 {
		return page.Words("–")
	}
	return joined(items)
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
					if p.Mitred() {
						return append([]page.Inline{c.measure(quantity.MM(p.Length)), page.Text(", ")}, c.mitres(p.Angles)...)
					}
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
