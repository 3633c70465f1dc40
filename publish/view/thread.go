package view

import (
	"math"
	"slices"

	"plansheaf/design/solid"
)

// Threads are drawn by convention (ISO 6410-1), since a solid is plain where a
// thread is cut. The face lies at one diameter of the thread; the other one, the
// root on a screw and in a hole alike, is drawn in narrow lines: along the thread
// where the cylinder of that diameter turns away from the eye, and at the open
// ends three quarters of the circle, on what bounds the thread there. A wide line
// shows where the full thread ends. So a thread seen from the side has two lines
// along it, one seen along its axis three quarters of a circle, and one seen at a
// slant both, the circles as ellipses.

// addThreads makes the items of the body's threads. tracks are its whole edges.
func (s *shape) addThreads(tracks []*track) {
	for i := range s.solid.Faces {
		f := &s.solid.Faces[i]
		c, round := s.surface[i].(solid.Cylinder)
		if f.Thread == nil || !round {
			continue
		}
		th := thread{face: i, cylinder: c, hollow: f.Inward, other: f.Thread.Minor / 2}
		if f.Inward {
			th.other = f.Thread.Major / 2
		}
		// A solid read from elsewhere may say sizes that make no thread.
		if !(th.other > 0) || th.hollow != (th.other > c.R) {
			continue
		}
		s.setReach(&th, f)
		if th.to-th.from < hair {
			continue
		}
		if math.Abs(c.Z.Z) < 1-edgeOn {
			s.threadAlong(&th, tracks)
		}
		if math.Abs(c.Z.Z) > edgeOn {
			s.threadEnds(&th, tracks)
		}
	}
}

// thread is a threaded face as it is drawn.
type thread struct {
	face     int
	cylinder solid.Cylinder // in view coordinates
	hollow   bool
	other    float64 // radius that is drawn, mm
	// low and high are how far along the axis the face reaches, from and to how
	// far full thread does; limit tells where it ends within the face.
	low, high, from, to float64
	limit               float64
	limited             bool
}

// setReach finds out how far along the face its thread runs.
func (s *shape) setReach(th *thread, f *solid.Face) {
	th.low, th.high = math.Inf(1), math.Inf(-1)
	for _, l := range f.Loops {
		for _, u := range l {
			e := &s.solid.Edges[u.Edge]
			for _, k := range [5]float64{0, 0.25, 0.5, 0.75, 1} {
				_, v := th.cylinder.Param(s.view.Point(e.Point(k)))
				th.low, th.high = math.Min(th.low, v), math.Max(th.high, v)
			}
		}
	}
	th.from, th.to = th.low, th.high
	if f.Thread.Length <= 0 {
		return
	}
	mouth, way := th.from, 1.0
	for _, feature := range s.features {
		if feature.Thread == nil || f.Name != feature.Name && f.Name != "holes."+feature.Name {
			continue
		}
		at := feature.At
		if feature.Kind != solid.HoleFeature { // At is the middle of the axis
			at = at.Sub(feature.Dir.Mul(feature.Depth / 2))
		}
		_, mouth = th.cylinder.Param(s.view.Point(at))
		way = s.view.Direction(feature.Dir).Dot(th.cylinder.Z)
		break
	}
	end := mouth + math.Copysign(f.Thread.Length, way)
	th.limited = end > th.from+hair && end < th.to-hair
	if way > 0 {
		th.to = math.Min(th.to, end)
	} else {
		th.from = math.Max(th.from, end)
	}
	th.limit = end
}

// besideFace is the facing of a line that lies beside its face.
const besideFace = 0

// addThreadItem keeps a line of a thread; facing says how the face looks there.
func (s *shape) addThreadItem(th *thread, kind Kind, k track, facing int) {
	it := item{edge: -1 - len(s.solid.Faces) - th.face, kind: kind, faces: [2]int{th.face, -1}, drawn: true, apart: facing == besideFace}
	it.facing[0] = facing
	it.track = k
	s.addItem(it)
}

