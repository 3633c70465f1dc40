package compose

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// shopping is the shopping list by supplier.
func (c *composer) shopping() *page.Page {
	pg := &page.Page{
		ID: "shopping", Title: c.say("Shopping"), Kind: page.Shopping,
		Summary: c.say("What to buy, in packs as sold, by supplier."),
	}
	pg.Blocks = append(pg.Blocks, c.paragraph(c.shoppingNote()))
	for _, s := range c.suppliers() {
		pg.Blocks = append(pg.Blocks,
			page.Heading{Level: 2, ID: s.id, Words: page.Words(s.title)},
			c.shoppingTable(s))
	}
	total := c.vary(func(s *check.Situation) []page.Inline { return c.costWords(s) })
	pg.Blocks = append(pg.Blocks, page.Facts{Facts: []page.Fact{{Label: c.say("All purchases"), Words: total}}})
	return pg
}

func (c *composer) shoppingNote() wording.Phrase {
	if len(c.plan.Spares) > 0 {
		return "Prices are the designer's, at the date given; they change. Spares are included, and what a pack leaves over is shown."
	}
	return "Prices are the designer's, at the date given; they change. What a pack leaves over is shown."
}

// costWords is the cost of all purchases, and what has no price.
func (c *composer) costWords(s *check.Situation) []page.Inline {
	words := []page.Inline{c.money(s.Bill.Cost)}
	if n := len(s.Bill.Unpriced); n > 0 {
		words = append(words, page.Text(c.tongue.Count(n, ", without 1 item that has no price", ", without %d items that have no price")))
	}
	return words
}

// A supplierSection is one supplier's part of the shopping list; supplier nil is
// whatever any dealer has.
type supplierSection struct {
	id, title string
	supplier  *plan.Supplier
	ids       []string // of parts and stock, in the order of the bills
}

func (c *composer) suppliers() []supplierSection {
	var sections []supplierSection
	for _, s := range c.plan.Suppliers {
		sections = append(sections, supplierSection{id: "from-" + s.ID.Text, title: s.Title.Value, supplier: s})
	}
	sections = append(sections, supplierSection{id: "from-any", title: c.say("From any dealer")})
	seen := map[string]bool{}
	for _, s := range c.all {
		for _, p := range s.Bill.Purchases {
			if seen[p.ID] {
				continue
			}
			seen[p.ID] = true
			for i := range sections {
				if sections[i].supplier == p.Supplier {
					sections[i].ids = append(sections[i].ids, p.ID)
					break
				}
			}
		}
	}
	var used []supplierSection
	for _, s := range sections {
		if len(s.ids) > 0 {
			used = append(used, s)
		}
	}
	return used
}

func (c *composer) shoppingTable(sec supplierSection) page.Table {
	t := page.Table{
		ID: sec.id + "-list",
		Columns: []page.Column{
			{Head: c.said("Item|to buy")}, {Head: c.said("Code"), Wide: true}, {Head: c.said("Needed"), Align: page.Right},
			{Head: c.said("Buy"), Align: page.Right}, {Head: c.said("Left over"), Align: page.Right, Wide: true},
			{Head: c.said("Price"), Align: page.Right}, {Head: c.said("Price of"), Wide: true},
		},
	}
	for _, id := range sec.ids {
		t.Rows = append(t.Rows, c.shoppingRow(id))
	}
	sum := c.vary(func(s *check.Situation) []page.Inline {
		var total bill.Money
		for _, p := range s.Bill.Purchases {
			if p.Supplier == sec.supplier {
				total += p.Price
			}
		}
		return []page.Inline{c.money(total)}
	})
	t.Foot = []page.Row{{Cells: cells(c.said("Together"), nil, nil, nil, nil, sum, nil)}}
	return t
}

func purchaseOf(s *check.Situation, id string) (bill.Purchase, bool) {
	for _, p := range s.Bill.Purchases {
		if p.ID == id {
			return p, true
		}
	}
	return bill.Purchase{}, false
}

func (c *composer) shoppingRow(id string) page.Row {
	only, _ := c.only(func(s *check.Situation) bool { _, ok := purchaseOf(s, id); return ok })
	c = c.under(only)
	of := func(words func(p bill.Purchase) []page.Inline) []page.Inline {
		return c.vary(func(s *check.Situation) []page.Inline {
			p, ok := purchaseOf(s, id)
			if !ok {
				return page.Words("–")
			}
			return words(p)
		})
	}
	return page.Row{
		ID: id, Tick: "buy-" + id, Only: only,
		Cells: cells(
			c.purchaseName(id),
			of(func(p bill.Purchase) []page.Inline { return page.Words(p.Code) }),
			of(func(p bill.Purchase) []page.Inline { return page.Words(neededText(p)) }),
			of(func(p bill.Purchase) []page.Inline { return page.Words(c.buyText(p)) }),
			of(func(p bill.Purchase) []page.Inline { return leftWords(p) }),
			of(func(p bill.Purchase) []page.Inline {
				if !p.Priced {
					return c.said("no price")
				}
				return []page.Inline{c.money(p.Price)}
			}),
			of(func(p bill.Purchase) []page.Inline { return page.Words(p.Checked) }),
		),
	}
}

func neededText(p bill.Purchase) string {
	if p.Spare > 0 {
		return fmt.Sprintf("%d + %d", p.Need, p.Spare)
	}
	return fmt.Sprint(p.Need)
}

func (c *composer) buyText(p bill.Purchase) string {
	switch {
	case p.Size != "":
		return fmt.Sprintf("%d × %s", p.Packs, p.Size)
	case p.Pack > 1:
		if p.Packs == 1 {
			return c.say("1 pack of %d", p.Pack)
		}
		return c.say("%d packs of %d", p.Packs, p.Pack)
	}
	return fmt.Sprint(p.Packs)
}

func leftWords(p bill.Purchase) []page.Inline {
	if p.Size != "" || p.Left == 0 {
		return nil
	}
	return number(p.Left)
}

// purchaseName links a purchase to its part, with what to ask for.
func (c *composer) purchaseName(id string) []page.Inline {
	var words []page.Inline
	if p := c.plan.Part(id); p != nil {
		words = []page.Inline{c.partLink(p)}
		if p.Buy != nil && p.Buy.AskFor.Given() {
			words = c.told("%s: ask for %s", words, page.Words(p.Buy.AskFor.Value))
		}
		return words
	}
	if s := c.plan.StockOf(id); s != nil {
		words = []page.Inline{c.linkTo(stockTarget(s), s.Title.Value)}
		if s.Buy != nil && s.Buy.AskFor.Given() {
			words = c.told("%s: ask for %s", words, page.Words(s.Buy.AskFor.Value))
		}
	}
	return words
}
