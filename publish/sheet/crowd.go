package sheet

import (
	"math"

	"plansheaf/publish/picture"
)

// crowdCell is the side of the crowd's cells, mm: less than the height of a line of
// words, so that a place for words holds whole cells.
const crowdCell = 2.0

// crowdCells is how many cells a crowd has at the most, for boards as large as a
// template: more than the largest sheet takes, and little memory. They are larger
// then.
const crowdCells = 300000

// crowdEdge is what cells reach beyond their edges when lines are sorted into them,
// mm, so that rounding loses no crossing.
const crowdEdge = 1e-6

// A crowd is an index over a board, for the many places that are tried for each
// callout: which words and lines pass through each cell, and how many taken cells
// lie in any rectangle. It follows the board as that fills.
type crowd struct {
	board         *board
	boxes, lines  int // how many of the board's are sorted in
	origin        point
	cell          float64 // side of the cells, mm
	columns, rows int
	near          [][]int32 // lines by cell
	words         [][]int32 // boxes by cell, grown by the room that words keep
	taken         []bool    // cells with a line or a box inside
	sums          []int32   // taken cells above and left of each corner
	counted       bool      // sums are those of taken
	seen          []int32   // by line: the last question that met it
	asked         []int32   // the same by box
	question      int32
}

func newCrowd(b *board) *crowd {
	w, h := b.limit.Width(), b.limit.Height()
	cell := max(crowdCell, math.Sqrt(w*h/crowdCells))
	return &crowd{board: b, origin: b.limit.Min, cell: cell, columns: int(w/cell) + 1, rows: int(h/cell) + 1}
}

// follow sorts in what the board has got since. Most boards are given up before
// anything is asked of them, so the cells are made here.
func (c *crowd) follow() {
	if c.near == nil {
		cells := c.columns * c.rows
		c.near, c.words, c.taken = make([][]int32, cells), make([][]int32, cells), make([]bool, cells)
	}
	for ; c.lines < len(c.board.lines); c.lines++ {
		s := c.board.lines[c.lines]
		c.walk(s.a, s.b, func(cell int) bool {
			c.near[cell] = append(c.near[cell], int32(c.lines))
			return true
		})
		steps := int(2*s.a.Distance(s.b)/c.cell) + 1
		for i := range steps + 1 {
			c.take(s.a.Plus(s.b.Minus(s.a).Times(float64(i) / float64(steps))))
		}
		c.seen, c.counted = append(c.seen, 0), false
	}
	for ; c.boxes < len(c.board.boxes); c.boxes++ {
		box := c.board.boxes[c.boxes]
		c.over(box.Grow(clear), func(cell int) { c.words[cell] = append(c.words[cell], int32(c.boxes)) })
		c.asked = append(c.asked, 0)
		if box.Width() > 2*crowdEdge && box.Height() > 2*crowdEdge {
			c.over(box.Grow(-crowdEdge), func(cell int) { c.taken[cell] = true })
		}
		c.counted = false
	}
}

// take marks the cell of a point.
func (c *crowd) take(p point) {
	x, y := c.column(p.X), c.row(p.Y)
	if x >= 0 && x < c.columns && y >= 0 && y < c.rows {
		c.taken[y*c.columns+x] = true
	}
}

func (c *crowd) column(x float64) int { return int(math.Floor((x - c.origin.X) / c.cell)) }
func (c *crowd) row(y float64) int    { return int(math.Floor((y - c.origin.Y) / c.cell)) }

// over visits the cells that a box touches.
func (c *crowd) over(box picture.Box, visit func(cell int)) {
	for y := max(0, c.row(box.Min.Y)); y <= min(c.rows-1, c.row(box.Max.Y)); y++ {
		for x := max(0, c.column(box.Min.X)); x <= min(c.columns-1, c.column(box.Max.X)); x++ {
			visit(y*c.columns + x)
		}
	}
}

// walk visits the cells that a stretch passes through, until visit says no.
func (c *crowd) walk(a, b point, visit func(cell int) bool) {
	low, high := a, b
	if low.Y > high.Y {
		low, high = high, low
	}
	slope := 0.0
	if rise := high.Y - low.Y; rise > 1e-12 {
		slope = (high.X - low.X) / rise
	}
	for y := max(0, c.row(low.Y-crowdEdge)); y <= min(c.rows-1, c.row(high.Y+crowdEdge)); y++ {
		from, to := low.X, high.X
		if slope != 0 {
			top := c.origin.Y + float64(y)*c.cell
			from = low.X + slope*(max(top-crowdEdge, low.Y)-low.Y)
			to = low.X + slope*(min(top+c.cell+crowdEdge, high.Y)-low.Y)
		}
		if from > to {
			from, to = to, from
		}
		for x := max(0, c.column(from-crowdEdge)); x <= min(c.columns-1, c.column(to+crowdEdge)); x++ {
			if !visit(y*c.columns + x) {
				return
			}
		}
	}
}

// count adds up the taken cells, so that any rectangle of cells is answered from its
// four corners.
func (c *crowd) count() {
	c.follow()
	if c.counted {
		return
	}
	width := c.columns + 1
	if c.sums == nil {
		c.sums = make([]int32, width*(c.rows+1))
	}
	for y := range c.rows {
		row := int32(0)
		for x := range c.columns {
			if c.taken[y*c.columns+x] {
				row++
			}
			c.sums[(y+1)*width+x+1] = c.sums[y*width+x+1] + row
		}
	}
	c.counted = true
}

