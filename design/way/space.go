package way

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
	"plansheaf/design/standards"
)

// Allowance (mm) is how deep one piece may run into another on its way and still
// count as sliding along it: less than parts give way to each other by hand, and no
// more than what fits and drawn rounds need.
const Allowance = 0.2

// mostWork bounds the work of the sweeps of one space, counted in edges of the two
// solids: an assembly of 180 pieces takes 1e5. After that nothing more is found to
// be free.
const mostWork = 4_000_000

// A Memory keeps what was found about pairs of shapes, for several spaces: the same
// pair in the same position is worked out once. It is not for several goroutines at
// a time.
type Memory struct {
	// Kept keeps what is worked out from one run to the next; nil for none.
	Kept   *memo.Store
	bodies proximity.Bodies
	cores  map[form]*solid.Solid
	known  map[pair]stretch
	boxes  map[stood]solid.Box
	first  map[fastener]*solid.Solid
}

// A fastener is one of the plan's by what tells its shape: layouts build each their
// own of it.
type fastener struct {
	part string
	box  solid.Box
}

// NewMemory returns an empty memory.
func NewMemory() *Memory {
	return &Memory{cores: map[form]*solid.Solid{}, known: map[pair]stretch{}, boxes: map[stood]solid.Box{}, first: map[fastener]*solid.Solid{}}
}

// Forget lets go of the shapes in the form that sweeps need, most of the memory; what
// was found stays. They are made again where something new is asked.
func (m *Memory) Forget() {
	m.bodies.Clear()
	clear(m.cores)
	clear(m.boxes)
}

// shape is a piece's solid; of equal fasteners the first that was met.
func (m *Memory) shape(p layout.Piece) *solid.Solid {
	if p.Part.Fastener == nil {
		return p.Solid
	}
	key := fastener{p.Part.Part.ID.Text, p.Solid.Box()}
	one := m.first[key]
	if one == nil {
		one = p.Solid
		m.first[key] = one
	}
	return one
}

// A Space holds pieces where they stand and answers how far one of them moves
// straight out before it runs into another.
type Space struct {
	*Memory
	pieces []layout.Piece
	sights map[solid.Vec]*sight
	last   *sight
	work   int
}

// A sight is the pieces as they are seen along a way: their exact boxes, as far as known.
type sight struct {
	way   solid.Vec
	into  solid.Placement // axes whose z runs along the way
	boxes []solid.Box
	known []bool
}

// A form is what a sweep takes of a shape: all of it, or all but a screw's thread.
type form struct {
	whole  *solid.Solid
	thread thread
}

// A thread is left out of a body that hangs from its origin along z: what lies beyond a
// diameter between two depths below it, mm. Nothing is left out where the diameter is 0.
type thread struct{ root, top, bottom float64 }

// A pair is two shapes, how the second stands to the first, and the way of the
// first, in its own axes; rounded.
type pair struct {
	a, b form
	turn [3]solid.Vec
	move solid.Vec
	way  solid.Vec
}

// A stretch is how far a way was found to be free, and how far it was looked at: no
// less, and more where nothing was met.
type stretch struct{ free, seen float64 }

// A stood is a shape at a place, seen along a way.
type stood struct {
	of  *solid.Solid
	at  solid.Placement
	way solid.Vec
}

// NewSpace returns the space of some pieces, which are named by their indices.
func NewSpace(pieces []layout.Piece, memory *Memory) *Space {
	return &Space{Memory: memory, pieces: pieces, sights: map[solid.Vec]*sight{}}
}

// Bounded tells that there was too much to work out: what came after is not free.
func (s *Space) Bounded() bool { return s.work > mostWork }

// Box is a piece's box in axes whose z runs along a way.
func (s *Space) Box(piece int, way solid.Vec) solid.Box {
	seen := s.seenAlong(way)
	if !seen.known[piece] {
		p := s.pieces[piece]
		seen.known[piece], seen.boxes[piece] = true, s.boxOf(stood{p.Solid, p.At, way})
	}
	return seen.boxes[piece]
}

// seenAlong is what is known of the pieces along a way.
func (s *Space) seenAlong(way solid.Vec) *sight {
	if s.last == nil || s.last.way != way {
		seen := s.sights[way]
		if seen == nil {
			seen = &sight{way: way, into: along(way).Inverse(), boxes: make([]solid.Box, len(s.pieces)), known: make([]bool, len(s.pieces))}
			s.sights[way] = seen
		}
		s.last = seen
	}
	return s.last
}

func (m *Memory) boxOf(of stood) solid.Box {
	b, known := m.boxes[of]
	if !known {
		exact := func() solid.Box { return of.of.BoxUnder(of.at.Then(along(of.way).Inverse())) }
		if len(of.of.Edges) < simple {
			b = exact()
		} else {
			b = memo.Sure(m.Kept, "the exact box of a body", exact, of.of, of.at, of.way)
		}
		m.boxes[of] = b
	}
	return b
}

// simple is how many edges a body has whose box is found sooner than what is kept of it.
const simple = 10

// roughly (mm) is by how much a box is taken larger than rounding could make it.
const roughly = 1e-6

// around is a box around a piece's box along a way, found at little cost.
func (s *Space) around(piece int, way solid.Vec) solid.Box {
	p := s.pieces[piece]
	return p.Solid.Box().Under(p.At.Then(s.seenAlong(way).into)).Grow(roughly)
}

// along is the frame whose z axis runs along a way.
func along(way solid.Vec) solid.Placement {
	f := solid.FrameAlong(solid.Vec{}, way)
	return solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}}
}

