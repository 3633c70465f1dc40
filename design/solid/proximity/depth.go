package proximity

import (
	"math"
	"sort"

	"plansheaf/design/solid"
)

// Clear tells whether two placed bodies keep clear of each other. With within above
// 0 they must be at least that far apart, mm. With 0 they may touch but not overlap;
// with less, as with -0.01, they may overlap where no place of the one's boundary
// lies deeper than that in the other.
//
// It costs much less than [Distance] and [Depth]: it stops at the first place that
// decides.
func Clear(a *Body, pa solid.Placement, b *Body, pb solid.Placement, within float64) bool {
	return newMeeting(a, pa, b, pb).clear(within)
}

func (m *meeting) clear(within float64) bool {
	if within > 0 {
		return m.apart(within)
	}
	if m.onlyTouch() {
		return true
	}
	if _, found := m.deepPlace(max(-within, touchDepth)); found {
		return false
	}
	o := m.overlap()
	if o.volume == 0 || within >= 0 {
		return o.volume == 0
	}
	deep, _ := m.deepest(o, -within)
	return deep <= -within
}

// apart tells whether the bodies are no nearer than within.
func (m *meeting) apart(within float64) bool {
	limit, enough := within+m.stray+hair, within-m.stray-hair
	d := math.Inf(1)
	m.pairs(func() float64 {
		if d < enough {
			return math.Inf(-1)
		}
		return min(d, limit)
	}, func(_, _ int, x float64, _, _ solid.Vec) { d = min(d, x) })
	switch {
	case d > limit:
		_, in := m.nested()
		return !in
	case d < enough:
		return false
	}
	d, _ = m.distance()
	return d >= within-hair
}

// mostPlaces is how many corners are looked at for one that lies deep.
const mostPlaces = 200

// deepPlace looks for a corner of the one body's triangles, which lies on its
// boundary, deeper than depth in the other, where triangles run through each other.
// That it finds none says nothing.
func (m *meeting) deepPlace(depth float64) (at solid.Vec, found bool) {
	var tried [2]map[int32]bool
	for i := range tried {
		tried[i] = map[int32]bool{}
	}
	count := 0
	limit := func() float64 {
		if found || count >= mostPlaces {
			return math.Inf(-1)
		}
		return 0
	}
	try := func(side int, corner int32, p, q solid.Vec, other *Body) {
		if found || count >= mostPlaces || tried[side][corner] {
			return
		}
		tried[side][corner] = true
		count++
		if other.buried(q, depth) {
			at, found = p, true
		}
	}
	m.pairs(limit, func(i, j int, d float64, _, _ solid.Vec) {
		if d > 0 {
			return
		}
		u := m.b.triangles[j].placed(m.rel)
		n, o := m.a.normals[i], m.rel.Direction(m.b.normals[j])
		for k := range 3 {
			// Only a corner behind the other triangle can lie deep there.
			if m.a.triangles[i][k].Sub(u[0]).Dot(o) > -depth && u[k].Sub(m.a.triangles[i][0]).Dot(n) > -depth {
				continue
			}
			c, p := m.a.corners[i][k], m.a.triangles[i][k]
			try(0, c, p, m.back.Point(p), m.b)
			c, p = m.b.corners[j][k], m.b.triangles[j][k]
			try(1, c, m.rel.Point(p), m.rel.Point(p), m.a)
		}
	})
	return at, found
}

// buried tells whether a point surely lies deeper than depth within the body.
func (b *Body) buried(p solid.Vec, depth float64) bool {
	clear := true
	reach := depth + b.stray
	b.nearest(p, func() float64 {
		if !clear {
			return math.Inf(-1)
		}
		return reach
	}, func(int, float64, solid.Vec) { clear = false })
	return clear && b.encloses(p)
}

