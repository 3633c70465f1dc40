package clash

import (
	"math"

	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A Store keeps what several reports share: solids prepared, and what was measured of
// pairs of them. It is not for several goroutines at a time.
type Store struct {
	bodies  map[*solid.Solid]*proximity.Body
	numbers map[*solid.Solid]uint64
	meets   map[position]meeting
	near    map[position]bool
}

// NewStore returns an empty store.
func NewStore() *Store {
	return &Store{
		bodies: map[*solid.Solid]*proximity.Body{}, numbers: map[*solid.Solid]uint64{}, meets: map[position]meeting{},
		near: map[position]bool{},
	}
}

func (s *Store) body(of *solid.Solid) *proximity.Body {
	b := s.bodies[of]
	if b == nil {
		b = proximity.New(of)
		s.bodies[of] = b
		s.numbers[of] = uint64(len(s.numbers)) + 1
	}
	return b
}

// between is the position of two placed bodies.
func between(a, b proximity.Placed) position {
	return position{a.Body, b.Body, round(b.At.Then(a.At.Inverse()))}
}

// meet measures two placed bodies.
func (s *Store) meet(a, b proximity.Placed) meeting {
	key := between(a, b)
	m, known := s.meets[key]
	if !known {
		if m.clear = proximity.Clear(a.Body, a.At, b.Body, b.At, -Contact); !m.clear {
			var at solid.Vec
			m.depth, at = proximity.Depth(a.Body, a.At, b.Body, b.At)
			m.volume, _ = proximity.Overlap(a.Body, a.At, b.Body, b.At)
			m.at, m.clear = a.At.Inverse().Point(at), m.depth <= Contact
		}
		s.meets[key] = m
	}
	return m
}

// touch reports whether two placed bodies come within [Near].
func (s *Store) touch(a, b proximity.Placed) bool {
	key := between(a, b)
	near, known := s.near[key]
	if !known {
		near = !proximity.Clear(a.Body, a.At, b.Body, b.At, Near)
		s.near[key] = near
	}
	return near
}

// A position is two shapes and how the second stands to the first, rounded.
type position struct {
	a, b *proximity.Body
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
