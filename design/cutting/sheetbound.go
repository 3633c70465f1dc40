package cutting

import (
	"math"
	"slices"
)

// A scale gives a piece's side x its share of a sheet's side c, so that pieces that
// lie in a row within c never have more than 1 together: a dual feasible function.
// Source: Fekete and Schepers, New classes of lower bounds for bin packing problems,
// Mathematical Programming 91 (2001).
type scale func(x, c int64) float64

// scales are functions to try on one axis: plain length; lengths counted in whole
// parts of the side; pieces larger than most of the side as all of it, and smaller
// than a limit as none; big pieces by what stands beside them.
func (s *sheeting) scales() []scale {
	out := []scale{func(x, c int64) float64 { return float64(x) / float64(c) }}
	for parts := int64(1); parts <= 6; parts++ {
		out = append(out, func(x, c int64) float64 {
			if (parts+1)*x%c == 0 {
				return float64(x) / float64(c)
			}
			return float64((parts+1)*x/c) / float64(parts)
		})
	}
	for _, limit := range s.limits() {
		out = append(out, func(x, c int64) float64 {
			switch {
			case 2*limit > c:
				return float64(x) / float64(c)
			case x > c-limit:
				return 1
			case x >= limit:
				return float64(x) / float64(c)
			}
			return 0
		}, func(x, c int64) float64 {
			if 2*limit > c {
				return float64(x) / float64(c)
			}
			whole := float64(c / limit)
			switch {
			case 2*x > c:
				return 1 - float64((c-x)/limit)/whole
			case x >= limit:
				return 1 / whole
			}
			return 0
		})
	}
	return out
}

// limits are the sides of pieces, at most so many: more of them tell little more.
func (s *sheeting) limits() []int64 {
	const most = 16
	var sides []int64
	for _, k := range s.kinds {
		sides = append(sides, k.size[0], k.size[1])
	}
	slices.Sort(sides)
	sides = slices.Compact(sides)
	if len(sides) <= most {
		return sides
	}
	var out []int64
	for i := range most {
		out = append(out, sides[i*len(sides)/most])
	}
	return out
}

// unsure is what rounding may add to a bound, as a share of it.
const unsure = 1e-9

// lower is what no plan can cost less than. A piece is worth the price of the sheet
// by its share of it, in the way it may lie and the sheet that make it least; what
// sheets of limited number could save at most is taken off. Of all pairs of scales
// the best counts, raised to the next sum that prices can make.
func (s *sheeting) lower() int64 {
	best := 0.0
	scales := s.scales()
	for _, f := range scales {
		for _, g := range scales {
			best = math.Max(best, s.worthOf(f, g))
		}
	}
	return s.payable(best * (1 - unsure))
}

// worthOf is the bound by one pair of scales.
func (s *sheeting) worthOf(f, g scale) float64 {
	sum, values := 0.0, make([]float64, len(s.kinds))
	for i, k := range s.kinds {
		value := math.Inf(1)
		for t, room := range s.rooms {
			if s.stock[t] == unlimited {
				value = math.Min(value, float64(s.prices[t])*shareOf(k, room, f, g))
			}
		}
		if math.IsInf(value, 1) {
			value = 0
		}
		values[i] = value
		sum += value * float64(k.count)
	}
	saved, could := 0.0, 0.0
	for t, room := range s.rooms {
		if s.stock[t] > 0 {
			saved += float64(s.stock[t]) * math.Max(0, s.most(room, values, f, g)-float64(s.prices[t]))
		}
	}
	for i, k := range s.kinds {
		for t, room := range s.rooms {
			if s.stock[t] > 0 && k.fits(room) {
				could += values[i] * float64(k.count)
				break
			}
		}
	}
	return sum - math.Min(saved, could)
}

// shareOf is a piece's share of a sheet, in the way it may lie that makes it least;
// infinite where it does not fit.
func shareOf(k kind, room [2]int64, f, g scale) float64 {
	least := math.Inf(1)
	for _, way := range k.ways() {
		if way[0] <= room[0] && way[1] <= room[1] {
			least = math.Min(least, f(way[0], room[0])*g(way[1], room[1]))
		}
	}
	return least
}

// most is the highest worth of pieces that one sheet can give.
func (s *sheeting) most(room [2]int64, values []float64, f, g scale) float64 {
	byArea, byShare := 0.0, 0.0
	for i, k := range s.kinds {
		if !k.fits(room) {
			continue
		}
		byArea = math.Max(byArea, values[i]/float64(k.area()))
		if share := shareOf(k, room, f, g); share > 0 {
			byShare = math.Max(byShare, values[i]/share)
		} else if values[i] > 0 {
			byShare = math.Inf(1)
		}
	}
	return math.Min(byArea*float64(room[0]*room[1]), byShare)
}

// payable is the least sum, not below a cost, that prices of whole sheets make.
func (s *sheeting) payable(cost float64) int64 {
	const table = 100_000 // entries
	least := int64(math.Ceil(cost))
	if cost <= 0 {
		return 0
	}
	var step int64
	for _, p := range s.prices {
		step = gcd(step, p)
	}
	if step == 0 {
		return 0
	}
	least = (least + step - 1) / step * step
	var prices []int64
	for t, p := range s.prices {
		if p > 0 {
			prices = append(prices, p/step)
		} else if s.stock[t] == unlimited {
			return 0
		}
	}
	n := least / step
	top := n + slices.Min(prices)
	if top > table {
		return least
	}
	reach := make([]bool, top+1)
	reach[0] = true
	for sum := int64(1); sum <= top; sum++ {
		for _, p := range prices {
			reach[sum] = reach[sum] || sum >= p && reach[sum-p]
		}
		if sum >= n && reach[sum] {
			return sum * step
		}
	}
	return least
}
