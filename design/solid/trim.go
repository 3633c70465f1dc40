package solid

import (
	"math"
	"sort"
)

// nearEdge (mm) is how near a point of a face may come to its edges before a
// probe that ends there counts as unsure.
const nearEdge = 2e-6

// sameAngle (radians) is more than what whole turns cost in rounding, and less
// than any angle that matters.
const sameAngle = 1e-12

// piece is a part of a face's edge that runs one way in the face's sweep
// coordinate (y of a plane, the angle of a cylinder or cone) and in its height
// (x, or the distance along the axis), so that a line of constant sweep crosses
// it at most once.
type piece struct {
	edge        int
	t0, t1      float64 // parameters on the edge's curve where the sweep is s0 and s1
	s0, s1      float64 // s0 <= s1; equal where the edge runs along the probe
	h0, h1      float64 // heights there
	hLow, hHigh float64 // bounds of the height in between
}

// sweep returns the sweep coordinate and the height of p on a surface.
func sweep(s Surface, p Vec) (sw, h float64) {
	u, v := s.Param(p)
	if !periodic(s) {
		return v, u
	}
	return u, v
}

// trimPieces cuts edge e of a face on surface s into pieces.
func trimPieces(s Surface, e *Edge, index int, verts []Vec) []piece {
	if _, line := e.Curve.(Line); line {
		return []piece{linePiece(s, e, index, verts)}
	}
	cuts := append([]float64{e.T0}, criticals(s, e.Curve, e.T0, e.T1)...)
	cuts = append(cuts, e.T1)
	sort.Float64s(cuts)
	var out []piece
	at := func(i int) (float64, float64) {
		switch i {
		case 0:
			return sweep(s, verts[e.Start])
		case len(cuts) - 1:
			return sweep(s, verts[e.End])
		}
		return sweep(s, e.Curve.Point(cuts[i]))
	}
	for i := 0; i+1 < len(cuts); i++ {
		if cuts[i+1]-cuts[i] < 1e-12 && len(cuts) > 2 {
			continue
		}
		p := piece{edge: index, t0: cuts[i], t1: cuts[i+1]}
		p.s0, p.h0 = at(i)
		p.s1, p.h1 = at(i + 1)
		if periodic(s) {
			p.unwrap(s, e.Curve)
		}
		p.bound(s, e.Curve)
		out = append(out, p.upward())
	}
	return out
}

// linePiece returns the one piece of a straight edge.
func linePiece(s Surface, e *Edge, index int, verts []Vec) piece {
	p := piece{edge: index, t0: e.T0, t1: e.T1}
	p.s0, p.h0 = sweep(s, verts[e.Start])
	p.s1, p.h1 = sweep(s, verts[e.End])
	if periodic(s) {
		p.unwrap(s, e.Curve)
	}
	p.hLow, p.hHigh = math.Min(p.h0, p.h1), math.Max(p.h0, p.h1)
	return p.upward()
}

// upward returns the piece with its ends in order of the sweep coordinate.
func (p piece) upward() piece {
	if p.s0 > p.s1 {
		p.t0, p.t1, p.s0, p.s1, p.h0, p.h1 = p.t1, p.t0, p.s1, p.s0, p.h1, p.h0
	}
	return p
}

// unwrap adds whole turns to s1 until it is the angle that the curve really
// reaches from s0.
func (p *piece) unwrap(s Surface, c Curve) {
	if isGenerator(s, c) {
		// Along a generator the angle stays; at a cone's tip it has none.
		if _, pointed := s.tip(); pointed && p.h0 < p.h1 && s.widest(p.h0, p.h0) < Tolerance {
			p.s0 = p.s1
		}
		p.s1 = p.s0
		return
	}
	last, total := p.s0, 0.0
	const steps = 8
	for k := 0; k < steps; k++ {
		a, b := p.t0+(p.t1-p.t0)*float64(k)/steps, p.t0+(p.t1-p.t0)*float64(k+1)/steps
		u, _ := sweep(s, c.Point(b))
		total += turned(s, c, a, last, b, u, 12)
		last = u
	}
	p.s1 += 2 * math.Pi * math.Round((p.s0+total-p.s1)/(2*math.Pi))
}

// turned returns by how much the angle on s changes along a curve from
// parameter a, where it is ua, to b, where it is ub. Near a cone's axis it
// changes fast, so steps are halved until they are small.
func turned(s Surface, c Curve, a, ua, b, ub float64, depth int) float64 {
	m := (a + b) / 2
	um, _ := sweep(s, c.Point(m))
	first, second := math.Remainder(um-ua, 2*math.Pi), math.Remainder(ub-um, 2*math.Pi)
	if depth == 0 || math.Abs(first) < 0.7 && math.Abs(second) < 0.7 {
		return first + second
	}
	return turned(s, c, a, ua, m, um, depth-1) + turned(s, c, m, um, b, ub, depth-1)
}

