package clash

import (
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

const (
	// mostRings bounds of how many rings a body of revolution is made.
	mostRings = 48
	// ringed (mm) is how far the triangles may stray of a body that is made one.
	ringed = 0.01
)

// A spinKey is a solid that turns about a line in its own axes.
type spinKey struct {
	of       *solid.Solid
	at, axis [3]int64
}

// spin is the body of revolution that a solid sweeps about a line in its own axes, made
// up of rings and nowhere less than it by more than [ringed]; in the solid's axes. It is nil where that
// cannot be made.
func (s *Store) spin(of *solid.Solid, at, axis solid.Vec) *proximity.Body {
	at = at.Sub(axis.Mul(at.Dot(axis)))
	r := round(solid.Placement{Turn: [3]solid.Vec{axis}, Move: at})
	key := spinKey{of, r[3], r[0]}
	b, known := s.spun[key]
	if !known {
		if body := revolved(of, solid.FrameAlong(at, axis)); body != nil {
			b = proximity.New(body)
		}
		s.spun[key] = b
	}
	return b
}

// a ring is what lies between two heights and two radii.
type ring struct{ from, to, in, out float64 }

func revolved(of *solid.Solid, frame solid.Frame) *solid.Solid {
	mesh := of.Mesh(ringed)
	points := make([]solid.Vec, len(mesh.Vertices))
	heights := make([]float64, len(points))
	for i, p := range mesh.Vertices {
		points[i] = frame.Local(p)
		heights[i] = points[i].Z
	}
	levels := levelled(heights)
	var rings []ring
	for i := range len(levels) - 1 {
		r := ring{from: levels[i], to: levels[i+1], in: math.Inf(1)}
		for _, t := range mesh.Triangles {
			r.take([3]solid.Vec{points[t[0]], points[t[1]], points[t[2]]})
		}
		if r.out == 0 {
			continue
		}
		if middle := frame.Point(0, 0, (r.from+r.to)/2); of.Where(middle) == solid.Inside {
			r.in = 0
		}
		if n := len(rings); n > 0 && rings[n-1].to == r.from && math.Abs(rings[n-1].out-r.out)+math.Abs(rings[n-1].in-r.in) < 1e-6 {
			rings[n-1].to = r.to
			continue
		}
		rings = append(rings, r)
	}
	return stacked(rings, frame)
}

// levelled are heights in order without those too near each other, at most mostRings
// stretches apart.
func levelled(heights []float64) []float64 {
	slices.Sort(heights)
	var out []float64
	for _, h := range heights {
		if len(out) == 0 || h-out[len(out)-1] > 10*solid.MinSize {
			out = append(out, h)
		}
	}
	if len(out) <= mostRings+1 {
		return out
	}
	low, high := out[0], out[len(out)-1]
	out = out[:0]
	for i := 0; i <= mostRings; i++ {
		out = append(out, low+(high-low)*float64(i)/mostRings)
	}
	return out
}

// take widens a ring to hold what of a triangle lies between its heights.
func (r *ring) take(t [3]solid.Vec) {
	var piece []solid.Vec
	for i := range t {
		a, b := t[i], t[(i+1)%3]
		if a.Z >= r.from && a.Z <= r.to {
			piece = append(piece, a)
		}
		levels := [2]float64{r.from, r.to}
		if a.Z > b.Z {
			levels = [2]float64{r.to, r.from} // in the order in which the side meets them
		}
		for _, level := range levels {
			if (a.Z-level)*(b.Z-level) < 0 {
				piece = append(piece, a.Add(b.Sub(a).Mul((level-a.Z)/(b.Z-a.Z))))
			}
		}
	}
	if len(piece) == 0 {
		return
	}
	low, high := piece[0].Z, piece[0].Z
	for _, p := range piece {
		low, high = math.Min(low, p.Z), math.Max(high, p.Z)
	}
	if high < r.from+solid.MinSize || low > r.to-solid.MinSize {
		return // it only touches the ring's end
	}
	positive, negative := false, false
	for i := range piece {
		a, b := piece[i], piece[(i+1)%len(piece)]
		r.out = math.Max(r.out, math.Hypot(a.X, a.Y))
		d, c := b.Sub(a), 0.0
		if n := d.X*d.X + d.Y*d.Y; n > 0 {
			c = math.Max(0, math.Min(1, -(a.X*d.X+a.Y*d.Y)/n))
		}
		r.in = math.Min(r.in, math.Hypot(a.X+c*d.X, a.Y+c*d.Y))
		turn := a.X*b.Y - a.Y*b.X
		positive, negative = positive || turn > 0, negative || turn < 0
	}
	if positive != negative {
		r.in = 0 // the axis goes through it
	}
}

// stacked is the body of some rings about a frame's z axis: turned pieces, one for each
// run of rings without a gap, less turned bores.
func stacked(rings []ring, frame solid.Frame) *solid.Solid {
	if len(rings) == 0 {
		return nil
	}
	wide, low := 0.0, rings[0].from
	for _, r := range rings {
		wide = math.Max(wide, r.out)
	}
	group := turned(rings, wide, func(r ring) float64 { return r.out })
	bores := turned(rings, wide, func(r ring) float64 { return r.in })
	for i := range bores {
		bores[i].Cut = true
	}
	for _, list := range []solid.Group{group, bores} {
		for i := range list {
			list[i].At.Z -= low
		}
	}
	body, err := solid.Build(solid.Shape{Base: append(group, bores...)})
	if err != nil {
		return nil
	}
	box := body.Box()
	home := solid.Moved(solid.Vec{X: -(box.Min.X + box.Max.X) / 2, Y: -(box.Min.Y + box.Max.Y) / 2, Z: low - box.Min.Z})
	return body.Placed(home.Then(solid.Placement{Turn: [3]solid.Vec{frame.X, frame.Y, frame.Z}, Move: frame.O}))
}

// turned are the turned pieces of a radius that rings have, about an axis along z at
// (wide, wide); where the radius is nothing a piece ends.
func turned(rings []ring, wide float64, radius func(r ring) float64) solid.Group {
	var out solid.Group
	var steps solid.Lathed
	from, to, most := 0.0, 0.0, 0.0
	done := func() {
		if len(steps) > 0 {
			out = append(out, solid.Member{Shape: steps, Along: solid.AxisZ, At: solid.Vec{X: wide - most, Y: wide - most, Z: from}})
		}
		steps, most = nil, 0
	}
	for _, r := range rings {
		d := radius(r)
		if len(steps) > 0 && r.from != to || d <= 10*solid.MinSize {
			done()
		}
		if d <= 10*solid.MinSize {
			continue
		}
		if len(steps) == 0 {
			from = r.from
		}
		steps, to, most = append(steps, solid.TurnedStep{D: 2 * d, L: r.to - r.from}), r.to, math.Max(most, d)
	}
	done()
	return out
}
