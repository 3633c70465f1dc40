package proximity

import (
	"sort"

	"plansheaf/design/solid"
)

// Pairs returns the pairs of bodies, by index and the lower first, whose boxes in
// the world come within the given distance (mm) of each other, or near that: all
// others are further apart. Bodies are sorted along the axis on which they are spread most,
// and swept over; the work grows like n log n plus the number of pairs whose
// boxes overlap along that axis.
func Pairs(bodies []Placed, within float64) [][2]int {
	boxes := make([]solid.Box, len(bodies))
	spread := solid.EmptyBox()
	for i, b := range bodies {
		boxes[i] = b.Body.boxUnder(b.At)
		if !boxes[i].Empty() {
			boxes[i] = boxes[i].Grow(within / 2)
			spread = spread.Add(boxes[i].Centre())
		}
	}
	order := make([]int, 0, len(bodies))
	for i := range bodies {
		if !boxes[i].Empty() {
			order = append(order, i)
		}
	}
	if len(order) == 0 {
		return nil
	}
	s := spread.Size()
	axis := solid.Vec{X: 1}
	switch {
	case s.Y > s.X && s.Y >= s.Z:
		axis = solid.Vec{Y: 1}
	case s.Z > s.X:
		axis = solid.Vec{Z: 1}
	}
	sort.SliceStable(order, func(i, j int) bool { return boxes[order[i]].Min.Dot(axis) < boxes[order[j]].Min.Dot(axis) })
	var out [][2]int
	var open []int // bodies that the sweep is passing through
	for _, i := range order {
		at := boxes[i].Min.Dot(axis)
		kept := open[:0]
		for _, j := range open {
			if boxes[j].Max.Dot(axis) < at {
				continue
			}
			kept = append(kept, j)
			if boxes[i].Meets(boxes[j]) {
				out = append(out, [2]int{min(i, j), max(i, j)})
			}
		}
		open = append(kept, i)
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i][0] != out[j][0] {
			return out[i][0] < out[j][0]
		}
		return out[i][1] < out[j][1]
	})
	return out
}
