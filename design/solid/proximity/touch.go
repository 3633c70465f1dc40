package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// flush (mm) is how far a corner may lie behind a plane and still be in it.
const flush = 1e-7

// onlyTouch tells that the bodies may touch but surely do not overlap, without
// cutting them with each other: wherever they come together, one face lies on the
// outer side of the other, a plane one, and no body lies in the other. It is false where that cannot be seen so simply.
//
// Where two bodies overlap, either one is within the other or their boundaries run
// through each other; there a triangle has corners on the inner side of another
// one's plane, and the other way about.
func (m *meeting) onlyTouch() bool {
	sure, split := true, false
	// A plane that parts them is a face of a contact, so it comes up soon.
	const most = 300
	looked := 0
	limit := func() float64 {
		if split || !sure && looked > most {
			return math.Inf(-1)
		}
		return m.stray + hair
	}
	m.pairs(limit, func(i, j int, d float64, _, _ solid.Vec) {
		if looked++; d <= m.stray+hair && !split && (sure || looked <= most) {
			split = m.parted(i, j)
			sure = sure && m.outside(i, j)
		}
	})
	if split || !sure {
		return split
	}
	_, in := m.nested()
	return !in
}

// parted tells whether the plane of one of two triangles has all of one body on
// its one side and all of the other on the other.
func (m *meeting) parted(i, j int) bool {
	a, b := m.a.Solid.Box(), m.b.Solid.Box()
	if k := m.search.a.faces[i]; k.flat {
		o, n := m.search.a.triangles[i][0], m.search.a.normals[i]
		if boxDepth(o, n.Mul(-1), a) < flush && boxDepth(m.back.Point(o), m.back.Direction(n), b) < flush {
			return true
		}
	}
	if k := m.search.b.faces[j]; k.flat {
		o, n := m.search.b.triangles[j][0], m.search.b.normals[j]
		return boxDepth(o, n.Mul(-1), b) < flush && boxDepth(m.rel.Point(o), m.rel.Direction(n), a) < flush
	}
	return false
}

// outside tells whether one of two triangles, and its face near there, lies on the
// outer side of the other.
func (m *meeting) outside(i, j int) bool {
	fa, fb := m.search.a.faces[i], m.search.b.faces[j]
	t, u := &m.search.a.triangles[i], m.search.b.triangles[j].placed(m.rel)
	n, o := m.search.a.normals[i], m.rel.Direction(m.search.b.normals[j])
	if n == (solid.Vec{}) || o == (solid.Vec{}) {
		return false
	}
	behind, before := depth(u[0], o, t), depth(t[0], n, &u)
	parallel := fa.flat && fb.flat && n.Cross(o).Len() < 1e-9
	if parallel && n.Dot(o) > 0 && max(behind, before) < flush {
		// In one plane with material on one side: harmless only side by side.
		return fa.exact && fb.exact && beside(t, &u, n)
	}
	return fb.flat && behind < flush && (parallel || fa.exact || boxDepth(u[0], o, m.a.Solid.Faces[fa.face].Box()) < flush) ||
		fa.flat && before < flush && (parallel || fb.exact || boxDepth(m.back.Point(t[0]), m.back.Direction(n), m.b.Solid.Faces[fb.face].Box()) < flush)
}

// depth is how far a triangle reaches behind the plane through o with the normal n.
func depth(o, n solid.Vec, t *triangle) float64 {
	return -min(t[0].Sub(o).Dot(n), min(t[1].Sub(o).Dot(n), t[2].Sub(o).Dot(n)))
}

// boxDepth is how far a box reaches behind the plane.
func boxDepth(o, n solid.Vec, b solid.Box) float64 {
	return size(n).Dot(b.Size())/2 - b.Centre().Sub(o).Dot(n)
}

// beside tells whether two triangles in one plane have no more than a side in
// common: one of their sides has all of the other triangle beyond it.
func beside(t, u *triangle, n solid.Vec) bool {
	for k := range t {
		if depth(t[k], t[(k+1)%3].Sub(t[k]).Cross(n).Unit(), u) < flush || depth(u[k], u[(k+1)%3].Sub(u[k]).Cross(n).Unit(), t) < flush {
			return true
		}
	}
	return false
}
