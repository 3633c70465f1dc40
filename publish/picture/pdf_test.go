package picture

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/jung-kurt/gofpdf"

	"plansheaf/publish/inspect"
)

// document is an uncompressed PDF with a picture on an A4 page.
func document(t testing.TB, p *Picture, at Point, scale float64) []byte {
	t.Helper()
	pdf := gofpdf.New("P", "mm", "A4", "")
	pdf.SetCompression(false)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(time.Unix(0, 0).UTC())
	pdf.SetModificationDate(time.Unix(0, 0).UTC())
	RegisterFonts(pdf, Faces(p.Marks)...)
	pdf.AddPage()
	if err := DrawPDF(pdf, p, at, scale); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// lineEnds finds "x y m" and "x y l" in page content, in millimetres.
func lineEnds(content []byte) (points []Point) {
	for _, m := range regexp.MustCompile(`(?m)^([-\d.]+) ([-\d.]+) [ml]$`).FindAllSubmatch(content, -1) {
		x, _ := strconv.ParseFloat(string(m[1]), 64)
		y, _ := strconv.ParseFloat(string(m[2]), 64)
		points = append(points, Point{x * 25.4 / 72, 297 - y*25.4/72})
	}
	return points
}

func TestPDFIsTrueSize(t *testing.T) {
	p := &Picture{Name: "bar", Width: 210, Height: 297}
	p.Add(Path{Curves: []Curve{Line{Point{4.9, 50}, Point{204.9, 50}}}, Line: Visible})
	points := lineEnds(document(t, p, Point{}, 1))
	if len(points) != 2 {
		t.Fatalf("%d points in the page", len(points))
	}
	if length := points[0].Distance(points[1]); math.Abs(length-200) > 0.001 {
		t.Errorf("a line of 200 mm measures %.4f mm", length)
	}
	if off := points[0].Distance(Point{4.9, 50}); off > 0.01 {
		t.Errorf("the line stands %.4f mm off its place", off)
	}
}

// TestPDFMeasuredOnTheRaster measures the same line after an independent reader
// has drawn it, at 600 dots per inch.
func TestPDFMeasuredOnTheRaster(t *testing.T) {
	const dpi = 600
	p := &Picture{Name: "bar", Width: 210, Height: 10}
	p.Add(Path{Curves: Rectangle(Point{5, 3}, 200, 4), Fill: Black})
	dir := t.TempDir()
	file := filepath.Join(dir, "bar.pdf")
	if err := os.WriteFile(file, document(t, p, Point{0, 10}, 1), 0o644); err != nil {
		t.Fatal(err)
	}
	y := strconv.Itoa(15 * dpi * 10 / 254)
	out := inspect.Run(t, "pdftoppm", "-r", strconv.Itoa(dpi), "-gray", "-y", y, "-H", "1", "-x", "0", "-W", "4961", file)
	pixels := out[len(out)-4961:]
	dark := 0.0
	for _, v := range []byte(pixels) { // greys at the ends are parts of a pixel
		dark += 1 - float64(v)/255
	}
	if length := dark * 25.4 / dpi; math.Abs(length-200) > 0.05 {
		t.Errorf("a bar of 200 mm measures %.3f mm on paper", length)
	}
}

func TestPDFRepeats(t *testing.T) {
	want := document(t, sampler(), Point{20, 20}, 1)
	var group sync.WaitGroup
	for range 8 {
		group.Add(1)
		go func() {
			defer group.Done()
			if !bytes.Equal(document(t, sampler(), Point{20, 20}, 1), want) {
				t.Error("the same picture gave other bytes")
			}
		}()
	}
	group.Wait()
}

func TestPDFKeepsLineSettings(t *testing.T) {
	content := string(document(t, sampler(), Point{}, 1))
	if opened, closed := len(regexp.MustCompile(`(?m)(^|\s)q(\s|$)`).FindAllString(content, -1)),
		len(regexp.MustCompile(`(?m)(^|\s)Q(\s|$)`).FindAllString(content, -1)); opened != closed {
		t.Errorf("%d graphics states saved, %d restored", opened, closed)
	}
	if regexp.MustCompile(`\b(NaN|Inf)\b`).MatchString(content) {
		t.Error("a number is not finite")
	}
}

func TestDrawPDFRefuses(t *testing.T) {
	p := sampler()
	fresh := func() *gofpdf.Fpdf {
		pdf := gofpdf.New("P", "mm", "A4", "")
		RegisterFonts(pdf, Faces(p.Marks)...)
		return pdf
	}
	if err := DrawPDF(fresh(), p, Point{}, 1); err == nil {
		t.Error("drawn without a page")
	}
	for _, scale := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		pdf := fresh()
		pdf.AddPage()
		if err := DrawPDF(pdf, p, Point{}, scale); err == nil {
			t.Errorf("drawn at scale %v", scale)
		}
	}
	pdf := gofpdf.New("P", "mm", "A4", "")
	pdf.AddPage()
	if err := DrawPDF(pdf, p, Point{}, 1); err == nil {
		t.Error("drawn without fonts")
	}
}

func TestPDFLoneSurrogatesAndAstralRunes(t *testing.T) {
	p := &Picture{Name: "x", Width: 100, Height: 20}
	p.Add(Text{At: Point{2, 10}, Words: "a\U0001F600b\xffc\x07", Height: 2.5})
	document(t, p, Point{}, 1) // gofpdf panics on these if they reach it
}

func BenchmarkDrawPDF(b *testing.B) {
	p := sampler()
	for range 50 {
		p.Marks = append(p.Marks, sampler().Marks[:20]...)
	}
	pdf := gofpdf.New("P", "mm", "A4", "")
	RegisterFonts(pdf, Faces(p.Marks)...)
	pdf.AddPage()
	b.ReportAllocs()
	for b.Loop() {
		if err := DrawPDF(pdf, p, Point{}, 1); err != nil {
			b.Fatal(err)
		}
	}
}