// threadAlong draws the two lines along a thread and where it ends. On a screw
// they lie on the side of the face that looks at the eye, where they are seen if
// that is; in a hole they lie beside the wall, within the material; where a
// section runs along the thread they lie in its plane.
func (s *shape) threadAlong(th *thread, tracks []*track) {
	c := th.cylinder
	across := c.Z.Cross(solid.Vec{Z: 1}).Unit()
	toEye := across.Cross(c.Z)
	// Where the lines stand, and where the face does beside them.
	rise, aside, face, facing := 0.0, th.other, c.R, besideFace
	cut, isCut := s.cutRise(th, toEye)
	switch {
	case isCut && math.Abs(cut) < th.other:
		rise, aside, face = cut, math.Sqrt(th.other*th.other-cut*cut), math.Sqrt(math.Max(0, c.R*c.R-cut*cut))
	case !th.hollow:
		rise, face, facing = math.Sqrt(c.R*c.R-th.other*th.other), th.other, 1
	}
	reach := [2]float64{}
	for i, side := range [2]float64{-1, 1} {
		at := across.Mul(side * face).Add(toEye.Mul(rise))
		o := c.O.Add(across.Mul(side * aside)).Add(toEye.Mul(rise))
		for _, r := range s.runs(th, at, tracks) {
			if math.Abs(r.From-th.limit) < hair || math.Abs(r.To-th.limit) < hair {
				reach[i] = side * aside
			}
			s.addThreadItem(th, Thread, newTrack(solid.Line{O: o, D: c.Z}, r.From, r.To), facing)
		}
	}
	if th.limited {
		s.threadLimit(th, solid.Frame{O: c.O.Add(c.Z.Mul(th.limit)), X: across, Y: toEye, Z: c.Z}, rise, reach, isCut, tracks)
	}
}

// threadLimit draws where the full thread ends: round the face; of a hole that is
// seen from the side, or cut, straight across: reach tells how far to both sides
// the lines along it stand.
func (s *shape) threadLimit(th *thread, f solid.Frame, rise float64, reach [2]float64, isCut bool, tracks []*track) {
	c := th.cylinder
	if isCut || th.hollow && math.Abs(c.Z.Z) < edgeOn {
		o := f.O.Add(f.Y.Mul(rise))
		s.addThreadItem(th, Limit, newTrack(solid.Line{O: o, D: f.X}, reach[0], reach[1]), besideFace)
		return
	}
	near, far := 1, -1
	if th.hollow { // the near wall looks away
		near, far = -1, 1
	}
	ring := solid.Circle{Frame: f, R: c.R}
	for _, k := range s.onFace(newTrack(ring, 0, math.Pi), th.face, tracks) {
		s.addThreadItem(th, Limit, k, near)
	}
	for _, k := range s.onFace(newTrack(ring, math.Pi, 2*math.Pi), th.face, tracks) {
		s.addThreadItem(th, Limit, k, far)
	}
}

// cutRise returns how far towards the eye from the thread's axis a section's
// plane stands that runs along it.
func (s *shape) cutRise(th *thread, toEye solid.Vec) (rise float64, ok bool) {
	for _, l := range s.solid.Faces[th.face].Loops {
		for _, u := range l {
			f := beyond(&s.solid.Edges[u.Edge], th.face)
			if f < 0 || s.solid.Faces[f].Name != CutFace {
				continue
			}
			if p, plane := s.surface[f].(solid.Plane); plane && math.Abs(p.Z.Dot(th.cylinder.Z)) < edgeOn {
				return p.O.Sub(th.cylinder.O).Dot(p.Z) / toEye.Dot(p.Z), true
			}
		}
	}
	return 0, false
}

// beyond returns the other face of an edge, -1 for none.
func beyond(e *solid.Edge, face int) int {
	if e.Faces[0] == face {
		return e.Faces[1]
	}
	return e.Faces[0]
}

// runs returns how far along the axis full thread reaches on the straight line of
// the face that runs beside the axis at a vector: without what is cut out of it.
func (s *shape) runs(th *thread, at solid.Vec, tracks []*track) []Range {
	c := th.cylinder
	across := c.Z.Cross(at).Unit()
	ends := []float64{th.from, th.to}
	for _, l := range s.solid.Faces[th.face].Loops {
		for _, u := range l {
			k := tracks[u.Edge]
			ts, _ := turns(k, c.O, across)
			for _, t := range ts {
				p := k.at(t)
				if _, v := c.Param(p); p.Sub(c.O).Dot(at) > 0 && v > th.from && v < th.to {
					ends = append(ends, v)
				}
			}
		}
	}
	slices.Sort(ends)
	back := s.view.Inverse()
	var out []Range
	for i := 1; i < len(ends); i++ {
		if ends[i]-ends[i-1] < hair || !s.solid.FaceHolds(th.face, back.Point(c.O.Add(at).Add(c.Z.Mul((ends[i-1]+ends[i])/2)))) {
			continue
		}
		if n := len(out); n > 0 && ends[i-1]-out[n-1].To < hair {
			out[n-1].To = ends[i]
		} else {
			out = append(out, Range{ends[i-1], ends[i]})
		}
	}
	return out
}
