package picture

import (
	"bytes"
	"fmt"
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

// document is an uncompressed PDF with a picture's form on an A4 page, its upper left corner
// at at. It holds no fonts: its words are not shown.
func document(t testing.TB, p *Picture, at Point, scale float64) []byte {
	t.Helper()
	form, err := PDF(p, scale)
	if err != nil {
		t.Fatal(err)
	}
	pdf := gofpdf.New("P", "mm", "A4", "")
	pdf.SetCompression(false)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(time.Unix(0, 0).UTC())
	pdf.SetModificationDate(time.Unix(0, 0).UTC())
	pdf.AddPage()
	pdf.RawWriteStr(fmt.Sprintf("q 1 0 0 1 %.4f %.4f cm\n%sQ", at.X*pointsPerMM, (297-at.Y)*pointsPerMM-form.Height, form.Content))
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// lineEnds finds "x y m" and "x y l" in page content, in millimetres from the upper left
// corner of paper of a height.
func lineEnds(content []byte, height float64) (points []Point) {
	for _, m := range regexp.MustCompile(`(?m)^([-\d.]+) ([-\d.]+) [ml]$`).FindAllSubmatch(content, -1) {
		x, _ := strconv.ParseFloat(string(m[1]), 64)
		y, _ := strconv.ParseFloat(string(m[2]), 64)
		points = append(points, Point{x * 25.4 / 72, height - y*25.4/72})
	}
	return points
}

func TestPDFIsTrueSize(t *testing.T) {
	p := &Picture{Name: "bar", Width: 210, Height: 297}
	p.Add(Path{Curves: []Curve{Line{Point{4.9, 50}, Point{204.9, 50}}}, Line: Visible})
	form, err := PDF(p, 1)
	if err != nil {
		t.Fatal(err)
	}
	points := lineEnds(form.Content, 297)
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

func TestPDFRefuses(t *testing.T) {
	for _, scale := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := PDF(sampler(), scale); err == nil {
			t.Errorf("drawn at scale %v", scale)
		}
	}
	if _, err := PDF(&Picture{Name: "no paper"}, 1); err == nil {
		t.Error("drawn on no paper")
	}
}

// TestPDFKeepsItsLetters: what is set is what the font must hold, each letter once.
func TestPDFKeepsItsLetters(t *testing.T) {
	p := &Picture{Name: "x", Width: 100, Height: 20}
	p.Add(Text{At: Point{2, 10}, Words: "Ωb⌴ab(", Height: 2.5}, Text{At: Point{2, 10}, Words: "z\\", Height: 2.5, Face: Mono})
	form, err := PDF(p, 1)
	if err != nil {
		t.Fatal(err)
	}
	if want := (Letters{Sans: "(abΩ", Mono: "\\z"}); form.Letters != want {
		t.Errorf("letters %q, want %q", form.Letters, want)
	}
	for _, want := range []string{"(\x03\xa9\x00b) Tj", "(\x00a\x00b\x00\\() Tj", "/Mono 9.72 Tf", "(\x00z\x00\\\\) Tj"} {
		if !bytes.Contains(form.Content, []byte(want)) {
			t.Errorf("the content lacks %q: %q", want, form.Content)
		}
	}
}

func TestLettersJoin(t *testing.T) {
	one, other := Letters{Sans: "ac", Mono: "x"}, Letters{Sans: "bcd", SansBold: "é"}
	one.Join(other)
	if want := (Letters{Sans: "abcd", SansBold: "é", Mono: "x"}); one != want {
		t.Errorf("%q, want %q", one, want)
	}
}

func TestPDFLoneSurrogatesAndAstralRunes(t *testing.T) {
	p := &Picture{Name: "x", Width: 100, Height: 20}
	p.Add(Text{At: Point{2, 10}, Words: "a\U0001F600b\xffc\x07", Height: 2.5})
	form, err := PDF(p, 1)
	if err != nil {
		t.Fatal(err)
	}
	if want := "ab\uFFFD"; form.Letters[Sans] != want[:2]+"c"+want[2:] {
		t.Errorf("letters %q", form.Letters[Sans])
	}
}

func BenchmarkPDF(b *testing.B) {
	p := sampler()
	for range 50 {
		p.Marks = append(p.Marks, sampler().Marks[:20]...)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := PDF(p, 1); err != nil {
			b.Fatal(err)
		}
	}
}
