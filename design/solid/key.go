package solid

import (
	"crypto/sha256"
	"encoding/binary"
	"math"

	"plansheaf/design/memo"
)

// MemoKey stands for the solid where what follows from it is kept: for the shape that it
// was built from, else for its whole boundary. It is safe for several goroutines at a time.
func (s *Solid) MemoKey() memo.Key {
	s.keyed.Do(func() {
		// Shapes and boundaries hold numbers and names alone, which all have keys.
		if s.from != nil {
			s.key, _ = memo.KeyOf("shape", *s.from)
		} else {
			s.key, _ = memo.KeyOf("boundary", s.Faces, s.Edges, s.Vertices, s.features)
		}
	})
	return s.key
}

// MemoKey stands for the facets, of which there may be very many.
func (f Facets) MemoKey() memo.Key {
	sum := sha256.New()
	b := make([]byte, 0, 64<<10)
	put := func(numbers ...uint64) {
		for _, n := range numbers {
			b = binary.LittleEndian.AppendUint64(b, n)
		}
		if len(b) > cap(b)-256 {
			sum.Write(b)
			b = b[:0]
		}
	}
	put(math.Float64bits(f.Grain), uint64(len(f.Vertices)), uint64(len(f.Triangles)))
	for _, v := range f.Vertices {
		put(math.Float64bits(v.X), math.Float64bits(v.Y), math.Float64bits(v.Z))
	}
	for _, t := range f.Triangles {
		put(uint64(t[0]), uint64(t[1]), uint64(t[2]))
	}
	sum.Write(b)
	return memo.Key(sum.Sum(nil))
}