// isGenerator tells whether c is a straight line within a cylinder or cone.
func isGenerator(s Surface, c Curve) bool {
	_, line := c.(Line)
	return line && periodic(s)
}

// bound sets hLow and hHigh: exact where the height runs one way, padded where
// it comes from samples.
func (p *piece) bound(s Surface, c Curve) {
	p.hLow, p.hHigh = math.Min(p.h0, p.h1), math.Max(p.h0, p.h1)
	switch c.(type) {
	case Line, Circle, Ellipse:
		return
	}
	const steps = 16
	prev, most := p.h0, 0.0
	for k := 1; k <= steps; k++ {
		_, h := sweep(s, c.Point(p.t0+(p.t1-p.t0)*float64(k)/steps))
		p.hLow, p.hHigh = math.Min(p.hLow, h), math.Max(p.hHigh, h)
		most = math.Max(most, math.Abs(h-prev))
		prev = h
	}
	p.hLow, p.hHigh = p.hLow-most, p.hHigh+most
}

// criticals returns the parameters strictly between t0 and t1 at which the
// curve turns about in the sweep coordinate or the height of the surface.
func criticals(s Surface, c Curve, t0, t1 float64) []float64 {
	dirs := s.turning()
	var out []float64
	switch c := c.(type) {
	case Line:
		return nil
	case Circle:
		for _, d := range dirs {
			out = append(out, extremes(d.Dot(c.X), d.Dot(c.Y), t0, t1)...)
		}
		return out
	case Ellipse:
		for _, d := range dirs {
			out = append(out, extremes(c.A*d.Dot(c.X), c.B*d.Dot(c.Y), t0, t1)...)
		}
		return out
	}
	if !periodic(s) {
		for _, d := range dirs {
			out = append(out, turningPoints(func(t float64) float64 { return c.Point(t).Dot(d) }, t0, t1)...)
		}
		return out
	}
	if m, ok := c.(Meet); ok && m.Base == s {
		return nil
	}
	start, _ := s.Param(c.Point((t0 + t1) / 2))
	return turningPoints(func(t float64) float64 {
		u, _ := s.Param(c.Point(t))
		return math.Remainder(u-start, 2*math.Pi)
	}, t0, t1)
}

// extremes returns where a*cos t + b*sin t turns about, strictly between t0 and t1.
func extremes(a, b, t0, t1 float64) []float64 {
	if math.Abs(a)+math.Abs(b) < 1e-12 {
		return nil
	}
	first := math.Atan2(b, a)
	var out []float64
	for k := math.Ceil((t0 - first) / math.Pi); ; k++ {
		t := first + k*math.Pi
		if t >= t1-1e-12 {
			return out
		}
		if t > t0+1e-12 {
			out = append(out, t)
		}
	}
}

// turningPoints returns where f turns about between t0 and t1, from samples
// closed in on by golden section. Jumps of f by more than a half turn, where an
// angle comes round, are no turning points.
func turningPoints(f func(float64) float64, t0, t1 float64) []float64 {
	const n = 64
	var ts, fs [n + 1]float64
	for i := range ts {
		ts[i] = t0 + (t1-t0)*float64(i)/n
		fs[i] = f(ts[i])
	}
	var out []float64
	for i := 1; i < n; i++ {
		a, b := fs[i]-fs[i-1], fs[i+1]-fs[i]
		if a*b >= 0 || math.Abs(a) > math.Pi && math.Abs(b) < 1 || math.Abs(b) > math.Pi && math.Abs(a) < 1 {
			continue
		}
		sign := 1.0
		if a > 0 {
			sign = -1
		}
		out = append(out, lowest(func(t float64) float64 { return sign * f(t) }, ts[i-1], ts[i+1]))
	}
	return out
}

// lowest returns where f is least in [a, b], by golden section, to 1e-8: what f
// is there is then right to rounding.
func lowest(f func(float64) float64, a, b float64) float64 {
	const g = 0.6180339887498949
	x, y := b-g*(b-a), a+g*(b-a)
	fx, fy := f(x), f(y)
	for i := 0; i < 60 && b-a > 1e-8; i++ {
		if fx < fy {
			b, y, fy = y, x, fx
			x = b - g*(b-a)
			fx = f(x)
		} else {
			a, x, fx = x, y, fy
			y = a + g*(b-a)
			fy = f(y)
		}
	}
	return (a + b) / 2
}

