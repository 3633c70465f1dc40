package sheet

import (
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// board knows what stands on the sheet, so that words find a free place.
type board struct {
	limit picture.Box   // nothing may leave it
	boxes []picture.Box // words and blocks
	lines []stretch
	cells map[[2]int][]int // indices of lines by square of the sheet
}

// A stretch is a straight piece of some line.
type stretch struct{ a, b point }

// cellSide of the board's index, in millimetres.
const cellSide = 12.0

// clear is the room that words keep from lines and other words, mm.
const clear = 0.6

func newBoard(limit picture.Box) *board {
	return &board{limit: limit, cells: map[[2]int][]int{}}
}

// take reserves a box.
func (b *board) take(boxes ...picture.Box) { b.boxes = append(b.boxes, boxes...) }

// draw records curves, arcs as chords of ten degrees.
func (b *board) draw(curves ...picture.Curve) {
	for _, c := range curves {
		switch c := c.(type) {
		case picture.Line:
			b.line(c.A, c.B)
		case picture.Arc:
			steps := max(2, int(math.Ceil(math.Abs(c.Sweep)/(math.Pi/18))))
			from := c.At(c.Start)
			for i := range steps {
				to := c.At(c.Start + c.Sweep*float64(i+1)/float64(steps))
				b.line(from, to)
				from = to
			}
		case picture.Bezier:
			const steps = 12
			from := c.A
			for i := range steps {
				to := c.At(float64(i+1) / steps)
				b.line(from, to)
				from = to
			}
		}
	}
}

func (b *board) line(from, to point) {
	index := len(b.lines)
	b.lines = append(b.lines, stretch{from, to})
	// Walked in steps shorter than a cell: every cell that it passes is met, or
	// a neighbour, which lookups include.
	steps := int(from.Distance(to)/(cellSide/2)) + 1
	last := [2]int{math.MinInt, 0}
	for i := range steps + 1 {
		p := from.Plus(to.Minus(from).Times(float64(i) / float64(steps)))
		cell := cellOf(p)
		if cell != last {
			b.cells[cell] = append(b.cells[cell], index)
			last = cell
		}
	}
}

func cellOf(p point) [2]int {
	return [2]int{int(math.Floor(p.X / cellSide)), int(math.Floor(p.Y / cellSide))}
}

// free reports whether words in a box would touch nothing.
func (b *board) free(box picture.Box) bool {
	box = box.Grow(clear)
	if !b.limit.Contains(box) {
		return false
	}
	for _, other := range b.boxes {
		if other.Overlaps(box) {
			return false
		}
	}
	return !b.struck(box)
}

// struck reports whether a line runs through a box.
func (b *board) struck(box picture.Box) bool {
	low, high := cellOf(box.Min), cellOf(box.Max)
	for x := low[0] - 1; x <= high[0]+1; x++ {
		for y := low[1] - 1; y <= high[1]+1; y++ {
			for _, i := range b.cells[[2]int{x, y}] {
				if b.lines[i].meets(box) {
					return true
				}
			}
		}
	}
	return false
}

// crossings counts the words that a line would run through, and the lines that
// it would cross.
func (b *board) crossings(from, to point) (words, lines int) {
	s := stretch{from, to}
	for _, box := range b.boxes {
		if s.meets(box.Grow(clear / 2)) {
			words++
		}
	}
	seen := map[int]bool{}
	around := picture.BoxAround(from, to)
	low, high := cellOf(around.Min), cellOf(around.Max)
	for x := low[0] - 1; x <= high[0]+1; x++ {
		for y := low[1] - 1; y <= high[1]+1; y++ {
			for _, i := range b.cells[[2]int{x, y}] {
				if !seen[i] && s.crosses(b.lines[i]) {
					seen[i] = true
					lines++
				}
			}
		}
	}
	return words, lines
}

// meets reports whether the stretch passes through the inside of a box.
func (s stretch) meets(box picture.Box) bool {
	lo, hi := 0.0, 1.0
	d := s.b.Minus(s.a)
	for _, side := range [2][4]float64{{s.a.X, d.X, box.Min.X, box.Max.X}, {s.a.Y, d.Y, box.Min.Y, box.Max.Y}} {
		from, way, low, high := side[0], side[1], side[2], side[3]
		if math.Abs(way) < 1e-12 {
			if from <= low || from >= high {
				return false
			}
			continue
		}
		t0, t1 := (low-from)/way, (high-from)/way
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		lo, hi = max(lo, t0), min(hi, t1)
	}
	return lo < hi-1e-9
}

// crosses reports whether two stretches cross within both.
func (s stretch) crosses(o stretch) bool {
	d, e := s.b.Minus(s.a), o.b.Minus(o.a)
	det := d.X*e.Y - d.Y*e.X
	if math.Abs(det) < 1e-12 {
		return false
	}
	w := o.a.Minus(s.a)
	t, u := (w.X*e.Y-w.Y*e.X)/det, (w.X*d.Y-w.Y*d.X)/det
	const edge = 1e-6
	return t > edge && t < 1-edge && u > -edge && u < 1+edge
}

// mark is where the board stands, so that a failed try can be taken back.
type boardMark struct{ boxes, lines int }

func (b *board) mark() boardMark { return boardMark{len(b.boxes), len(b.lines)} }

// back undoes everything after a mark.
func (b *board) back(m boardMark) {
	b.boxes, b.lines = b.boxes[:m.boxes], b.lines[:m.lines]
	for cell, list := range b.cells {
		b.cells[cell] = slices.DeleteFunc(list, func(i int) bool { return i >= m.lines })
	}
}
