package overlap

import (
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// cell is the side of the grid's cells, mm: some letters wide.
const cell = 8.0

// A grid sorts boxes by the cells that they touch, so that what lies near a place is
// found without looking at all of a sheet.
type grid map[[2]int][]int

// cells visits the cells that a box touches.
func cells(box picture.Box, visit func(key [2]int)) {
	at := func(v float64) int { return int(math.Floor(v / cell)) }
	for x := at(box.Min.X); x <= at(box.Max.X); x++ {
		for y := at(box.Min.Y); y <= at(box.Max.Y); y++ {
			visit([2]int{x, y})
		}
	}
}

// put sorts something with a number into the grid.
func (g grid) put(number int, box picture.Box) {
	cells(box, func(key [2]int) { g[key] = append(g[key], number) })
}

// putStroke sorts a straight piece in, cell by cell along its way rather than by its
// box, which for a long slanted line is most of the sheet.
func (g grid) putStroke(number int, s stroke) {
	steps := int(s.a.Distance(s.b)/cell) + 1
	from := s.a
	for i := range steps {
		to := s.a.Plus(s.b.Minus(s.a).Times(float64(i+1) / float64(steps)))
		g.put(number, picture.BoxAround(from, to))
		from = to
	}
}

// near lists the numbers of what may touch a box, each once, in order.
func (g grid) near(box picture.Box) []int {
	var list []int
	cells(box, func(key [2]int) { list = append(list, g[key]...) })
	slices.Sort(list)
	return slices.Compact(list)
}
