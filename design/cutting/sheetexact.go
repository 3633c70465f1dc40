package cutting

import (
	"cmp"
	"math"
	"slices"
)

const (
	mostPairs  = 300_000 // halvings of all collections of pieces that are still looked at
	mostSpared = 6       // sheets on hand that are told apart
	// Up to three rectangles that lie in one can always be parted by cuts from edge to
	// edge; four may stand around a hole.
	alwaysSawn = 3
)

// A corner is a rectangle that can be cut into a collection of pieces: no other that
// can is smaller on one axis and no larger on the other.
type corner struct {
	size [2]int64
	half int // the collection on the first side of its first cut; 0: a single piece
	axis int // along which the halves lie
}

// A subsets is a problem of few pieces solved by all collections of its pieces.
type subsets struct {
	*sheeting
	radix   []int      // by kind: what one more of it adds to a collection's number
	largest int64      // area of a sheet
	corners [][]corner // by collection, first side rising; nil: none fits any sheet
}

// exactly solves problems of few pieces: it works out for every collection of pieces
// by which rectangles it can be cut from, each as two collections beside each other;
// then which collections to cut from a sheet each. Where a router cuts, collections
// of more than three may lie in other ways: what might fit then only gives a bound. Of
// problems of more pieces the largest are solved so, for a bound: all of them cost
// no less.
func (s *sheeting) exactly() {
	if pairs(s.counts()) <= mostPairs {
		s.enumerate()
		return
	}
	if largest := s.part(s.fewer()); len(largest.kinds) > 0 {
		largest.enumerate()
		s.bound = max(s.bound, largest.bound)
	}
}

// pairs is how many halvings all collections of pieces have, or more than are looked
// at.
func pairs(counts []int) int {
	n := 1
	for _, c := range counts {
		if c > mostPairs || n > mostPairs {
			return mostPairs + 1
		}
		n *= (c + 1) * (c + 2) / 2
	}
	return n
}

// fewer are counts with the smallest kinds left out until the rest can be
// enumerated.
func (s *sheeting) fewer() []int {
	counts := s.counts()
	for pairs(counts) > mostPairs {
		smallest := -1
		for k, c := range counts {
			if c > 0 && (smallest < 0 || s.kinds[k].area() < s.kinds[smallest].area()) {
				smallest = k
			}
		}
		// One at a time at the end, so that as many as can be stay in.
		counts[smallest] = min(counts[smallest]-1, mostEach)
	}
	return counts
}

// part is the problem of some of the pieces, with nothing known of it.
func (s *sheeting) part(counts []int) *sheeting {
	out := &sheeting{rooms: s.rooms, prices: s.prices, stock: slices.Clone(s.stock), free: s.free}
	out.best.cost = math.MaxInt64
	for k, n := range counts {
		if n > 0 {
			one := s.kinds[k]
			one.count, one.of = n, []int{k}
			out.kinds = append(out.kinds, one)
		}
	}
	return out
}

// enumerate solves a problem by all collections of its pieces.
func (s *sheeting) enumerate() {
	all := 1
	for _, k := range s.kinds {
		all *= k.count + 1
	}
	spared := 0
	for _, n := range s.stock {
		spared += max(0, n)
	}
	if spared > mostSpared || !slices.Contains(s.stock, unlimited) {
		return
	}
	e := &subsets{sheeting: s, corners: make([][]corner, all)}
	for t := range s.rooms {
		e.largest = max(e.largest, s.area(t))
	}
	n := 1
	for _, k := range s.kinds {
		e.radix = append(e.radix, n)
		n *= k.count + 1
	}
	for c := 1; c < all; c++ {
		e.corners[c] = e.cornersOf(c)
	}
	found, cost := e.cover(func(c, t int) bool { return e.fitting(c, t) != nil })
	if cost < s.best.cost {
		s.best = e.plan(found)
	}
	if !s.free {
		s.bound = max(s.bound, cost)
		return
	}
	_, least := e.cover(e.maybe())
	s.bound = max(s.bound, least)
}

// digit is how many of a kind are in a collection.
func (e *subsets) digit(c, k int) int { return c / e.radix[k] % (e.kinds[k].count + 1) }

// parts calls with every collection that is part of another one, but none and all.
func (e *subsets) parts(c int, each func(part int)) {
	digits := make([]int, len(e.kinds))
	for k := range digits {
		digits[k] = e.digit(c, k)
	}
	counts := make([]int, len(digits))
	part := 0
	for {
		k := 0
		for ; k < len(digits); k++ {
			if counts[k] < digits[k] {
				counts[k]++
				part += e.radix[k]
				break
			}
			part -= counts[k] * e.radix[k]
			counts[k] = 0
		}
		if k == len(digits) || part == c {
			return
		}
		each(part)
	}
}

