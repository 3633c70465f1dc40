package sheet

import (
	"math"

	"plansheaf/publish/picture"
)

// board knows what stands on the sheet, so that words find a free place.
type board struct {
	limit picture.Box   // nothing may leave it
	boxes []picture.Box // words and blocks
	lines []stretch
	index *crowd
}

// A stretch is a straight piece of some line.
type stretch struct{ a, b point }

// clear is the room that words keep from lines and other words, mm.
const clear = 0.6

func newBoard(limit picture.Box) *board {
	b := &board{limit: limit}
	b.index = newCrowd(b)
	return b
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

func (b *board) line(from, to point) { b.lines = append(b.lines, stretch{from, to}) }

// free reports whether words in a box would touch nothing.
func (b *board) free(box picture.Box) bool { return b.index.free(box) }

// crossings counts the words that a line would run through, and the lines that
// it would cross.
func (b *board) crossings(from, to point) (words, lines int) { return b.index.crossings(from, to) }

// meets reports whether the stretch passes through the inside of a box.
func (s stretch) meets(box picture.Box) bool {
	_, met := s.enters(box)
	return met
}

// crosses reports whether two stretches cross within both.
func (s stretch) crosses(o stretch) bool {
	_, met := s.crossing(o)
	return met
}

// boardMark is where the board stands, so that a failed try can be taken back.
type boardMark struct{ boxes, lines int }

func (b *board) mark() boardMark { return boardMark{len(b.boxes), len(b.lines)} }

// back undoes everything after a mark.
func (b *board) back(m boardMark) {
	b.boxes, b.lines = b.boxes[:m.boxes], b.lines[:m.lines]
	b.index = newCrowd(b)
}
