package sheet

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/jung-kurt/gofpdf"

	"plansheaf/design/solid"
	"plansheaf/publish/inspect"
	"plansheaf/publish/picture"
)

// ruled is a plate of 200 mm by 60 mm.
func ruled(t testing.TB) Request {
	return titled("ruled", "Ruled plate", build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(200, 60), Thickness: 5}}), Plate)
}

// TestTrueSizeInThePDF prints to PDF and lets poppler paint it: the strokes that a line
// across the page meets stand where a ruler would find them.
func TestTrueSizeInThePDF(t *testing.T) {
	sheet := ruled(t)
	sheet.Sheet, sheet.Scale = "A3", "1:1"
	drawn := draw(t, sheet).Picture
	tiles, err := Template(ruled(t))
	if err != nil || len(tiles) != 1 {
		t.Fatalf("%d tiles; error %v", len(tiles), err)
	}
	for _, test := range []struct {
		name    string
		picture *picture.Picture
		length  float64 // mm
		upright bool    // measured down the page
		at      float64 // mm from the page's left or upper edge
		from    float64 // strokes before it are the border's
	}{
		{name: "200 mm on a sheet at 1:1", picture: drawn, length: 200, at: viewBox(t, drawn).Min.Y + 20, from: viewBox(t, drawn).Min.X},
		{name: "200 mm on a template", picture: tiles[0], length: 200, upright: true, at: tileMargin + tilePad + 20},
		{name: "the bar to measure", picture: tiles[0], length: barLength, at: tiles[0].Height - tileMargin - tileFoot + 8 - 1.2},
	} {
		t.Run(test.name, func(t *testing.T) {
			strokes := strokesAcross(t, test.picture, test.upright, test.at)
			var found []float64
			for i, a := range strokes {
				if a < test.from {
					continue
				}
				for _, b := range strokes[i+1:] {
					if math.Abs(b-a-test.length) < 1 {
						found = append(found, b-a)
					}
				}
			}
			if len(found) != 1 || math.Abs(found[0]-test.length) > 0.05 {
				t.Errorf("lengths of about %v mm: %v; strokes at %v", test.length, found, strokes)
			}
		})
	}
}

// viewBox is the box of the top view.
func viewBox(t *testing.T, p *picture.Picture) picture.Box {
	t.Helper()
	for _, m := range p.Marks {
		if g, ok := m.(picture.Group); ok && g.ID == "view-top" {
			return picture.Bounds(g.Marks)
		}
	}
	t.Fatal("no top view")
	return picture.Box{}
}

// strokesAcross are the middles, in mm, of what is dark along a line across the page.
func strokesAcross(t *testing.T, p *picture.Picture, upright bool, at float64) []float64 {
	t.Helper()
	pdf := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "mm", Size: gofpdf.SizeType{Wd: p.Width, Ht: p.Height}})
	form, err := picture.PDF(p, 1)
	if err != nil {
		t.Fatal(err)
	}
	pdf.SetMargins(0, 0, 0)
	pdf.AddPage()
	pdf.RawWriteStr(string(form.Content)) // without fonts: words are not shown, and not measured
	file := filepath.Join(t.TempDir(), "page.pdf")
	if err := pdf.OutputFileAndClose(file); err != nil {
		t.Fatal(err)
	}
	const dots = 1200 / 25.4 // per mm
	pixel := func(mm float64) string { return fmt.Sprint(int(math.Round(mm * dots))) }
	args := []string{"-r", "1200", "-gray", "-x", "0", "-y", pixel(at), "-W", pixel(p.Width), "-H", "1"}
	if upright {
		args = []string{"-r", "1200", "-gray", "-x", pixel(at), "-y", "0", "-W", "1", "-H", pixel(p.Height)}
	}
	stem := filepath.Join(t.TempDir(), "strip")
	inspect.Run(t, "pdftoppm", append(args, "-singlefile", file, stem)...)
	raw, err := os.ReadFile(stem + ".pgm")
	if err != nil {
		t.Fatal(err)
	}
	var width, height, most int
	if _, err := fmt.Fscanf(bytes.NewReader(raw), "P5\n%d %d\n%d\n", &width, &height, &most); err != nil || most != 255 {
		t.Fatalf("not a grey picture: %q: %v", raw[:20], err)
	}
	strip := raw[len(raw)-width*height:]
	var middles []float64
	weight, moment := 0.0, 0.0
	for i, grey := range append(strip, 255) {
		if dark := float64(255 - grey); dark > 8 {
			weight, moment = weight+dark, moment+dark*(float64(i)+0.5)
		} else if weight > 0 {
			middles = append(middles, moment/weight/dots)
			weight, moment = 0, 0
		}
	}
	return middles
}
