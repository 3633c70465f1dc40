package basket

import (
	"math"
	"slices"
)

// A mode is what is decided about a supplier that ships at a price or has a least
// order.
type mode int8

const (
	open   mode = iota // not decided yet
	off                // nothing is ordered
	paying             // shipping is paid, the order is worth the least one
	free               // the order is worth enough to ship free
	plain              // no terms: nothing to decide
)

// mostWork bounds the steps of a search.
const mostWork = 3_000_000

// A search holds what is known while one problem is worked on. Costs in it are
// weighed: times scale, so that what lines add to tell equal costs apart stays below
// one unit of money.
type search struct {
	problem   *Problem
	suppliers []Supplier // with weighed terms
	goods     []*good
	scale     int64
	line      int64 // the most that a line or a term may weigh
	charged   []int // suppliers with something to decide, those with the most items first
	modes     []mode

	best       int64    // weighed cost of the cheapest basket so far
	picked     []option // by good
	unsearched int64    // the least bound of what was left unsearched
	work       int
}

// Cheapest finds the cheapest basket.
func Cheapest(p Problem) Basket {
	s := &search{problem: &p, best: math.MaxInt64, unsearched: math.MaxInt64}
	var out Basket
	var at []int // index of each searched item in the problem
	s.weighing()
	for i := range p.Items {
		item := &p.Items[i]
		switch {
		case item.Need <= 0:
		case len(item.Offers) == 0:
			out.Unmet = append(out.Unmet, i)
		default:
			at = append(at, i)
			s.goods = append(s.goods, newGood(item))
		}
	}
	s.decide()
	s.visit(0)
	out.Orders = make([]Order, len(p.Suppliers))
	used := make([]bool, len(p.Suppliers))
	for i, pick := range s.picked {
		item := &p.Items[at[i]]
		for o, packs := range pick.packs {
			if packs == 0 {
				continue
			}
			line := Line{Item: at[i], Offer: o, Packs: packs, Cost: item.Offers[o].Cost(packs, p.Round)}
			out.Lines = append(out.Lines, line)
			order := &out.Orders[item.Offers[o].Supplier]
			order.Goods = plus(order.Goods, line.Cost)
			used[item.Offers[o].Supplier] = true
		}
	}
	for i := range out.Orders {
		if used[i] {
			out.Orders[i] = p.Suppliers[i].Order(out.Orders[i].Goods)
			out.Cost = plus(out.Cost, out.Orders[i].Cost())
		}
	}
	out.Bound, out.Work = min(out.Cost, min(s.best, s.unsearched)/s.scale), s.work
	return out
}

// weighing chooses the scale, so that all marks together stay below one unit, and
// what a line may weigh, so that no sum overflows.
func (s *search) weighing() {
	offers := 1
	for _, item := range s.problem.Items {
		offers += len(item.Offers)
	}
	for s.scale = 1; s.scale <= int64(offers)*(mostRank+1); s.scale *= 2 {
	}
	const most = 1 << 59 // four times this is a number still
	s.line = most / int64(offers+3*len(s.problem.Suppliers))
	for _, t := range s.problem.Suppliers {
		t.Shipping, t.FreeFrom, t.Least = s.scaled(t.Shipping), s.scaled(t.FreeFrom), s.scaled(t.Least)
		s.suppliers = append(s.suppliers, t)
	}
}

const mostRank = 31

func (s *search) scaled(amount int64) int64 {
	return min(max(0, amount), s.line/s.scale) * s.scale
}

// weigh is what a line weighs.
func (s *search) weigh(o Offer, packs int) int64 {
	rank := max(0, min(s.problem.Suppliers[o.Supplier].Rank, mostRank))
	return s.scaled(o.Cost(packs, s.problem.Round)) + int64(rank) + 1
}

// decide lists the suppliers with something to decide.
func (s *search) decide() {
	items := make([]int, len(s.suppliers))
	for _, g := range s.goods {
		for _, supplier := range g.suppliers {
			items[supplier]++
		}
	}
	s.modes = make([]mode, len(s.suppliers))
	for i, t := range s.suppliers {
		switch {
		case t.Shipping == 0 && t.Least == 0:
			s.modes[i] = plain
		case items[i] > 0:
			s.charged = append(s.charged, i)
		}
	}
	slices.SortStableFunc(s.charged, func(a, b int) int { return items[b] - items[a] })
}

