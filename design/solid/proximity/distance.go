package proximity

import (
	"math"
	"sort"

	"plansheaf/design/solid"
)

// Distance returns how far two placed bodies are apart, mm, and the points of the
// first and the second, in the world, between which that is. It is 0 where they
// touch (within solid.Tolerance) or overlap; both points are then a common one.
//
// The distance is worked out on the exact faces, to about 1e-9 mm where the two
// nearest places of each pair of faces are found from the triangles. It is never
// wrong by more than twice what these stray from the faces ([Body.Stray]).
func Distance(a *Body, pa solid.Placement, b *Body, pb solid.Placement) (d float64, at [2]solid.Vec) {
	m := newMeeting(a, pa, b, pb)
	d, at = m.distance()
	for i := range at {
		at[i] = pa.Point(at[i])
	}
	return d, at
}

// Stray returns how far the triangles that stand for curved faces may lie off
// them, mm; 0 for a body with flat faces only.
func (b *Body) Stray() float64 { return b.stray }

// meeting is two bodies in the axes of the first.
type meeting struct {
	a, b  *Body
	rel   solid.Placement
	back  solid.Placement // rel undone
	stray float64
	*search
}

func newMeeting(a *Body, pa solid.Placement, b *Body, pb solid.Placement) *meeting {
	rel := pb.Then(pa.Inverse())
	return &meeting{a: a, b: b, rel: rel, back: rel.Inverse(), stray: a.stray + b.stray, search: newSearch(&a.tree, &b.tree, rel)}
}

// hair (mm) is what rounding may make of a distance of nothing.
const hair = 1e-9

func (m *meeting) distance() (float64, [2]solid.Vec) {
	d, at := m.nearest(math.Inf(1))
	if math.IsInf(d, 1) {
		return d, at // a body without faces is infinitely far from all
	}
	if d <= m.stray+hair {
		if !m.onlyTouch() {
			if p, deep := m.deepPlace(touchDepth); deep {
				return 0, [2]solid.Vec{p, p}
			}
			if o := m.overlap(); o.volume > 0 {
				return 0, [2]solid.Vec{o.at, o.at}
			}
		}
	} else if p, in := m.nested(); in {
		return 0, [2]solid.Vec{p, p}
	}
	exact := m.search.a.faces[m.pair[0]].exact && m.search.b.faces[m.pair[1]].exact
	if touch := exact && d <= solid.Tolerance; m.stray > 0 && !touch {
		d, at = m.refine(d)
	}
	if d <= solid.Tolerance {
		return 0, [2]solid.Vec{at[0], at[0]}
	}
	return d, at
}

// nested returns a point of one body's boundary that lies inside the other.
func (m *meeting) nested() (solid.Vec, bool) {
	for _, p := range m.b.shells() {
		if q := m.rel.Point(p); m.a.Solid.Where(q) == solid.Inside {
			return q, true
		}
	}
	for _, p := range m.a.shells() {
		if m.b.Solid.Where(m.back.Point(p)) == solid.Inside {
			return p, true
		}
	}
	return solid.Vec{}, false
}

// seed is a pair of places, one on each body, that are near each other.
type seed struct {
	d    float64
	p, q solid.Vec
}

// mostSeeds is from how many pairs of places the nearest ones of two faces are
// looked for.
const mostSeeds = 3

// refine works out the distance on the exact faces, given that of the triangles.
func (m *meeting) refine(d float64) (float64, [2]solid.Vec) {
	cut := d + 2*m.stray + hair
	seeds := map[[2]int][]seed{}
	m.pairs(func() float64 { return cut }, func(i, j int, x float64, p, q solid.Vec) {
		if x > cut {
			return
		}
		key := [2]int{m.search.a.faces[i].face, m.search.b.faces[j].face}
		seeds[key] = spread(seeds[key], seed{x, p, q})
	})
	keys := make([][2]int, 0, len(seeds))
	for k := range seeds {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, j int) bool {
		x, y := seeds[keys[i]][0].d, seeds[keys[j]][0].d
		if x != y {
			return x < y
		}
		if keys[i][0] != keys[j][0] {
			return keys[i][0] < keys[j][0]
		}
		return keys[i][1] < keys[j][1]
	})
	best, at := math.Inf(1), [2]solid.Vec{}
	fa, fb := map[int][]feature{}, map[int][]feature{}
	for _, k := range keys {
		if seeds[k][0].d-m.stray > best {
			continue // what follows may still be nearer, but not this pair
		}
		if fa[k[0]] == nil {
			fa[k[0]] = features(m.a.Solid, k[0], solid.Stay, solid.Stay)
		}
		if fb[k[1]] == nil {
			fb[k[1]] = features(m.b.Solid, k[1], m.rel, m.back)
		}
		for _, s := range seeds[k] {
			if x, p, q := m.closest(fa[k[0]], fb[k[1]], s); x < best {
				best, at = x, [2]solid.Vec{p, q}
			}
		}
		if best <= solid.Tolerance/10 {
			break
		}
	}
	return best, at
}

// spread adds a seed to a list, the nearest first, if it is near or elsewhere.
func spread(list []seed, s seed) []seed {
	const elsewhere = 1 // mm: seeds closer than this lead to the same place
	for i := range list {
		if list[i].p.Dist(s.p)+list[i].q.Dist(s.q) < elsewhere {
			if s.d < list[i].d {
				list[i] = s
				sort.SliceStable(list, func(i, j int) bool { return list[i].d < list[j].d })
			}
			return list
		}
	}
	list = append(list, s)
	sort.SliceStable(list, func(i, j int) bool { return list[i].d < list[j].d })
	return list[:min(len(list), mostSeeds)]
}

// farEdges is how many edges of a face are tried when the nearest place of its
// surface is off the face.
const farEdges = 12

// closest returns the least distance of two faces near a seed: between the faces
// within, an edge of one and the other, or two edges.
func (m *meeting) closest(fa, fb []feature, s seed) (float64, solid.Vec, solid.Vec) {
	best := math.Inf(1)
	var at [2]solid.Vec
	try := func(f, g *feature) bool {
		p, q, ok := approach(f, g, s.p, s.q)
		if d := p.Dist(q); ok && d < best {
			best, at = d, [2]solid.Vec{p, q}
		}
		return ok
	}
	reach := 4*m.stray + 10*solid.Tolerance
	inside := try(&fa[0], &fb[0])
	near, far := around(fa, s.p, reach), around(fb, s.q, reach)
	if !inside && len(near)+len(far) == 0 || math.IsInf(best, 1) && !inside {
		near, far = around(fa, s.p, math.Inf(1)), around(fb, s.q, math.Inf(1))
	}
	for _, f := range near {
		try(f, &fb[0])
		for _, g := range far {
			try(f, g)
		}
	}
	for _, g := range far {
		try(&fa[0], g)
	}
	if d := s.p.Dist(s.q); math.IsInf(best, 1) {
		return d, s.p, s.q
	}
	return best, at[0], at[1]
}

// around returns the edges and tips of a face within reach of p, the nearest
// first and not more than farEdges.
func around(fs []feature, p solid.Vec, reach float64) []*feature {
	type found struct {
		f *feature
		d float64
	}
	var list []found
	for i := range fs[1:] {
		f := &fs[i+1]
		if d := f.off(p); d <= reach {
			list = append(list, found{f, d})
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].d < list[j].d })
	var out []*feature
	for _, x := range list[:min(len(list), farEdges)] {
		out = append(out, x.f)
	}
	return out
}
