package bill

import (
	"slices"

	"plansheaf/design/basket"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// order buys what is wanted where all together costs least, shipping and least
// orders included. A want that nobody sells at a price stays on the list without one,
// at the first who sells it.
func (b *Bill) order(r *reckon.Reckoning, wants []want) {
	problem, of := problemOf(r, wants)
	found := memo.Sure(r.Kept(), "basket", func() basket.Basket { return basket.Cheapest(problem) }, problem)
	lines := make([][]basket.Line, len(wants))
	for _, l := range found.Lines {
		lines[l.Item] = append(lines[l.Item], l)
	}
	for i, w := range wants {
		if len(lines[i]) == 0 || !w.priced() {
			b.add(w.unpriced())
			continue
		}
		for _, p := range w.bought(problem.Items[i], lines[i], of[i]) {
			b.add(p)
		}
	}
	for i, o := range found.Orders {
		supplier := supplierAt(r.Plan, i)
		if !slices.ContainsFunc(b.Purchases, func(p Purchase) bool { return p.Supplier == supplier }) {
			continue
		}
		terms := problem.Suppliers[i]
		b.Orders = append(b.Orders, Order{
			Supplier: supplier, Goods: Money(o.Goods), Fill: Money(o.Fill), Shipping: Money(o.Shipping),
			Least: Money(terms.Least), FreeFrom: Money(terms.FreeFrom),
		})
		if supplier != nil && !termsKnown(r, supplier) {
			b.Unpriced = append(b.Unpriced, supplier.ID.Text)
		}
	}
	b.Cost, b.CostBound = Money(found.Cost), Money(found.Bound)
}

func (b *Bill) add(p Purchase) {
	b.Purchases = append(b.Purchases, p)
	if !p.Priced && !slices.Contains(b.Unpriced, p.ID) {
		b.Unpriced = append(b.Unpriced, p.ID)
	}
}

// supplierAt is the plan's supplier of a basket; nil, any dealer, stands behind the
// last.
func supplierAt(p *plan.Plan, i int) *plan.Supplier {
	if i < len(p.Suppliers) {
		return p.Suppliers[i]
	}
	return nil
}

// problemOf asks for the cheapest basket. of are the sales behind each item's offers.
// What has no price is asked for at none, so that its order is there with its
// shipping.
func problemOf(r *reckon.Reckoning, wants []want) (problem basket.Problem, of [][]sale) {
	problem.Round = hundredths
	at := map[*plan.Supplier]int{nil: len(r.Plan.Suppliers)}
	for i, s := range r.Plan.Suppliers {
		at[s] = i
		problem.Suppliers = append(problem.Suppliers, basket.Supplier{
			Shipping: int64(priceOf(r, s.Shipping.Price).Money.Rounded()), FreeFrom: int64(priceOf(r, s.Shipping.FreeFrom).Money.Rounded()),
			Least: int64(priceOf(r, s.Least).Money.Rounded()), Rank: preference(r.Plan, s),
		})
	}
	problem.Suppliers = append(problem.Suppliers, basket.Supplier{Rank: len(r.Plan.Prefers)})
	for _, w := range wants {
		item := basket.Item{Need: w.purchase.Need + w.purchase.Spare}
		var sales []sale
		for _, s := range w.sales {
			if s.price.Known || !w.priced() && len(sales) == 0 {
				if !s.price.Known {
					s.breaks = nil
				}
				sales = append(sales, s)
				item.Offers = append(item.Offers, basket.Offer{Supplier: at[s.supplier], Pack: s.pack, Price: int64(s.price.Money), Least: s.least, Breaks: s.breaks})
			}
		}
		problem.Items, of = append(problem.Items, item), append(of, sales)
	}
	return problem, of
}

// preference is a supplier's place among those that are preferred; the others stand
// behind.
func preference(p *plan.Plan, s *plan.Supplier) int {
	if i := slices.IndexFunc(p.Prefers, func(w plan.Word) bool { return w.Text == s.ID.Text }); i >= 0 {
		return i
	}
	return len(p.Prefers)
}

// termsKnown reports whether a supplier's shipping and least order, where given, can
// be told in the plan's currency.
func termsKnown(r *reckon.Reckoning, s *plan.Supplier) bool {
	for _, q := range []plan.Quantity{s.Shipping.Price, s.Shipping.FreeFrom, s.Least} {
		if q.Given() && !priceOf(r, q).Known {
			return false
		}
	}
	return true
}

// priced reports whether anybody sells it at a price.
func (w want) priced() bool {
	return slices.ContainsFunc(w.sales, func(s sale) bool { return s.price.Known })
}

// unpriced is the purchase of what has no price, from the first who sells it.
func (w want) unpriced() Purchase {
	p := w.purchase
	if len(w.sales) > 0 {
		s := w.sales[0]
		p.Supplier, p.Code, p.Checked, p.Pack = s.supplier, s.code, s.checked, s.pack
	}
	p.Packs = max((p.Need+p.Spare+p.Pack-1)/p.Pack, p.Packs)
	p.Left = p.Packs*p.Pack - p.Need
	return p
}

// bought are the purchases that a basket's lines make: what is needed stands with
// the first lines that hold it.
func (w want) bought(item basket.Item, lines []basket.Line, of []sale) []Purchase {
	var out []Purchase
	need, spare := w.purchase.Need, w.purchase.Spare
	for _, l := range lines {
		s := of[l.Offer]
		p := w.purchase
		p.Supplier, p.Code, p.Checked, p.Pack, p.Packs = s.supplier, s.code, s.checked, s.pack, l.Packs
		if s.as != "" {
			p.As, p.Title, p.AskFor = s.as, s.title, ""
		}
		holds := l.Packs * s.pack
		p.Need = min(need, holds)
		p.Spare = min(spare, holds-p.Need)
		need, spare = need-p.Need, spare-p.Spare
		p.Left = holds - p.Need
		p.Each, p.Price, p.Priced = Money(item.Offers[l.Offer].Each(l.Packs)), Money(l.Cost), true
		out = append(out, p)
	}
	return out
}
