package bill

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// wants are what to buy for the plan: a line for each size, from whoever sells it.
// Pieces that could not be laid out leave it without a price.
func (c CutPlan) wants(r *reckon.Reckoning) []want {
	p := Purchase{ID: c.Stock.ID.Text, Title: c.Stock.Title.Value, Pack: 1}
	if buy := c.Stock.Buy; buy != nil {
		p.AskFor = buy.AskFor.Value
	}
	if c.ToLength != nil {
		var sizes []string
		for _, piece := range c.Pieces {
			p.Need += piece.Count
			sizes = append(sizes, fmt.Sprintf("%d × %s", piece.Count, millimetres(piece.Length)))
		}
		p.Size, p.ToLength = strings.Join(sizes, ", "), true
		all := c.sale(r, c.ToLength, c.CutCost)
		all.pack = p.Need
		return []want{{purchase: p, sales: []sale{all}}}
	}
	var sizes [][2]float64
	count := map[[2]float64]int{}
	for way, n := range c.Taken() {
		if w := c.Ways[way]; n > 0 && w.Sold != nil {
			if count[w.Size] == 0 {
				sizes = append(sizes, w.Size)
			}
			count[w.Size] += n
		}
	}
	var out []want
	for _, size := range sizes {
		out = append(out, c.want(r, p, size, count[size]))
	}
	if len(out) == 0 && (len(c.Ways) == 0 || len(c.TooBig) > 0) {
		one := want{purchase: p}
		if c.Stock.Buy != nil {
			one.sales = []sale{c.sale(r, nil, Price{})}
		}
		out = append(out, one)
	}
	return out
}

// want is so many bars or sheets of a size.
func (c CutPlan) want(r *reckon.Reckoning, p Purchase, size [2]float64, n int) want {
	p.Need, p.Spare = n, share(r, n, func(kind string) bool { return kind == "stock" })
	if p.Size = millimetres(size[0]); !c.Bars() {
		p.Size = fmt.Sprintf("%s × %s", strings.TrimSuffix(millimetres(size[0]), " mm"), millimetres(size[1]))
	}
	one := want{purchase: p}
	for _, w := range c.Ways {
		if w.Sold == nil || w.Size != size {
			continue
		}
		price := w.Price
		price.Known = price.Known && c.Unlaid == 0
		one.sales = append(one.sales, c.sale(r, w.Sold, price))
	}
	return one
}

// sale is one size of the stock as sold; what it does not say itself the stock says.
func (c CutPlan) sale(r *reckon.Reckoning, sold *plan.Sold, price Price) sale {
	out := sale{pack: 1, price: price}
	if buy := c.Stock.Buy; buy != nil {
		out.supplier, out.code, out.checked = r.Plan.Supplier(buy.From.Text), buy.Code.Value, buy.Checked.Text
	}
	if sold == nil {
		return out
	}
	if sold.From.Given() {
		if other := r.Plan.Supplier(sold.From.Text); other != out.supplier {
			out.supplier, out.code, out.checked = other, "", ""
		}
	}
	if sold.Code.Given() {
		out.code = sold.Code.Value
	}
	if sold.Checked.Given() {
		out.checked = sold.Checked.Text
	}
	return out
}

// StockSuppliers are the ids of all who are said to sell a stock.
func StockSuppliers(s *plan.Stock) []string {
	var ids []string
	add := func(w plan.Word) {
		if w.Given() && !slices.Contains(ids, w.Text) {
			ids = append(ids, w.Text)
		}
	}
	for _, sold := range s.Sold {
		add(sold.From)
	}
	if s.Buy != nil {
		add(s.Buy.From)
	}
	return ids
}
