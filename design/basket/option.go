package basket

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// A good is an item as the search sees it, with what has been found of it.
type good struct {
	item      *Item
	need      int   // in units, the largest that all packs are whole numbers of
	packs     []int // by offer, in units
	suppliers []int // ascending
	cheapest  map[string]answer
	options   map[string]optionList
}

// An option is one way to get all of an item: packs by offer, and what is spent at
// each supplier.
type option struct {
	packs []int
	spent []spending // by supplier, ascending
}

// A spending is a weighed amount at one supplier.
type spending struct {
	supplier int
	amount   int64
}

// An answer is the cheapest option where spendings count by quarters, or a bound on
// it.
type answer struct {
	option
	quarters int64
	ok       bool // some open supplier has the item
}

// Bounds of what is tried for one item.
const (
	mostOptions = 600
	mostCounts  = 400
	mostLefts   = 2000
)

func newGood(item *Item) *good {
	g := &good{item: item, cheapest: map[string]answer{}, options: map[string]optionList{}}
	unit := 0
	for _, o := range item.Offers {
		g.suppliers = append(g.suppliers, o.Supplier)
		unit = divisor(unit, o.pack())
	}
	for _, o := range item.Offers {
		g.packs = append(g.packs, o.pack()/unit)
	}
	g.need = (item.Need-1)/unit + 1
	slices.Sort(g.suppliers)
	g.suppliers = slices.Compact(g.suppliers)
	return g
}

// divisor is the greatest common one.
func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// counts are the numbers of packs of an offer worth a look where so many units are
// left to get: none, each up to what suffices, and those beyond from which packs are
// cheaper. The last offer has to suffice. whole is false where some were left out.
func (g *good) counts(offer, left int, last bool) (list []int, whole bool) {
	if left == 0 {
		return []int{0}, true
	}
	o := &g.item.Offers[offer]
	enough := max((left-1)/g.packs[offer]+1, o.Least, 1)
	whole = true
	if !last {
		list = append(list, 0)
		first := max(o.Least, 1)
		if enough-first > mostCounts {
			first, whole = enough-mostCounts, false
		}
		for n := first; n < enough; n++ {
			list = append(list, n)
		}
	}
	list = append(list, enough)
	for _, b := range o.Breaks {
		if b.From > enough {
			list = append(list, b.From)
		}
	}
	return list, whole
}

// offered are an item's offers at open suppliers.
func (s *search) offered(g *good) []int {
	var list []int
	for i, o := range g.item.Offers {
		if s.isOpen(o.Supplier) {
			list = append(list, i)
		}
	}
	return list
}

// least is what an item costs at least, where k quarters of what is spent at a
// supplier are counted elsewhere.
func (s *search) least(g *good, k []int64) answer {
	key := make([]byte, len(g.suppliers))
	for i, supplier := range g.suppliers {
		if key[i] = 'x'; s.isOpen(supplier) {
			key[i] = '0' + byte(k[supplier])
		}
	}
	found, known := g.cheapest[string(key)]
	if !known {
		found = s.fill(g, k)
		g.cheapest[string(key)] = found
	}
	return found
}

// fill works out least: offer by offer, the cheapest way to have so many units left.
func (s *search) fill(g *good, k []int64) answer {
	offers := s.offered(g)
	if len(offers) == 0 {
		return answer{}
	}
	exact := true
	open := map[int]way{g.need: {}}
	for i, offer := range offers {
		next := map[int]way{}
		factor := 4 - k[g.item.Offers[offer].Supplier]
		lefts := slices.Sorted(maps.Keys(open))
		if len(lefts) > mostLefts {
			lefts, exact = lefts[:mostLefts], false
		}
		for _, left := range lefts {
			w := open[left]
			counts, whole := g.counts(offer, left, i == len(offers)-1)
			exact = exact && whole
			for _, n := range counts {
				to, cost := left, w.cost
				if n > 0 {
					to, cost = max(0, left-n*g.packs[offer]), w.cost+factor*s.weigh(g.item.Offers[offer], n)
				}
				if other, there := next[to]; !there || cost < other.cost {
					next[to] = way{cost: cost, took: append(w.took[:len(w.took):len(w.took)], n)}
				}
				s.work++
			}
		}
		open = next
	}
	out := answer{quarters: open[0].cost, ok: true}
	out.packs = make([]int, len(g.item.Offers))
	for i, n := range open[0].took {
		out.packs[offers[i]] = n
	}
	out.spent = s.spendings(g, out.packs)
	if !exact {
		out.quarters = s.fraction(g.item, offers, k)
	}
	return out
}

