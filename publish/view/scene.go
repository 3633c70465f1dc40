package view

import (
	"math"
	"slices"

	"plansheaf/design/solid"
)

// item is a piece of line that is to be drawn, with constant facing of the faces
// beside it.
type item struct {
	track
	kind  Kind
	body  int
	edge  int // of the solid; -1-face for silhouettes, lower for threads
	faces [2]int
	// facing is +1 where that face looks at the eye, -1 where it looks away, 0
	// where it is seen from its edge.
	facing [2]int
	// contour tells that what is behind may come into sight across the item.
	contour bool
	// apart tells that the item does not lie on its face, which may hide it.
	apart bool
	// into is another body and its face that the item lies in too, where bodies run
	// into each other: 1 more than the body's index, and the face.
	into [2]int
	// drawn tells that the item itself is wanted.
	drawn bool
}

// shape is one body of a view made ready.
type shape struct {
	body  int // 0 before it is taken into a view
	solid *solid.Solid
	view  solid.Placement // the solid's axes to view coordinates
	at    solid.Placement // and to the world
	opt   *Options
	// features are those of the solid before a section cut it.
	features []solid.Feature
	surface  []solid.Surface // in view coordinates, by face
	items    []item
	// sizes are how large the edge of each item is drawn, mm; none where that does
	// not matter.
	sizes   []float64
	patches []patch
	// splits are the places of each curved face's edges on its silhouette.
	splits      map[int][]solid.Vec
	silhouettes map[int][]*track
	world       solid.Box
}

// smoothAngle (radians) is how far the normals of two faces may differ along an
// edge that is none.
const smoothAngle = 1e-4

// prepare works out all items and patches of a body that may be wanted, whatever is
// small or hidden.
func prepare(b Body, dir Direction, opt *Options) *shape {
	s := &shape{solid: b.Solid, at: b.At, view: b.At.Then(dir.placement()), opt: opt, features: b.whole(), splits: map[int][]solid.Vec{}, silhouettes: map[int][]*track{}}
	s.world = b.Solid.Box().Under(b.At)
	s.surface = make([]solid.Surface, len(b.Solid.Faces))
	for i := range b.Solid.Faces {
		s.surface[i] = b.Solid.Faces[i].Surface.Placed(s.view)
	}
	s.items = make([]item, 0, len(b.Solid.Edges))
	s.patches = make([]patch, 0, len(b.Solid.Faces))
	tracks := make([]*track, len(b.Solid.Edges))
	for i := range b.Solid.Edges {
		tracks[i] = s.addEdge(i)
	}
	for i := range b.Solid.Faces {
		s.addSilhouettes(i)
	}
	vertices := make([]solid.Vec, len(b.Solid.Vertices))
	for i, v := range b.Solid.Vertices {
		vertices[i] = s.view.Point(v)
	}
	for i := range b.Solid.Faces {
		s.addPatch(i, tracks, vertices)
	}
	if !opt.NoThreads {
		s.addThreads(tracks)
	}
	if opt.Smallest > 0 {
		s.measure()
	}
	s.dropIdle()
	return s
}

// whole returns the features of a body before a section cut it.
func (b Body) whole() []solid.Feature {
	if b.features != nil {
		return b.features
	}
	return b.Solid.Features()
}

// alone returns a solid that has one face of another.
func alone(s *solid.Solid, face int) *solid.Solid {
	return s.WithFaces(s.Faces[face : face+1])
}

// flatBox is the box of a track as a solid's.
func flatBox(k *track) solid.Box { return solid.Box{Min: k.low, Max: k.high} }

