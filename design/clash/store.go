package clash

import (
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A Store keeps what several reports share: solids prepared, and what was measured of
// pairs of them. It is not for several goroutines at a time.
type Store struct {
	// Kept keeps what is worked out from one run to the next; nil for none.
	Kept   *memo.Store
	bodies *proximity.Bodies
	meets  map[position]meeting
	near   map[position]bool
	shapes map[string]*solid.Solid // of belts, by what tells their shape
	spun   map[spinKey]*proximity.Body
	ways   map[wayKey]*followed
	boxes  map[shape]solid.Box // of what stands askew
}

// NewStore returns an empty store that takes solids prepared from bodies; nil for some of
// its own.
func NewStore(bodies *proximity.Bodies) *Store {
	if bodies == nil {
		bodies = &proximity.Bodies{}
	}
	return &Store{
		bodies: bodies, meets: map[position]meeting{},
		near: map[position]bool{}, shapes: map[string]*solid.Solid{}, spun: map[spinKey]*proximity.Body{}, ways: map[wayKey]*followed{}, boxes: map[shape]solid.Box{},
	}
}

func (s *Store) body(of *solid.Solid) *proximity.Body { return s.bodies.Of(of) }

// band is a belt's body, built once for all that lie alike in their layouts, and where it
// stands; nil where it has none.
func (s *Store) band(b *layout.Belt) (*solid.Solid, solid.Placement) {
	key := fmt.Sprintf("%v %.6f %.6f %.6f", b.Line, b.Width, b.Inside, b.Back)
	if known := s.shapes[key]; known != nil {
		_, at, _ := b.Band()
		return known, at
	}
	one, at := b.Body()
	if one != nil {
		s.shapes[key] = one
	}
	return one, at
}

// between is the position of two placed solids.
func between(a, b *Body) position {
	return position{a.Solid, b.Solid, round(b.At.Then(a.At.Inverse()))}
}

// meet measures two bodies.
func (s *Store) meet(a, b *Body) meeting {
	if shared(a.box, b.box) <= Contact {
		return meeting{Clear: true}
	}
	key := between(a, b)
	m, known := s.meets[key]
	if !known {
		m = s.measure(a, b)
		s.meets[key] = m
	}
	return m
}

// meetAll measures pairs of bodies, as many at a time as there are processors, so that
// asking for them costs nothing later: of alike positions the first.
func (s *Store) meetAll(pairs [][2]*Body) {
	var keys []position
	var first [][2]*Body
	seen := map[position]bool{}
	for _, p := range pairs {
		if shared(p[0].box, p[1].box) <= Contact {
			continue
		}
		key := between(p[0], p[1])
		if _, known := s.meets[key]; !known && !seen[key] {
			seen[key] = true
			keys, first = append(keys, key), append(first, p)
		}
	}
	found := make([]meeting, len(first))
	var done sync.WaitGroup
	var next atomic.Int64
	for range runtime.GOMAXPROCS(0) {
		done.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(first); i = int(next.Add(1)) - 1 {
				found[i] = s.measure(first[i][0], first[i][1])
			}
		})
	}
	done.Wait()
	for i, key := range keys {
		s.meets[key] = found[i]
	}
}

// measure measures two bodies whose boxes meet. It may run in many goroutines.
func (s *Store) measure(a, b *Body) meeting {
	return memo.Sure(s.Kept, "two bodies that meet", func() (m meeting) {
		pa, pb := s.body(a.Solid), s.body(b.Solid)
		if m.Clear = proximity.Clear(pa, a.At, pb, b.At, -Contact); !m.Clear {
			var at solid.Vec
			m.Depth, at = proximity.Depth(pa, a.At, pb, b.At)
			m.Volume, _ = proximity.Overlap(pa, a.At, pb, b.At)
			m.At, m.Clear = a.At.Inverse().Point(at), m.Depth <= Contact
		}
		return m
	}, a.Solid, a.At, b.Solid, b.At)
}

// touch reports whether two bodies come within [Near].
func (s *Store) touch(a, b *Body) bool {
	key := between(a, b)
	near, known := s.near[key]
	if !known {
		near = memo.Sure(s.Kept, "two bodies that touch", func() bool {
			return !proximity.Clear(s.body(a.Solid), a.At, s.body(b.Solid), b.At, Near)
		}, a.Solid, a.At, b.Solid, b.At)
		s.near[key] = near
	}
	return near
}

// An offness is how far two things are apart, mm, and between which places.
type offness struct {
	Gap float64
	At  [2]solid.Vec
}

// off is how far two bodies are apart.
func (s *Store) off(a, b *Body) offness {
	return memo.Sure(s.Kept, "how far two bodies are apart", func() (o offness) {
		o.Gap, o.At = proximity.Distance(s.body(a.Solid), a.At, s.body(b.Solid), b.At)
		return o
	}, a.Solid, a.At, b.Solid, b.At)
}

// line is how far a straight line is apart from a body, up to a limit.
func (s *Store) line(from, to solid.Vec, b *Body, limit float64) offness {
	return memo.Sure(s.Kept, "how far a line and a body are apart", func() (o offness) {
		o.Gap, o.At = proximity.Line(from, to, s.body(b.Solid), b.At, limit)
		return o
	}, from, to, b.Solid, b.At, limit)
}

// A shape is a solid where it stands, as results are kept for it.
type shape struct {
	Of *solid.Solid
	At solid.Placement
}

// A position is two shapes and how the second stands to the first, rounded.
type position struct {
	a, b *solid.Solid
	at   rounded
}

// A meeting is what is known of two bodies in a position.
type meeting struct {
	Clear  bool    // they overlap by no more than contact
	Depth  float64 // else how deep, mm
	Volume float64
	At     solid.Vec // in the first one's axes
}

// rounded is a placement so that equal ones compare equal.
type rounded [4][3]int64

// alike (1/mm) is to what places are rounded to compare equal: nanometres add up to
// less than what is measured anywhere.
const alike = 1e6

func round(p solid.Placement) (out rounded) {
	for i, v := range [4]solid.Vec{p.Turn[0], p.Turn[1], p.Turn[2], p.Move} {
		for k, x := range [3]float64{v.X, v.Y, v.Z} {
			out[i][k] = int64(math.Round(x * alike))
		}
	}
	return out
}
