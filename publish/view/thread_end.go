package view

import (
	"math"
	"slices"

	"plansheaf/design/solid"
)

// threadEnds draws a thread's other diameter at its open ends, on the faces that
// bound it there, but for the quarter at the upper right.
func (s *shape) threadEnds(th *thread, tracks []*track) {
	c := th.cylinder
	c.Frame = facingFrame(c.Frame)
	for _, l := range s.solid.Faces[th.face].Loops {
		for _, u := range l {
			e := &s.solid.Edges[u.Edge]
			if f := beyond(e, th.face); f >= 0 {
				s.threadEnd(th, c, e, f, tracks)
			}
		}
	}
}

// facingFrame turns a cylinder's frame about its axis until X is drawn to the
// right and Y upward.
func facingFrame(f solid.Frame) solid.Frame {
	right, up := solid.Vec{X: 1}, solid.Vec{Y: 1}
	if math.Abs(f.Z.X) < math.Abs(f.Z.Y) {
		f.X = right.Sub(f.Z.Mul(f.Z.X)).Unit()
		f.Y = f.Z.Cross(f.X)
		if f.Y.Y < 0 {
			f.Y, f.Z = f.Y.Mul(-1), f.Z.Mul(-1)
		}
		return f
	}
	f.Y = up.Sub(f.Z.Mul(f.Z.Y)).Unit()
	f.X = f.Y.Cross(f.Z)
	if f.X.X < 0 {
		f.X, f.Z = f.X.Mul(-1), f.Z.Mul(-1)
	}
	return f
}

// threadEnd draws the part of an end that follows one edge; c is the thread's
// cylinder in a frame of [facingFrame], next the face beyond the edge.
func (s *shape) threadEnd(th *thread, c solid.Cylinder, e *solid.Edge, next int, tracks []*track) {
	middle := s.view.Point(e.Point(0.5))
	_, v := th.cylinder.Param(middle)
	if v < th.from-hair || v > th.to+hair {
		return
	}
	outward := th.cylinder.Z
	if v < (th.low+th.high)/2 {
		outward = outward.Mul(-1)
	}
	curve := e.Curve.Placed(s.view)
	if _, straight := curve.(solid.Line); straight {
		return
	}
	end, ok := s.endCurve(th, c, curve, next, outward)
	if !ok {
		return
	}
	from, to := turnOf(c, curve, e)
	for turn := -4 * math.Pi; turn < 4*math.Pi; turn += 2 * math.Pi {
		if a, b := math.Max(from, turn+math.Pi/2), math.Min(to, turn+2*math.Pi); b-a > 1e-9 {
			for _, k := range s.onFace(end(a, b), next, tracks) {
				s.addThreadItem(th, Thread, k, besideFace)
			}
		}
	}
}

// onFace returns the parts of a track on the surface of a face that lie within
// the face.
func (s *shape) onFace(k track, face int, tracks []*track) []track {
	cuts := []float64{k.t0, k.t1}
	for _, l := range s.solid.Faces[face].Loops {
		for _, u := range l {
			crossings(&k, tracks[u.Edge], func(t, _ float64) { cuts = append(cuts, t) })
		}
	}
	slices.Sort(cuts)
	back := s.view.Inverse()
	var out []track
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < 1e-9 || !s.solid.FaceHolds(face, back.Point(k.at((cuts[i]+cuts[i-1])/2))) {
			continue
		}
		part := k
		part.t0, part.t1 = cuts[i-1], cuts[i]
		if n := len(out); n > 0 && out[n-1].t1 == part.t0 {
			part.t0 = out[n-1].t0
			out = out[:n-1]
		}
		part.settle()
		out = append(out, part)
	}
	return out
}

// turnOf returns between which angles about a cylinder an edge runs.
func turnOf(c solid.Cylinder, curve solid.Curve, e *solid.Edge) (from, to float64) {
	start, _ := c.Param(curve.Point(e.T0))
	last, now := start, start
	const steps = 8
	for i := 1; i <= steps; i++ {
		u, _ := c.Param(curve.Point(e.T0 + (e.T1-e.T0)*float64(i)/steps))
		now += math.Remainder(u-last, 2*math.Pi)
		last = u
	}
	return math.Min(start, now), math.Max(start, now)
}

// endCurve returns what draws the thread's other diameter between two angles
// about c where the thread ends on a face: on a plane or on a coaxial cone
// (chamfer or countersink) within it, else beside the curve in which the two round
// faces meet. It fails on what closes the thread off: a shoulder, the bottom of a
// hole.
func (s *shape) endCurve(th *thread, c solid.Cylinder, curve solid.Curve, next int, outward solid.Vec) (func(from, to float64) track, bool) {
	x, y := c.X.Mul(th.other), c.Y.Mul(th.other)
	round := func(centre, x, y solid.Vec) func(from, to float64) track {
		return func(from, to float64) track {
			k := track{c: centre, a: x, b: y, t0: from, t1: to}
			k.settle()
			return k
		}
	}
	switch f := s.surface[next].(type) {
	case solid.Plane:
		k := f.Z.Dot(c.Z)
		if opens := f.Z.Dot(outward); math.Abs(opens) < edgeOn || opens < 0 != s.solid.Faces[next].Inward {
			return nil, false
		}
		along := func(p solid.Vec) solid.Vec { return p.Sub(c.Z.Mul(p.Dot(f.Z) / k)) }
		return round(c.O.Sub(c.Z.Mul(f.Off(c.O)/k)), along(x), along(y)), true
	case solid.Cone:
		if c.Z.Cross(f.Z).Len() > edgeOn {
			return meetEnd(th, c, curve)
		}
		if widens := f.Z.Dot(outward) > 0; widens != th.hollow {
			return nil, false
		}
		box := s.solid.Faces[next].Box()
		low, high := math.Inf(1), math.Inf(-1)
		for _, l := range s.solid.Faces[next].Loops {
			for _, u := range l {
				_, v := f.Param(s.view.Point(s.solid.Edges[u.Edge].Point(0.5)))
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
		if box.Grow(hair).Holds(s.view.Inverse().Point(f.O)) {
			low = 0
		}
		v := math.Max(low, math.Min(high, th.other/f.Slope))
		return round(f.O.Add(f.Z.Mul(v)), x, y), true
	case solid.Cylinder:
		return meetEnd(th, c, curve)
	}
	return nil, false
}

// meetEnd is endCurve for an end where the thread's face meets another round one:
// where the cylinder of the other diameter meets that one.
func meetEnd(th *thread, c solid.Cylinder, curve solid.Curve) (func(from, to float64) track, bool) {
	m, ok := curve.(solid.Meet)
	if !ok || !m.Round {
		return nil, false
	}
	base, ok := m.Base.(solid.Cylinder)
	if !ok || base.Z.Cross(c.Z).Len() > edgeOn || math.Abs(base.R-c.R) > hair {
		return nil, false
	}
	base.R = th.other
	m.Base = base
	for t := range 12 {
		if !(math.Abs(m.Other.Off(m.Point(float64(t)))) < hair) {
			return nil, false
		}
	}
	shift, _ := base.Param(c.Point(0, 0))
	way := math.Copysign(1, base.Z.Dot(c.Z))
	return func(from, to float64) track {
		a, b := shift+way*from, shift+way*to
		return newTrack(m, math.Min(a, b), math.Max(a, b))
	}, true
}