// cornersOf works out a collection from smaller ones.
func (e *subsets) cornersOf(c int) []corner {
	var out []corner
	single := -1
	for k := range e.kinds {
		if c == e.radix[k] {
			single = k
		}
	}
	if single >= 0 {
		for _, way := range e.kinds[single].ways() {
			if e.inRoom(way) {
				out = with(out, corner{size: way})
			}
		}
		return out
	}
	if e.areaIn(c) > e.largest {
		return nil
	}
	e.parts(c, func(part int) {
		if other := c - part; part <= other && e.corners[part] != nil && e.corners[other] != nil {
			for axis := range 2 {
				out = e.beside(out, part, other, axis)
			}
		}
	})
	return out
}

// beside adds what two collections need side by side: for each extent across that
// one of them has, the least lengths along that keep within it.
func (e *subsets) beside(out []corner, part, other, axis int) []corner {
	across := 1 - axis
	a, b := e.corners[part], e.corners[other]
	for _, one := range []struct{ of, with []corner }{{a, b}, {b, a}} {
		for _, p := range one.of {
			extent := p.size[across]
			least := int64(-1)
			for _, q := range one.with { // a front: the first size rises, the second falls
				if q.size[across] <= extent {
					least = q.size[axis]
				}
				if (axis == 0) == (least >= 0) {
					break
				}
			}
			if least < 0 {
				continue
			}
			var size [2]int64
			size[axis], size[across] = p.size[axis]+least, extent
			if e.inRoom(size) {
				out = with(out, corner{size: size, half: part, axis: axis})
			}
		}
	}
	e.work += len(a) + len(b)
	return out
}

// with adds a rectangle to a front, first side rising and second falling, unless one
// of it is no larger; those that are not smaller than the new one go.
func with(front []corner, c corner) []corner {
	at, _ := slices.BinarySearchFunc(front, c, func(a, b corner) int { return cmp.Compare(a.size[0], b.size[0]) })
	if at > 0 && front[at-1].size[1] <= c.size[1] || at < len(front) && front[at].size[0] == c.size[0] && front[at].size[1] <= c.size[1] {
		return front
	}
	end := at
	for end < len(front) && front[end].size[1] >= c.size[1] {
		end++
	}
	return slices.Replace(front, at, end, c)
}

// areaIn is the area of a collection's pieces.
func (e *subsets) areaIn(c int) int64 {
	var sum int64
	for k := range e.kinds {
		sum += e.kinds[k].area() * int64(e.digit(c, k))
	}
	return sum
}

func (e *subsets) inRoom(size [2]int64) bool {
	return slices.ContainsFunc(e.rooms, func(r [2]int64) bool { return size[0] <= r[0] && size[1] <= r[1] })
}

// fitting is the rectangle by which a collection fits a sheet, nil for none.
func (e *subsets) fitting(c, t int) *corner {
	for i, at := range e.corners[c] {
		if at.size[0] <= e.rooms[t][0] && at.size[1] <= e.rooms[t][1] {
			return &e.corners[c][i]
		}
	}
	return nil
}

// maybe is whether a collection might fit a sheet in any way: up to three pieces
// as cuts from edge to edge say; more where no pair of scales says that they are too much
// and each collection of one fewer might fit.
func (e *subsets) maybe() func(c, t int) bool {
	known := make([][]bool, len(e.rooms))
	shares := e.shares()
	for t := range e.rooms {
		known[t] = make([]bool, len(e.corners))
		known[t][0] = true
		for c := 1; c < len(e.corners); c++ {
			pieces, could := 0, true
			for k := range e.kinds {
				n := e.digit(c, k)
				pieces += n
				could = could && (n == 0 || known[t][c-e.radix[k]])
			}
			known[t][c] = e.fitting(c, t) != nil || pieces > alwaysSawn && could && !e.overfills(c, shares[t])
		}
	}
	return func(c, t int) bool { return known[t][c] }
}

