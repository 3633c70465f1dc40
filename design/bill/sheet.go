package bill

import (
	"math"

	"plansheaf/design/solid"
)

// A shelf is a strip of a sheet from one long cut to the next.
type shelf struct {
	stick       int
	y, high     float64
	x, leftWide float64
}

// sheets fills sheets in shelves, largest piece first, each shelf as high as its
// first piece: every cut goes from edge to edge, as a saw needs it. Stock with a
// grain lets pieces turn by half turns only.
func (c *CutPlan) sheets() {
	mayTurn := c.Stock.Grain.Text == "" || c.Stock.Grain.Text == "none"
	var shelves []shelf
	var heights []float64 // used height of each sheet
	var area float64
	for _, p := range c.Pieces {
		length, width, turned, fits := c.lie(p, mayTurn)
		if !fits {
			c.TooBig = append(c.TooBig, p)
			continue
		}
		area += float64(p.Count) * p.Length * p.Width
		for n := 0; n < p.Count && len(c.Pieced) < maxSticks; n++ {
			at := c.shelfFor(shelves, length, width)
			if at < 0 {
				shelves, heights = c.openShelf(shelves, heights, width)
				at = len(shelves) - 1
			}
			s := &shelves[at]
			stick := &c.Pieced[s.stick]
			stick.Cuts = append(stick.Cuts, Cut{Part: p.Part, X: s.x, Y: s.y, Length: length, Width: width, Turned: turned})
			s.x += length + c.Kerf
			s.leftWide -= length + c.Kerf
		}
	}
	c.Bound = int(math.Ceil(area/(c.Size[0]*c.Size[1]) - wholeWithin))
}

// lie is how a piece lies on the sheet: as drawn if it fits, else turned.
func (c *CutPlan) lie(p Piece, mayTurn bool) (length, width float64, turned, fits bool) {
	within := func(a, b float64) bool { return a <= c.Size[0]+solid.Tolerance && b <= c.Size[1]+solid.Tolerance }
	switch {
	case within(p.Length, p.Width):
		return p.Length, p.Width, false, true
	case mayTurn && within(p.Width, p.Length):
		return p.Width, p.Length, true, true
	}
	return 0, 0, false, false
}

func (c *CutPlan) shelfFor(shelves []shelf, length, width float64) int {
	for i, s := range shelves {
		if length <= s.leftWide+solid.Tolerance && width <= s.high+solid.Tolerance {
			return i
		}
	}
	return -1
}

// openShelf begins a shelf on the first sheet with room, or on a new sheet.
func (c *CutPlan) openShelf(shelves []shelf, heights []float64, high float64) ([]shelf, []float64) {
	for i := range heights {
		if heights[i]+c.Kerf+high <= c.Size[1]+solid.Tolerance {
			y := heights[i] + c.Kerf
			heights[i] = y + high
			return append(shelves, shelf{stick: i, y: y, high: high, leftWide: c.Size[0]}), heights
		}
	}
	c.Pieced = append(c.Pieced, Stick{})
	heights = append(heights, high)
	return append(shelves, shelf{stick: len(heights) - 1, high: high, leftWide: c.Size[0]}), heights
}
