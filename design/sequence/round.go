package sequence

import (
	"math"

	"plansheaf/design/solid"
)

// A stem is what a tool takes up all round its axis: a cylinder of radius R between
// two heights, mm from the plane that the tool works in, growing away from the
// joint.
type stem struct{ From, To, R float64 }

// An arm is a bar that leads away from the axis, square to it: its heights, half
// its width, and from how far off the axis to where it reaches.
type arm struct{ From, To, Half, Inner, Reach float64 }

// A polygon is a triangle cut between two heights, seen along the axis.
type polygon struct {
	x, y [8]float64
	n    int
}

// cut is the part of a triangle, in the axis's own coordinates, that lies between
// two heights; n is 0 where there is none.
func cut(t [3]solid.Vec, from, to float64) (p polygon) {
	var a, b [8]solid.Vec
	copy(a[:], t[:])
	n := clip(a[:3], &b, from, 1)
	n = clip(b[:n], &a, to, -1)
	p.n = n
	for i := range n {
		p.x[i], p.y[i] = a[i].X, a[i].Y
	}
	return p
}

// clip keeps the side of a polygon on which sign*(z-at) is not negative.
func clip(in []solid.Vec, out *[8]solid.Vec, at, sign float64) (n int) {
	for i, v := range in {
		w := in[(i+1)%len(in)]
		dv, dw := sign*(v.Z-at), sign*(w.Z-at)
		if dv >= 0 {
			out[n] = v
			n++
		}
		if dv >= 0 != (dw >= 0) {
			k := dv / (dv - dw)
			out[n] = solid.Vec{X: v.X + k*(w.X-v.X), Y: v.Y + k*(w.Y-v.Y), Z: at}
			n++
		}
	}
	return n
}

// holdsAxis reports whether the polygon, seen along the axis, lies around it.
func (p *polygon) holdsAxis() bool {
	positive, negative := false, false
	for i := range p.n {
		j := (i + 1) % p.n
		cross := p.x[i]*p.y[j] - p.x[j]*p.y[i]
		positive = positive || cross > 0
		negative = negative || cross < 0
	}
	return positive != negative
}

// distance is how near the polygon comes to the axis.
func (p *polygon) distance() float64 {
	if p.n > 2 && p.holdsAxis() {
		return 0
	}
	nearest := math.Inf(1)
	for i := range p.n {
		j := (i + 1) % p.n
		dx, dy := p.x[j]-p.x[i], p.y[j]-p.y[i]
		k := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			k = math.Max(0, math.Min(1, -(p.x[i]*dx+p.y[i]*dy)/l))
		}
		nearest = math.Min(nearest, math.Hypot(p.x[i]+k*dx, p.y[i]+k*dy))
	}
	return nearest
}

// shadow adds the directions in which an arm of half width half, from inner to reach off
// the axis, would meet the polygon.
func (p *polygon) shadow(half, inner, reach float64, into *angles) {
	if inner > 0 {
		p.ringShadow(half, inner, reach, into)
		return
	}
	near := p.distance()
	if near >= reach {
		return
	}
	if near <= half {
		into.all = true
		return
	}
	// The polygon is convex and does not hold the axis: what of it lies within reach
	// is seen between its outermost corners, those on the circle of reach included.
	// Angles are taken from the first, so that none jumps.
	first, low, high := 0.0, 0.0, 0.0
	started := false
	see := func(x, y float64) {
		r := math.Hypot(x, y)
		if r <= half {
			into.all = true
			return
		}
		at, wide := math.Atan2(y, x), math.Asin(math.Min(1, half/r))
		if !started {
			first, low, high, started = at, -wide, wide, true
			return
		}
		d := math.Remainder(at-first, full)
		low, high = math.Min(low, d-wide), math.Max(high, d+wide)
	}
	for i := range p.n {
		j := (i + 1) % p.n
		p.side(i, j, reach, see)
	}
	if started && !into.all {
		into.take(first+low, first+high)
	}
}

// side shows the ends of what of a polygon's side lies within reach.
func (p *polygon) side(i, j int, reach float64, see func(x, y float64)) {
	x, y, dx, dy := p.x[i], p.y[i], p.x[j]-p.x[i], p.y[j]-p.y[i]
	a, b, c := dx*dx+dy*dy, x*dx+y*dy, x*x+y*y-reach*reach
	if a == 0 {
		if c < 0 {
			see(x, y)
		}
		return
	}
	root := b*b - a*c
	if root <= 0 {
		return
	}
	root = math.Sqrt(root)
	from, to := math.Max(0, (-b-root)/a), math.Min(1, (-b+root)/a)
	if from < to {
		see(x+from*dx, y+from*dy)
		see(x+to*dx, y+to*dy)
	}
}
