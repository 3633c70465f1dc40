package sequence

import (
	"plansheaf/design/solid"
	"plansheaf/design/way"
)

// A Store keeps what several cases of a plan share: the triangles of each solid, and
// the benches that are alike. The zero value is not ready: see [NewStore]. It is not
// for several goroutines at a time.
type Store struct {
	meshes map[*solid.Solid]*mesh
	ways   *way.Memory
	balls  bool // keys with ball ends are at hand
}

// NewStore returns an empty store.
func NewStore() *Store { return &Store{meshes: map[*solid.Solid]*mesh{}, ways: way.NewMemory()} }

func (s *Store) mesh(of *solid.Solid) *mesh {
	m := s.meshes[of]
	if m == nil {
		m = newMesh(of)
		s.meshes[of] = m
	}
	return m
}
