package cutting

import (
	"slices"
	"sort"
)

// A sheeting is the search for a plan of sheets.
type sheeting struct {
	kinds  []kind
	rooms  [][2]int64 // by sheet size, grown by a kerf as the pieces are
	prices []int64
	stock  []int // by sheet size; unlimited
	free   bool
	bound  int64
	best   cutting
	work   int    // free areas looked at, and the like
	dice   uint64 // for orders: always the same row of numbers

	combined map[string]combination // by what was asked for
}

// A cutting is sheets with what is cut from each.
type cutting struct {
	sheets []filled
	cost   int64
	rest   int64 // left over in large pieces
	short  []int // by kind, what no sheet was left for; nil: none
}

// A filled is a sheet with its pieces, and how many are cut alike.
type filled struct {
	sheet int
	boxes []box
	used  int64 // area of the pieces
	times int
}

const (
	triesFirst = 60        // plans made outright, each in another manner
	triesNeat  = 18        // of them where the first is proven: the neatest is kept
	enough     = 6_000_000 // work on one problem, some tenths of a second
	mostBetter = 120       // sheets of a plan that is still worked over
)

// solve looks for the cheapest plan until it is proven or the work is done: plans
// made outright in many manners; then exactly, where the pieces are few; then some
// of the sheets are emptied and filled anew, again and again.
func (s *sheeting) solve() {
	s.bound = s.lower()
	s.outright()
	if s.best.cost > s.bound && s.best.short == nil {
		s.exactly()
	}
	if s.best.cost > s.bound && s.best.short == nil {
		s.rework()
		s.inPairs()
	}
	s.thrift()
}

func (s *sheeting) outright() {
	first := true
	for try := range triesFirst {
		proven := !first && s.best.cost <= s.bound && s.best.short == nil
		if proven && try >= triesNeat || !first && s.work > enough/3 {
			return
		}
		c := s.pack(s.counts(), slices.Clone(s.stock), s.manner(try), nil, try%3 == 2)
		if c.rest = s.neat(c); first || c.better(s.best) {
			s.best, first = c, false
		}
	}
}

// neat is how much of the sheets is left over in one piece along a side each: large
// where the pieces lie together.
func (s *sheeting) neat(c cutting) int64 {
	var sum int64
	for _, f := range c.sheets {
		room := s.rooms[f.sheet]
		reach := reachOf(f.boxes)
		sum += int64(f.times) * (max((room[0]-reach[0])*room[1], (room[1]-reach[1])*room[0]) >> 20) // >> 20: about mm²
	}
	return sum
}

// reachOf is how far boxes reach from the sheet's corner.
func reachOf(boxes []box) (reach [2]int64) {
	for _, b := range boxes {
		reach[0], reach[1] = max(reach[0], b.at[0]+b.size[0]), max(reach[1], b.at[1]+b.size[1])
	}
	return reach
}

func (c cutting) better(than cutting) bool {
	if a, b := total(c.short), total(than.short); a != b {
		return a < b
	}
	if c.cost != than.cost {
		return c.cost < than.cost
	}
	return c.rest > than.rest
}

func total(counts []int) int {
	n := 0
	for _, c := range counts {
		n += c
	}
	return n
}

func (s *sheeting) counts() []int {
	out := make([]int, len(s.kinds))
	for i, k := range s.kinds {
		out[i] = k.count
	}
	return out
}

