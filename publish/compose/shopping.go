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
	rowIDs := map[string]bool{}
	for _, s := range c.suppliers() {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: s.id, Words: page.Words(s.title)})
		if terms := c.termWords(s.supplier); len(terms) > 0 {
			pg.Blocks = append(pg.Blocks, page.Paragraph{Words: terms})
		}
		pg.Blocks = append(pg.Blocks, c.shoppingTable(s, rowIDs))
	}
	pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "all", Words: c.said("All together")}, c.shoppingTotals())
	if t := c.substitutes(); len(t.Rows) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: substitutesAnchor, Words: c.said("What serves instead")}, t)
	}
	return pg
}

func (c *composer) shoppingNote() wording.Phrase {
	if len(c.plan.Spares) > 0 {
		return "Prices are the designer's, at the date given; they change. Spares are included, and what a pack leaves over is shown."
	}
	return "Prices are the designer's, at the date given; they change. What a pack leaves over is shown."
}

// shoppingTotals are what all orders come to and how near that is to the least.
func (c *composer) shoppingTotals() page.Facts {
	sum := func(of func(o bill.Order) bill.Money) (any bool, words []page.Inline) {
		words = c.vary(func(s *check.Situation) []page.Inline {
			var total bill.Money
			for _, o := range s.Bill.Orders {
				total += of(o)
			}
			any = any || total > 0
			return []page.Inline{c.money(total)}
		})
		return any, words
	}
	facts := []page.Fact{{Label: c.say("All purchases"), Words: c.vary(c.costWords)}}
	if any, words := sum(func(o bill.Order) bill.Money { return o.Shipping }); any {
		facts = append(facts, page.Fact{Label: c.say("Shipping among it"), Words: words})
	}
	if any, words := sum(func(o bill.Order) bill.Money { return o.Fill }); any {
		facts = append(facts, page.Fact{Label: c.say("To fill orders up, among it"), Words: words})
	}
	return page.Facts{Facts: append(facts, page.Fact{Label: c.say("Whether it could cost less"), Words: c.vary(func(s *check.Situation) []page.Inline {
		if s.Bill.Cost == s.Bill.CostBound {
			return c.said("no: from these suppliers there is no cheaper way")
		}
		return c.told("by %s at most", []page.Inline{c.money(s.Bill.Cost - s.Bill.CostBound)})
	})})}
}

// costWords is the cost of all purchases, and what has no price.
func (c *composer) costWords(s *check.Situation) []page.Inline {
	return append([]page.Inline{c.money(s.Bill.Cost)}, c.lacking(len(s.Bill.Unpriced))...)
}

// lacking says how many items a sum lacks.
func (c *composer) lacking(n int) []page.Inline {
	if n == 0 {
		return nil
	}
	return page.Words(c.tongue.Count(n, ", without 1 item that has no price", ", without %d items that have no price"))
}

// termWords are a supplier's terms.
func (c *composer) termWords(s *plan.Supplier) []page.Inline {
	if s == nil {
		return nil
	}
	var said []page.Inline
	switch {
	case s.Shipping.FreeFrom.Given():
		said = c.told("Shipping costs %s; an order worth %s ships free.", c.quantityWords(s.Shipping.Price), c.quantityWords(s.Shipping.FreeFrom))
	case s.Shipping.Price.Given():
		said = c.told("Shipping costs %s.", c.quantityWords(s.Shipping.Price))
	}
	if s.Least.Given() {
		if len(said) > 0 {
			said = append(said, page.Text(" "))
		}
		said = append(said, c.told("No order is taken below %s.", c.quantityWords(s.Least))...)
	}
	return said
}

// A supplierSection is one supplier's part of the shopping list; supplier nil is
// whatever any dealer has.
type supplierSection struct {
	id, title string
	supplier  *plan.Supplier
	lines     []purchaseKey // in the order of the bills
}

// A purchaseKey tells the lines of the shopping list apart, over all combinations.
type purchaseKey struct {
	id, as, size string
	supplier     *plan.Supplier
	pack         int
	toLength     bool
}

func keyOf(p bill.Purchase) purchaseKey {
	k := purchaseKey{id: p.ID, as: p.As, size: p.Size, supplier: p.Supplier, pack: p.Pack, toLength: p.ToLength}
	if p.ToLength {
		k.size, k.pack = "", 1
	}
	return k
}

func (c *composer) suppliers() []supplierSection {
	var sections []supplierSection
	for _, s := range c.plan.Suppliers {
		sections = append(sections, supplierSection{id: "from-" + s.ID.Text, title: s.Title.Value, supplier: s})
	}
	sections = append(sections, supplierSection{id: "from-any", title: c.say("From any dealer")})
	seen := map[purchaseKey]bool{}
	for _, s := range c.all {
		for _, p := range s.Bill.Purchases {
			k := keyOf(p)
			if seen[k] {
				continue
			}
			seen[k] = true
			for i := range sections {
				if sections[i].supplier == p.Supplier {
					sections[i].lines = append(sections[i].lines, k)
					break
				}
			}
		}
	}
	var used []supplierSection
	for _, s := range sections {
		if len(s.lines) > 0 {
			used = append(used, s)
		}
	}
	return used
}

