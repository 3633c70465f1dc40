package basket_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"plansheaf/design/basket"
)

// Worked by hand; amounts in hundredths.
func TestCheapest(t *testing.T) {
	near, far := basket.Supplier{Shipping: 490, FreeFrom: 5000}, basket.Supplier{Shipping: 590, Rank: 1}
	for _, row := range []struct {
		name string
		p    basket.Problem
		cost int64
		want []basket.Line
	}{
		{
			name: "the large pack is cheaper than three small ones",
			p: basket.Problem{Suppliers: []basket.Supplier{{}}, Items: []basket.Item{
				{Need: 12, Offers: []basket.Offer{{Pack: 5, Price: 200}, {Pack: 20, Price: 550}}}}},
			cost: 550, want: []basket.Line{{Item: 0, Offer: 1, Packs: 1, Cost: 550}},
		},
		{
			name: "two sizes together",
			p: basket.Problem{Suppliers: []basket.Supplier{{}}, Items: []basket.Item{
				{Need: 24, Offers: []basket.Offer{{Pack: 5, Price: 200}, {Pack: 20, Price: 550}}}}},
			cost: 750, want: []basket.Line{{Item: 0, Offer: 0, Packs: 1, Cost: 200}, {Item: 0, Offer: 1, Packs: 1, Cost: 550}},
		},
		{
			name: "ten at 5.80 are cheaper than nine at 6.50",
			p: basket.Problem{Suppliers: []basket.Supplier{{}}, Items: []basket.Item{
				{Need: 9, Offers: []basket.Offer{{Price: 650, Breaks: []basket.Break{{From: 10, Price: 580}}}}}}},
			cost: 5800, want: []basket.Line{{Packs: 10, Cost: 5800}},
		},
		{
			name: "no fewer than the least packs",
			p: basket.Problem{Suppliers: []basket.Supplier{{}}, Items: []basket.Item{
				{Need: 1, Offers: []basket.Offer{{Price: 100, Least: 3}}}}},
			cost: 300, want: []basket.Line{{Packs: 3, Cost: 300}},
		},
		{
			name: "one parcel where two would cost less in goods alone",
			p: basket.Problem{Suppliers: []basket.Supplier{near, far}, Items: []basket.Item{
				{Need: 1, Offers: []basket.Offer{{Price: 1000}, {Supplier: 1, Price: 1100}}},
				{Need: 1, Offers: []basket.Offer{{Price: 1200}, {Supplier: 1, Price: 1000}}}}},
			cost: 2200 + 490, want: []basket.Line{{Item: 0, Offer: 0, Packs: 1, Cost: 1000}, {Item: 1, Offer: 0, Packs: 1, Cost: 1200}},
		},
		{
			name: "the dearer offer lifts the order over the threshold",
			p: basket.Problem{Suppliers: []basket.Supplier{near, {}}, Items: []basket.Item{
				{Need: 1, Offers: []basket.Offer{{Price: 4700}}},
				{Need: 1, Offers: []basket.Offer{{Price: 400}, {Supplier: 1, Price: 250}}}}},
			// 47.00 filled up to 50.00 and 2.50 elsewhere come to 52.50
			cost: 5100, want: []basket.Line{{Item: 0, Packs: 1, Cost: 4700}, {Item: 1, Packs: 1, Cost: 400}},
		},
		{
			name: "an order below the least one costs that much",
			p: basket.Problem{Suppliers: []basket.Supplier{{Least: 2000}}, Items: []basket.Item{
				{Need: 1, Offers: []basket.Offer{{Price: 1500}}}}},
			cost: 2000, want: []basket.Line{{Packs: 1, Cost: 1500}},
		},
		{
			name: "of equal offers the preferred one",
			p: basket.Problem{Suppliers: []basket.Supplier{{Rank: 1}, {Rank: 0}}, Items: []basket.Item{
				{Need: 4, Offers: []basket.Offer{{Pack: 2, Price: 300}, {Supplier: 1, Pack: 4, Price: 600}}}}},
			cost: 600, want: []basket.Line{{Offer: 1, Packs: 1, Cost: 600}},
		},
		{
			name: "lines are rounded, not packs: 4 at 2.195 are 8.78",
			p: basket.Problem{Suppliers: []basket.Supplier{{}}, Round: 100, Items: []basket.Item{
				{Need: 12, Offers: []basket.Offer{{Price: 3700}}}, {Need: 4, Offers: []basket.Offer{{Price: 21950}}}, {Need: 1, Offers: []basket.Offer{{Price: 184000}}}}},
			cost: 316200, want: []basket.Line{{Item: 0, Packs: 12, Cost: 44400}, {Item: 1, Packs: 4, Cost: 87800}, {Item: 2, Packs: 1, Cost: 184000}},
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := basket.Cheapest(row.p)
			if got.Cost != row.cost || !got.Proven() || !reflect.DeepEqual(got.Lines, row.want) {
				t.Errorf("cost %d, bound %d, lines %+v; want %d and %+v", got.Cost, got.Bound, got.Lines, row.cost, row.want)
			}
		})
	}
}

