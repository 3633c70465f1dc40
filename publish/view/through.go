package view

import (
	"math"
	"slices"

	"plansheaf/design/solid"
)

// Bodies that run into each other, as a screw drawn at its major diameter does
// with a hole drilled for its thread, or parts that clash, show the curve in which
// their faces meet: what is left of each ends there.

// addCrossings makes items of the curves in which faces of bodies near each other
// meet.
func (st *stage) addCrossings(shapes []*shape) {
	of := make([]*shape, len(st.near))
	for _, s := range shapes {
		of[s.body] = s
	}
	var pairs [][2]*shape
	for _, s := range shapes {
		for _, b := range st.near[s.body] {
			if b > s.body && of[b] != nil {
				pairs = append(pairs, [2]*shape{s, of[b]})
			}
		}
	}
	found := make([][]item, len(pairs))
	each(len(pairs), func() func(i int) {
		return func(i int) { found[i] = crossingItems(pairs[i][0], pairs[i][1]) }
	})
	for _, items := range found {
		st.items = append(st.items, items...)
	}
}

// mostPairs bounds how many pairs of faces of two bodies are looked at. Only
// bodies of many facets that lie in each other all over have more.
const mostPairs = 1 << 22

// crossingItems returns the items of two bodies.
func crossingItems(a, b *shape) []item {
	there := b.at.Then(a.at.Inverse()) // from b's axes to a's
	as, bs := facesIn(a.solid, b.solid.Box().Under(there)), facesIn(b.solid, a.solid.Box().Under(there.Inverse()))
	if len(as) == 0 || len(bs) == 0 || len(as)*len(bs) > mostPairs {
		return nil
	}
	boxes, surfaces := make([]solid.Box, len(bs)), make([]solid.Surface, len(bs))
	for i, g := range bs {
		boxes[i] = b.solid.Faces[g].Box().Under(there).Grow(-hair)
		surfaces[i] = b.solid.Faces[g].Surface.Placed(there)
	}
	inA, inB := make([]bool, len(as)), make([]bool, len(bs))
	for i, f := range as {
		face := &a.solid.Faces[f]
		for j := range bs {
			if (!inA[i] || !inB[j]) && boxes[j].Meets(face.Box()) && mayCross(a.solid, f, b.solid, bs[j], surfaces[j], there) {
				inA[i], inB[j] = true, true
			}
		}
	}
	fa, fb := wanted(as, inA), wanted(bs, inB)
	if len(fa) == 0 {
		return nil
	}
	var out []item
	for _, c := range solid.Crossings(a.solid.Only(fa), b.solid.Only(fb).Placed(there)) {
		out = append(out, a.crossing(b, c, fa[c.Faces[0]], fb[c.Faces[1]])...)
	}
	return out
}

// facesIn returns the faces of a solid whose boxes meet a box, but for those that
// a section made.
func facesIn(s *solid.Solid, box solid.Box) []int {
	box = box.Grow(-hair)
	var out []int
	for i := range s.Faces {
		if f := &s.Faces[i]; f.Name != CutFace && f.Name != stepFace && f.Box().Meets(box) {
			out = append(out, i)
		}
	}
	return out
}

// wanted returns those of the list that are marked.
func wanted(list []int, marked []bool) []int {
	var out []int
	for i, v := range list {
		if marked[i] {
			out = append(out, v)
		}
	}
	return out
}

// mayCross tells quickly that two faces do not run through each other, as most
// that come near each other do not: g is a face of t, on the surface sg in the
// axes of s; there leads from t's axes to those.
func mayCross(s *solid.Solid, f int, t *solid.Solid, g int, sg solid.Surface, there solid.Placement) bool {
	switch sf := s.Faces[f].Surface.(type) {
	case solid.Plane:
		switch sg := sg.(type) {
		case solid.Plane:
			return sf.Z.Cross(sg.Z).Len() > edgeOn
		case solid.Cylinder:
			return planeCrosses(s, f, sf, sg)
		}
	case solid.Cylinder:
		switch sg := sg.(type) {
		case solid.Plane:
			back := there.Inverse()
			return planeCrosses(t, g, sg.Placed(back).(solid.Plane), sf.Placed(back).(solid.Cylinder))
		case solid.Cylinder:
			if sf.Z.Cross(sg.Z).Len() > edgeOn {
				return true
			}
			d := sg.O.Sub(sf.O)
			apart := d.Sub(sf.Z.Mul(d.Dot(sf.Z))).Len()
			return apart > math.Abs(sf.R-sg.R)+hair && apart < sf.R+sg.R-hair
		}
	}
	return true
}

