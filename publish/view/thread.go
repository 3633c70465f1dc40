package view

import (
	"math"

	"plansheaf/design/solid"
)

// Threads are drawn by convention (ISO 6410-1), since a solid is plain where a
// thread is cut: seen from the side as two narrow lines along it, seen along its
// axis as three quarters of a narrow circle, both at the diameter that the face
// does not have (the major one in a hole, the minor one on a screw); a wide line
// across shows where the full thread ends. Views at a slant show none of it.

// addThreads makes the items of the body's threads.
func (s *shape) addThreads() {
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
		switch {
		case th.to-th.from < hair:
		case math.Abs(c.Z.Z) < edgeOn:
			s.threadAlong(&th)
		case math.Abs(c.Z.Z) > 1-edgeOn:
			s.threadAround(&th)
		}
	}
}

// thread is a threaded face as it is drawn.
type thread struct {
	face     int
	cylinder solid.Cylinder // in view coordinates
	hollow   bool
	other    float64 // radius that is drawn, mm
	// from and to are how far along the axis full thread reaches; limit tells
	// where it ends within the face.
	from, to float64
	limit    float64
	limited  bool
}

// setReach finds out how far along the face its thread runs.
func (s *shape) setReach(th *thread, f *solid.Face) {
	th.from, th.to = math.Inf(1), math.Inf(-1)
	for _, l := range f.Loops {
		for _, u := range l {
			e := &s.solid.Edges[u.Edge]
			for _, k := range [5]float64{0, 0.25, 0.5, 0.75, 1} {
				_, v := th.cylinder.Param(s.view.Point(e.Point(k)))
				th.from, th.to = math.Min(th.from, v), math.Max(th.to, v)
			}
		}
	}
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

// addThreadItem keeps a line of a thread; facing says how the face looks there.
func (s *shape) addThreadItem(th *thread, kind Kind, k track, facing int) {
	it := item{body: s.body, edge: -1 - len(s.solid.Faces) - th.face, kind: kind, faces: [2]int{th.face, -1}, drawn: true}
	it.facing[0] = facing
	it.track = k
	s.addItem(it)
}

// threadAlong draws a thread seen from the side. On a screw the lines lie on the
// side of the face that looks at the eye, where they are seen if that is; in a
// hole they lie beside the wall, within the material.
func (s *shape) threadAlong(th *thread) {
	c := th.cylinder
	eye := solid.Vec{Z: 1}
	across := c.Z.Cross(eye).Unit()
	rise, facing := 0.0, 0
	if !th.hollow {
		rise, facing = math.Sqrt(c.R*c.R-th.other*th.other), 1
	}
	for _, side := range [2]float64{-1, 1} {
		o := c.O.Add(across.Mul(side * th.other)).Add(eye.Mul(rise))
		s.addThreadItem(th, Thread, newTrack(solid.Line{O: o, D: c.Z}, th.from, th.to), facing)
	}
	if th.limited {
		r := math.Max(c.R, th.other)
		half := solid.Circle{Frame: solid.Frame{O: c.O.Add(c.Z.Mul(th.limit)), X: across, Y: eye, Z: across.Cross(eye)}, R: r}
		s.addThreadItem(th, Limit, newTrack(half, 0, math.Pi), facing)
	}
}

// threadAround draws a thread seen along its axis, on what bounds it towards the
// eye; the quarter at the upper right stays open.
func (s *shape) threadAround(th *thread) {
	c := th.cylinder
	o := c.O.Add(c.Z.Mul(th.from))
	if end := c.O.Add(c.Z.Mul(th.to)); end.Z > o.Z {
		o = end
	}
	o.Z = s.restsAt(th, o.Z)
	f := solid.Frame{O: o, X: solid.Vec{X: 1}, Y: solid.Vec{Y: 1}, Z: solid.Vec{Z: 1}}
	s.addThreadItem(th, Thread, newTrack(solid.Circle{Frame: f, R: th.other}, math.Pi/2, 2*math.Pi), 0)
}

// restsAt returns the height of the circle drawn for a thread whose rim towards
// the eye stands at z: where a countersink or a chamfer follows, the circle lies
// on that cone.
func (s *shape) restsAt(th *thread, z float64) float64 {
	for _, l := range s.solid.Faces[th.face].Loops {
		for _, u := range l {
			e := &s.solid.Edges[u.Edge]
			if math.Abs(s.view.Point(e.Point(0.5)).Z-z) > hair {
				continue
			}
			beside := e.Faces[0] + e.Faces[1] - th.face
			if beside < 0 || beside >= len(s.surface) {
				continue
			}
			cone, ok := s.surface[beside].(solid.Cone)
			if !ok || math.Abs(cone.Z.Z) < 1-edgeOn {
				continue
			}
			box := placedBox(s.solid.Faces[beside].Box(), s.view)
			at := cone.O.Z + cone.Z.Z*th.other/cone.Slope
			return math.Max(box.Min.Z, math.Min(box.Max.Z, at))
		}
	}
	return z
}
