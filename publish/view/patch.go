package view

import (
	"math"

	"plansheaf/design/solid"
)

// edgeOn is the cosine between a face's normal and the direction to the eye
// below which the face is seen from its edge and hides nothing.
const edgeOn = 1e-6

// patch is a face that looks towards the eye somewhere, and so may hide
// something. A line towards the eye meets the part of a face that looks at the
// eye at most once: planes, cylinders and cones are that simple.
type patch struct {
	body, face int
	surface    solid.Surface // in view coordinates
	plane      bool
	inward     bool
	low, high  solid.Vec // box in view coordinates
	world      solid.Box // box in the world, where bars stand square
	// outline holds the edges and silhouettes.
	outline []*track
	// rims bound a plane face in the plane of the view.
	rims []rim
	// alone is a solid of this face only, which tells where a line meets it; back
	// takes the view to its axes.
	alone *solid.Solid
	back  solid.Placement
	down  solid.Vec
}

// rim is a piece of the outline of a plane face in the view that runs one way in
// y, so that a level line crosses it at most once.
type rim struct {
	y0, y1, x0, x1, xLow, xHigh float64 // y0 < y1; x there; bounds of x
	track                       *track  // nil for straight ones
	t0, t1                      float64
}

// heights returns where the line through x, y towards the eye meets a surface.
// ok is false where it misses; the heights are then those of the place nearest
// by at which the surface turns away.
func heights(s solid.Surface, x, y float64) (lo, hi float64, ok bool) {
	switch s := s.(type) {
	case solid.Plane:
		if s.Z.Z == 0 {
			return 0, 0, false
		}
		z := s.O.Z - ((x-s.O.X)*s.Z.X+(y-s.O.Y)*s.Z.Y)/s.Z.Z
		return z, z, true
	case solid.Cylinder:
		// The point's distance from the axis, along the line, is a parabola.
		wx, wy := x-s.O.X, y-s.O.Y
		wz := wx*s.Z.X + wy*s.Z.Y
		a := 1 - s.Z.Z*s.Z.Z
		if a < edgeOn*edgeOn {
			return 0, 0, false
		}
		b, c := -s.Z.Z*wz, wx*wx+wy*wy-wz*wz-s.R*s.R
		lo, hi, ok = quadratic(a, b, c)
		return s.O.Z + lo, s.O.Z + hi, ok
	case solid.Cone:
		return coneHeights(s, x, y)
	}
	return 0, 0, false
}

// coneHeights is heights for a half cone: where only one crossing lies on it,
// both heights are that one.
func coneHeights(s solid.Cone, x, y float64) (lo, hi float64, ok bool) {
	wx, wy := x-s.O.X, y-s.O.Y
	wz := wx*s.Z.X + wy*s.Z.Y
	k := 1 + s.Slope*s.Slope
	a, b, c := 1-k*s.Z.Z*s.Z.Z, -k*s.Z.Z*wz, wx*wx+wy*wy-k*wz*wz
	on := func(z float64) bool { return wz+z*s.Z.Z >= 0 }
	if math.Abs(a) < 1e-12 {
		if b == 0 {
			return 0, 0, false
		}
		z := -c / (2 * b)
		return s.O.Z + z, s.O.Z + z, on(z)
	}
	lo, hi, ok = quadratic(a, b, c)
	switch {
	case !ok:
	case on(lo) && !on(hi):
		hi = lo
	case on(hi) && !on(lo):
		lo = hi
	case !on(lo):
		ok = false
	}
	return s.O.Z + lo, s.O.Z + hi, ok
}

// quadratic solves a*z² + 2*b*z + c = 0; without a root it gives the place
// nearest to one.
func quadratic(a, b, c float64) (lo, hi float64, ok bool) {
	disc := b*b - a*c
	if disc < 0 {
		return -b / a, -b / a, false
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b))
	lo = q / a
	hi = lo
	if q != 0 {
		hi = c / q
	}
	return math.Min(lo, hi), math.Max(lo, hi), true
}

// turning returns a point o and a vector q so that (p-o)·q, for a point p of a
// cylinder or cone, is positive where the surface's own normal looks at the eye
// and zero on its silhouette; ok is false where it is seen along its axis.
func turning(s solid.Surface) (o, q solid.Vec, ok bool) {
	eye := solid.Vec{Z: 1}
	switch s := s.(type) {
	case solid.Cylinder:
		q = eye.Sub(s.Z.Mul(s.Z.Z))
		return s.O, q, q.Len() > edgeOn
	case solid.Cone:
		// The normal is the direction away from the axis less Slope along it.
		q = eye.Sub(s.Z.Mul(s.Z.Z)).Sub(s.Z.Mul(s.Slope * s.Slope * s.Z.Z))
		return s.O, q, true
	}
	return o, q, false
}

// looks returns the cosine between the outward normal of a face, at a point p on
// it, and the direction to the eye.
func looks(s solid.Surface, inward bool, p solid.Vec) float64 {
	k := s.Normal(p).Z
	if inward {
		return -k
	}
	return k
}

