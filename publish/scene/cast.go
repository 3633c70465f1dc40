package scene

import (
	"crypto/sha256"
	"encoding/binary"
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/way"
)

// A cast is all that appears in the pictures of an assembly as it is laid out.
type cast struct {
	pieces []layout.Piece
	brings []string   // by piece: what brings it, as way.Key says
	keys   []memo.Key // by piece: stands for its shape and its place; none where nothing is kept
}

// A stand is a shape in its place.
type stand struct {
	shape memo.Key
	at    solid.Placement
}

// key stands for a shape in its place, and for which of several bodies of that shape in
// that place it is.
func (s stand) key(number int) memo.Key {
	out := append(make([]byte, 0, len(s.shape)+13*8), s.shape[:]...)
	for _, v := range [4]solid.Vec{s.at.Turn[0], s.at.Turn[1], s.at.Turn[2], s.at.Move} {
		for _, x := range [3]float64{v.X, v.Y, v.Z} {
			out = binary.LittleEndian.AppendUint64(out, math.Float64bits(x))
		}
	}
	return sha256.Sum256(binary.LittleEndian.AppendUint64(out, uint64(number)))
}

// newCast lists what brings each piece, and the keys that pictures are kept under.
func newCast(pieces []layout.Piece, kept bool) *cast {
	c := &cast{pieces: pieces, brings: make([]string, len(pieces))}
	for i, p := range pieces {
		c.brings[i] = way.Key(p)
	}
	if !kept {
		return c
	}
	// Of one body that stands in a place twice one is drawn, of two equal ones both are:
	// so they are told apart.
	there := map[stand][]*solid.Solid{}
	c.keys = make([]memo.Key, len(pieces))
	for i, p := range pieces {
		s := stand{p.Solid.MemoKey(), p.At}
		number := 0
		for number < len(there[s]) && there[s][number] != p.Solid {
			number++
		}
		if number == len(there[s]) {
			there[s] = append(there[s], p.Solid)
		}
		c.keys[i] = s.key(number)
	}
	return c
}

// key stands for the shapes and places of some pieces, given by index, in that order.
func (c *cast) key(of []int) (k memo.Key) {
	if c.keys == nil {
		return k
	}
	sum := sha256.New()
	for _, i := range of {
		sum.Write(c.keys[i][:])
	}
	sum.Sum(k[:0])
	return k
}

// all are the indices of all pieces.
func (c *cast) all() []int {
	out := make([]int, len(c.pieces))
	for i := range out {
		out[i] = i
	}
	return out
}

// some are the pieces with some indices.
func (c *cast) some(of []int) []layout.Piece {
	out := make([]layout.Piece, len(of))
	for k, i := range of {
		out[k] = c.pieces[i]
	}
	return out
}

// cast is what appears in an assembly's pictures.
func (s *Studio) cast(l *layout.Layout, a *plan.Assembly) *cast {
	s.mu.Lock()
	defer s.mu.Unlock()
	key := stood{l, a}
	c := s.casts[key]
	if c == nil {
		pieces := l.Pieces(a)
		c = newCast(append(pieces[:len(pieces):len(pieces)], s.strands(l, a)...), s.memory.Kept != nil)
		s.casts[key] = c
	}
	return c
}