// addEdge makes items of an edge: pieces along which each face beside it looks
// at the eye or away all the way, and each point of the drawing stands for one
// point of the piece. It returns the whole edge.
func (s *shape) addEdge(index int) *track {
	e := &s.solid.Edges[index]
	curve := e.Curve.Placed(s.view)
	whole := newTrack(curve, e.T0, e.T1)
	cuts := []float64{e.T0}
	for i, f := range e.Faces {
		if f < 0 || i == 1 && f == e.Faces[0] {
			continue
		}
		o, q, round := turning(s.surface[f])
		if !round {
			continue
		}
		ts, along := turns(&whole, o, q)
		if along {
			continue
		}
		for _, t := range ts {
			s.splits[f] = append(s.splits[f], whole.at(t))
			cuts = append(cuts, t)
		}
	}
	if whole.form == straight && !whole.linear {
		cuts = append(cuts, within(whole.first, math.Pi, e.T0, e.T1)...)
	}
	cuts = append(cuts, e.T1)
	slices.Sort(cuts)
	smooth := s.smooth(e)
	for i := 0; i+1 < len(cuts); i++ {
		if cuts[i+1]-cuts[i] < 1e-9 {
			continue
		}
		it := item{edge: index, faces: e.Faces}
		it.track = s.piece(e, curve, &whole, cuts[i], cuts[i+1])
		s.face(&it, e, smooth)
		s.addItem(it)
	}
	return &whole
}

// addItem keeps an item that is drawn as more than a point.
func (s *shape) addItem(it item) {
	if it.track.length(it.t0, it.t1) < hair {
		return
	}
	s.items = append(s.items, it)
}

// piece returns the part of an edge between two parameters.
func (s *shape) piece(e *solid.Edge, curve solid.Curve, whole *track, t0, t1 float64) track {
	if e.Faces[0] >= 0 && e.Faces[1] >= 0 {
		if k, ok := liftedEither(curve, t0, t1, [2]solid.Surface{s.surface[e.Faces[0]], s.surface[e.Faces[1]]}); ok {
			return k
		}
	}
	k := *whole
	k.t0, k.t1 = t0, t1
	k.settle()
	return k
}

// liftedEither returns what [lifted] does for either of the two surfaces that a
// curve lies in.
func liftedEither(curve solid.Curve, t0, t1 float64, surfaces [2]solid.Surface) (track, bool) {
	if m, meet := curve.(solid.Meet); meet {
		for i := range surfaces {
			if k, ok := lifted(m, t0, t1, surfaces[i], surfaces[1-i]); ok {
				return k, true
			}
		}
	}
	return track{}, false
}

// lifted returns the piece of a Meet as it is drawn when it lies on a surface on
// that is seen from its edge: on a circle above a cylinder, on a straight line
// above a plane. The other surface gives the height.
func lifted(m solid.Meet, t0, t1 float64, on, other solid.Surface) (track, bool) {
	var k track
	var place func(p solid.Vec) float64
	turn := 0.0
	switch on := on.(type) {
	case solid.Cylinder:
		if math.Abs(on.Z.Z) < 1-1e-12 {
			return k, false
		}
		k = track{c: on.O, a: on.X.Mul(on.R), b: on.Y.Mul(on.R)}
		place = func(p solid.Vec) float64 { u, _ := on.Param(p); return u }
		turn = 2 * math.Pi
	case solid.Plane:
		if math.Abs(on.Z.Z) > 1e-9 {
			return k, false
		}
		a := solid.Vec{X: -on.Z.Y, Y: on.Z.X}.Unit()
		k = track{linear: true, c: on.O, a: a}
		place = func(p solid.Vec) float64 { return p.Sub(on.O).Dot(a) }
	default:
		return k, false
	}
	start := place(m.Point(t0))
	end, last := start, start
	const steps = 16
	for n := 1; n <= steps; n++ {
		u := place(m.Point(t0 + (t1-t0)*float64(n)/steps))
		d := u - last
		if turn > 0 {
			d = math.Remainder(d, turn)
		}
		end += d
		last = u
	}
	if start == end {
		return k, false
	}
	mid := m.Point((t0 + t1) / 2)
	lo, hi, _ := heights(other, mid.X, mid.Y)
	k.t0, k.t1 = math.Min(start, end), math.Max(start, end)
	k.lift = &lift{other, math.Abs(mid.Z-hi) < math.Abs(mid.Z-lo)}
	k.settle()
	return k, true
}

