package bill_test

import (
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/design/trial"
)

// shop is a plan that holds some of each part named; suppliers, parts and more are
// written out by each test.
func shop(parts, suppliers, stock string, counts map[string]int, order ...string) trial.Files {
	var holds strings.Builder
	for _, id := range order {
		fmt.Fprintf(&holds, "  %s: {part: %s, at: [0 mm, 0 mm, 0 mm], count: %d, step: [1 mm, 0 mm, 0 mm]}\n", id, id, counts[id])
	}
	prefers := ""
	if strings.Contains(suppliers, "metal:") {
		prefers = "prefers: [metal, general]\n"
	}
	files := trial.Files{
		"plan.yaml":           "title: Rig\nmachine: rig\nrevision: A\ncurrency: EUR\n" + prefers,
		"parts/all.yaml":      parts,
		"suppliers.yaml":      suppliers,
		"assemblies/rig.yaml": "title: Rig\nholds:\n" + holds.String(),
	}
	if stock != "" {
		files["stock.yaml"] = stock
	}
	return files
}

func TestOrders(t *testing.T) {
	const two = "foot: {title: Foot, made: bought}\nhinge: {title: Hinge, made: bought}\n"
	cases := []struct {
		name   string
		files  trial.Files
		want   []string // each purchase
		orders []string
		cost   string
		lacks  []string
	}{
		{
			name: "one parcel is cheaper than two",
			files: shop(two, `general:
  title: General
  shipping: {price: 4.90 EUR, free_from: 80 EUR}
  sells: {foot: {price: 2 EUR}, hinge: {price: 3 EUR}}
metal:
  title: Metal
  shipping: {price: 5.90 EUR}
  sells: {hinge: {price: 2.50 EUR}}
`, "", map[string]int{"foot": 4, "hinge": 2}, "foot", "hinge"),
			want: []string{"foot general 4 of 1 8.00 EUR left 0", "hinge general 2 of 1 6.00 EUR left 0"}, orders: []string{"general 14.00 EUR fill 0.00 EUR ship 4.90 EUR"}, cost: "18.90 EUR",
		},
		{
			name: "of equal prices the preferred supplier's",
			files: shop(two, `general: {title: General, sells: {foot: {price: 2 EUR}, hinge: {price: 3 EUR}}}
metal: {title: Metal, sells: {hinge: {price: 3 EUR}}}
`, "", map[string]int{"foot": 1, "hinge": 1}, "foot", "hinge"),
			want:   []string{"foot general 1 of 1 2.00 EUR left 0", "hinge metal 1 of 1 3.00 EUR left 0"},
			orders: []string{"general 2.00 EUR fill 0.00 EUR ship 0.00 EUR", "metal 3.00 EUR fill 0.00 EUR ship 0.00 EUR"}, cost: "5.00 EUR",
		},
		{
			name: "packs of two sizes, a break, a least number and a least order",
			files: shop(two, `general:
  title: General
  least_order: 20 EUR
  sells:
    foot: [{pack: 4, price: 3 EUR}, {pack: 10, price: 5 EUR}]
    hinge: {pack: 2, price: 2.195 EUR, least: 2, breaks: [{from: 4, price: 1.95 EUR}]}
`, "", map[string]int{"foot": 13, "hinge": 7}, "foot", "hinge"),
			want:   []string{"foot general 1 of 4 3.00 EUR left 0", "foot general 1 of 10 5.00 EUR left 1", "hinge general 4 of 2 7.80 EUR left 1"},
			orders: []string{"general 15.80 EUR fill 4.20 EUR ship 0.00 EUR"}, cost: "20.00 EUR",
		},
		{
			name: "what has no price is not free: the total lacks it",
			files: shop(two, `general: {title: General, shipping: {price: 4 EUR}, sells: {foot: {price: 2 USD}}}
`, "", map[string]int{"foot": 1, "hinge": 2}, "foot", "hinge"),
			want: []string{"foot general 1 of 1 no price left 0", "hinge - 2 of 1 no price left 0"}, orders: []string{"general 0.00 EUR fill 0.00 EUR ship 4.00 EUR", "- 0.00 EUR fill 0.00 EUR ship 0.00 EUR"},
			cost: "4.00 EUR", lacks: []string{"foot", "hinge"},
		},
		{
			name: "an alternative that serves and costs less; one that is too small does not come into it",
			files: shop(`foot:
  title: Foot
  made: bought
  has: {wide: 40 mm}
  buy: {from: general, price: 2 EUR}
  or: [{say: any foot, when: wide >= 35 mm}, {part: round, if_cheaper: yes}, {part: small, if_cheaper: yes}]
round: {title: Round foot, made: bought, has: {wide: 36 mm}, buy: {from: general, price: 1.50 EUR, pack: 4}}
small: {title: Small foot, made: bought, has: {wide: 20 mm}, buy: {from: general, price: 0.10 EUR}}
`, "general: {title: General}\n", "", map[string]int{"foot": 4}, "foot"),
			want: []string{"foot as round general 1 of 4 1.50 EUR left 0"}, orders: []string{"general 1.50 EUR fill 0.00 EUR ship 0.00 EUR"}, cost: "1.50 EUR",
		},
		{
			name: "the same length from two",
			files: shop("p: {title: P, made: cut, stock: bar, length: 900 mm}\n", "general: {title: General}\nmetal: {title: Metal, shipping: {price: 5 EUR}}\n",
				`bar:
  title: Bar
  section: {round: {d: 10 mm}}
  material: steel_s235
  sold: [{length: 1000 mm, price: 9 EUR, code: G}, {length: 1000 mm, price: 8 EUR, from: metal, code: M}]
  buy: {from: general}
`, map[string]int{"p": 3}, "p"),
			want: []string{"bar general 3 of 1 27.00 EUR left 0"}, orders: []string{"general 27.00 EUR fill 0.00 EUR ship 0.00 EUR"}, cost: "27.00 EUR",
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, c.files)
			b := bill.Of(r)
			r.All()
			trial.Clean(t, r.Findings())
			var lines, orders []string
			for _, p := range b.Purchases {
				id, from, price := p.ID, "-", "no price"
				if p.As != "" {
					id += " as " + p.As
				}
				if p.Supplier != nil {
					from = p.Supplier.ID.Text
				}
				if p.Priced {
					price = p.Price.Text("EUR")
				}
				lines = append(lines, fmt.Sprintf("%s %s %d of %d %s left %d", id, from, p.Packs, p.Pack, price, p.Left))
			}
			var sum bill.Money
			for _, o := range b.Orders {
				from := "-"
				if o.Supplier != nil {
					from = o.Supplier.ID.Text
				}
				orders = append(orders, fmt.Sprintf("%s %s fill %s ship %s", from, o.Goods.Text("EUR"), o.Fill.Text("EUR"), o.Shipping.Text("EUR")))
				sum += o.Total()
			}
			if fmt.Sprint(lines) != fmt.Sprint(c.want) {
				t.Errorf("bought %q, want %q", lines, c.want)
			}
			if fmt.Sprint(orders) != fmt.Sprint(c.orders) {
				t.Errorf("orders %q, want %q", orders, c.orders)
			}
			if b.Cost.Text("EUR") != c.cost || sum != b.Cost || b.CostBound != b.Cost {
				t.Errorf("cost %s, orders %s, bound %s, want %s", b.Cost.Text("EUR"), sum.Text("EUR"), b.CostBound.Text("EUR"), c.cost)
			}
			if fmt.Sprint(b.Unpriced) != fmt.Sprint(c.lacks) {
				t.Errorf("without a price are %v, want %v", b.Unpriced, c.lacks)
			}
		})
	}
}
