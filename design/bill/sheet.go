package bill

import (
	"sort"

	"plansheaf/design/solid"
)

// A shelf is a strip of a sheet from one long cut to the next.
type shelf struct {
	stick    int
	y, high  float64 // mm from the sheet's corner
	x        float64 // where the next piece begins
	leftWide float64
}

// A lying piece is one with the way that it lies on the sheet.
type lying struct {
	Piece
	length, width float64
	turned        bool
}

// sheets fills sheets in shelves, widest piece first, each shelf as high as its
// first piece: every cut goes from edge to edge of what the cut before left, as a
// saw needs it. A kerf goes between pieces and between shelves; the cuts that trim
// a sheet's edges lie within the trim. Stock with a grain lets pieces turn by half
// turns only.
//
// Each size is tried alone; the plan that leaves out the fewest pieces is kept, of
// those the cheapest, of equal price the first.
func (c *CutPlan) sheets() {
	kept, first := *c, true
	for way, w := range c.Ways {
		if w.Sold == nil {
			continue
		}
		try := *c
		try.sheetsOf(way)
		try.price()
		fewer := len(try.TooBig) - len(kept.TooBig)
		cheaper := try.Cost.Known && (!kept.Cost.Known || try.Cost.Money < kept.Cost.Money)
		if first || fewer < 0 || fewer == 0 && cheaper {
			kept, first = try, false
		}
	}
	*c = kept
}

func (c *CutPlan) sheetsOf(way int) {
	size := c.Ways[way].Size
	room := [2]float64{size[0] - 2*c.Trim, size[1] - 2*c.Trim}
	mayTurn := c.Stock.Grain.Text == "" || c.Stock.Grain.Text == "none"
	var pieces []lying
	var area float64
	for _, p := range c.Pieces {
		l, fits := lie(p, room, mayTurn)
		if !fits {
			c.TooBig = append(c.TooBig, p)
			continue
		}
		pieces = append(pieces, l)
		area += float64(p.Count) * p.Length * p.Width
	}
	sort.SliceStable(pieces, func(i, j int) bool { return pieces[i].width > pieces[j].width })
	s := &shelving{plan: c, way: way, room: room}
	for _, p := range pieces {
		c.Unlaid += p.Count - s.put(p)
	}
	c.Fewest = least(area, room[0]*room[1])
	c.Bound = c.Ways[way].Price.Money.Times(c.Fewest)
}

// lie is how a piece lies on the sheet: as drawn if it fits, else turned.
func lie(p Piece, room [2]float64, mayTurn bool) (l lying, fits bool) {
	within := func(a, b float64) bool { return a <= room[0]+solid.Tolerance && b <= room[1]+solid.Tolerance }
	switch {
	case within(p.Length, p.Width):
		return lying{p, p.Length, p.Width, false}, true
	case mayTurn && within(p.Width, p.Length):
		return lying{p, p.Width, p.Length, true}, true
	}
	return l, false
}

// A shelving is a cut plan of sheets in the making.
type shelving struct {
	plan    *CutPlan
	way     int
	room    [2]float64 // mm within the trim
	shelves []shelf
	used    []float64 // height of each sheet that its shelves take
}

// put lays the pieces of one kind and says how many there was room for. A shelf or
// sheet that is too full for one is too full for its equals, so that each search
// goes on from the last.
func (s *shelving) put(p lying) (laid int) {
	c := s.plan
	at, sheet := 0, 0
	for ; laid < p.Count; laid++ {
		for at < len(s.shelves) && !s.shelves[at].holds(p) {
			at++
		}
		if at == len(s.shelves) {
			for sheet < len(s.used) && s.used[sheet]+c.Kerf+p.width > s.room[1]+solid.Tolerance {
				sheet++
			}
			if sheet == maxSticks {
				return laid
			}
			s.open(sheet, p.width)
		}
		shelf := &s.shelves[at]
		stick := &c.Pieced[shelf.stick]
		stick.Cuts = append(stick.Cuts, Cut{Part: p.Part, X: shelf.x, Y: shelf.y, Length: p.length, Width: p.width, Turned: p.turned})
		shelf.x += p.length + c.Kerf
		shelf.leftWide -= p.length + c.Kerf
	}
	return laid
}

func (s shelf) holds(p lying) bool {
	return p.length <= s.leftWide+solid.Tolerance && p.width <= s.high+solid.Tolerance
}

// open begins a shelf on a sheet, which may be a new one.
func (s *shelving) open(sheet int, high float64) {
	y := 0.0
	if sheet == len(s.used) {
		s.plan.Pieced = append(s.plan.Pieced, Stick{Way: s.way})
		s.used = append(s.used, 0)
	} else {
		y = s.used[sheet] + s.plan.Kerf
	}
	s.used[sheet] = y + high
	trim := s.plan.Trim
	s.shelves = append(s.shelves, shelf{stick: sheet, x: trim, y: trim + y, high: high, leftWide: s.room[0]})
}
