package clash

import (
	"math"

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
}

// NewStore returns an empty store that takes solids prepared from bodies; nil for some of
// its own.
func NewStore(bodies *proximity.Bodies) *Store {
	if bodies == nil {
		bodies = &proximity.Bodies{}
	}
	return &Store{
		bodies: bodies, meets: map[position]meeting{},
		near: map[position]bool{}, shapes: map[string]*solid.Solid{}, spun: map[spinKey]*proximity.Body{}, ways: map[wayKey]*followed{},
	}
}

func (s *Store) body(of *solid.Solid) *proximity.Body { return s.bodies.Of(of) }

// same is one solid of those that layouts build each anew, by what tells their shape;
// nil stays nil.
func (s *Store) same(key string, one *solid.Solid) *solid.Solid {
	if one == nil {
		return nil
	}
	if known := s.shapes[key]; known != nil {
		return known
	}
	s.shapes[key] = one
	return one
}

// between is the position of two placed solids.
func between(a, b *Body) position {
	return position{a.Solid, b.Solid, round(b.At.Then(a.At.Inverse()))}
}

// meet measures two bodies.
func (s *Store) meet(a, b *Body) meeting {
	if shared(a.box, b.box) <= Contact {
		return meeting{clear: true}
	}
	key := between(a, b)
	m, known := s.meets[key]
	if !known {
		pa, pb := s.body(a.Solid), s.body(b.Solid)
		if m.clear = proximity.Clear(pa, a.At, pb, b.At, -Contact); !m.clear {
			var at solid.Vec
			m.depth, at = proximity.Depth(pa, a.At, pb, b.At)
			m.volume, _ = proximity.Overlap(pa, a.At, pb, b.At)
			m.at, m.clear = a.At.Inverse().Point(at), m.depth <= Contact
		}
		s.meets[key] = m
	}
	return m
}

// touch reports whether two bodies come within [Near].
func (s *Store) touch(a, b *Body) bool {
	key := between(a, b)
	near, known := s.near[key]
	if !known {
		near = !proximity.Clear(s.body(a.Solid), a.At, s.body(b.Solid), b.At, Near)
		s.near[key] = near
	}
	return near
}

// A position is two shapes and how the second stands to the first, rounded.
type position struct {
	a, b *solid.Solid
	at   rounded
}

// A meeting is what is known of two bodies in a position.
type meeting struct {
	clear  bool    // they overlap by no more than contact
	depth  float64 // else how deep, mm
	volume float64
	at     solid.Vec // in the first one's axes
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
