package solid

import (
	"fmt"
	"math"
	"sort"
)

// MaxTriangles is how many triangles a shape may have.
const MaxTriangles = 200_000

// Facets is a shape in triangles, such as a file holds. Those that lie in one
// plane become one face; what is left of curved regions stays in facets, whose
// edges are smooth ones, see [Solid.Smooth].
type Facets struct {
	// Vertices are in mm; each place is there once.
	Vertices []Vec
	// Triangles are indices into Vertices, anticlockwise seen from outside. Each
	// side is shared by a triangle that runs through it the other way.
	Triangles [][3]int
	// Grain is how far coordinates may be off by rounding, mm. Vertices are moved
	// by a few times as much, so that they lie in their faces exactly.
	Grain float64
}

// Sharp edges: faces of a curved region meet at less than facetAngle (radians;
// a round of 12 facets has 30 degrees), and the arc that they stand for leaves
// them by less than facetRise (mm), as coarse as meshes for printing are. Faces
// that meet at less than flushAngle (radians) run on into each other whatever
// their size.
const (
	facetAngle = 31 * math.Pi / 180
	facetRise  = 1.0
	flushAngle = 0.002
)

// patchesEach sets the patches of a group's members apart.
const patchesEach = 1 << 20

// Smooth tells whether the faces beside an edge are facets of one curved region
// that runs on through it, so that a drawing leaves the edge out. Exact faces
// that run on into each other are told by their normals; here they count as sharp.
func (s *Solid) Smooth(e *Edge) bool {
	if e.Faces[0] < 0 || e.Faces[1] < 0 {
		return false
	}
	a, b := &s.Faces[e.Faces[0]], &s.Faces[e.Faces[1]]
	if a.Patch == 0 || a.Patch != b.Patch {
		return false
	}
	p := e.Point(0.5)
	return a.Normal(p).Dot(b.Normal(p)) > math.Cos(facetAngle)
}

// facetTolerance (mm) is the least by which the vertices of one flat face may
// stray from its plane; most bounds it for coarsely rounded files.
const (
	facetTolerance     = 2 * Tolerance
	facetToleranceMost = 2e-3
	mostTilt           = 0.01 // radians
)

// make joins the triangles to a solid.
func (b Facets) make() (*Solid, error) {
	w := &weaver{Facets: b}
	w.tol = math.Min(math.Max(facetTolerance, 4*b.Grain), facetToleranceMost)
	if err := w.check(); err != nil {
		return nil, err
	}
	if err := w.pair(); err != nil {
		return nil, err
	}
	w.measure()
	w.findFlats()
	w.settle()
	s, err := w.solid()
	if err != nil {
		return nil, err
	}
	s.findPatches()
	return s, nil
}

// weaver is the state of making a solid of triangles. Half-edge 3t+k runs along
// side k of triangle t.
type weaver struct {
	Facets
	tol    float64
	twin   []int // by half-edge
	cross  []Vec // normal times twice the area, by triangle
	height []float64
	flat   []int // region by triangle
	// regions are the flat ones with more than one triangle, then all others.
	regions []flatRegion
	at      []Vec // vertices, moved into their faces
}

// flatRegion is a face in the making.
type flatRegion struct {
	triangles []int
	origin    Vec
	normal    Vec
	area      float64
}

func (w *weaver) check() error {
	if n := len(w.Triangles); n < 4 || n > MaxTriangles {
		return fault("mesh", fmt.Sprintf("has %d triangles, it must have 4 to %d", n, MaxTriangles))
	}
	for i, v := range w.Vertices {
		if !v.finite() || v.Len() > 2*MaxSize {
			return fault("mesh", fmt.Sprintf("vertex %d lies outside ± %s", i+1, mm(MaxSize)))
		}
	}
	for i, t := range w.Triangles {
		for k := range t {
			if t[k] < 0 || t[k] >= len(w.Vertices) || t[k] == t[(k+1)%3] {
				return fault("mesh", fmt.Sprintf("triangle %d does not join three vertices", i+1))
			}
		}
	}
	return nil
}

// from and to are the vertices of a half-edge.
func (w *weaver) from(h int) int { return w.Triangles[h/3][h%3] }
func (w *weaver) to(h int) int   { return w.Triangles[h/3][(h+1)%3] }