// A way is how some units were got: the packs of each offer so far.
type way struct {
	cost int64
	took []int
}

// spendings are what packs cost at each supplier.
func (s *search) spendings(g *good, packs []int) []spending {
	spent := make([]spending, 0, len(g.suppliers))
	for _, supplier := range g.suppliers {
		sum := int64(0)
		for i, n := range packs {
			if n > 0 && g.item.Offers[i].Supplier == supplier {
				sum += s.weigh(g.item.Offers[i], n)
			}
		}
		if sum > 0 {
			spent = append(spent, spending{supplier, sum})
		}
	}
	return spent
}

// fraction is what an item costs at least, in quarters, if packs could be divided.
func (s *search) fraction(item *Item, offers []int, k []int64) int64 {
	least := math.Inf(1)
	for _, i := range offers {
		o := item.Offers[i]
		price := o.Price
		for _, b := range o.Breaks {
			price = min(price, b.Price)
		}
		least = min(least, float64(max(0, price))*float64(4-k[o.Supplier])/float64(o.pack()))
	}
	saved := 4 * float64(len(item.Offers)) * float64(s.problem.Round) // by rounding, at most
	sum := (least*float64(item.Need)*(1-1e-9) - saved) * float64(s.scale)
	return int64(max(0, min(sum, float64(s.line))))
}

// An optionList holds the options of an item that no other beats where only some
// suppliers are told apart; whole is false where they were too many.
type optionList struct {
	list  []option
	whole bool
}

// A partial is an option whose units do not suffice yet: spent is by the suppliers
// told apart, then everywhere else.
type partial struct {
	left  int
	packs []int
	spent []int64
	total int64
}

// optionsOf lists an item's options, the suppliers in apart told apart.
func (s *search) optionsOf(g *good, apart []int) optionList {
	key := make([]byte, len(g.suppliers))
	for i, supplier := range g.suppliers {
		_, told := slices.BinarySearch(apart, supplier)
		switch {
		case !s.isOpen(supplier):
			key[i] = 'x'
		case told:
			key[i] = '1'
		default:
			key[i] = '0'
		}
	}
	found, known := g.options[string(key)]
	if !known {
		found = s.listed(g, apart)
		g.options[string(key)] = found
	}
	return found
}

// listed works out optionsOf, offer by offer.
func (s *search) listed(g *good, apart []int) optionList {
	out := optionList{whole: true}
	offers := s.offered(g)
	open := []partial{{left: g.need, packs: make([]int, len(g.item.Offers)), spent: make([]int64, len(apart)+1)}}
	for i, offer := range offers {
		at, told := slices.BinarySearch(apart, g.item.Offers[offer].Supplier)
		if !told {
			at = len(apart)
		}
		var next []partial
		for _, p := range open {
			counts, whole := g.counts(offer, p.left, i == len(offers)-1)
			out.whole = out.whole && whole
			for _, n := range counts {
				q := p
				if n > 0 {
					amount := s.weigh(g.item.Offers[offer], n)
					q = partial{left: max(0, p.left-n*g.packs[offer]), packs: slices.Clone(p.packs), spent: slices.Clone(p.spent), total: p.total + amount}
					q.packs[offer] = n
					q.spent[at] += amount
				}
				next = append(next, q)
				s.work++
			}
		}
		open = s.unbeaten(next)
		if len(open) > mostOptions {
			open, out.whole = open[:mostOptions], false
		}
	}
	for _, p := range open {
		if p.left == 0 {
			out.list = append(out.list, option{packs: p.packs, spent: s.spendings(g, p.packs)})
		}
	}
	return out
}

// unbeaten are the partials that no other one beats, in the order of units left and
// cost.
func (s *search) unbeaten(list []partial) []partial {
	slices.SortStableFunc(list, func(a, b partial) int {
		return cmp.Or(cmp.Compare(a.left, b.left), cmp.Compare(a.total, b.total))
	})
	var kept []partial
	for _, p := range list {
		beaten := slices.ContainsFunc(kept, func(k partial) bool { return noMore(k.spent, p.spent) })
		if !beaten {
			kept = append(kept, p)
		}
		s.work += 1 + len(kept)/8
		if len(kept) > 2*mostOptions {
			break
		}
	}
	return kept
}

// noMore reports whether a is nowhere above b.
func noMore(a, b []int64) bool {
	for i := range a {
		if a[i] > b[i] {
			return false
		}
	}
	return true
}
