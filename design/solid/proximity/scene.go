package proximity

import (
	"math"
	"slices"
	"sort"
	"sync"

	"plansheaf/design/solid"
)

// Scene is a set of placed bodies that can be asked again and again what is near,
// while bodies come and go, as when an assembly is put together or taken apart. A
// zero Scene is empty and ready for use.
//
// A body added is known by its number: 0, 1, 2, in the order of adding; numbers are
// never given anew. Questions take a function that tells which bodies do not count:
// the one asked about, where it is in the scene itself, and those it may run into.
// They may be asked in many goroutines, so long as none alters the scene.
type Scene struct {
	bodies []Placed
	boxes  []solid.Box // in the world, empty when removed
	inTree []bool
	count  int // bodies there are

	lock    sync.Mutex // over what follows, which questions bring up to date
	nodes   []node
	order   []int32
	pending []int // not in the tree yet
	gone    int   // in the tree, but removed or moved
}

// Add adds a body and returns its number.
func (s *Scene) Add(p Placed) int {
	n := len(s.bodies)
	s.bodies, s.boxes, s.inTree = append(s.bodies, p), append(s.boxes, p.Body.boxUnder(p.At)), append(s.inTree, false)
	s.pending = append(s.pending, n)
	s.count++
	return n
}

// Has tells whether the body of that number is in the scene.
func (s *Scene) Has(n int) bool { return n >= 0 && n < len(s.bodies) && s.bodies[n].Body != nil }

// Count returns how many bodies there are.
func (s *Scene) Count() int { return s.count }

// At returns the body of that number and its place.
func (s *Scene) At(n int) (Placed, bool) {
	if !s.Has(n) {
		return Placed{}, false
	}
	return s.bodies[n], true
}

// Remove takes a body out; one that is not there changes nothing.
func (s *Scene) Remove(n int) {
	if !s.Has(n) {
		return
	}
	s.loosen(n)
	s.bodies[n], s.boxes[n] = Placed{}, solid.EmptyBox()
	s.count--
}

// Place gives a body another place; one that is not there changes nothing.
func (s *Scene) Place(n int, at solid.Placement) {
	if !s.Has(n) {
		return
	}
	s.loosen(n)
	s.bodies[n].At = at
	s.boxes[n] = s.bodies[n].Body.boxUnder(at)
	s.pending = append(s.pending, n)
}

// loosen takes a body out of the tree or from those that wait.
func (s *Scene) loosen(n int) {
	if s.inTree[n] {
		s.inTree[n] = false
		s.gone++
		return
	}
	s.pending = slices.DeleteFunc(s.pending, func(k int) bool { return k == n })
}

// settle makes the tree anew once too much has changed.
func (s *Scene) settle() {
	s.lock.Lock()
	defer s.lock.Unlock()
	if len(s.pending) <= 16+s.count/16 && s.gone <= s.count/2 {
		return
	}
	s.pending, s.gone, s.order = s.pending[:0], 0, s.order[:0]
	split := splitter{middle: make([][3]float64, len(s.bodies))}
	for i, b := range s.boxes {
		s.inTree[i] = false
		if s.Has(i) && !b.Empty() {
			c := b.Centre()
			split.middle[i] = [3]float64{c.X, c.Y, c.Z}
			s.order = append(s.order, int32(i))
			s.inTree[i] = true
		}
	}
	split.order = s.order
	s.nodes = split.nodesOver(len(s.order))
	for i := len(s.nodes) - 1; i >= 0; i-- { // children come after their parents
		n := &s.nodes[i]
		box := solid.EmptyBox()
		if n.other != 0 {
			box = s.nodes[i+1].box().Join(s.nodes[n.other].box())
		} else {
			for _, k := range s.order[n.first : n.first+n.count] {
				box = box.Join(s.boxes[k])
			}
		}
		n.centre, n.half = box.Centre(), box.Size().Mul(0.5)
	}
}

func (n *node) box() solid.Box {
	return solid.Box{Min: n.centre.Sub(n.half), Max: n.centre.Add(n.half)}
}

// Near returns the numbers, in growing order, of the bodies whose boxes in the world
// meet a box.
func (s *Scene) Near(box solid.Box) []int {
	s.settle()
	var out []int
	for i := 0; i < len(s.nodes); {
		n := &s.nodes[i]
		if !n.box().Grow(hair).Meets(box) {
			i = after(s.nodes, i)
			continue
		}
		if n.other == 0 {
			for _, k := range s.order[n.first : n.first+n.count] {
				if s.inTree[k] && s.boxes[k].Meets(box) {
					out = append(out, int(k))
				}
			}
		}
		i++
	}
	for _, k := range s.pending {
		if s.boxes[k].Meets(box) {
			out = append(out, k)
		}
	}
	sort.Ints(out)
	return out
}