// next is the half-edge after h in its triangle.
func next(h int) int { return h - h%3 + (h+1)%3 }

// pair finds each half-edge's twin.
func (w *weaver) pair() error {
	w.twin = make([]int, 3*len(w.Triangles))
	byEnds := make(map[[2]int][]int, len(w.twin)/2)
	for h := range w.twin {
		a, b := w.from(h), w.to(h)
		key := [2]int{min(a, b), max(a, b)}
		byEnds[key] = append(byEnds[key], h)
	}
	for h := range w.twin {
		a, b := w.from(h), w.to(h)
		hs := byEnds[[2]int{min(a, b), max(a, b)}]
		if hs[0] != h {
			continue
		}
		if len(hs) == 2 && w.from(hs[0]) != w.from(hs[1]) {
			w.twin[hs[0]], w.twin[hs[1]] = hs[1], hs[0]
			continue
		}
		if !w.pairRound(hs) {
			return fault("mesh", fmt.Sprintf("is open or turned about at %.4g, %.4g, %.4g mm", w.Vertices[a].X, w.Vertices[a].Y, w.Vertices[a].Z))
		}
	}
	return nil
}

// pairRound pairs the half-edges of a side where bodies touch along it: going
// round it, material begins at a triangle that runs against it and ends at one
// that runs along it.
func (w *weaver) pairRound(hs []int) bool {
	a, b := w.Vertices[w.from(hs[0])], w.Vertices[w.to(hs[0])]
	f := FrameAlong(a, b.Sub(a))
	angle := func(h int) float64 {
		d := w.Vertices[w.to(next(h))].Sub(a)
		return math.Atan2(d.Dot(f.Y), d.Dot(f.X))
	}
	round := append([]int(nil), hs...)
	sort.SliceStable(round, func(i, j int) bool { return angle(round[i]) < angle(round[j]) })
	along := func(h int) bool { return w.from(h) == w.from(hs[0]) }
	pairs := 0
	for i, h := range round {
		// A triangle that runs along has its material before it, going round.
		if o := round[(i+1)%len(round)]; !along(h) && along(o) {
			w.twin[h], w.twin[o] = o, h
			pairs++
		}
	}
	return 2*pairs == len(hs)
}

// measure works out normals, areas and heights.
func (w *weaver) measure() {
	w.at = append([]Vec(nil), w.Vertices...)
	w.cross = make([]Vec, len(w.Triangles))
	w.height = make([]float64, len(w.Triangles))
	for i, t := range w.Triangles {
		a, b, c := w.at[t[0]], w.at[t[1]], w.at[t[2]]
		w.cross[i] = b.Sub(a).Cross(c.Sub(a))
		w.height[i] = w.cross[i].Len() / math.Max(a.Dist(b), math.Max(b.Dist(c), c.Dist(a)))
	}
}

// findFlats gathers triangles that lie in one plane, the largest first, since
// their normals are the surest.
func (w *weaver) findFlats() {
	w.flat = make([]int, len(w.Triangles))
	order := make([]int, len(w.Triangles))
	for i := range order {
		order[i], w.flat[i] = i, -1
	}
	sort.SliceStable(order, func(i, j int) bool { return w.cross[order[i]].Len() > w.cross[order[j]].Len() })
	for _, seed := range order {
		if w.flat[seed] >= 0 {
			continue
		}
		r := flatRegion{origin: w.at[w.Triangles[seed][0]], normal: w.cross[seed].Unit()}
		// Rounding tilts the seed's plane, the more the lower the seed is. What lies
		// within that sets the true plane, and that one is kept to.
		w.grow(&r, seed, math.Min(w.tol/w.height[seed], mostTilt))
		for range 4 {
			before := len(r.triangles)
			w.fit(&r)
			w.grow(&r, seed, 0)
			if len(r.triangles) == before {
				break
			}
		}
		w.fit(&r)
		for _, t := range r.triangles {
			w.flat[t] = len(w.regions)
		}
		w.regions = append(w.regions, r)
	}
}