// shoppingTable is what one supplier gets. rowIDs are those that have been given.
func (c *composer) shoppingTable(sec supplierSection, rowIDs map[string]bool) page.Table {
	t := page.Table{
		ID: sec.id + "-list",
		Columns: []page.Column{
			{Head: c.said("Item|to buy")}, {Head: c.said("Code"), Wide: true}, {Head: c.said("Needed"), Align: page.Right},
			{Head: c.said("Buy"), Align: page.Right}, {Head: c.said("Left over"), Align: page.Right, Wide: true},
			{Head: c.said("Price"), Align: page.Right}, {Head: c.said("Price of"), Wide: true},
		},
	}
	for _, k := range sec.lines {
		id := k.id
		for n := 2; rowIDs[id]; n++ {
			id = fmt.Sprintf("%s-%d", k.id, n)
		}
		rowIDs[id] = true
		t.Rows = append(t.Rows, c.shoppingRow(k, id))
	}
	foot := func(label []page.Inline, words func(o bill.Order) []page.Inline) {
		sum := c.vary(func(s *check.Situation) []page.Inline {
			for _, o := range s.Bill.Orders {
				if o.Supplier == sec.supplier {
					return words(o)
				}
			}
			return []page.Inline{c.money(0)}
		})
		t.Foot = append(t.Foot, page.Row{Cells: cells(label, nil, nil, nil, nil, sum, nil)})
	}
	if c.anyOrder(sec.supplier, func(o bill.Order) bool { return o.Fill > 0 }) {
		foot(c.said("Whatever else, to fill the order up"), func(o bill.Order) []page.Inline { return []page.Inline{c.money(o.Fill)} })
	}
	if sec.supplier != nil && sec.supplier.Shipping.Price.Given() {
		foot(c.said("Shipping"), func(o bill.Order) []page.Inline { return []page.Inline{c.money(o.Shipping)} })
	}
	together := c.vary(func(s *check.Situation) []page.Inline {
		var total bill.Money
		for _, o := range s.Bill.Orders {
			if o.Supplier == sec.supplier {
				total = o.Total()
			}
		}
		lacks := map[string]bool{}
		for _, p := range s.Bill.Purchases {
			if p.Supplier == sec.supplier && !p.Priced {
				lacks[p.ID] = true
			}
		}
		return append([]page.Inline{c.money(total)}, c.lacking(len(lacks))...)
	})
	t.Foot = append(t.Foot, page.Row{Cells: cells(c.said("Together"), nil, nil, nil, nil, together, nil)})
	return t
}

// anyOrder reports whether a supplier's order is of some kind in any combination.
func (c *composer) anyOrder(supplier *plan.Supplier, is func(o bill.Order) bool) bool {
	for _, s := range c.all {
		for _, o := range s.Bill.Orders {
			if o.Supplier == supplier && is(o) {
				return true
			}
		}
	}
	return false
}

func purchaseOf(s *check.Situation, k purchaseKey) (bill.Purchase, bool) {
	for _, p := range s.Bill.Purchases {
		if keyOf(p) == k {
			return p, true
		}
	}
	return bill.Purchase{}, false
}

func (c *composer) shoppingRow(k purchaseKey, id string) page.Row {
	only, _ := c.only(func(s *check.Situation) bool { _, ok := purchaseOf(s, k); return ok })
	c = c.under(only)
	of := func(words func(p bill.Purchase) []page.Inline) []page.Inline {
		return c.vary(func(s *check.Situation) []page.Inline {
			p, ok := purchaseOf(s, k)
			if !ok {
				return page.Words("–")
			}
			return words(p)
		})
	}
	return page.Row{
		ID: id, Tick: "buy-" + id, Only: only,
		Cells: cells(
			c.purchaseName(k),
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

// buyText is what to take to the till, with the price of each where there are several.
func (c *composer) buyText(p bill.Purchase) string {
	text := c.packsText(p)
	if p.Packs < 2 || !p.Priced {
		return text
	}
	return c.say("%s at %s|several packs", text, c.amount(p.Each))
}

func (c *composer) packsText(p bill.Purchase) string {
	switch {
	case p.ToLength:
		return c.say("cut to length: %s", p.Size)
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

// purchaseName links a purchase to its part, with what to ask for, what it stands in
// for, and where others serve too.
func (c *composer) purchaseName(k purchaseKey) []page.Inline {
	var words []page.Inline
	if p := c.plan.Part(k.id); p != nil {
		words = []page.Inline{c.partLink(p)}
		switch other := c.plan.Part(k.as); {
		case other != nil:
			words = c.told("%s instead of %s", []page.Inline{c.partLink(other)}, words)
		case p.Buy != nil && p.Buy.AskFor.Given():
			words = c.told("%s: ask for %s", words, page.Words(p.Buy.AskFor.Value))
		}
		if len(p.Or) > 0 {
			words = c.told("%s; %s", words, []page.Inline{page.Link{To: page.Target{Page: "shopping", Anchor: substitutesAnchor}, Words: c.said("others serve too")}})
		}
		return words
	}
	if s := c.plan.StockOf(k.id); s != nil {
		words = []page.Inline{c.linkTo(stockTarget(s), s.Title.Value)}
		if s.Buy != nil && s.Buy.AskFor.Given() {
			words = c.told("%s: ask for %s", words, page.Words(s.Buy.AskFor.Value))
		}
	}
	return words
}