// manner is the one for a try: kinds by area, longer side, shorter side, first side,
// second side or the sum of both, the largest first; with rules that go with them in
// turn.
func (s *sheeting) manner(try int) manner {
	measures := []func(k kind) int64{
		kind.area,
		func(k kind) int64 { return max(k.size[0], k.size[1]) },
		func(k kind) int64 { return min(k.size[0], k.size[1]) },
		func(k kind) int64 { return k.size[1] },
		func(k kind) int64 { return k.size[0] },
		func(k kind) int64 { return k.size[0] + k.size[1] },
	}
	measure := measures[try%len(measures)]
	m := manner{order: make([]int, len(s.kinds)), free: s.free && try%4 != 3}
	for i := range m.order {
		m.order[i] = i
	}
	sort.SliceStable(m.order, func(i, j int) bool {
		a, b := s.kinds[m.order[i]], s.kinds[m.order[j]]
		if x, y := measure(a), measure(b); x != y {
			return x > y
		}
		return a.area() > b.area()
	})
	m.fit, m.split = fit(try/2)%fits, parting(try/3)%splits
	return m
}

// pack makes a plan for what is left, sheet after sheet: each time the sheet is
// taken that costs least by area of pieces that come out of it, or a cheaper one
// that gives all that is left. only leaves other sizes out; tight looks for
// combinations of pieces that fill a sheet with next to no waste.
func (s *sheeting) pack(left, stock []int, m manner, only []bool, tight bool) cutting {
	var c cutting
	for total(left) > 0 {
		chosen, found := s.next(left, stock, m, only, tight)
		if !found {
			c.short = slices.Clone(left)
			return c
		}
		counts := make([]int, len(left))
		for _, b := range chosen.boxes {
			counts[b.kind]++
		}
		chosen.times = 1
		if n := times(left, counts); n > 1 {
			if chosen.times = n; stock[chosen.sheet] != unlimited {
				chosen.times = min(n, stock[chosen.sheet])
			}
		}
		for k, n := range counts {
			left[k] -= n * chosen.times
		}
		if stock[chosen.sheet] != unlimited {
			stock[chosen.sheet] -= chosen.times
		}
		c.cost += s.prices[chosen.sheet] * int64(chosen.times)
		c.sheets = append(c.sheets, chosen)
	}
	return c
}

// times is how often counts can be taken from left.
func times(left, counts []int) int {
	n := -1
	for k, c := range counts {
		if c > 0 && (n < 0 || left[k]/c < n) {
			n = left[k] / c
		}
	}
	return n
}

// next fills one sheet of each size and takes the one that gives most for its price.
func (s *sheeting) next(left, stock []int, m manner, only []bool, tight bool) (best filled, found bool) {
	all := false
	pieces := total(left)
	for t, room := range s.rooms {
		if stock[t] == 0 || only != nil && !only[t] {
			continue
		}
		after := slices.Clone(left)
		f := filled{sheet: t}
		if tight {
			f.boxes = s.combine(room, after, m)
		}
		f.boxes = append(f.boxes, s.fillRest(room, after, m, f.boxes)...)
		for _, b := range f.boxes {
			f.used += b.size[0] * b.size[1]
		}
		if len(f.boxes) == 0 {
			continue
		}
		whole := len(f.boxes) == pieces
		better := false
		switch {
		case !found:
			better = true
		case whole && all:
			better = s.prices[t] < s.prices[best.sheet] || s.prices[t] == s.prices[best.sheet] && s.area(t) < s.area(best.sheet)
		case whole:
			better = s.prices[t] <= s.prices[best.sheet] || s.worth(f, best)
		case all:
			better = s.prices[t] < s.prices[best.sheet] && s.worth(f, best)
		default:
			better = s.worth(f, best)
		}
		if better {
			best, found, all = f, true, whole
		}
	}
	return best, found
}

// fillRest fills what combined pieces left of a sheet: nothing where they fill it.
func (s *sheeting) fillRest(room [2]int64, left []int, m manner, boxes []box) []box {
	if len(boxes) == 0 {
		return s.fill(room, left, m)
	}
	reach := reachOf(boxes)
	beside := [2]int64{room[0] - reach[0], room[1]}
	over := [2]int64{reach[0], room[1] - reach[1]}
	more := shifted(s.fill(beside, left, m), [2]int64{reach[0], 0})
	return append(more, shifted(s.fill(over, left, m), [2]int64{0, reach[1]})...)
}