// Depth returns how deep two placed bodies overlap, mm: how far the deepest place of
// either's boundary lies from the other's boundary, within it; and that place, in
// the world. It is 0 where they only touch or are apart. A shaft of 10.02 in a bore
// of 10 mm overlaps by 0.01, a bar of 20 right
// through a plate by 10, as in the middle of the bar the plate's faces lie so deep.
//
// Places are looked for on the exact faces of what both fill, on a raster within each
// triangle, of a third to an eighth of its sides: the depth may be some percent more.
func Depth(a *Body, pa solid.Placement, b *Body, pb solid.Placement) (depth float64, at solid.Vec) {
	if !a.boxUnder(pa).Meets(b.boxUnder(pb)) {
		return 0, at
	}
	m := newMeeting(a, pa, b, pb)
	if m.onlyTouch() {
		return 0, at
	}
	o := m.overlap()
	if o.volume == 0 {
		return 0, at
	}
	depth, at = m.deepest(o, math.Inf(1))
	return depth, pa.Point(at)
}

// deepest returns the depth of what both fill, and where; or of some place of it that
// is deeper than enough.
func (m *meeting) deepest(o common, enough float64) (depth float64, at solid.Vec) {
	if o.body == nil {
		// Counted out: as thick as the box at its thinnest, which is never too little.
		s := o.box.Size()
		return min(s.X, min(s.Y, s.Z)), o.at
	}
	for _, p := range samples(o.body) {
		if depth > enough {
			break
		}
		// A place on a's boundary is some way from b's, and the other way about.
		if d := max(m.a.depthOf(p, depth), m.b.depthOf(m.back.Point(p), depth)); d > depth {
			depth, at = d, p
		}
	}
	return depth, at
}

// mostSamples bounds how many places of a boundary are looked at.
const mostSamples = 4000

// samples returns places on the exact faces of a body: the corners of its triangles
// and a raster within each.
func samples(s *solid.Solid) []solid.Vec {
	m := s.Mesh(max(meshTolerance, s.Box().Size().Len()/500))
	const parts = 8
	raster := parts
	for raster > 3 && len(m.Triangles)*(raster+1)*(raster+2)/2 > mostSamples {
		raster--
	}
	out := append([]solid.Vec(nil), m.Vertices...)
	for i, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		f := s.Faces[m.Faces[i]].Surface
		for j := 0; j <= raster; j++ {
			for k := 0; j+k <= raster; k++ {
				if (j == 0 || j == raster) && (k == 0 || k == raster) {
					continue // a corner
				}
				p := a.Add(b.Sub(a).Mul(float64(j) / float64(raster))).Add(c.Sub(a).Mul(float64(k) / float64(raster)))
				// The raster of a triangle reaches over a round rim by what it strays.
				if p = f.Point(f.Param(p)); s.FaceHolds(m.Faces[i], p) {
					out = append(out, p)
				}
			}
		}
	}
	return out
}

// depthOf returns how far a point within the body or on its boundary is from the
// boundary, on the exact faces; or something no more than known, where that is as deep.
func (b *Body) depthOf(p solid.Vec, known float64) float64 {
	best := math.Inf(1)
	near := map[int]float64{} // by face
	b.nearest(p, func() float64 {
		if best+b.stray <= known {
			return math.Inf(-1)
		}
		return best + 2*b.stray + hair
	}, func(i int, d float64, _ solid.Vec) {
		best = min(best, d)
		if old, ok := near[b.faces[i].face]; !ok || d < old {
			near[b.faces[i].face] = d
		}
	})
	if b.stray == 0 || best+b.stray <= known {
		return best
	}
	exact := math.Inf(1)
	faces := make([]int, 0, len(near))
	for f := range near {
		faces = append(faces, f)
	}
	sort.Ints(faces)
	for _, f := range faces {
		d := near[f]
		s := b.Solid.Faces[f].Surface
		off := s.Off(p)
		if foot := p.Sub(s.Normal(p).Mul(off)); d <= best+2*b.stray && math.Abs(s.Off(foot)) < solid.Tolerance && b.Solid.FaceHolds(f, foot) {
			d = math.Abs(off)
		}
		exact = min(exact, d)
	}
	return exact
}
