package bill

import (
	"math"

	"plansheaf/design/solid"
)

// bars fills bars by first fit, longest piece first. A kerf goes between two pieces
// and between the last piece and the rest; the cuts that trim a bar's ends lie
// within the trim.
func (c *CutPlan) bars() {
	usable := c.Size[0] - 2*c.Trim
	var total float64
	for _, p := range c.Pieces {
		if p.Length > usable+solid.Tolerance {
			c.TooBig = append(c.TooBig, p)
			continue
		}
		total += float64(p.Count) * (p.Length + c.Kerf)
		// A bar that is too full for one piece is too full for its equals, so the
		// search goes on from there.
		from := 0
		for n := 0; n < p.Count; n++ {
			if from = c.barFor(p, from); from == len(c.Pieced) {
				if from == maxSticks {
					c.Unlaid += p.Count - n
					break
				}
				c.Pieced = append(c.Pieced, Stick{Left: usable})
			}
			c.Pieced[from].add(p, *c)
		}
	}
	c.Bound = least(total, usable+c.Kerf)
}

// barFor is the first bar from index from on that has room for a piece, or the
// number of bars when none has.
func (c *CutPlan) barFor(p Piece, from int) int {
	for ; from < len(c.Pieced); from++ {
		if c.Pieced[from].Left+solid.Tolerance >= p.Length+c.Kerf {
			return from
		}
	}
	return from
}

// add cuts a piece from a bar after those that it holds.
func (s *Stick) add(p Piece, c CutPlan) {
	x := c.Trim
	if n := len(s.Cuts); n > 0 {
		x = s.Cuts[n-1].X + s.Cuts[n-1].Length + c.Kerf
		s.Left -= c.Kerf
	}
	s.Cuts = append(s.Cuts, Cut{Part: p.Part, X: x, Length: p.Length})
	s.Left -= p.Length
}

// least is how many bars or sheets of a size no plan can do without for pieces of
// a total.
func least(total, size float64) int {
	if total <= 0 || size <= 0 {
		return 0
	}
	return int(math.Ceil(math.Min(total/size, math.MaxInt32) - wholeWithin))
}