// height returns the height of a piece at sweep coordinate sw within s0..s1.
func (p *piece) height(s Surface, c Curve, sw float64) float64 {
	if sw <= p.s0 {
		return p.h0
	}
	if sw >= p.s1 {
		return p.h1
	}
	if f, ok := s.(Plane); ok {
		switch c := c.(type) {
		case Line:
			return p.h0 + (p.h1-p.h0)*(sw-p.s0)/(p.s1-p.s0)
		case Circle:
			u, v := f.Param(c.O)
			x := math.Sqrt(math.Max(0, c.R*c.R-(sw-v)*(sw-v)))
			if p.h0+p.h1 < 2*u {
				x = -x
			}
			return u + x
		}
		return p.solve(s, c, sw)
	}
	switch c := c.(type) {
	case Circle:
		return planeHeight(s, c.Frame, sw)
	case Ellipse:
		return planeHeight(s, c.Frame, sw)
	case Meet:
		if c.Base == s {
			h, _ := c.height(sw)
			return h
		}
	}
	return p.solve(s, c, sw)
}

// planeHeight returns where the plane of a frame cuts the generator of a
// cylinder or cone at angle u.
func planeHeight(s Surface, f Frame, u float64) float64 {
	o, d := s.line(u)
	return f.O.Sub(o).Dot(f.Z) / d.Dot(f.Z)
}

// solve finds the height at sw by closing in on the curve's parameter.
func (p *piece) solve(s Surface, c Curve, sw float64) float64 {
	_, h := sweep(s, c.Point(p.find(s, c, sw)))
	return h
}

// find closes in on the parameter at which the piece reaches a sweep coordinate
// within s0 to s1.
func (p *piece) find(s Surface, c Curve, sw float64) float64 {
	lo, hi, from, to := p.t0, p.t1, p.s0, p.s1
	if periodic(s) {
		// Angles come round: first find a stretch short enough to be sure of.
		for to-from > 1 && math.Abs(hi-lo) > 1e-12 {
			mid := (lo + hi) / 2
			u, _ := sweep(s, c.Point(mid))
			first, _ := sweep(s, c.Point(lo))
			at := from + turned(s, c, lo, first, mid, u, 12)
			if at > sw {
				hi, to = mid, at
			} else {
				lo, from = mid, at
			}
		}
	}
	off := func(t float64) float64 {
		at, _ := sweep(s, c.Point(t))
		if periodic(s) {
			return math.Remainder(at-sw, 2*math.Pi)
		}
		return at - sw
	}
	a, b := from-sw, to-sw
	if lo > hi {
		lo, hi, a, b = hi, lo, b, a
	}
	return root(off, lo, hi, a, b)
}

// holds tells whether the point p on the face's surface lies within the face's
// loops, and whether it is so near an edge that the answer is unsure.
func (f *Face) holds(p Vec, edges []Edge) (in, unsure bool) {
	sw, h := sweep(f.Surface, p)
	scale := f.Surface.sweepScale(h)
	slack := math.Min(nearEdge/scale, 1)
	wraps := periodic(f.Surface)
	for i := range f.trim {
		t := &f.trim[i]
		if h > t.hHigh+nearEdge {
			continue
		}
		if !wraps {
			if sw < t.s0-slack || sw > t.s1+slack {
				continue
			}
			crosses, near := t.crosses(f.Surface, edges, sw, h, slack)
			in, unsure = in != crosses, unsure || near
			continue
		}
		for k := math.Ceil((t.s0 - slack - sw) / (2 * math.Pi)); sw+2*math.Pi*k <= t.s1+slack; k++ {
			at := sw + 2*math.Pi*k
			// A piece holds its start and not its end, so that of two pieces
			// that meet at this angle one counts. Whole turns cost a rounding,
			// so the ends are told by a hair's breadth; of a piece that goes
			// all round the end falls on the start.
			switch {
			case math.Abs(at-t.s0) < sameAngle:
				at = t.s0
			case math.Abs(at-t.s1) < sameAngle:
				at = t.s1
			}
			crosses, near := t.crosses(f.Surface, edges, at, h, slack)
			in, unsure = in != crosses, unsure || near
		}
	}
	return in, unsure
}

// crosses tells whether the probe from sw, h towards greater heights crosses
// the piece and whether it starts near it.
func (t *piece) crosses(s Surface, edges []Edge, sw, h, slack float64) (crosses, near bool) {
	within := t.s0 <= sw && sw < t.s1
	if h < t.hLow-nearEdge {
		return within, false
	}
	c := edges[t.edge].Curve
	if t.s0 == t.s1 {
		return false, h >= t.hLow-nearEdge && h <= t.hHigh+nearEdge
	}
	at := t.height(s, c, sw)
	a, b := t.height(s, c, sw-slack), t.height(s, c, sw+slack)
	near = h >= math.Min(at, math.Min(a, b))-nearEdge && h <= math.Max(at, math.Max(a, b))+nearEdge
	return within && at > h, near
}