// blocked reports whether a cell that lies wholly in the box is taken: then the box
// is not free, whatever else.
func (c *crowd) blocked(box picture.Box) bool {
	x0 := max(0, c.column(box.Min.X+crowdEdge)+1)
	x1 := min(c.columns, c.column(box.Max.X-crowdEdge))
	y0 := max(0, c.row(box.Min.Y+crowdEdge)+1)
	y1 := min(c.rows, c.row(box.Max.Y-crowdEdge))
	if x0 >= x1 || y0 >= y1 {
		return false
	}
	width := c.columns + 1
	return c.sums[y1*width+x1]-c.sums[y0*width+x1]-c.sums[y1*width+x0]+c.sums[y0*width+x0] > 0
}

// free reports whether words in a box would touch nothing.
func (c *crowd) free(box picture.Box) bool {
	c.follow()
	box = box.Grow(clear)
	if !c.board.limit.Contains(box) || c.counted && c.blocked(box) {
		return false
	}
	for y := max(0, c.row(box.Min.Y)); y <= min(c.rows-1, c.row(box.Max.Y)); y++ {
		for x := max(0, c.column(box.Min.X)); x <= min(c.columns-1, c.column(box.Max.X)); x++ {
			cell := y*c.columns + x
			for _, i := range c.words[cell] {
				if c.board.boxes[i].Overlaps(box) {
					return false
				}
			}
			for _, i := range c.near[cell] {
				if c.board.lines[i].meets(box) {
					return false
				}
			}
		}
	}
	return true
}

// crossings counts the words that a stretch runs through, and the lines that it
// crosses.
func (c *crowd) crossings(a, b point) (words, lines int) {
	c.follow()
	c.question++
	s := stretch{a, b}
	c.walk(a, b, func(cell int) bool {
		for _, i := range c.words[cell] {
			if c.asked[i] != c.question {
				c.asked[i] = c.question
				if s.meets(c.board.boxes[i].Grow(clear / 2)) {
					words++
				}
			}
		}
		for _, i := range c.near[cell] {
			if c.seen[i] != c.question {
				c.seen[i] = c.question
				if s.crosses(c.board.lines[i]) {
					lines++
				}
			}
		}
		return true
	})
	return words, lines
}

// clean reports whether a stretch runs through no words and crosses no line.
func (c *crowd) clean(a, b point) bool {
	c.follow()
	s, clean := stretch{a, b}, true
	c.walk(a, b, func(cell int) bool {
		for _, i := range c.words[cell] {
			clean = clean && !s.meets(c.board.boxes[i].Grow(clear/2))
		}
		for _, i := range c.near[cell] {
			clean = clean && !s.crosses(c.board.lines[i])
		}
		return clean
	})
	return clean
}

// A sight is what a ray meets.
type sight struct {
	crossings []float64 // distances at which it crosses lines, not in order
	words     float64   // distance at which it first runs into words
}

// look follows a ray from a point along a unit direction as far as reach.
func (c *crowd) look(from, direction point, reach float64) sight {
	c.follow()
	c.question++
	found := sight{words: math.Inf(1)}
	ray := stretch{from, from.Plus(direction.Times(reach))}
	c.walk(ray.a, ray.b, func(cell int) bool {
		for _, i := range c.words[cell] {
			if at, met := ray.enters(c.board.boxes[i].Grow(clear / 2)); met {
				found.words = min(found.words, at*reach)
			}
		}
		for _, i := range c.near[cell] {
			if c.seen[i] == c.question {
				continue
			}
			c.seen[i] = c.question
			if at, met := ray.crossing(c.board.lines[i]); met {
				found.crossings = append(found.crossings, at*reach)
			}
		}
		return true
	})
	return found
}

// crossed counts the lines that the ray crosses before a distance.
func (s sight) crossed(run float64) int {
	n := 0
	for _, at := range s.crossings {
		if at < run*(1-1e-6) {
			n++
		}
	}
	return n
}

// crossing is where along a stretch, from 0 to 1, another crosses it, ends of the
// first left out.
func (s stretch) crossing(o stretch) (at float64, ok bool) {
	d, e := s.b.Minus(s.a), o.b.Minus(o.a)
	det := d.X*e.Y - d.Y*e.X
	if math.Abs(det) < 1e-12 {
		return 0, false
	}
	w := o.a.Minus(s.a)
	t, u := (w.X*e.Y-w.Y*e.X)/det, (w.X*d.Y-w.Y*d.X)/det
	const edge = 1e-6
	return t, t > edge && t < 1-edge && u > -edge && u < 1+edge
}

// enters is where along the stretch, from 0 to 1, it comes into a box.
func (s stretch) enters(box picture.Box) (at float64, ok bool) {
	low, high := 0.0, 1.0
	d := s.b.Minus(s.a)
	for _, side := range [2][4]float64{{s.a.X, d.X, box.Min.X, box.Max.X}, {s.a.Y, d.Y, box.Min.Y, box.Max.Y}} {
		from, way, least, most := side[0], side[1], side[2], side[3]
		if math.Abs(way) < 1e-12 {
			if from <= least || from >= most {
				return 0, false
			}
			continue
		}
		t0, t1 := (least-from)/way, (most-from)/way
		low, high = max(low, min(t0, t1)), min(high, max(t0, t1))
	}
	return low, low < high-1e-9
}
