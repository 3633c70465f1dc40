package cutting

import "math"

// certain is the bound that the prices of the root's program prove, worked out in
// whole numbers: prices are cut to whole parts of a coin, and no pattern's worth is
// taken from a rounded sum.
func (s *search) certain(n *node, r relaxed) int64 {
	scale := math.Floor(math.Exp2(52) / float64(s.cost+1)) // all sums stay exact in a float64
	if scale < 1 {
		return 0
	}
	prices := make([]float64, len(r.prices))
	total := 0.0
	for i, p := range r.prices {
		prices[i] = math.Floor(math.Max(0, p) * scale)
		total += prices[i] * float64(n.demand[i])
	}
	shrink := 1.0
	for b, bar := range s.problem.Bars {
		price := float64(bar.Price) * scale
		if n.stock[b] == unlimited && price > 0 {
			_, most := s.fill(b, prices, n.demand, price, nil)
			shrink = math.Max(shrink, most/price)
			continue
		}
		_, most := s.fill(b, prices, n.demand, 0, nil)
		if n.stock[b] == unlimited {
			if most > 0 {
				return 0 // a bar without a price gives as much as is wanted
			}
			continue
		}
		total -= float64(n.stock[b]) * math.Max(0, most-price)
	}
	if shrink > 1 {
		total = total / shrink * (1 - 1e-12)
	}
	if total <= 0 {
		return 0
	}
	return int64(math.Ceil(total/scale/float64(s.step)-1e-12)) * s.step
}

// plain is the bound that needs no program: no two pieces longer than half of what any
// bar gives come from one bar, so each costs at least the cheapest bar that it fits.
func (s *search) plain() int64 {
	longest := int64(0)
	for _, b := range s.problem.Bars {
		longest = max(longest, s.problem.room(b))
	}
	bound := int64(0)
	for _, piece := range s.problem.Pieces {
		if 2*(piece.Length+s.problem.Kerf) <= longest {
			continue
		}
		least := int64(-1)
		for _, b := range s.problem.Bars {
			if s.problem.fits(b, piece) && (least < 0 || b.Price < least) {
				least = b.Price
			}
		}
		bound += least * int64(piece.Count)
	}
	return bound
}