// Pairs returns the pairs of bodies, the lower number first, whose boxes come within
// the given distance (mm) of each other, or near that: all others are further apart.
func (s *Scene) Pairs(within float64) [][2]int {
	var out [][2]int
	for i, b := range s.boxes {
		if !s.Has(i) || b.Empty() {
			continue
		}
		for _, k := range s.Near(b.Grow(within)) {
			if k > i {
				out = append(out, [2]int{i, k})
			}
		}
	}
	return out
}

// Unclear returns the numbers, in growing order, of the bodies that a placed one does
// not keep clear of, as [Clear] has it with within, mm. Those for which except holds do
// not count; a nil except holds for none.
func (s *Scene) Unclear(p Placed, within float64, except func(n int) bool) []int {
	var out []int
	s.meet(p, within, except, func(n int) bool {
		out = append(out, n)
		return true
	})
	return out
}

// Clear tells whether a placed body keeps clear of all bodies, as for [Scene.Unclear],
// or the number of one that it does not; the lowest of these.
func (s *Scene) Clear(p Placed, within float64, except func(n int) bool) (clear bool, n int) {
	clear = true
	s.meet(p, within, except, func(k int) bool {
		clear, n = false, k
		return false
	})
	return clear, n
}

// meet calls found for bodies that the placed one does not keep clear of, as long as
// it answers true.
func (s *Scene) meet(p Placed, within float64, except func(n int) bool, found func(n int) bool) {
	box := p.Body.boxUnder(p.At)
	if box.Empty() {
		return
	}
	for _, k := range s.Near(box.Grow(max(within, 0) + hair)) {
		if except != nil && except(k) {
			continue
		}
		if o := s.bodies[k]; !Clear(p.Body, p.At, o.Body, o.At, within) && !found(k) {
			return
		}
	}
}

// Sweep moves a body along a way, as [Sweep] does, and returns where it first runs
// into one of the bodies, and into which; of several at one share of the way the
// lowest. Those for which except holds do not count.
func (s *Scene) Sweep(p Placed, way []Motion, depth float64, except func(n int) bool) (h Hit, n int, found bool) {
	if len(p.Body.nodes) == 0 {
		return Hit{}, 0, false
	}
	near := map[int]*sweep{}
	from := p.At
	for i := range max(1, len(way)) {
		m, share := Motion{}, 0.0
		if i < len(way) {
			m, share = way[i], 1
		}
		for _, k := range s.Near(p.Body.boxAlong(m, from)) {
			if except != nil && except(k) {
				continue
			}
			w := near[k]
			if w == nil {
				w, _ = newSweep(p.Body, s.bodies[k].Body, s.bodies[k].At, depth)
				near[k] = w
			}
			if i == 0 {
				if at, in := w.nested(from); in {
					return Hit{At: at}, k, true
				}
			}
			if share == 0 {
				continue
			}
			if t, at, state := w.along(m, from, share); state != free {
				h, n, found = Hit{Motion: i, T: t, At: at, Unsure: state == unsure}, k, true
				share = t
			}
		}
		if found {
			return h, n, true
		}
		from = m.Place(from, 1)
	}
	return Hit{}, 0, false
}

// boxAlong returns a box around all places of the body along a stretch.
func (b *Body) boxAlong(m Motion, from solid.Placement) solid.Box {
	box := b.boxUnder(from).Join(b.boxUnder(m.Place(from, 1)))
	if !m.turns() {
		return box
	}
	// Between two places on its way a corner leaves the straight line between them by
	// no more than the rise of its arc.
	const most = math.Pi / 24
	steps := int(min(1000, math.Ceil(math.Abs(m.Angle)/most)))
	own, back, about := b.nodes[0].box(), from.Inverse(), m.About.Unit()
	o, axis := back.Point(m.At), back.Direction(about)
	far := 0.0
	for _, c := range own.Corners() {
		far = max(far, c.Sub(o).Cross(axis).Len())
	}
	for k := 1; k < steps; k++ {
		box = box.Join(b.boxUnder(m.Place(from, float64(k)/float64(steps))))
	}
	half := min(math.Abs(m.Angle)/float64(steps)/2, math.Pi)
	return box.Grow(far * (1 - math.Cos(half)))
}
