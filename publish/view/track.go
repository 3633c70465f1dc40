package view

import (
	"math"

	"plansheaf/design/solid"
)

// Coordinates within the package are those of the view: x right, y up, z towards
// the eye.

// hair (mm) is how near a point must come to a curve to lie on it. Vertices of a
// solid stand within 3e-6 mm of the ends of their edges.
const hair = 1e-5

// form is what a track looks like in the plane of the view.
type form int

const (
	straight form = iota // a straight line
	oval                 // a circle or an ellipse
	free                 // the curve of two round surfaces
)

// track is a piece of a curve, from parameter t0 to t1 > t0.
type track struct {
	form form
	// linear tells that the point at t is c + a*t; else it is
	// c + a*cos t + b*sin t, which may also run to and fro on a straight line.
	linear  bool
	c, a, b solid.Vec
	// lift gives z where x and y run on a line or circle though the curve is
	// neither.
	lift *lift
	// curve is what a free track follows.
	curve solid.Curve
	// chain holds evenly spaced points of a free track.
	chain  []solid.Vec
	t0, t1 float64

	ux, uy     float64    // straight: unit direction
	m          [4]float64 // oval: takes the plane to the unit circle
	low, high  solid.Vec  // box; exact but for round tracks, where it may be larger
	middle     float64    // (t0+t1)/2
	first, amp float64    // to and fro: place along u is c·u + amp*cos(t-first)
}

// lift is a surface on which the point above or below x, y lies.
type lift struct {
	surface solid.Surface
	upper   bool
}

// chainLinks is how many pieces the chain of a free track has: places where it
// crosses something are bracketed by them, then closed in on.
const chainLinks = 48

// newTrack returns the piece of a curve, which is given in view coordinates.
func newTrack(c solid.Curve, t0, t1 float64) track {
	k := track{t0: t0, t1: t1}
	switch c := c.(type) {
	case solid.Line:
		k.linear, k.c, k.a = true, c.O, c.D
	case solid.Circle:
		k.c, k.a, k.b = c.O, c.X.Mul(c.R), c.Y.Mul(c.R)
	case solid.Ellipse:
		k.c, k.a, k.b = c.O, c.X.Mul(c.A), c.Y.Mul(c.B)
	default:
		k.form, k.curve = free, c
	}
	k.settle()
	return k
}

// settle works out what follows from curve and range.
func (k *track) settle() {
	k.middle = (k.t0 + k.t1) / 2
	switch {
	case k.form == free:
		k.chain = make([]solid.Vec, chainLinks+1)
		for i := range k.chain {
			k.chain[i] = k.at(k.t0 + (k.t1-k.t0)*float64(i)/chainLinks)
		}
		box := solid.EmptyBox()
		for i := range chainLinks {
			low, high := linkBox(k.chain[i], k.chain[i+1])
			box = box.Join(solid.Box{Min: low, Max: high})
		}
		k.low, k.high = box.Min, box.Max
		return
	case k.linear:
		l := math.Hypot(k.a.X, k.a.Y)
		if l > 0 {
			k.ux, k.uy = k.a.X/l, k.a.Y/l
		}
	default:
		k.settleRound()
	}
	k.low, k.high = k.span(k.t0, k.t1)
}

// settleRound tells a circle seen from its edge from one seen open.
func (k *track) settleRound() {
	cross := k.a.X*k.b.Y - k.a.Y*k.b.X
	la, lb := math.Hypot(k.a.X, k.a.Y), math.Hypot(k.b.X, k.b.Y)
	long := math.Hypot(la, lb)
	// cross is the product of the half axes.
	if math.Abs(cross) > 1e-6*long {
		k.form = oval
		k.m = [4]float64{k.b.Y / cross, -k.b.X / cross, -k.a.Y / cross, k.a.X / cross}
		return
	}
	k.form = straight
	if la >= lb && la > 0 {
		k.ux, k.uy = k.a.X/la, k.a.Y/la
	} else if lb > 0 {
		k.ux, k.uy = k.b.X/lb, k.b.Y/lb
	}
	pa, pb := k.a.X*k.ux+k.a.Y*k.uy, k.b.X*k.ux+k.b.Y*k.uy
	k.first, k.amp = math.Atan2(pb, pa), math.Hypot(pa, pb)
}

// at returns the point at t.
func (k *track) at(t float64) solid.Vec {
	if k.form == free {
		return k.curve.Point(t)
	}
	p := k.c.Add(k.a.Mul(t))
	if !k.linear {
		sin, cos := math.Sincos(t)
		p = solid.Vec{
			X: k.c.X + k.a.X*cos + k.b.X*sin,
			Y: k.c.Y + k.a.Y*cos + k.b.Y*sin,
			Z: k.c.Z + k.a.Z*cos + k.b.Z*sin,
		}
	}
	if k.lift != nil {
		p.Z = k.lift.at(p.X, p.Y)
	}
	return p
}

// at returns the height of the lifting surface; beside the surface, that of the
// place where it turns away.
func (l *lift) at(x, y float64) float64 {
	lo, hi, _ := heights(l.surface, x, y)
	if l.upper {
		return hi
	}
	return lo
}

// way returns the unit direction of the track in the plane at t; zero where it
// stands still.
func (k *track) way(t float64) (x, y float64) {
	switch {
	case k.form == straight:
		return k.ux, k.uy
	case k.form == free:
		d := k.curve.Tangent(t)
		x, y = d.X, d.Y
	default:
		sin, cos := math.Sincos(t)
		x, y = k.b.X*cos-k.a.X*sin, k.b.Y*cos-k.a.Y*sin
	}
	if l := math.Hypot(x, y); l > 0 {
		return x / l, y / l
	}
	return 0, 0
}

