package bill

import (
	"plansheaf/design/cutting"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// sheets lays the pieces out on sheets: at least cost, or on the fewest sheets, as
// far as the search finds. A kerf goes between pieces; the cuts that trim a sheet's
// sides lie within the trim. A saw cuts from edge to edge, a router around each
// piece. A piece of another shape is laid out by the rectangle around it.
func (c *CutPlan) sheets(r *reckon.Reckoning) {
	problem := cutting.SheetProblem{Kerf: micro(c.Kerf), Trim: micro(c.Trim), Free: c.Routed()}
	for _, w := range c.Ways {
		sheet := cutting.Sheet{Size: [2]int64{micro(w.Size[0]), micro(w.Size[1])}, Price: int64(w.Price.Money), Count: w.OnHand}
		if c.Counted && w.Sold != nil {
			sheet.Price = 1
		}
		problem.Sheets = append(problem.Sheets, sheet)
	}
	across := make([]bool, len(c.Pieces)) // lies turned, and must
	for i, p := range c.Pieces {
		turn, fixed := grainOf(c.Stock, p.Part.Part)
		rect := cutting.Rect{Size: [2]int64{micro(p.Length), micro(p.Width)}, Count: p.Count, Turn: turn}
		if across[i] = fixed; fixed {
			rect.Size[0], rect.Size[1] = rect.Size[1], rect.Size[0]
		}
		problem.Rects = append(problem.Rects, rect)
	}
	found := memo.Sure(r.Kept(), "sheets", func() cutting.SheetPlan { return cutting.Sheets(problem) }, problem)
	c.known(found.Unfit, found.Unlaid, found.Bound)
	first := make([]int, len(found.Layouts))
	for i, l := range found.Layouts {
		first[i] = len(c.Pieced)
		stick := c.sheet(l, across)
		for range l.Times {
			if len(c.Pieced) == maxSticks {
				c.Unlaid += len(l.Places)
				continue
			}
			c.Pieced = append(c.Pieced, stick)
		}
	}
	if !c.Routed() {
		c.Settings = c.sawn(problem, found, first)
	}
}

// Routed reports whether sheets are cut around each piece rather than from edge to
// edge.
func (c CutPlan) Routed() bool { return c.Stock.CutBy.Text == "router" }

// sheet is one sheet of a layout. across tells the pieces that were laid out turned
// because their grain asks for it.
func (c *CutPlan) sheet(l cutting.Layout, across []bool) Stick {
	s := Stick{Way: l.Sheet}
	for _, p := range l.Places {
		s.Cuts = append(s.Cuts, Cut{
			Part: c.Pieces[p.Rect].Part, X: mm(p.At[0]), Y: mm(p.At[1]), Length: mm(p.Size[0]), Width: mm(p.Size[1]),
			Turned: p.Turned || across[p.Rect],
		})
	}
	for _, r := range l.Rests {
		s.Rests = append(s.Rests, Rest{X: mm(r.At[0]), Y: mm(r.At[1]), Length: mm(r.Size[0]), Width: mm(r.Size[1])})
	}
	return s
}

// grainOf is whether a part may be turned by a quarter turn on its stock, and if not,
// whether it must be. Without a word of its own a part's length lies along the sheet
// where the stock has a grain.
func grainOf(s *plan.Stock, p *plan.Part) (may, must bool) {
	if s.Grain.Text == "" || s.Grain.Text == "none" || p.Grain.Text == "any" {
		return true, false
	}
	return false, p.Grain.Text != "" && p.Grain.Text != s.Grain.Text
}

// mm is a length in millimetres.
func mm(micro int64) float64 { return float64(micro) / 1000 }