// turns returns the parameters within a track at which (p-o)·q is zero; along
// tells that it is so all along.
func turns(k *track, o, q solid.Vec) (ts []float64, along bool) {
	l := q.Len()
	f := func(t float64) float64 { return k.at(t).Sub(o).Dot(q) / l }
	if math.Abs(f(k.t0)) < hair && math.Abs(f(k.t1)) < hair && math.Abs(f(k.middle)) < hair &&
		math.Abs(f(0.7*k.t0+0.3*k.t1)) < hair {
		return nil, true
	}
	keep := func(t float64) {
		if t > k.t0-1e-9 && t < k.t1+1e-9 {
			ts = append(ts, math.Max(k.t0, math.Min(k.t1, t)))
		}
	}
	switch {
	case k.form == free:
		k.zeros(func(p solid.Vec) float64 { return p.Sub(o).Dot(q) }, keep)
	case k.linear:
		if d := k.a.Dot(q); d != 0 {
			keep(-k.c.Sub(o).Dot(q) / d)
		}
	default:
		roots, n := angles(k.a.Dot(q), k.b.Dot(q), -k.c.Sub(o).Dot(q))
		for _, t := range roots[:n] {
			t = k.near(t)
			keep(t)
			keep(t + 2*math.Pi)
			keep(t - 2*math.Pi)
		}
	}
	// Ends that lie on the silhouette by a hair count as on it.
	for _, t := range [2]float64{k.t0, k.t1} {
		if math.Abs(f(t)) < hair {
			keep(t)
		}
	}
	return ts, false
}

// smooth tells whether the faces of an edge run on into each other.
func (s *shape) smooth(e *solid.Edge) bool {
	if e.Faces[0] < 0 || e.Faces[1] < 0 {
		return false
	}
	if s.solid.Smooth(e) {
		return true
	}
	a, b := &s.solid.Faces[e.Faces[0]], &s.solid.Faces[e.Faces[1]]
	for _, k := range [3]float64{0.5, 0.21, 0.83} {
		p := e.Point(k)
		if a.Normal(p).Sub(b.Normal(p)).Len() > smoothAngle {
			return false
		}
	}
	return true
}

// face sets how the faces beside an item look, and what follows for drawing it.
func (s *shape) face(it *item, e *solid.Edge, smooth bool) {
	p := it.at(it.middle)
	for i, f := range e.Faces {
		if f < 0 {
			continue
		}
		inward := s.solid.Faces[f].Inward
		k := looks(s.surface[f], inward, p)
		if _, plane := s.surface[f].(solid.Plane); !plane && math.Abs(k) < 1e-4 {
			if _, _, round := turning(s.surface[f]); round && math.Abs(k) < s.grazing(f, p) {
				k = s.beside(e, i, p)
			}
		}
		switch {
		case k > edgeOn:
			it.facing[i] = 1
		case k < -edgeOn:
			it.facing[i] = -1
		}
	}
	it.contour = (it.facing[0] > 0) != (it.facing[1] > 0)
	it.kind, it.drawn = Edge, true
	for _, f := range e.Faces {
		if f >= 0 && s.solid.Faces[f].Name == stepFace {
			it.drawn = false
			return
		}
	}
	if smooth {
		if it.facing[0] != it.facing[1] {
			it.kind = Silhouette
		} else {
			it.kind, it.drawn = Smooth, s.opt.Smooth
		}
	}
}

// grazing returns the cosine below which a point of a round face counts as on
// its silhouette: a hair off it.
func (s *shape) grazing(face int, p solid.Vec) float64 {
	r := 1.0
	switch c := s.surface[face].(type) {
	case solid.Cylinder:
		r = c.R
	case solid.Cone:
		r = math.Max(hair, c.Slope*p.Sub(c.O).Dot(c.Z))
	}
	return 2 * hair / math.Max(r, hair)
}

