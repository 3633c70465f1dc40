package scene

import (
	"sync"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/way"
	"plansheaf/publish/view"
)

// A Studio draws a plan's assemblies, and keeps between pictures what does not change
// from one to the next: the triangles of solids, the ways past each other, the tubes
// of strands, bodies made ready to be drawn. A picture that is kept from an earlier run, of the same shapes in the same
// places, is taken over ([way.Memory.Kept]). Several goroutines may draw at a time, but
// only one of them takes assemblies apart.
type Studio struct {
	memory *way.Memory
	ready  *view.Ready
	mu     sync.Mutex // over the rest
	meshes map[*solid.Solid]*solid.Mesh
	tubes  map[tube]*solid.Solid
	casts  map[stood]*cast
}

// stood is an assembly as it is laid out.
type stood struct {
	layout   *layout.Layout
	assembly *plan.Assembly
}

// NewStudio returns a studio that goes on from what is known about ways.
func NewStudio(memory *way.Memory) *Studio {
	return &Studio{memory: memory, ready: view.NewReady(), meshes: map[*solid.Solid]*solid.Mesh{}, tubes: map[tube]*solid.Solid{}, casts: map[stood]*cast{}}
}

// Pieces are an assembly's pieces with the cables, hoses and wires that lie in it,
// each straight stretch of them a piece of its own.
func (s *Studio) Pieces(l *layout.Layout, a *plan.Assembly) []layout.Piece {
	return s.cast(l, a).pieces
}

// coarse is how many times a mesh's tolerance goes into the size of its solid: what
// it is for, finding what is seen, needs no more.
const coarse = 200

// mesh is a solid in triangles.
func (s *Studio) mesh(of *solid.Solid) *solid.Mesh {
	s.mu.Lock()
	defer s.mu.Unlock()
	m := s.meshes[of]
	if m == nil {
		m = of.Mesh(of.Box().Size().Len() / coarse)
		s.meshes[of] = m
	}
	return m
}
