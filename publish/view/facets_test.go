package view

import (
	"math"
	"testing"

	"plansheaf/design/solid"
)

// TestFacets: of a disc in triangles only the rims and the outline are drawn, not
// the edges between its facets.
func TestFacets(t *testing.T) {
	exact, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Rod{D: 30, L: 12}, Along: solid.AxisZ}}})
	if err != nil {
		t.Fatal(err)
	}
	m := exact.Mesh(0.05)
	facets, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Facets{Vertices: m.Vertices, Triangles: m.Triangles}, Along: solid.AxisZ}}})
	if err != nil {
		t.Fatal(err)
	}
	upright := func(s *solid.Solid) (edges, outline int) {
		d, err := Project([]Body{{Solid: s, At: solid.Stay}}, Front, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range d.Lines {
			for _, c := range l.Curves {
				from, to := c.Ends()
				if math.Abs(from.Y-to.Y) < 1e-6 {
					continue
				}
				if l.Kind == Silhouette {
					outline++
				} else {
					edges++
				}
			}
		}
		return edges, outline
	}
	if edges, outline := upright(facets); edges != 0 || outline != 2 {
		t.Errorf("%d edges between facets and %d lines of the outline stand upright, want 0 and 2", edges, outline)
	}
}