// fixed and floor are what an order costs beside its goods, and what the goods cost
// at least, by what is decided.
func (s *search) fixed(supplier int) int64 {
	if s.modes[supplier] == paying {
		return s.suppliers[supplier].Shipping
	}
	return 0
}

func (s *search) floor(supplier int) int64 {
	switch t := s.suppliers[supplier]; s.modes[supplier] {
	case paying:
		return t.Least
	case free:
		return max(t.Least, t.FreeFrom)
	}
	return 0
}

func (s *search) isOpen(supplier int) bool { return s.modes[supplier] != off }

// visit goes through what may be decided about the suppliers from one on, the most
// promising first.
func (s *search) visit(depth int) {
	bound, k, ok := s.bound()
	if !ok || bound >= s.best {
		return
	}
	if s.work > mostWork {
		s.unsearched = min(s.unsearched, bound)
		return
	}
	if depth == len(s.charged) {
		s.leaf(bound, k)
		return
	}
	supplier := s.charged[depth]
	type branch struct {
		mode  mode
		bound int64
	}
	var branches []branch
	for _, m := range s.branches(supplier) {
		s.modes[supplier] = m
		if b, _, ok := s.bound(); ok {
			branches = append(branches, branch{m, b})
		}
	}
	slices.SortStableFunc(branches, func(a, b branch) int {
		if a.bound < b.bound {
			return -1
		}
		if a.bound > b.bound {
			return 1
		}
		return 0
	})
	for _, b := range branches {
		s.modes[supplier] = b.mode
		s.visit(depth + 1)
	}
	s.modes[supplier] = open
}

// branches are the modes that a supplier's terms make different.
func (s *search) branches(supplier int) []mode {
	t := s.suppliers[supplier]
	list := []mode{off, paying}
	if t.Shipping > 0 && t.FreeFrom > 0 {
		list = append(list, free)
	}
	return list
}

// bound is what any basket costs by what is decided so far: the best of several ways
// to count quarters of what an order must be worth instead of the same quarters of
// its lines. It is taken to baskets on the way. k is the way that gave it.
func (s *search) bound() (bound int64, k []int64, ok bool) {
	k = make([]int64, len(s.suppliers))
	base := int64(0)
	for i := range s.suppliers {
		base += 4 * s.fixed(i)
	}
	sum, ok := s.lagrangian(k)
	if !ok {
		return 0, nil, false
	}
	for _, supplier := range s.charged {
		floor := s.floor(supplier)
		if floor == 0 {
			continue
		}
		for _, quarters := range []int64{4, 2, 3, 1} {
			before := k[supplier]
			k[supplier] = quarters
			if other, _ := s.lagrangian(k); other > sum {
				sum = other
			} else {
				k[supplier] = before
			}
		}
	}
	return (base + sum + 3) / 4, k, true
}

// lagrangian is the bound without what is fixed, in quarters. The options that it
// rests on are a basket, which may be the cheapest so far.
func (s *search) lagrangian(k []int64) (quarters int64, ok bool) {
	picks := make([]option, len(s.goods))
	for i, g := range s.goods {
		found := s.least(g, k)
		if !found.ok {
			return 0, false
		}
		quarters += found.quarters
		picks[i] = found.option
	}
	for i := range s.suppliers {
		quarters += k[i] * s.floor(i)
	}
	s.work += len(s.goods) + 1
	s.offer(picks)
	return quarters, true
}

// offer takes a basket where it is the cheapest so far.
func (s *search) offer(picks []option) {
	worth := make([]int64, len(s.suppliers))
	for _, pick := range picks {
		for _, p := range pick.spent {
			worth[p.supplier] += p.amount
		}
	}
	cost := int64(0)
	for i, value := range worth {
		if value > 0 {
			cost += s.suppliers[i].Order(value).Cost()
		}
	}
	if cost < s.best {
		s.best, s.picked = cost, slices.Clone(picks)
	}
}