// Free is how far, in mm, piece a moves along a way (a unit vector) before it runs
// into b by more than [Allowance]; infinite when it never does. Of a screw and what
// it is screwed into, threaded, the thread is left out: it moves along itself. Where
// two are drawn into each other otherwise, a's share of that is left out: that they
// overlap is no matter of the way. What lies farther than reach is not looked at, and
// counts as never met.
func (s *Space) Free(a, b int, way solid.Vec, threaded bool, reach float64) float64 {
	mine, other := s.Box(a, way), s.Box(b, way)
	if other.Max.Z < mine.Min.Z+Allowance || apart(mine, other) {
		return math.Inf(1)
	}
	if other.Min.Z-mine.Max.Z > reach {
		return math.Inf(1)
	}
	length := math.Min(other.Max.Z-mine.Min.Z, reach) // behind that, all of it is past
	return s.sweep(s.form(a, threaded), s.form(b, threaded), a, b, way, length)
}

// apart tells whether two boxes are clear of each other across z.
func apart(a, b solid.Box) bool {
	return math.Min(a.Max.X, b.Max.X)-math.Max(a.Min.X, b.Min.X) < Allowance/10 ||
		math.Min(a.Max.Y, b.Max.Y)-math.Max(a.Min.Y, b.Min.Y) < Allowance/10
}

// sweep is how far a body at piece a's place moves before it meets one at b's.
func (s *Space) sweep(mine, other form, a, b int, way solid.Vec, length float64) float64 {
	from, at := s.pieces[a].At, s.pieces[b].At
	back := from.Inverse()
	rel := at.Then(back)
	key := pair{mine, other, [3]solid.Vec{coarse(rel.Turn[0]), coarse(rel.Turn[1]), coarse(rel.Turn[2])}, coarse(rel.Move), coarse(back.Direction(way))}
	if last, known := s.known[key]; known && (last.free < last.seen || last.seen >= length) {
		if last.free > length {
			return math.Inf(1)
		}
		return last.free
	}
	if s.Bounded() {
		return 0
	}
	one := memo.Sure(s.Kept, "how far a body moves past another", func() swept {
		return s.slide(s.solid(mine), s.solid(other), from, at, way, length)
	}, mine.whole, mine.thread, from, other.whole, other.thread, at, way, length)
	s.work += one.Work
	s.known[key] = stretch{one.Free, length}
	return one.Free
}

// A swept is what a sweep gave, and what it cost.
type swept struct {
	Free float64
	Work int
}

func (m *Memory) slide(mine, other *solid.Solid, from, at solid.Placement, way solid.Vec, length float64) swept {
	one := swept{Work: len(mine.Edges) + len(other.Edges)}
	// It is the same which of the two moves; the simpler one is made smaller at less
	// cost.
	if len(mine.Edges) > len(other.Edges) {
		one.Free = proximity.Slide(m.bodies.Of(other), at, way.Mul(-1), length, m.bodies.Of(mine), from, Allowance)
	} else {
		one.Free = proximity.Slide(m.bodies.Of(mine), from, way, length, m.bodies.Of(other), at, Allowance)
	}
	if one.Free == 0 {
		one.Work += cutting * (len(mine.Edges) + len(other.Edges))
		back := from.Inverse()
		one.Free = m.freed(mine, other, at.Then(back), back.Direction(way), length)
	}
	return one
}

// freed is how far a body moves past another that it stands in, in its own axes:
// what they share from the start is taken from it.
func (m *Memory) freed(mine, other *solid.Solid, rel solid.Placement, way solid.Vec, length float64) float64 {
	rest, err := solid.Subtract(mine, other.Placed(rel))
	if err != nil || len(rest.Faces) == 0 {
		return 0 // one within the other altogether
	}
	return proximity.Slide(proximity.New(rest), solid.Stay, way, length, m.bodies.Of(other), rel, Allowance)
}

// cutting is what it costs to cut two bodies with each other against a sweep.
const cutting = 10

// coarse rounds so that equal positions compare equal.
func coarse(v solid.Vec) solid.Vec {
	const digits = 1e6
	r := func(x float64) float64 { return math.Round(x*digits)/digits + 0 } // no negative zero
	return solid.Vec{X: r(v.X), Y: r(v.Y), Z: r(v.Z)}
}

// Bodies are the solids that were prepared for questions, for whoever asks others
// about them.
func (m *Memory) Bodies() *proximity.Bodies { return &m.bodies }

// form is a piece as a sweep takes it: of a screw in its thread, down to the root where it
// has one in the tables.
func (s *Space) form(piece int, threaded bool) form {
	p := s.pieces[piece]
	is := form{whole: s.shape(p)}
	if f := p.Part.Fastener; threaded && f != nil && f.Thread.Root > 0 && f.Length > 0 {
		is.thread = thread{root: f.Thread.Root, bottom: f.Length}
		if f.Head.Form == standards.Countersunk {
			is.thread.top = f.Head.Height // it lies below the plane that the length counts from
		}
	}
	return is
}

// solid is a form's body.
func (m *Memory) solid(of form) *solid.Solid {
	if of.thread == (thread{}) {
		return of.whole
	}
	body, known := m.cores[of]
	if !known {
		body = stripped(of.whole, of.thread)
		m.cores[of] = body
	}
	return body
}

// stripped takes a thread from a body.
func stripped(body *solid.Solid, t thread) *solid.Solid {
	size := body.Box().Size()
	wide := 2 * math.Max(size.X, size.Y)
	pipe, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Pipe{D: wide, Bore: t.root, L: t.bottom - t.top}, Along: solid.AxisZ}}})
	if err != nil {
		return body
	}
	core, err := solid.Subtract(body, pipe.Placed(solid.Moved(solid.Vec{X: -wide / 2, Y: -wide / 2, Z: -t.bottom})))
	if err != nil || len(core.Faces) == 0 {
		return body
	}
	return core
}
