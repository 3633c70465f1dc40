package bill

import (
	"math"

	"plansheaf/design/cutting"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// bars lays the pieces out on bars: at least cost, or on the fewest bars. A kerf
// goes between two pieces and between the last piece and the rest; the cuts that
// trim a bar's ends lie within the trim.
func (c *CutPlan) bars(r *reckon.Reckoning) {
	problem := cutting.Problem{Kerf: micro(c.Kerf), Trim: micro(c.Trim), Most: most(r, c.Stock)}
	for _, w := range c.Ways {
		bar := cutting.Bar{Length: micro(w.Size[0]), Price: int64(w.Price.Money), Count: w.OnHand}
		if c.Counted && w.Sold != nil {
			bar.Price = 1
		}
		problem.Bars = append(problem.Bars, bar)
	}
	for _, p := range c.Pieces {
		problem.Pieces = append(problem.Pieces, cutting.Piece{Length: micro(p.Length), Count: p.Count})
	}
	found := cutting.Bars(problem)
	for _, i := range found.Unfit {
		c.TooBig = append(c.TooBig, c.Pieces[i])
	}
	for _, n := range found.Unlaid {
		c.Unlaid += n
	}
	if c.Counted {
		c.Fewest = int(found.Bound)
	} else {
		c.Bound = Money(found.Bound)
	}
	for _, pattern := range found.Patterns {
		for range pattern.Times {
			if len(c.Pieced) == maxSticks {
				for _, n := range pattern.Counts {
					c.Unlaid += n
				}
				continue
			}
			c.Pieced = append(c.Pieced, c.stick(pattern))
		}
	}
	c.Settings = c.stops()
}

// stick is a bar cut by a pattern, longest piece first.
func (c *CutPlan) stick(pattern cutting.Pattern) Stick {
	s := Stick{Way: pattern.Bar}
	x := c.Trim
	for i, n := range pattern.Counts {
		for range n {
			s.Cuts = append(s.Cuts, Cut{Part: c.Pieces[i].Part, X: x, Length: c.Pieces[i].Length})
			x += c.Pieces[i].Length + c.Kerf
		}
	}
	if len(s.Cuts) > 0 {
		x -= c.Kerf
	}
	s.Left = c.Ways[s.Way].Size[0] - c.Trim - x
	return s
}

// most is how many pieces a bar of stock may be cut into, 0 for any number.
func most(r *reckon.Reckoning, s *plan.Stock) int {
	if !s.Most.Given() {
		return 0
	}
	n, _ := r.Whole(s.Most)
	return max(0, n)
}

// micro is a length in micrometres, within what any workshop holds.
func micro(mm float64) int64 {
	const longest = 1e9 // mm
	return int64(math.Round(math.Max(-longest, math.Min(mm, longest)) * 1000))
}