// span returns a box around the part of the track from s0 to s1.
func (k *track) span(s0, s1 float64) (low, high solid.Vec) {
	p, q := k.at(s0), k.at(s1)
	low = solid.Vec{X: math.Min(p.X, q.X), Y: math.Min(p.Y, q.Y), Z: math.Min(p.Z, q.Z)}
	high = solid.Vec{X: math.Max(p.X, q.X), Y: math.Max(p.Y, q.Y), Z: math.Max(p.Z, q.Z)}
	switch {
	case k.form == free || k.lift != nil:
		return k.sampledSpan(s0, s1, low, high)
	case k.linear:
		return low, high
	}
	// An arc of a half angle h strays from its chord by at most 1-cos h of its
	// amplitude.
	stray := 2.0
	if h := (s1 - s0) / 2; h < math.Pi {
		stray = 1 - math.Cos(h)
	}
	most := solid.Vec{X: math.Hypot(k.a.X, k.b.X), Y: math.Hypot(k.a.Y, k.b.Y), Z: math.Hypot(k.a.Z, k.b.Z)}
	low, high = low.Sub(most.Mul(stray)), high.Add(most.Mul(stray))
	least, top := k.c.Sub(most), k.c.Add(most)
	return solid.Vec{X: math.Max(low.X, least.X), Y: math.Max(low.Y, least.Y), Z: math.Max(low.Z, least.Z)},
		solid.Vec{X: math.Min(high.X, top.X), Y: math.Min(high.Y, top.Y), Z: math.Min(high.Z, top.Z)}
}

// sampledSpan widens a box by points of the track and by the longest step
// between them.
func (k *track) sampledSpan(s0, s1 float64, low, high solid.Vec) (solid.Vec, solid.Vec) {
	const n = 8
	prev, step := k.at(s0), 0.0
	for i := 1; i <= n; i++ {
		p := k.at(s0 + (s1-s0)*float64(i)/n)
		low = solid.Vec{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y), Z: math.Min(low.Z, p.Z)}
		high = solid.Vec{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y), Z: math.Max(high.Z, p.Z)}
		step = math.Max(step, p.Dist(prev))
		prev = p
	}
	grow := solid.Vec{X: step / 2, Y: step / 2, Z: step / 2}
	return low.Sub(grow), high.Add(grow)
}

// off tells on which side of the track's line or ellipse a point lies; zero on
// it. It is mm for straight tracks, relative to the size for ovals.
func (k *track) off(x, y float64) float64 {
	x, y = x-k.c.X, y-k.c.Y
	if k.form == straight {
		return k.ux*y - k.uy*x
	}
	x, y = k.m[0]*x+k.m[1]*y, k.m[2]*x+k.m[3]*y
	return x*x + y*y - 1
}

// find returns the parameter within the track's range of the point x, y of the
// plane, and whether that point lies on the track.
func (k *track) find(x, y float64) (t float64, ok bool) {
	dx, dy := x-k.c.X, y-k.c.Y
	switch {
	case k.form == free:
		t = k.nearest(x, y)
	case k.linear:
		l := math.Hypot(k.a.X, k.a.Y)
		if l == 0 {
			return k.t0, false
		}
		t = (dx*k.ux + dy*k.uy) / l
	case k.form == oval:
		t = k.near(math.Atan2(k.m[2]*dx+k.m[3]*dy, k.m[0]*dx+k.m[1]*dy))
	default:
		d := math.Acos(math.Max(-1, math.Min(1, (dx*k.ux+dy*k.uy)/k.amp)))
		t = k.near(k.first + d)
		if s := k.near(k.first - d); math.Abs(s-k.middle) < math.Abs(t-k.middle) {
			t = s
		}
	}
	t = math.Max(k.t0, math.Min(k.t1, t))
	p := k.at(t)
	return t, math.Hypot(p.X-x, p.Y-y) < hair
}

// near adds whole turns to an angle to bring it near the middle of the range.
func (k *track) near(t float64) float64 {
	return t + 2*math.Pi*math.Round((k.middle-t)/(2*math.Pi))
}

// nearest returns the parameter of a free track nearest to a point.
func (k *track) nearest(x, y float64) float64 {
	best, at := math.Inf(1), 0
	for i, p := range k.chain {
		if d := math.Hypot(p.X-x, p.Y-y); d < best {
			best, at = d, i
		}
	}
	step := (k.t1 - k.t0) / chainLinks
	t := k.t0 + step*float64(at)
	lo, hi := math.Max(k.t0, t-step), math.Min(k.t1, t+step)
	for range 40 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		p, q := k.at(a), k.at(b)
		if math.Hypot(p.X-x, p.Y-y) < math.Hypot(q.X-x, q.Y-y) {
			hi = b
		} else {
			lo = a
		}
	}
	return (lo + hi) / 2
}

// length returns about how long the part from s0 to s1 is drawn: its chord, or
// more for arcs.
func (k *track) length(s0, s1 float64) float64 {
	p, m, q := k.at(s0), k.at((s0+s1)/2), k.at(s1)
	return math.Hypot(p.X-m.X, p.Y-m.Y) + math.Hypot(q.X-m.X, q.Y-m.Y)
}
