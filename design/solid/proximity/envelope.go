package proximity

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// An envelope is round steps about an axis, the narrowest first, that hold a surface
// and all that it passes on a straight way along the axis: screws, pins and rods leave
// their holes within theirs, which tells at little cost that they do.
type envelope struct {
	way   solid.Vec // unit vector, in the body's axes
	at    solid.Vec // on the axis, at height 0
	steps []round
	top   float64
}

// A round is what lies within a radius from a height on, up to the next one's.
type round struct{ from, r float64 }

const (
	// mostHeights bounds at how many heights a surface may have corners: one with more
	// has no steps.
	mostHeights = 96
	// sameHeight (mm) is how far apart heights, and radii of steps, may be and count as
	// one; both are taken to the safe side.
	sameHeight = 1e-6
)

// enveloped returns the surface's steps along a way in its own axes; none for one that
// is not stepped.
func (t *tree) enveloped(way solid.Vec) *envelope {
	f := solid.FrameAlong(solid.Vec{}, way)
	box := solid.EmptyBox()
	seen := make([]solid.Vec, len(t.points))
	for i, p := range t.points {
		seen[i] = solid.Vec{X: p.Dot(f.X), Y: p.Dot(f.Y), Z: p.Dot(f.Z)}
		box = box.Add(seen[i])
	}
	middle := box.Centre()
	e := &envelope{way: way, at: f.X.Mul(middle.X).Add(f.Y.Mul(middle.Y)), top: box.Max.Z + sameHeight}
	heights := make([]float64, 0, mostHeights+1)
	for _, p := range seen {
		at, known := slices.BinarySearchFunc(heights, p.Z, func(h, z float64) int {
			if math.Abs(h-z) <= sameHeight {
				return 0
			}
			return cmp.Compare(h, z)
		})
		if !known {
			if len(heights) == mostHeights {
				return e
			}
			heights = slices.Insert(heights, at, p.Z)
		}
	}
	// What a triangle may fill from its lowest height on, it passes above that too.
	widest := make([]float64, len(heights))
	for _, c := range t.corners {
		low, r := math.Inf(1), 0.0
		for _, i := range c {
			low, r = min(low, seen[i].Z), max(r, math.Hypot(seen[i].X-middle.X, seen[i].Y-middle.Y))
		}
		k, _ := slices.BinarySearch(heights, low+sameHeight)
		k = max(0, k-1)
		widest[k] = max(widest[k], r)
	}
	last := 0.0
	for k, r := range widest {
		if r > last+sameHeight {
			e.steps = append(e.steps, round{heights[k] - sameHeight, r + sameHeight})
			last = r
		}
	}
	return e
}

// clear tells whether a surface keeps out of the steps, up to a way's end; from and at
// are where the two bodies stand. False may also mean that it is not known.
func (e *envelope) clear(from solid.Placement, length float64, other *tree, at solid.Placement) bool {
	if len(e.steps) == 0 {
		return false
	}
	f := solid.FrameAlong(from.Point(e.at), from.Direction(e.way))
	s := other.seen(at.Then(solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}, Move: f.O}.Inverse()))
	for i := 0; i < len(other.nodes); {
		n, box := &other.nodes[i], s.box(i)
		off := solid.Vec{X: max(0, box.Min.X, -box.Max.X), Y: max(0, box.Min.Y, -box.Max.Y)}
		if off.Len() > e.within(box.Min.Z, box.Max.Z, length) {
			i = after(other.nodes, i)
			continue
		}
		if n.other == 0 {
			for k := n.first; k < n.first+n.count; k++ {
				t := other.triangles[k].placed(s.at)
				low, high := t.bounds()
				if r := e.within(low.Z, high.Z, length); r >= 0 && t.offAxis() <= r {
					return false
				}
			}
		}
		i++
	}
	return true
}

// within is how wide the steps are between two heights at the most, negative where
// there are none.
func (e *envelope) within(low, high, length float64) float64 {
	r := -1.0
	if low > e.top+length {
		return r
	}
	for _, step := range e.steps {
		if step.from > high {
			break
		}
		r = step.r
	}
	return r
}

// offAxis is how near a triangle comes to the z axis. Walls along it are seen from their
// edge, so sides are what is measured.
func (t *triangle) offAxis() float64 {
	nearest, left, right := math.Inf(1), 0, 0
	for i, p := range t {
		q := t[(i+1)%3]
		x, y := q.X-p.X, q.Y-p.Y
		k := 0.0
		if l := x*x + y*y; l > 0 {
			k = unit(-(p.X*x + p.Y*y) / l)
		}
		nearest = min(nearest, math.Hypot(p.X+k*x, p.Y+k*y))
		switch side := p.X*q.Y - q.X*p.Y; {
		case side > 0:
			left++
		case side < 0:
			right++
		}
	}
	if left == 3 || right == 3 {
		return 0
	}
	return nearest
}
