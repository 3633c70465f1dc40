package basket

import (
	"math/bits"
)

// A Problem is what is needed, who sells it and on what terms. Amounts are whole
// numbers of one unit of money, not negative.
type Problem struct {
	Items     []Item
	Suppliers []Supplier
	// Round is what a line's cost is rounded to, half up; up to 1: not at all.
	Round int64
}

// A Supplier's terms.
type Supplier struct {
	Shipping int64 // of an order
	FreeFrom int64 // an order worth this ships free; 0: none does
	Least    int64 // no order is worth less
	Rank     int   // of equal costs the lower rank is preferred
}

// An Item is needed in a number of pieces.
type Item struct {
	Need   int
	Offers []Offer
}

// An Offer is packs of one size at one supplier.
type Offer struct {
	Supplier int   // index in the problem's suppliers
	Pack     int   // pieces, below 1: 1
	Price    int64 // of a pack
	Least    int   // packs, where any are bought
	Breaks   []Break
}

// A Break is another price for every pack where so many are bought.
type Break struct {
	From  int // packs
	Price int64
}

// Each is the price of one pack where so many are bought.
func (o Offer) Each(packs int) int64 {
	price, from := o.Price, 0
	for _, b := range o.Breaks {
		if b.From <= packs && b.From >= from {
			price, from = b.Price, b.From
		}
	}
	return max(0, price)
}

// Cost is that of so many packs, rounded; what is beyond dearest counts as that.
func (o Offer) Cost(packs int, round int64) int64 {
	high, low := bits.Mul64(uint64(o.Each(packs)), uint64(max(0, packs)))
	if high > 0 || low > dearest {
		return dearest
	}
	return roundTo(int64(low), round)
}

// dearest is more than anybody pays.
const dearest = 1 << 50

// roundTo is an amount that is not negative, rounded half up.
func roundTo(amount, round int64) int64 {
	if round <= 1 {
		return amount
	}
	return (amount + round/2) / round * round
}

// plus adds amounts up to a sum that is more than anybody pays.
func plus(a, b int64) int64 { return min(a+b, 1<<60) }

func (o Offer) pack() int { return max(1, o.Pack) }

// A Basket is what to buy.
type Basket struct {
	Lines  []Line  // in the order of items and offers
	Orders []Order // one for each supplier, empty ones too
	Cost   int64   // of all orders
	Bound  int64   // no basket costs less
	Unmet  []int   // items that nobody offers
	Work   int     // steps of the search
}

// Proven reports whether no basket is cheaper.
func (b Basket) Proven() bool { return b.Cost == b.Bound }

// A Line is packs of one offer.
type Line struct {
	Item, Offer, Packs int
	Cost               int64
}

// An Order is what one supplier gets. Its cost is the sum of the three.
type Order struct {
	Goods    int64 // its lines
	Fill     int64 // whatever else, up to the least order or to free shipping
	Shipping int64
}

// Order is the cheapest order that holds goods of a value, on the supplier's terms.
func (s Supplier) Order(goods int64) Order {
	o := Order{Goods: goods, Fill: max(0, min(s.Least, dearest)-goods), Shipping: max(0, min(s.Shipping, dearest))}
	if s.FreeFrom <= 0 || o.Shipping == 0 {
		return o
	}
	if short := s.FreeFrom - goods - o.Fill; short <= o.Shipping {
		o.Fill, o.Shipping = o.Fill+max(0, short), 0
	}
	return o
}

// Cost is that of an order.
func (o Order) Cost() int64 { return o.Goods + o.Fill + o.Shipping }