func TestOrder(t *testing.T) {
	terms := basket.Supplier{Shipping: 590, FreeFrom: 8000, Least: 2000}
	for _, row := range []struct {
		name  string
		goods int64
		want  basket.Order
	}{
		{"below the least order", 1500, basket.Order{Goods: 1500, Fill: 500, Shipping: 590}},
		{"between", 5000, basket.Order{Goods: 5000, Shipping: 590}},
		{"nearer to free shipping than it costs", 7500, basket.Order{Goods: 7500, Fill: 500}},
		{"just met", 8000, basket.Order{Goods: 8000}},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := terms.Order(row.goods); got != row.want {
				t.Errorf("%+v, want %+v", got, row.want)
			}
		})
	}
}

// An item that nobody offers is told, and costs nothing.
func TestUnmet(t *testing.T) {
	got := basket.Cheapest(basket.Problem{Items: []basket.Item{{Need: 3}, {Need: 0}}})
	if !reflect.DeepEqual(got.Unmet, []int{0}) || got.Cost != 0 {
		t.Errorf("%+v", got)
	}
}

// random is a problem of so many items and suppliers.
func random(r *rand.Rand, items, suppliers, most int) basket.Problem {
	p := basket.Problem{}
	for i := range suppliers {
		s := basket.Supplier{Rank: i}
		if r.IntN(4) > 0 {
			s.Shipping = 100 + r.Int64N(900)
		}
		if r.IntN(3) > 0 {
			s.FreeFrom = 500 + r.Int64N(int64(items)*600)
		}
		if r.IntN(3) == 0 {
			s.Least = 100 + r.Int64N(1500)
		}
		p.Suppliers = append(p.Suppliers, s)
	}
	for range items {
		item := basket.Item{Need: 1 + r.IntN(most)}
		price := 20 + r.Int64N(300)
		for supplier := range suppliers {
			for range r.IntN(3) {
				pack := 1 + r.IntN(5)
				o := basket.Offer{Supplier: supplier, Pack: pack, Price: max(1, price*int64(pack)*int64(70+r.IntN(60))/100)}
				if r.IntN(4) == 0 {
					o.Least = 1 + r.IntN(3)
				}
				if r.IntN(3) == 0 {
					o.Breaks = append(o.Breaks, basket.Break{From: 2 + r.IntN(4), Price: o.Price * int64(70+r.IntN(30)) / 100})
				}
				item.Offers = append(item.Offers, o)
			}
		}
		if len(item.Offers) == 0 {
			item.Offers = append(item.Offers, basket.Offer{Pack: 1, Price: price})
		}
		p.Items = append(p.Items, item)
	}
	return p
}

// hold fails where a basket is not one: too few pieces, too few packs, a sum that is
// none, a bound above the cost.
func hold(t *testing.T, p basket.Problem, b basket.Basket) {
	t.Helper()
	pieces := make([]int, len(p.Items))
	goods := make([]int64, len(p.Suppliers))
	for _, l := range b.Lines {
		o := p.Items[l.Item].Offers[l.Offer]
		pieces[l.Item] += l.Packs * o.Pack
		goods[o.Supplier] += l.Cost
		if l.Packs < max(1, o.Least) || l.Cost != o.Cost(l.Packs, p.Round) {
			t.Errorf("line %+v of %+v", l, o)
		}
	}
	for i, n := range pieces {
		if n < p.Items[i].Need {
			t.Errorf("item %d: %d of %d", i, n, p.Items[i].Need)
		}
	}
	total := int64(0)
	for i, o := range b.Orders {
		if o.Goods != goods[i] {
			t.Errorf("supplier %d: goods %d, the lines come to %d", i, o.Goods, goods[i])
		}
		total += o.Cost()
	}
	if total != b.Cost || b.Bound > b.Cost {
		t.Errorf("cost %d, orders %d, bound %d", b.Cost, total, b.Bound)
	}
}