// beside tells how a round face looks beside an edge that runs along its
// silhouette: the face bends away from it to one side only.
func (s *shape) beside(e *solid.Edge, side int, p solid.Vec) float64 {
	f := e.Faces[side]
	n := s.surface[f].Normal(p)
	outward := n
	if s.solid.Faces[f].Inward {
		outward = n.Mul(-1)
	}
	along := s.view.Direction(e.Curve.Tangent((e.T0 + e.T1) / 2)).Unit()
	if side == 1 {
		along = along.Mul(-1)
	}
	into := outward.Cross(along) // the face lies on the left of its loop
	k := into.Z
	if s.solid.Faces[f].Inward {
		return -k
	}
	return k
}

// addPatch makes a patch of a face that looks at the eye somewhere.
func (s *shape) addPatch(index int, tracks []*track, vertices []solid.Vec) {
	f := &s.solid.Faces[index]
	p := patch{face: index, surface: s.surface[index], inward: f.Inward}
	if plane, ok := p.surface.(solid.Plane); ok {
		if looks(plane, f.Inward, plane.O) <= edgeOn {
			return
		}
		p.plane = true
	} else if c, ok := p.surface.(solid.Cylinder); ok && math.Abs(c.Z.Z) > 1-edgeOn*edgeOn {
		return
	}
	box := solid.EmptyBox()
	for _, l := range f.Loops {
		for _, u := range l {
			k := tracks[u.Edge]
			box = box.Join(flatBox(k))
			p.outline = append(p.outline, k)
			if p.plane {
				e := &s.solid.Edges[u.Edge]
				p.addRims(k, vertices[e.Start], vertices[e.End])
			}
		}
	}
	if !p.plane {
		// Round faces consist of straight lines between their edges, or from
		// them to a cone's tip.
		if c, ok := f.Surface.(solid.Cone); ok && f.Box().Grow(hair).Holds(c.O) {
			box = box.Add(s.view.Point(c.O))
		}
		p.outline = append(p.outline, s.silhouettes[index]...)
		p.alone, p.back = alone(s.solid, index), s.view.Inverse()
		p.down = p.back.Direction(solid.Vec{Z: -1})
	}
	p.low, p.high = box.Min, box.Max
	p.world = f.Box().Under(s.at)
	s.patches = append(s.patches, p)
}

// measure finds how large the edges of the items are drawn.
func (s *shape) measure() {
	s.sizes = make([]float64, len(s.items))
	for i := 0; i < len(s.items); {
		j := i
		box := solid.EmptyBox()
		for ; j < len(s.items) && s.items[j].edge == s.items[i].edge; j++ {
			it := &s.items[j]
			for k := range 5 {
				p := it.at(it.t0 + (it.t1-it.t0)*float64(k)/4)
				p.Z = 0
				box = box.Add(p)
			}
		}
		size := box.Size()
		for ; i < j; i++ {
			s.sizes[i] = math.Hypot(size.X, size.Y)
		}
	}
}

// dropIdle leaves out items that are neither drawn nor hide where others begin to
// be seen: most edges of a body in facets.
func (s *shape) dropIdle() {
	n := 0
	for i := range s.items {
		if it := &s.items[i]; !it.contour && !it.drawn {
			continue
		}
		s.items[n] = s.items[i]
		if s.sizes != nil {
			s.sizes[n] = s.sizes[i]
		}
		n++
	}
	s.items = s.items[:n]
}

// as is the shape as a body of a view, with the items that its options want: edges
// that are drawn too small are there only for what they hide, and where only what is
// seen is wanted, edges between two faces that look away are not.
func (s *shape) as(index int, opt *Options) *shape {
	one := *s
	one.body, one.opt = index, opt
	one.items = make([]item, 0, len(s.items))
	for i := range s.items {
		it := &s.items[i]
		drawn := it.drawn && (opt.Smallest <= 0 || s.sizes[i] >= opt.Smallest)
		away := it.facing[0] < 0 && it.facing[1] < 0 && it.into[0] == 0
		if it.contour || drawn && !(opt.VisibleOnly && away) {
			one.items = append(one.items, *it)
			last := &one.items[len(one.items)-1]
			last.body, last.drawn = index, drawn
		}
	}
	return &one
}
