package mesh

import (
	"path/filepath"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/design/solid"
)

// fixtures are the tiny files that tests of other packages read too, by their
// place under testdata: a lid of 20 x 10 x 5 mm with a post of 4 x 4 x 8 mm on it.
func fixtures(t *testing.T) map[string][]byte {
	lid := build(t, solid.Group{box(20, 10, 5), {Shape: solid.Block{Size: solid.Vec{X: 4, Y: 4, Z: 9}}, At: solid.Vec{X: 8, Y: 3, Z: 4}}}).Mesh(1)
	open := &solid.Mesh{Vertices: lid.Vertices, Triangles: lid.Triangles[1:]}
	about := &solid.Mesh{Vertices: lid.Vertices}
	for _, c := range lid.Triangles {
		about.Triangles = append(about.Triangles, [3]int{c[0], c[2], c[1]})
	}
	return map[string][]byte{
		"mesh/lid.stl":                         binarySTL(lid, "lid", 1),
		"mesh/lid_ascii.stl":                   asciiSTL(lid, "lid", "%g"),
		"mesh/lid_inches.stl":                  binarySTL(lid, "lid units=in", 25.4),
		"mesh/open.stl":                        binarySTL(open, "open", 1),
		"mesh/inside_out.stl":                  binarySTL(about, "inside out", 1),
		"rules/bad-shape/clean/files/cap.stl":  binarySTL(lid, "cap", 1),
		"rules/bad-shape/broken/files/cap.stl": binarySTL(open, "cap", 1),
	}
}

func TestFixtures(t *testing.T) {
	const root = "../../../testdata"
	made := fixtures(t)
	for name, want := range made {
		path := filepath.Join(root, filepath.FromSlash(name))
		golden.Compare(t, path, want)
	}
	kept, err := filepath.Glob(filepath.Join(root, "mesh", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range kept {
		if made["mesh/"+filepath.Base(path)] == nil {
			t.Errorf("nothing makes %s", path)
		}
	}
}
