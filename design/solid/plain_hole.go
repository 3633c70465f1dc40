package solid

import "math"

// cutPlainHole makes a round hole that lies clear inside flat faces square to
// it, by adding its walls to the body and a ring to the faces it pierces. That
// is the usual hole, and needs no boolean. It returns false, and leaves the body
// alone, where anything else is met. The body must not be in use yet.
func cutPlainHole(body *Solid, b *bored) bool {
	h := b.hole
	if h.long() {
		return false
	}
	mouth, widest := h.D/2, h.D/2
	if h.Counterbore != nil {
		mouth = h.Counterbore.D / 2
	} else if h.Countersink != nil {
		mouth = h.Countersink.D / 2
	}
	widest = math.Max(mouth, widest)
	profile := b.profile(b.start)[1:] // without the lid
	last := len(profile) - 1
	if b.through {
		profile = profile[:last]
		last--
		profile[last].z = b.end
		if last > 0 && profile[last].z < profile[last-1].z+100*Tolerance {
			return false
		}
	}
	entry, exit := -1, -1
	reach := EmptyBox()
	for _, z := range []float64{b.start, profile[last].z} {
		for _, c := range [][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
			reach = reach.Add(b.frame.Point(c[0]*widest, c[1]*widest, z))
		}
	}
	reach = reach.Grow(10 * nearEdge)
	for i := range body.Faces {
		f := &body.Faces[i]
		if !f.box.Meets(reach) {
			continue
		}
		p, flat := f.Surface.(Plane)
		if !flat || p.Z.Cross(b.frame.Z).Len() > angleTolerance {
			return false
		}
		depth := p.O.Sub(b.frame.O).Dot(b.frame.Z)
		centre := b.frame.Point(0, 0, depth)
		switch {
		case entry < 0 && math.Abs(depth-b.start) < Tolerance && p.Z.Dot(b.frame.Z) < 0 && f.clear(body, centre, mouth):
			entry = i
		case exit < 0 && b.through && math.Abs(depth-b.end) < Tolerance && p.Z.Dot(b.frame.Z) > 0 && f.clear(body, centre, h.D/2):
			exit = i
		default:
			return false
		}
	}
	if entry < 0 || b.through != (exit >= 0) {
		return false
	}
	body.addHole(lathe(profile, b.frame), entry, exit)
	return true
}

// clear tells whether a circle about a point of a flat face lies within the face
// and clear of all its edges.
func (f *Face) clear(s *Solid, centre Vec, r float64) bool {
	if in, unsure := f.holds(centre, s.Edges); !in || unsure {
		return false
	}
	for _, l := range f.Loops {
		for _, u := range l {
			e := &s.Edges[u.Edge]
			var gap float64
			switch c := e.Curve.(type) {
			case Line:
				t := math.Max(e.T0, math.Min(e.T1, c.Param(centre)))
				gap = c.Point(t).Dist(centre)
			case Circle:
				gap = math.Abs(c.O.Dist(centre) - c.R)
			default:
				return false
			}
			if gap < r+10*nearEdge {
				return false
			}
		}
	}
	return true
}

// addHole joins the walls of a hole, given as the open side faces of what is
// taken away, to an entry face and, unless -1, an exit face.
func (s *Solid) addHole(walls *Solid, entry, exit int) {
	v, e, n := len(s.Vertices), len(s.Edges), len(s.Faces)
	s.Vertices = append(s.Vertices, walls.Vertices...)
	for _, x := range walls.Edges {
		x.Start, x.End = x.Start+v, x.End+v
		s.Edges = append(s.Edges, x)
	}
	for _, f := range walls.Faces {
		f.Inward = !f.Inward
		f.Loops = turnedLoops(f.Loops, e)
		s.Faces = append(s.Faces, f)
	}
	for i := n; i < len(s.Faces); i++ {
		s.finishFace(i)
	}
	ring := func(face int, u Use) {
		f := &s.Faces[face]
		f.Loops = append(f.Loops, Loop{u})
		s.trimEdge(face, u)
	}
	ring(entry, Use{e, false})
	if exit >= 0 {
		ring(exit, Use{len(s.Edges) - 1, true})
	}
}

// turnedLoops returns the loops run the other way, over edges counted from first.
func turnedLoops(loops []Loop, first int) []Loop {
	out := make([]Loop, len(loops))
	for k, l := range loops {
		for i := len(l) - 1; i >= 0; i-- {
			out[k] = append(out[k], Use{l[i].Edge + first, !l[i].Reversed})
		}
	}
	return out
}