// Every number of packs of every offer is tried.
func TestAgainstTrying(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := random(r, 1+r.IntN(3), 1+r.IntN(3), 5)
		tries := 1
		for _, item := range p.Items {
			for range item.Offers {
				tries *= 7
			}
		}
		if tries > 200_000 {
			continue
		}
		got := basket.Cheapest(p)
		hold(t, p, got)
		if want := tried(p, 0, 0, make([]int64, len(p.Suppliers)), 0); got.Cost != want || !got.Proven() {
			t.Fatalf("seed %d: cost %d, bound %d, trying all finds %d\n%+v", seed, got.Cost, got.Bound, want, p)
		}
	}
}

// tried is the least cost over the numbers of packs from an offer of an item on.
func tried(p basket.Problem, item, offer int, goods []int64, pieces int) int64 {
	if item == len(p.Items) {
		sum := int64(0)
		for i, g := range goods {
			if g > 0 {
				sum += p.Suppliers[i].Order(g).Cost()
			}
		}
		return sum
	}
	it := p.Items[item]
	if offer == len(it.Offers) {
		if pieces < it.Need {
			return 1 << 62
		}
		return tried(p, item+1, 0, goods, 0)
	}
	best := int64(1 << 62)
	o := it.Offers[offer]
	for packs := range 7 {
		if packs > 0 && packs < o.Least {
			continue
		}
		cost := int64(0)
		if packs > 0 {
			cost = o.Cost(packs, 1)
		}
		goods[o.Supplier] += cost
		best = min(best, tried(p, item, offer+1, goods, pieces+packs*o.Pack))
		goods[o.Supplier] -= cost
	}
	return best
}

// A larger list ends, and says how far it is from the best; twice the same.
func TestLargeLists(t *testing.T) {
	proven := 0
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(seed, 9))
		p := random(r, 80, 5, 40)
		got := basket.Cheapest(p)
		hold(t, p, got)
		if got.Proven() {
			proven++
		} else if gap := float64(got.Cost-got.Bound) / float64(got.Cost); gap > 0.02 {
			t.Errorf("seed %d: %d, bound %d", seed, got.Cost, got.Bound)
		}
		if seed == 0 && !reflect.DeepEqual(got, basket.Cheapest(p)) {
			t.Error("another basket the second time")
		}
	}
	t.Logf("%d of 6 proven", proven)
}

// Amounts and counts beyond any shop end too.
func TestHostile(t *testing.T) {
	p := basket.Problem{Suppliers: []basket.Supplier{{Shipping: 1 << 62, Least: 1 << 62, FreeFrom: -1, Rank: -7}, {Shipping: -5}}}
	for range 50 {
		p.Items = append(p.Items, basket.Item{Need: 1 << 40, Offers: []basket.Offer{
			{Price: 1 << 62}, {Pack: -3, Price: -1, Least: -1}, {Supplier: 1, Price: 7, Least: 1 << 50, Breaks: []basket.Break{{From: -1, Price: 1 << 61}}},
		}})
	}
	if got := basket.Cheapest(p); got.Bound > got.Cost || got.Cost < 0 {
		t.Errorf("cost %d, bound %d", got.Cost, got.Bound)
	}
}

func BenchmarkCheapest(b *testing.B) {
	for _, n := range []int{20, 40, 80, 160} {
		p := random(rand.New(rand.NewPCG(1, 9)), n, 4, 40)
		b.Run(fmt.Sprintf("%d items", n), func(b *testing.B) {
			for b.Loop() {
				got := basket.Cheapest(p)
				b.ReportMetric(float64(got.Work), "steps")
				b.ReportMetric(float64(got.Cost-got.Bound), "gap")
			}
		})
	}
}