// shares are, by sheet and pair of scales, each kind's share of the sheet. Of all
// pairs those are taken that find most of the sheet in all pieces together.
func (e *subsets) shares() [][][]float64 {
	const most = 48 // pairs
	scales := e.scales()
	out := make([][][]float64, len(e.rooms))
	for t, room := range e.rooms {
		type pair struct {
			shares []float64
			sum    float64
		}
		var all []pair
		for _, f := range scales {
			for _, g := range scales {
				p := pair{shares: make([]float64, len(e.kinds))}
				for k, one := range e.kinds {
					p.shares[k] = shareOf(one, room, f, g)
					p.sum += math.Min(1, p.shares[k]) * float64(one.count)
				}
				all = append(all, p)
			}
		}
		slices.SortStableFunc(all, func(a, b pair) int { return cmp.Compare(b.sum, a.sum) })
		for _, p := range all[:min(most, len(all))] {
			out[t] = append(out[t], p.shares)
		}
	}
	return out
}

// overfills reports whether a collection is too much for a sheet by one of the pairs
// of scales.
func (e *subsets) overfills(c int, shares [][]float64) bool {
	for _, share := range shares {
		sum := 0.0
		for k := range e.kinds {
			if n := e.digit(c, k); n > 0 {
				sum += share[k] * float64(n)
			}
		}
		if sum > 1+unsure {
			return true
		}
	}
	return false
}

// A choice is the collection taken from one sheet.
type choice struct{ part, sheet int }

// cover finds collections that make up all pieces at least cost, a sheet each.
func (e *subsets) cover(fits func(c, t int) bool) ([]choice, int64) {
	const never = math.MaxInt64 / 4
	all := len(e.corners)
	cost, how := make([]int64, all), make([][]choice, 1)
	how[0] = make([]choice, all)
	cheapest := func(c int) (int, int64) {
		best, price := -1, int64(never)
		for t, n := range e.stock {
			if n == unlimited && e.prices[t] < price && fits(c, t) {
				best, price = t, e.prices[t]
			}
		}
		return best, price
	}
	price, of := make([]int64, all), make([]int, all)
	for c := 1; c < all; c++ {
		of[c], price[c] = cheapest(c)
		cost[c], how[0][c] = price[c], choice{c, of[c]}
		first := 0
		for e.digit(c, first) == 0 {
			first++
		}
		e.parts(c, func(part int) {
			if e.digit(part, first) > 0 && price[part]+cost[c-part] < cost[c] {
				cost[c], how[0][c] = price[part]+cost[c-part], choice{part, of[part]}
			}
		})
		cost[c] = min(cost[c], never)
	}
	for t, n := range e.stock {
		for range max(0, n) { // each sheet on hand may take a collection or stay whole
			next, take := slices.Clone(cost), make([]choice, all)
			for c := 1; c < all; c++ {
				try := func(part int) {
					if fits(part, t) && e.prices[t]+cost[c-part] < next[c] {
						next[c], take[c] = e.prices[t]+cost[c-part], choice{part, t}
					}
				}
				try(c)
				e.parts(c, try)
			}
			cost, how = next, append(how, take)
		}
	}
	var out []choice
	c := all - 1
	for level := len(how) - 1; level > 0; level-- {
		if h := how[level][c]; h.part > 0 {
			out = append(out, h)
			c -= h.part
		}
	}
	for c > 0 && cost[all-1] < never {
		out = append(out, how[0][c])
		c -= how[0][c].part
	}
	return out, cost[all-1]
}

// plan lays the chosen collections out.
func (e *subsets) plan(chosen []choice) cutting {
	var out cutting
	for _, ch := range chosen {
		f := filled{sheet: ch.sheet, times: 1}
		e.lay(ch.part, e.fitting(ch.part, ch.sheet).size, [2]int64{}, &f.boxes)
		for _, b := range f.boxes {
			f.used += b.size[0] * b.size[1]
		}
		out.cost += e.prices[ch.sheet]
		out.sheets = append(out.sheets, f)
	}
	return out
}

// lay puts a collection's pieces into a rectangle that it can be cut from.
func (e *subsets) lay(c int, room, at [2]int64, boxes *[]box) {
	for _, k := range e.corners[c] {
		if k.size[0] > room[0] || k.size[1] > room[1] {
			continue
		}
		if k.half == 0 {
			kind := slices.Index(e.radix, c)
			*boxes = append(*boxes, box{kind, at, k.size})
			return
		}
		across := 1 - k.axis
		length := int64(-1) // the first half's, at its least within the extent across
		for _, h := range e.corners[k.half] {
			if h.size[across] <= k.size[across] && (length < 0 || h.size[k.axis] < length) {
				length = h.size[k.axis]
			}
		}
		first, second := k.size, k.size
		first[k.axis], second[k.axis] = length, k.size[k.axis]-length
		e.lay(k.half, first, at, boxes)
		at[k.axis] += length
		e.lay(c-k.half, second, at, boxes)
		return
	}
}