func shifted(boxes []box, by [2]int64) []box {
	for i := range boxes {
		boxes[i].at[0] += by[0]
		boxes[i].at[1] += by[1]
	}
	return boxes
}

func (s *sheeting) area(t int) int64 { return s.rooms[t][0] * s.rooms[t][1] }

// worth reports whether a gives more area of pieces for its price than b, or at the
// same rate wastes a smaller share of the sheet.
func (s *sheeting) worth(a, b filled) bool {
	x := float64(s.prices[a.sheet]) * float64(b.used)
	y := float64(s.prices[b.sheet]) * float64(a.used)
	if x != y {
		return x < y
	}
	return float64(a.used)*float64(s.area(b.sheet)) > float64(b.used)*float64(s.area(a.sheet))
}

// rework empties a few sheets, the emptiest more often than others, and fills new
// ones with what was on them in a manner drawn by lot; what costs no more and leaves
// the waste better gathered is kept, as a sheet nearly empty is soon saved.
func (s *sheeting) rework() {
	now := s.best.spread()
	if len(now.sheets) > mostBetter {
		return
	}
	start := s.work
	for round := 0; s.work-start < enough && s.best.cost > s.bound; round++ {
		s.work += 200
		emptied := s.emptied(now)
		left, stock := make([]int, len(s.kinds)), slices.Clone(s.stock)
		var kept cutting
		var was int64
		for i, f := range now.sheets {
			if emptied[i] {
				for _, b := range f.boxes {
					left[b.kind]++
				}
				was += s.prices[f.sheet]
				continue
			}
			if stock[f.sheet] != unlimited {
				stock[f.sheet]--
			}
			kept.sheets = append(kept.sheets, f)
			kept.cost += s.prices[f.sheet]
		}
		c := s.pack(left, stock, s.drawn(), s.some(), s.roll(8) == 0).spread()
		if c.short != nil || c.cost > was {
			continue
		}
		if c.cost == was && s.gathered(c.sheets) < s.gathered(now.only(emptied)) {
			continue
		}
		now = cutting{sheets: append(kept.sheets, c.sheets...), cost: kept.cost + c.cost}
		if now.cost < s.best.cost {
			s.best = now
		}
	}
}

// inPairs takes what is on two sheets at a time and lays it out exactly, where the
// pieces are few.
func (s *sheeting) inPairs() {
	now := s.best.spread()
	if len(now.sheets) > mostBetter {
		return
	}
	start := s.work
	for i := 0; i < len(now.sheets); i++ {
		for j := i + 1; j < len(now.sheets) && s.work-start < enough/2 && s.best.cost > s.bound; j++ {
			two := []filled{now.sheets[i], now.sheets[j]}
			counts := make([]int, len(s.kinds))
			var was int64
			for _, f := range two {
				was += s.prices[f.sheet]
				for _, b := range f.boxes {
					counts[b.kind]++
				}
			}
			if pairs(counts) > mostPairs/10 {
				continue
			}
			sub := s.part(counts)
			for t := range sub.stock {
				if sub.stock[t] != unlimited {
					sub.stock[t] -= now.taken(t) - (cutting{sheets: two}).taken(t)
				}
			}
			sub.enumerate()
			s.work += sub.work
			if sub.best.cost >= was {
				continue
			}
			rest := slices.Delete(slices.Delete(slices.Clone(now.sheets), j, j+1), i, i+1)
			for _, f := range sub.best.sheets {
				for b := range f.boxes {
					f.boxes[b].kind = sub.kinds[f.boxes[b].kind].of[0]
				}
				rest = append(rest, f)
			}
			now = cutting{sheets: rest, cost: now.cost - was + sub.best.cost}
			s.best = now
			i, j = 0, 0
		}
	}
}

// taken is how many of a size a cutting has.
func (c cutting) taken(t int) int {
	n := 0
	for _, f := range c.sheets {
		if f.sheet == t {
			n += f.times
		}
	}
	return n
}

