package clash

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// boxAt is a box around a placed solid, worked out once for all cases.
func (s *Store) boxAt(of *solid.Solid, at solid.Placement) solid.Box {
	if upright(at) {
		return boxAt(of, at)
	}
	key := shape{of, at}
	box, known := s.boxes[key]
	if !known {
		box = boxAt(of, at)
		s.boxes[key] = box
	}
	return box
}

// upright reports whether a placement leaves axes along axes.
func upright(at solid.Placement) bool {
	for _, v := range at.Turn {
		for _, x := range [3]float64{v.X, v.Y, v.Z} {
			if x != 0 && math.Abs(x) != 1 {
				return false
			}
		}
	}
	return true
}

// boxAt is a box around a placed solid: its own, turned, where that is exact.
func boxAt(s *solid.Solid, at solid.Placement) solid.Box {
	if !upright(at) {
		return s.BoxUnder(at)
	}
	own := s.Box()
	if own.Empty() {
		return own
	}
	return solid.EmptyBox().Add(at.Point(own.Min)).Add(at.Point(own.Max))
}

// eachNear visits the pairs of boxes, by index and the lower first, that come within a
// distance of each other: sorted along the axis on which they are spread most, and
// swept over.
func eachNear(boxes []solid.Box, within float64, visit func(i, k int)) {
	all := solid.EmptyBox()
	for _, b := range boxes {
		all = all.Join(b)
	}
	size := all.Size()
	low := func(b solid.Box) float64 { return b.Min.X }
	high := func(b solid.Box) float64 { return b.Max.X }
	switch {
	case size.Z >= size.X && size.Z >= size.Y:
		low, high = func(b solid.Box) float64 { return b.Min.Z }, func(b solid.Box) float64 { return b.Max.Z }
	case size.Y >= size.X:
		low, high = func(b solid.Box) float64 { return b.Min.Y }, func(b solid.Box) float64 { return b.Max.Y }
	}
	order := make([]int, 0, len(boxes))
	for i, b := range boxes {
		if !b.Empty() {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(low(boxes[i]), low(boxes[k])) })
	var open []int
	for _, i := range order {
		kept := open[:0]
		for _, k := range open {
			if high(boxes[k])+within < low(boxes[i]) {
				continue
			}
			kept = append(kept, k)
			if apart(boxes[i], boxes[k]) <= within {
				visit(min(i, k), max(i, k))
			}
		}
		open = append(kept, i)
	}
}

// apart is how far two boxes are apart at least, mm.
func apart(a, b solid.Box) float64 {
	x := max(0, a.Min.X-b.Max.X, b.Min.X-a.Max.X)
	y := max(0, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
	z := max(0, a.Min.Z-b.Max.Z, b.Min.Z-a.Max.Z)
	return math.Sqrt(x*x + y*y + z*z)
}

// shared is how far two boxes reach into each other along the axis on which they do so
// least, mm; not above 0 where they do not.
func shared(a, b solid.Box) float64 {
	return min(min(a.Max.X, b.Max.X)-max(a.Min.X, b.Min.X), min(a.Max.Y, b.Max.Y)-max(a.Min.Y, b.Min.Y), min(a.Max.Z, b.Max.Z)-max(a.Min.Z, b.Min.Z))
}