// planeCrosses tells whether a plane face may cross a cylinder.
func planeCrosses(s *solid.Solid, face int, p solid.Plane, c solid.Cylinder) bool {
	k := p.Z.Dot(c.Z)
	if math.Abs(k) < edgeOn {
		return math.Abs(p.Off(c.O)) < c.R-hair
	}
	if math.Abs(k) < 1-edgeOn*edgeOn {
		return true
	}
	// A circle: if no edge of the face comes as near to its centre as it, all of
	// it lies in the face or beside it.
	centre := c.O.Sub(c.Z.Mul(p.Off(c.O) / k))
	for _, l := range s.Faces[face].Loops {
		for _, u := range l {
			e := &s.Edges[u.Edge]
			if near, far := distances(e, centre); near < c.R+hair && far > c.R-hair {
				return true
			}
		}
	}
	return s.FaceHolds(face, centre.Add(c.X.Mul(c.R)))
}

// distances returns between which distances from a point an edge keeps.
func distances(e *solid.Edge, from solid.Vec) (near, far float64) {
	switch c := e.Curve.(type) {
	case solid.Line:
		t := math.Max(e.T0, math.Min(e.T1, c.Param(from)))
		return c.Point(t).Dist(from), math.Max(c.Point(e.T0).Dist(from), c.Point(e.T1).Dist(from))
	case solid.Circle:
		d := from.Dist(c.O)
		return math.Abs(d - c.R), d + c.R
	}
	return 0, math.Inf(1)
}

// crossing returns the items of a curve in which a face f of a body meets a face g
// of another, cut where one of them turns away from the eye.
func (s *shape) crossing(other *shape, c solid.Crossing, f, g int) []item {
	curve := c.Curve.Placed(s.view)
	whole := newTrack(curve, c.T0, c.T1)
	surfaces := [2]solid.Surface{s.surface[f], other.surface[g]}
	cuts := []float64{c.T0, c.T1}
	for _, surface := range surfaces {
		if o, q, round := turning(surface); round {
			ts, _ := turns(&whole, o, q)
			cuts = append(cuts, ts...)
		}
	}
	if whole.form == straight && !whole.linear {
		cuts = append(cuts, within(whole.first, math.Pi, c.T0, c.T1)...)
	}
	slices.Sort(cuts)
	var out []item
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < 1e-9 {
			continue
		}
		it := item{body: s.body, edge: -1, kind: Edge, faces: [2]int{f, -1}, drawn: true, into: [2]int{other.body + 1, g}}
		it.track = whole
		if flat := newTrack(chord(curve, cuts[i-1], cuts[i])); flat.strays(curve, cuts[i-1], cuts[i]) < hair/10 {
			it.track = flat
		} else if k, ok := liftedEither(curve, cuts[i-1], cuts[i], surfaces); ok {
			it.track = k
		} else {
			it.t0, it.t1 = cuts[i-1], cuts[i]
			it.settle()
		}
		p := it.at(it.middle)
		for side, inward := range [2]bool{s.solid.Faces[f].Inward, other.solid.Faces[g].Inward} {
			switch k := looks(surfaces[side], inward, p); {
			case k > edgeOn:
				it.facing[side] = 1
			case k < -edgeOn:
				it.facing[side] = -1
			}
		}
		if it.length(it.t0, it.t1) < hair || math.Max(it.high.X-it.low.X, it.high.Y-it.low.Y) < s.opt.Smallest {
			continue
		}
		out = append(out, it)
	}
	return out
}

// chord returns the straight line between two places of a curve.
func chord(c solid.Curve, t0, t1 float64) (line solid.Line, from, to float64) {
	p, q := c.Point(t0), c.Point(t1)
	return solid.Line{O: p, D: q.Sub(p).Unit()}, 0, p.Dist(q)
}

// strays returns how far a curve strays from a linear track between its ends:
// faces that are all but parallel meet in ellipses of miles.
func (k *track) strays(c solid.Curve, t0, t1 float64) float64 {
	most := 0.0
	for _, share := range [3]float64{0.25, 0.5, 0.75} {
		d := c.Point(t0 + (t1-t0)*share).Sub(k.c)
		most = math.Max(most, d.Sub(k.a.Mul(d.Dot(k.a))).Len())
	}
	return most
}