func (c cutting) only(chosen []bool) []filled {
	var out []filled
	for i, f := range c.sheets {
		if chosen[i] {
			out = append(out, f)
		}
	}
	return out
}

// spread lists each sheet by itself.
func (c cutting) spread() cutting {
	out := cutting{cost: c.cost, short: c.short}
	for _, f := range c.sheets {
		if len(out.sheets) > mostBetter {
			return out
		}
		for range f.times {
			one := f
			one.times = 1
			if out.sheets = append(out.sheets, one); len(out.sheets) > mostBetter {
				break
			}
		}
	}
	return out
}

// emptied draws two to four sheets to empty.
func (s *sheeting) emptied(c cutting) []bool {
	out := make([]bool, len(c.sheets))
	n := min(len(out), 2+s.roll(3))
	if s.roll(2) == 0 {
		emptiest := 0
		for i, f := range c.sheets {
			if s.share(f) < s.share(c.sheets[emptiest]) {
				emptiest = i
			}
		}
		out[emptiest] = true
		n--
	}
	for n > 0 {
		if i := s.roll(len(out)); !out[i] {
			out[i] = true
			n--
		} else if !slices.Contains(out, false) {
			break
		}
	}
	return out
}

// share is how full a sheet is, in thousandths.
func (s *sheeting) share(f filled) int64 { return f.used * 1000 / max(1, s.area(f.sheet)) }

// gathered is high where some sheets are full and others empty.
func (s *sheeting) gathered(sheets []filled) int64 {
	var sum int64
	for _, f := range sheets {
		sum += s.share(f) * s.share(f)
	}
	return sum
}

// drawn is a manner drawn by lot: one of the sorted orders with some kinds out of
// their turn.
func (s *sheeting) drawn() manner {
	m := s.manner(s.roll(6 * 7 * 8 * 3))
	m.sway = m.free && s.roll(8) == 0
	for i := range m.order {
		if s.roll(4) == 0 {
			j := s.roll(len(m.order))
			m.order[i], m.order[j] = m.order[j], m.order[i]
		}
	}
	return m
}

// some is which sheet sizes may be used: all, or all on hand and one that is sold.
func (s *sheeting) some() []bool {
	if len(s.rooms) == 1 || s.roll(2) == 0 {
		return nil
	}
	only := make([]bool, len(s.rooms))
	one := s.roll(len(only))
	for t := range only {
		only[t] = t == one || s.stock[t] != unlimited
	}
	return only
}

// roll is a number below n: the next of a row that is the same for every problem.
// Source: SplitMix64, Steele, Lea and Flood, Fast splittable pseudorandom number
// generators (2014).
func (s *sheeting) roll(n int) int {
	s.dice += 0x9e3779b97f4a7c15
	z := s.dice
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return int((z ^ z>>31) % uint64(n))
}

// thrift puts what is on a sheet on a cheaper one where it fits, or on a smaller one
// of the same price.
func (s *sheeting) thrift() {
	stock := slices.Clone(s.stock)
	for _, f := range s.best.sheets {
		if stock[f.sheet] != unlimited {
			stock[f.sheet] -= f.times
		}
	}
	for i := range s.best.sheets {
		f := &s.best.sheets[i]
		for t, room := range s.rooms {
			if s.prices[t] > s.prices[f.sheet] || s.prices[t] == s.prices[f.sheet] && s.area(t) >= s.area(f.sheet) || stock[t] != unlimited && stock[t] < f.times {
				continue
			}
			reach := reachOf(f.boxes)
			if reach[0] > room[0] || reach[1] > room[1] {
				continue
			}
			s.best.cost -= (s.prices[f.sheet] - s.prices[t]) * int64(f.times)
			if stock[t] != unlimited {
				stock[t] -= f.times
			}
			if stock[f.sheet] != unlimited {
				stock[f.sheet] += f.times
			}
			f.sheet = t
		}
	}
}
