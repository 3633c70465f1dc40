package bill

import (
	"math"

	"plansheaf/design/cutting"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// bars lays the pieces out on bars: at least cost, or on the fewest bars. A kerf
// goes between two pieces and between the last piece and the rest; the cuts that
// trim a bar's ends lie within the trim. Of mitred pieces see mitre.go.
func (c *CutPlan) bars(r *reckon.Reckoning) {
	problem := cutting.Problem{Kerf: micro(c.Kerf), Trim: micro(c.Trim), Most: most(r, c.Stock)}
	for _, w := range c.Ways {
		bar := cutting.Bar{Length: micro(w.Size[0]), Price: int64(w.Price.Money), Count: w.OnHand}
		if c.Counted && w.Sold != nil {
			bar.Price = 1
		}
		problem.Bars = append(problem.Bars, bar)
	}
	slants := make([]slanted, len(c.Pieces))
	nests, nestsOf := map[rowShape]int{}, make([]int, len(c.Pieces))
	for i, p := range c.Pieces {
		slants[i], _ = slantOf(p.Part)
		piece := cutting.Piece{Length: micro(p.Length), Count: p.Count}
		if each, row, ok := slants[i].nested(c.Kerf, p.Length); ok {
			shape := slants[i].row
			if nests[shape] == 0 {
				problem.Nests = append(problem.Nests, upward(row))
				nests[shape] = len(problem.Nests)
			}
			piece.Length, piece.Nest = upward(each), nests[shape]
			nestsOf[i] = piece.Nest
		}
		problem.Pieces = append(problem.Pieces, piece)
	}
	found := memo.Sure(r.Kept(), "bars", func() cutting.Plan { return cutting.Bars(problem) }, problem)
	c.known(found.Unfit, found.Unlaid, found.Bound)
	for _, pattern := range found.Patterns {
		for range pattern.Times {
			if len(c.Pieced) == maxSticks {
				for _, n := range pattern.Counts {
					c.Unlaid += n
				}
				continue
			}
			c.Pieced = append(c.Pieced, c.stick(problem, pattern, slants))
		}
	}
	c.Settings = c.stops(nestsOf)
}

// stick is a bar cut by a pattern: pieces that take their full length, longest first,
// then the rows of mitred ones. Between rows the bar is first cut square.
func (c *CutPlan) stick(problem cutting.Problem, pattern cutting.Pattern, slants []slanted) Stick {
	s := Stick{Way: pattern.Bar}
	end := c.Trim - c.Kerf
	for nest := range len(problem.Nests) + 1 {
		row := row{kerf: c.Kerf}
		for i, n := range pattern.Counts {
			if problem.Pieces[i].Nest != nest {
				continue
			}
			for range n {
				cut := Cut{Part: c.Pieces[i].Part, X: end + c.Kerf, Length: c.Pieces[i].Length}
				switch mitred := slants[i]; {
				case nest > 0:
					cut = row.lay(cut, mitred)
				case len(mitred.lies) > 0:
					cut.Slant = mitred.over(mitred.lies[0])
				}
				s.Cuts = append(s.Cuts, cut)
				end = cut.X + cut.Length
			}
		}
	}
	if len(s.Cuts) == 0 {
		end = c.Trim
	}
	s.Left = c.Ways[s.Way].Size[0] - c.Trim - end
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

// upward is a length in micrometres, rounded up, so that what is laid out by such
// lengths fits.
func upward(mm float64) int64 { return int64(math.Ceil(math.Min(mm, 1e9)*1000 - 1e-6)) }

// micro is a length in micrometres, within what any workshop holds.
func micro(mm float64) int64 {
	const longest = 1e9 // mm
	return int64(math.Round(math.Max(-longest, math.Min(mm, longest)) * 1000))
}
