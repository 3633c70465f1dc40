package reckon

import (
	"bytes"
	"fmt"
	"sync"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/solid/mesh"
)

// A meshFile is a mesh read from a shipped file, once for all cases.
type meshFile struct {
	once   sync.Once
	data   []byte
	shape  solid.Facets
	faults []mesh.Fault
}

// mesh returns the body that a file holds, read in a unit. Reckonings of two
// plans may share the store, so what a file held is compared too.
func (s *Shapes) mesh(file *plan.File, unit mesh.Unit) (solid.Facets, []mesh.Fault) {
	key := unit.Name + " " + file.Path
	s.mu.Lock()
	m := s.meshes[key]
	if m == nil || !bytes.Equal(m.data, file.Data) {
		m = &meshFile{data: file.Data}
		s.meshes[key] = m
	}
	s.mu.Unlock()
	m.once.Do(func() {
		var body *mesh.Mesh
		if body, m.faults = mesh.Read(file.Data, unit); len(m.faults) == 0 {
			m.shape = body.Shape()
		}
	})
	return m.shape, m.faults
}

// mesh is the shape that a file gives; what is wrong with the file is reported
// where the plan names it. A file that is not there is reading's to report.
func (s *shaper) mesh(m plan.Solid) solid.Primitive {
	unit, known := mesh.UnitNamed(m.Unit.Text)
	file := s.r.Plan.File(m.File.Text)
	if !known || file == nil || file.Data == nil {
		s.ok = false
		return nil
	}
	shape, faults := s.r.shapes.mesh(file, unit)
	for _, f := range faults {
		at, remedy := m.File.At, "mend the mesh in the program that it comes from, and write it again"
		switch f.Kind {
		case mesh.UnitDiffers, mesh.SizeDoubtful:
			at, remedy = m.Unit.At, "give the unit that the file's numbers are in: mm, cm, m or in"
		case mesh.Unreadable:
			remedy = "ship the mesh as an STL file, binary or ASCII"
		case mesh.TooLarge:
			remedy = "write the mesh with fewer triangles"
		}
		s.ok = false
		s.r.note(BadShape, finding.Finding{At: at, Message: fmt.Sprintf("%s: %s", file.Path, f.Reason), Remedy: remedy})
	}
	return shape
}