// depth returns the height of the part of the patch's surface that looks at the
// eye over x, y.
func (p *patch) depth(x, y float64) (z float64, ok bool) {
	lo, hi, ok := heights(p.surface, x, y)
	if p.inward && !p.plane {
		return lo, ok
	}
	return hi, ok
}

// covers tells whether the part of the face that looks at the eye lies over x, y.
func (p *patch) covers(x, y float64) bool {
	if x < p.low.X || x > p.high.X || y < p.low.Y || y > p.high.Y {
		return false
	}
	if p.plane {
		in := false
		for i := range p.rims {
			r := &p.rims[i]
			if y >= r.y0 && y < r.y1 && r.beyond(x, y) {
				in = !in
			}
		}
		return in
	}
	from := solid.Vec{X: x, Y: y, Z: p.high.Z + 1}
	for _, h := range p.alone.Line(p.back.Point(from), p.down) {
		if h.Enters {
			return true
		}
	}
	return false
}

// beyond tells whether the rim passes at a greater x than the point.
func (r *rim) beyond(x, y float64) bool {
	switch {
	case x >= r.xHigh:
		return false
	case x < r.xLow:
		return true
	}
	return r.at(y) > x
}

// at returns the rim's x at y between y0 and y1.
func (r *rim) at(y float64) float64 {
	if r.track == nil {
		return r.x0 + (r.x1-r.x0)*(y-r.y0)/(r.y1-r.y0)
	}
	k := r.track
	if k.form == free {
		f := func(t float64) float64 { return k.at(t).Y - y }
		return k.at(between(f, r.t0, r.t1, f(r.t0))).X
	}
	m := math.Hypot(k.a.Y, k.b.Y)
	first := math.Atan2(k.b.Y, k.a.Y)
	d := math.Acos(math.Max(-1, math.Min(1, (y-k.c.Y)/m)))
	// The piece lies on one side of the top; which, its middle tells.
	if math.Remainder((r.t0+r.t1)/2-first, 2*math.Pi) < 0 {
		d = -d
	}
	sin, cos := math.Sincos(first + d)
	return k.c.X + k.a.X*cos + k.b.X*sin
}

// addRims adds the pieces of one edge of a plane face, whose ends stand at p
// and q.
func (p *patch) addRims(k *track, from, to solid.Vec) {
	if k.linear {
		p.addRim(rim{y0: from.Y, y1: to.Y, x0: from.X, x1: to.X, xLow: math.Min(from.X, to.X), xHigh: math.Max(from.X, to.X)})
		return
	}
	cuts := k.levels()
	last, t := from, k.t0
	for i := 0; i <= len(cuts); i++ {
		next, s := to, k.t1
		if i < len(cuts) {
			s = cuts[i]
			next = k.at(s)
		}
		low, high := k.span(t, s)
		p.addRim(rim{y0: last.Y, y1: next.Y, x0: last.X, x1: next.X, track: k, t0: t, t1: s, xLow: low.X, xHigh: high.X})
		last, t = next, s
	}
}

func (p *patch) addRim(r rim) {
	if r.y0 > r.y1 {
		r.y0, r.y1, r.x0, r.x1, r.t0, r.t1 = r.y1, r.y0, r.x1, r.x0, r.t1, r.t0
	}
	if r.y0 < r.y1 {
		p.rims = append(p.rims, r)
	}
}

// levels returns the parameters strictly within the track at which y turns
// about, in order.
func (k *track) levels() []float64 {
	if k.form == free {
		return k.freeTurns(func(p solid.Vec) float64 { return p.Y })
	}
	return within(math.Atan2(k.b.Y, k.a.Y), math.Pi, k.t0, k.t1)
}

// within returns first + n*step for all n that fall strictly between t0 and t1.
func within(first, step, t0, t1 float64) []float64 {
	const slack = 1e-12
	var out []float64
	if !(t1-t0 < 1e4*step) {
		return nil // no number, or no edge of a solid
	}
	for n := math.Ceil((t0 + slack - first) / step); ; n++ {
		t := first + n*step
		if t >= t1-slack {
			return out
		}
		if t > t0+slack {
			out = append(out, t)
		}
	}
}

// freeTurns returns where a coordinate of a free track turns about, in order.
func (k *track) freeTurns(of func(solid.Vec) float64) []float64 {
	var out []float64
	step := (k.t1 - k.t0) / chainLinks
	at := func(t float64) float64 { return of(k.at(t)) }
	// Besides the links, a place close to each end: the coordinate may turn about
	// between the end and the next link.
	ts := []float64{k.t0, k.t0 + step*inFromEnd}
	for i := 1; i < chainLinks; i++ {
		ts = append(ts, k.t0+step*float64(i))
	}
	ts = append(ts, k.t1-step*inFromEnd, k.t1)
	for i := 1; i+1 < len(ts); i++ {
		a, b, c := at(ts[i-1]), at(ts[i]), at(ts[i+1])
		if (b-a)*(c-b) >= 0 && b != c {
			continue
		}
		sign := 1.0
		if b > a {
			sign = -1
		}
		out = append(out, leastBetween(func(t float64) float64 { return sign * at(t) }, ts[i-1], ts[i+1]))
	}
	return out
}
