package publish_test

import (
	"encoding/json"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/publish/dxf"
	"plansheaf/publish/inspect"
)

// bores are the diameters of the narrowest round walls about each axis along z, where
// nothing stands on the axis: what goes through a sheet, in order of size.
func bores(s *solid.Solid) []float64 {
	narrowest := map[[2]float64]float64{}
	for _, f := range s.Faces {
		c, ok := f.Surface.(solid.Cylinder)
		if !ok || math.Abs(math.Abs(c.Frame.Z.Z)-1) > 1e-9 {
			continue
		}
		at := [2]float64{math.Round(c.Frame.O.X*1e6) / 1e6, math.Round(c.Frame.O.Y*1e6) / 1e6}
		if len(s.Line(solid.Vec{X: at[0] + 0.0017, Y: at[1] + 0.0023}, solid.Vec{Z: 1})) > 0 {
			continue
		}
		if d := math.Round(2*c.R*1e6) / 1e6; narrowest[at] == 0 || d < narrowest[at] {
			narrowest[at] = d
		}
	}
	return slices.Sorted(maps.Values(narrowest))
}

func sorted(list []float64) []float64 { return slices.Sorted(slices.Values(list)) }

// Every drawing sheet is there as DXF too, offered on its part's page, and every part
// out of sheet has its contours, listed on the cutting page.
func TestDrawingsAndContoursAreOffered(t *testing.T) {
	p := example(t)
	links := func(pageName string) (list []string) {
		for _, n := range elements(t, p.files[pageName]) {
			if n.Data == "a" {
				list = append(list, filepath.ToSlash(filepath.Join(filepath.Dir(pageName), attribute(n, "href"))))
			}
		}
		return list
	}
	downloads := links("downloads.html")
	for _, one := range p.made.Document.Pages {
		for _, s := range one.Sheets {
			for _, form := range []string{".svg", ".dxf"} {
				if file := s.Picture.Name + form; p.files[file] == nil || !slices.Contains(links(one.ID+".html"), file) || !slices.Contains(downloads, file) {
					t.Errorf("%s is not made (%d bytes) or not linked on %q and among the downloads", file, len(p.files[file]), one.ID)
				}
			}
		}
	}
	offered := links("cutting.html")
	sheets := 0
	for _, part := range p.work.Plan.Parts {
		if part.Made.Text != plan.Sheet {
			continue
		}
		sheets++
		files, err := filepath.Glob(filepath.Join(p.folder, "cutting", part.ID.Text+"*.dxf"))
		if err != nil || len(files) == 0 {
			t.Errorf("part %q has no contours to cut", part.ID.Text)
		}
		for _, file := range files {
			if name := "cutting/" + filepath.Base(file); !slices.Contains(offered, name) || !slices.Contains(downloads, name) || !slices.Contains(links("parts/"+part.ID.Text+".html"), name) {
				t.Errorf("%s is not linked on the cutting page, among the downloads and on its part's", name)
			}
		}
	}
	if sheets < 5 {
		t.Errorf("only %d parts out of sheet", sheets)
	}
}

// An independent reader finds no fault in any file, and the contours enclose what the
// solid weighs: area times thickness is the volume, where all holes go through
// unwidened.
func TestFilesForProgramsAreRead(t *testing.T) {
	t.Parallel()
	p := example(t)
	python := ""
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if python == "" && exec.Command(name, "-c", "import ezdxf").Run() == nil {
			python = name
		}
	}
	if python == "" {
		inspect.Missing(t, "ezdxf for Python (Debian package python3-ezdxf)")
	}
	names := p.ending(".dxf")
	var read map[string]struct {
		Units    int
		Faults   []string
		Entities []struct {
			Kind, Layer  string
			Radius, Area float64
		}
	}
	out := inspect.Run(t, python, append([]string{filepath.Join("dxf", "testdata", "read.py")}, p.paths(names)...)...)
	if err := json.Unmarshal([]byte(out), &read); err != nil {
		t.Fatal(err)
	}
	for i, file := range p.paths(names) {
		r := read[file]
		if len(r.Faults) > 0 || r.Units != 4 || len(r.Entities) == 0 {
			t.Errorf("%s: %d entities in unit %d, faults %v", names[i], len(r.Entities), r.Units, r.Faults)
		}
	}
	compared := 0
	for _, part := range p.work.Plan.Parts {
		file := filepath.Join(p.folder, "cutting", part.ID.Text+".dxf")
		if _, err := os.Stat(file); err != nil || part.Made.Text != plan.Sheet {
			continue
		}
		var circles []float64
		for _, e := range read[file].Entities {
			if !slices.Contains([]string{dxf.OutlineLayer, dxf.HolesLayer, dxf.TapDrillLayer}, e.Layer) {
				t.Errorf("%s holds a %s on the layer %q", part.ID.Text, e.Kind, e.Layer)
			}
			if e.Kind == "CIRCLE" && e.Layer != dxf.OutlineLayer {
				circles = append(circles, math.Round(2*e.Radius*1e6)/1e6)
			}
		}
		if want := bores(p.work.Default().Reckoning.Part(part.ID.Text).Solid); !slices.Equal(sorted(circles), want) {
			t.Errorf("%s: holes of %v mm are cut, the solid has bores of %v mm through it", part.ID.Text, circles, want)
		}
		area, plain := 0.0, true
		for _, e := range read[file].Entities {
			one := math.Abs(e.Area) + math.Pi*e.Radius*e.Radius
			if e.Layer == "outline" {
				area += one
			} else {
				area -= one
			}
		}
		for _, h := range part.Holes {
			plain = plain && !h.Depth.Given() && h.Counterbore == nil && h.Countersink == nil && (h.Face.Text == "" || h.Face.Text == "top" || h.Face.Text == "bottom")
		}
		body := p.work.Default().Reckoning.Part(part.ID.Text).Solid
		volume := area * body.Box().Size().Z
		switch want := body.Measure().Volume; {
		case plain && math.Abs(volume-want) > 1e-7*want:
			t.Errorf("%s encloses %.6f mm³ with the sheet's thickness, the solid has %.6f", part.ID.Text, volume, want)
		case volume < want*(1-1e-7):
			t.Errorf("%s encloses %.6f mm³ with the sheet's thickness, less than the solid's %.6f", part.ID.Text, volume, want)
		case plain:
			compared++
		}
	}
	if compared < 3 {
		t.Errorf("only %d parts compared", compared)
	}
}
