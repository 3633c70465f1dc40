package basket_test

import (
	"testing"

	"plansheaf/design/basket"
)

// Whatever the numbers, the search ends with a basket that holds what is needed, sums
// that are right and a bound that is none too high.
func FuzzCheapest(f *testing.F) {
	f.Add([]byte("\x02\x05\x09\x30\x10\x00\x03\x04\x21\x02\x01\x07\x0a\x40\x03\x02\x02\x05\x16\x01"))
	f.Add([]byte("\x01\x00\x00\x00\x00\x00\xff\xff\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() int {
			if len(data) == 0 {
				return 0
			}
			n := int(data[0])
			data = data[1:]
			return n
		}
		p := basket.Problem{Round: int64(next() % 3 * 5)}
		for range 1 + next()%4 {
			p.Suppliers = append(p.Suppliers, basket.Supplier{Shipping: int64(next() * 3), FreeFrom: int64(next() * 20), Least: int64(next() * 5), Rank: next() % 5})
		}
		for len(data) > 0 && len(p.Items) < 12 {
			item := basket.Item{Need: 1 + next()}
			for range 1 + next()%4 {
				o := basket.Offer{Supplier: next() % len(p.Suppliers), Pack: 1 + next()%60, Price: int64(next() * 7), Least: next() % 4}
				if next()%3 == 0 {
					o.Breaks = append(o.Breaks, basket.Break{From: next() % 30, Price: int64(next() * 6)})
				}
				item.Offers = append(item.Offers, o)
			}
			p.Items = append(p.Items, item)
		}
		hold(t, p, basket.Cheapest(p))
	})
}