// grow sets a region's triangles: those that hang together with the seed and lie
// in the plane. Needles narrower than the tolerance lie in every plane through them.
// tilt (radians) is how far the plane may be turned about the seed.
func (w *weaver) grow(r *flatRegion, seed int, tilt float64) {
	fits := func(t int) bool {
		if w.flat[t] >= 0 {
			return false
		}
		for _, v := range w.Triangles[t] {
			d := w.at[v].Sub(r.origin)
			if math.Abs(d.Dot(r.normal)) > w.tol+tilt*d.Len() {
				return false
			}
		}
		return w.height[t] < 4*w.tol || w.cross[t].Dot(r.normal) > 0.9*w.cross[t].Len()
	}
	const taken = -2
	r.triangles = append(r.triangles[:0], seed)
	w.flat[seed] = taken
	for i := 0; i < len(r.triangles); i++ {
		for k := range 3 {
			if t := w.twin[3*r.triangles[i]+k] / 3; w.flat[t] == -1 && fits(t) {
				w.flat[t] = taken
				r.triangles = append(r.triangles, t)
			}
		}
	}
	for _, t := range r.triangles {
		w.flat[t] = -1
	}
}

// fit lays the plane through a region's triangles by their areas.
func (w *weaver) fit(r *flatRegion) {
	var normal, middle Vec
	weight := 0.0
	for _, t := range r.triangles {
		normal = normal.Add(w.cross[t])
		k := w.cross[t].Len()
		for _, v := range w.Triangles[t] {
			middle = middle.along(w.at[v], k/3)
		}
		weight += k
	}
	r.area = weight / 2
	if weight > 0 && normal.Len() > 0 {
		r.origin, r.normal = middle.Mul(1/weight), normal.Unit()
	}
}

// settle moves every vertex into the planes of the flat regions around it. A
// region that this would move too far, or that more planes than three leave no
// room for, falls apart into its triangles: their planes go through any three
// corners.
func (w *weaver) settle() {
	around := make([][]int, len(w.Vertices)) // regions of several triangles, the largest first
	order := make([]int, 0, len(w.regions))
	for i := range w.regions {
		if len(w.regions[i].triangles) > 1 {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(i, j int) bool { return w.regions[order[i]].area > w.regions[order[j]].area })
	for _, i := range order {
		for _, t := range w.regions[i].triangles {
			for _, v := range w.Triangles[t] {
				if n := len(around[v]); n == 0 || around[v][n-1] != i {
					around[v] = append(around[v], i)
				}
			}
		}
	}
	apart := make([]bool, len(w.regions))
	for again := true; again; {
		again = false
		for v := range around {
			p, misfit := w.settled(v, around[v], apart)
			if misfit >= 0 {
				apart[misfit], again = true, true
				continue
			}
			w.at[v] = p
		}
	}
	for i := range apart {
		if !apart[i] {
			continue
		}
		rest := w.regions[i].triangles
		w.regions[i].triangles = rest[:1:1]
		for _, t := range rest[1:] {
			w.flat[t] = len(w.regions)
			w.regions = append(w.regions, flatRegion{triangles: []int{t}})
		}
	}
	w.lay()
}

// settled returns where a vertex comes to lie, or the region that it does not fit.
func (w *weaver) settled(v int, regions []int, apart []bool) (Vec, int) {
	p := w.Vertices[v]
	var held []Vec // directions in which p cannot move any more, at right angles
	for _, i := range regions {
		if apart[i] {
			continue
		}
		r := &w.regions[i]
		free := r.normal
		for _, h := range held {
			free = free.Sub(h.Mul(free.Dot(h)))
		}
		off := p.Sub(r.origin).Dot(r.normal)
		const parallel = 1e-3 // radians: planes closer than this fix no line
		if free.Len() < parallel {
			if math.Abs(off) > Tolerance/2 {
				return p, i
			}
			continue
		}
		p = p.along(free, -off/free.Dot(free))
		held = append(held, free.Unit())
		if p.Dist(w.Vertices[v]) > 8*w.tol {
			return p, i
		}
	}
	return p, -1
}

// lay sets the planes of single triangles, and those of flat regions anew.
func (w *weaver) lay() {
	for i := range w.regions {
		r := &w.regions[i]
		if len(r.triangles) > 1 {
			continue
		}
		t := w.Triangles[r.triangles[0]]
		a, b, c := w.at[t[0]], w.at[t[1]], w.at[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		r.origin, r.normal, r.area = a, n.Unit(), n.Len()/2
	}
}
