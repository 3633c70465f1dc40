package solid

import "plansheaf/design/memo"

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
