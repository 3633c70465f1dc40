package sequence

import (
	"crypto/sha256"
	"encoding/binary"
	"math"

	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
	"plansheaf/design/way"
)

// A Store keeps what several cases of a plan share: what
// is known of shapes and of pairs of them, and what was found on benches that are alike. It is
// not for several goroutines at a time.
type Store struct {
	// Kept keeps what is worked out from one run to the next; nil for none.
	Kept    *memo.Store
	ways    *way.Memory
	balls   bool // keys with ball ends are at hand
	looks   int  // bodies and triangles looked at so far
	numbers map[any]uint64
	notes   []byte                // what is signed, made once
	ready   map[*solid.Solid]bool // those that were prepared
	benches map[[sha256.Size]byte]*worked
	turning map[*standards.Fastener][]wrench // what turns each
}

const (
	// mostBodies bounds the bodies of an assembly that is gone through, mostLooks the
	// bodies and triangles that are looked at for all cases of a plan: a machine of 500
	// parts and 2500 screws takes 6e6.
	mostBodies = 8000
	mostLooks  = 600_000_000
)

// worked is what was found on a bench, in terms of the graph that it belonged to.
type worked struct {
	g     *Graph
	turns []jointsDone // by place in the order, parts' obstructions included
	last  []Obstruction
	moved bool // it follows from where the motions take the bodies, too: see [bench.moving]
}

// NewStore returns an empty store that shares what is known of pairs of shapes with
// ways; nil for a memory of its own.
func NewStore(ways *way.Memory) *Store {
	if ways == nil {
		ways = way.NewMemory()
	}
	return &Store{ways: ways, numbers: map[any]uint64{}, ready: map[*solid.Solid]bool{}, benches: map[[sha256.Size]byte]*worked{}, turning: map[*standards.Fastener][]wrench{}}
}

// prepare makes the triangles of several bodies of a bench at a time.
func (s *Store) prepare(b *bench, bodies []int) {
	var list []*solid.Solid
	for _, i := range bodies {
		if of := b.bodies[i].Solid; !s.ready[of] {
			s.ready[of] = true
			list = append(list, of)
		}
	}
	if len(list) > 1 {
		s.ways.Bodies().Prepare(list)
	}
}

// number tells things apart.
func (s *Store) number(of any) uint64 {
	n, known := s.numbers[of]
	if !known {
		n = uint64(len(s.numbers)) + 1
		s.numbers[of] = n
	}
	return n
}

// A signer notes what a bench's findings follow from.
type signer struct {
	store *Store
	notes []byte
}

func (s *signer) number(n uint64) { s.notes = binary.LittleEndian.AppendUint64(s.notes, n) }
func (s *signer) thing(of any)    { s.number(s.store.number(of)) }
func (s *signer) whole(n int)     { s.number(uint64(n)) }
func (s *signer) text(t string)   { s.whole(len(t)); s.notes = append(s.notes, t...) }

// alike (1/mm) rounds places so that equal ones compare equal.
const alike = 1e6

func (s *signer) vec(v solid.Vec) {
	for _, x := range [3]float64{v.X, v.Y, v.Z} {
		s.number(uint64(int64(math.Round(x * alike))))
	}
}

func (s *signer) place(p solid.Placement) {
	for _, v := range p.Turn {
		s.vec(v)
	}
	s.vec(p.Move)
}

// signature is the same for benches on which the same is found as long as nothing moves:
// same steps, same bodies at the same places, brought by the same steps.
func (b *bench) signature() [sha256.Size]byte {
	s := signer{store: b.store, notes: b.store.notes[:0]}
	s.thing(b.a)
	for _, k := range b.order {
		s.thing(b.g.Steps[k].Step)
	}
	for i := range b.bodies {
		body := &b.bodies[i]
		if b.soft(i) { // laid anew in each case
			s.vec(b.boxes[i].Min)
			s.vec(b.boxes[i].Max)
		} else {
			s.thing(body.Solid)
		}
		s.place(b.at[i])
		s.text(body.Path)
		s.text(body.Part.Part.ID.Text)
		s.number(math.Float64bits(body.Part.Mass))
		s.thing(body.Of)
		s.text(b.unit[i])
		for _, n := range []int{body.Place, int(body.Role), b.since[i], b.rank[i]} {
			s.whole(n)
		}
	}
	for _, u := range b.a.Holds {
		for _, leg := range u.Way {
			v, _ := b.r.QuantityIn(leg.By, quantity.Length)
			s.number(math.Float64bits(v.SI))
		}
	}
	b.store.notes = s.notes
	return sha256.Sum256(s.notes)
}

// moving is a bench's signature with where its motions take the bodies.
func (b *bench) moving(signature [sha256.Size]byte) [sha256.Size]byte {
	s := signer{store: b.store, notes: b.store.notes[:0]}
	s.notes = append(s.notes, signature[:]...)
	for _, l := range b.elsewhere.ends() {
		for _, body := range Bodies(b.r, l, b.a) {
			s.place(body.At)
		}
	}
	b.store.notes = s.notes
	return sha256.Sum256(s.notes)
}

// work goes through the steps of a bench, or takes over what was found on one like
// it.
func (b *bench) work() *worked {
	key := b.signature()
	known := b.store.benches[key]
	if known != nil && known.moved {
		key = b.moving(key)
		known = b.store.benches[key]
	}
	if known != nil {
		return known.under(b.g)
	}
	w := b.goThrough()
	if b.posed && b.store.benches[key] == nil {
		b.store.benches[key] = &worked{moved: true}
		key = b.moving(key)
	}
	b.store.benches[key] = w
	return w
}

func (b *bench) goThrough() *worked {
	w := &worked{g: b.g}
	for turn := range b.order {
		if len(b.bodies) > mostBodies || b.store.looks > mostLooks {
			break
		}
		done := b.joints(turn)
		done.found = append(b.waysIn(turn), done.found...)
		b.laidOtherwise(turn, done.found)
		done.rest = b.resting(turn)
		if b.store.looks > mostLooks {
			break // it was given up on the way
		}
		w.turns = append(w.turns, done)
	}
	if len(w.turns) == len(b.order) {
		w.last = b.adjusted()
	}
	return w
}

// under is the same in terms of another graph.
func (w *worked) under(g *Graph) *worked {
	if w.g == g {
		return w
	}
	index := func(k int) int {
		if k < 0 {
			return k
		}
		return g.at[w.g.Steps[k].Step]
	}
	moved := func(list []Obstruction) []Obstruction {
		var out []Obstruction
		for _, o := range list {
			o.Step, o.Since, o.Latest, o.Later = index(o.Step), index(o.Since), index(o.Latest), index(o.Later)
			out = append(out, o)
		}
		return out
	}
	other := &worked{g: g, last: moved(w.last)}
	for _, t := range w.turns {
		t.found = moved(t.found)
		other.turns = append(other.turns, t)
	}
	return other
}

// ballEnds reports whether a plan's tools have keys with ball ends.
func ballEnds(tools []*plan.Tool) bool {
	for _, t := range tools {
		if t.Ball {
			return true
		}
	}
	return false
}

// wrenches are the tools that turn a screw, the usual one first.
func (s *Store) wrenches(f *standards.Fastener) []wrench {
	list, known := s.turning[f]
	if !known {
		list = wrenches(*f, s.balls)
		s.turning[f] = list
	}
	return list
}
