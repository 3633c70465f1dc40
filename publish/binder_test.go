package publish_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/publish"
	"plansheaf/publish/binder"
	"plansheaf/publish/inspect"
	"plansheaf/publish/page"
)

// uncompressed is a PDF with its streams as plain text, or some leaves of it.
func uncompressed(t *testing.T, file string, leaves ...int) string {
	t.Helper()
	args := []string{"--qdf", "--object-streams=disable", file}
	if len(leaves) > 0 {
		args = append(args, "--pages", ".", strings.Trim(strings.Join(strings.Fields(fmt.Sprint(leaves)), ","), "[]"), "--")
	}
	return inspect.Run(t, "qpdf", append(args, "-")...)
}

// words is text with every run of blanks as one.
func words(text string) string { return strings.Join(strings.Fields(text), " ") }

// squeezed is text without blanks and hyphens, so that lines and table cells that
// were broken anywhere still match.
func squeezed(text string) string {
	return strings.NewReplacer("-", "", "\u00ad", "", "\u200b", "", "\u2011", "").Replace(strings.Join(strings.Fields(text), ""))
}

func (p publication) binder() string {
	return filepath.Join(p.folder, filepath.FromSlash(publish.BinderPath))
}

func TestBinderIsValid(t *testing.T) {
	p := example(t)
	out := inspect.Run(t, "qpdf", "--check", p.binder())
	if !strings.Contains(out, "No syntax or stream encoding errors") || strings.Contains(strings.ToLower(out), "warning") {
		t.Error(out)
	}
	doc := p.made.Document
	info := words(inspect.Run(t, "pdfinfo", p.binder()))
	for _, want := range []string{
		"Title: " + doc.Title, "Author: " + strings.Join(doc.Authors, ", "), "Subject: " + words(doc.Summary),
		"Producer: plansheaf", "Metadata Stream: yes", "Encrypted: no", "JavaScript: no", "PDF version: 1.7",
	} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not say %q: %s", want, info)
		}
	}
	xmp := inspect.Run(t, "pdfinfo", "-meta", p.binder())
	for _, want := range []string{doc.License, doc.Date, doc.Title} {
		if !strings.Contains(xmp, want) {
			t.Errorf("the metadata lack %q", want)
		}
	}
}

// Every font is in the file, with the table that lets text be searched.
func TestBinderFontsAreEmbedded(t *testing.T) {
	rows := strings.Split(strings.TrimSpace(inspect.Run(t, "pdffonts", example(t).binder())), "\n")[2:]
	if len(rows) < 2 {
		t.Fatalf("fonts: %q", rows)
	}
	for _, row := range rows { // ... emb, sub, uni, object, generation
		if f := strings.Fields(row); f[len(f)-5] != "yes" || f[len(f)-3] != "yes" {
			t.Errorf("not embedded, or not searchable: %s", row)
		}
	}
}

// leafTexts are the words of each leaf of the example's binder.
var leafTexts = sync.OnceValue(func() []string {
	var list []string
	for _, text := range strings.Split(strings.TrimSuffix(leafText, "\f"), "\f") {
		list = append(list, words(text))
	}
	return list
})

var leafText string

func leaves(t *testing.T) []string {
	t.Helper()
	if leafText == "" {
		leafText = inspect.Run(t, "pdftotext", "-enc", "UTF-8", example(t).binder(), "-")
	}
	return leafTexts()
}

// What a builder looks for is in the binder, in words: everything of the plan's own
// choices.
func TestBinderSaysEverything(t *testing.T) {
	p := example(t)
	s := p.work.Default()
	options := s.Case.Options
	all := squeezed(strings.Join(leaves(t), " "))
	want := map[string]string{"revision": p.work.Plan.Revision.Text, "date": p.work.Plan.Date.Text}
	for _, line := range s.Bill.Lines {
		want["part "+line.Part.Part.ID.Text] = bill.Title(line.Part)
	}
	for _, a := range p.work.Plan.Assemblies {
		if s.Reckoning.Tally().Assembled[a.ID.Text] == 0 {
			continue
		}
		want["assembly "+a.ID.Text] = a.Title.Value
		for _, step := range a.Steps {
			if step.Only.Fits(options) {
				want["step "+a.ID.Text+"."+step.ID.Text] = step.Title.Value
			}
		}
	}
	for _, report := range s.Calcs {
		want["calculation "+report.Calc.ID.Text] = report.Calc.Title.Value
	}
	for _, h := range p.work.Plan.Hazards {
		if !h.Only.Fits(options) {
			continue
		}
		want["harm of hazard "+h.ID.Text] = h.Harm.Value
		want["title of hazard "+h.ID.Text] = h.Title.Value
	}
	for _, c := range p.work.Plan.Choices {
		want["choice "+c.ID.Text] = c.Title.Value
	}
	for _, e := range p.work.Plan.History {
		want["history "+e.Revision.Text] = e.Says.Value
	}
	for name, text := range want {
		if text == "" {
			t.Errorf("%s has no words", name)
		}
		if !strings.Contains(all, squeezed(text)) {
			t.Errorf("%s: the binder does not say %q", name, text)
		}
	}
	if len(want) < 180 {
		t.Errorf("looked for %d texts only", len(want))
	}
}

// Every leaf says something, its revision and its number included.
func TestBinderLeaves(t *testing.T) {
	p := example(t)
	texts := leaves(t)
	for i, text := range texts {
		if len(text) < 60 {
			t.Errorf("leaf %d says only %q", i+1, text)
		}
		if !strings.Contains(text, "Revision "+p.work.Plan.Revision.Text) && !strings.Contains(text, p.work.Plan.Date.Text) {
			t.Errorf("leaf %d does not say its revision", i+1)
		}
		for _, bad := range []string{"{", "}", "%!", "NaN", "\ufffd", "<nil>"} {
			if strings.Contains(text, bad) {
				t.Errorf("leaf %d holds %q: %.300s", i+1, bad, text)
			}
		}
	}
}

// A pdf is what the tests read of qpdf's JSON.
type pdf struct {
	Pages    []struct{ Object string }
	Outlines []bookmark
	Qpdf     []map[string]json.RawMessage
}

type bookmark struct {
	Title string
	Leaf  int `json:"destpageposfrom1"`
	Kids  []bookmark
}

// all are the bookmarks and those within them.
func all(list []bookmark) (out []bookmark) {
	for _, b := range list {
		out = append(append(out, b), all(b.Kids)...)
	}
	return out
}

var readPDF = map[string]*pdf{}

func (p publication) pdf(t *testing.T) *pdf {
	t.Helper()
	if readPDF[p.binder()] == nil {
		f := &pdf{}
		text := inspect.Run(t, "qpdf", "--json", "--json-key=pages", "--json-key=outlines", "--json-key=qpdf", p.binder())
		if err := json.Unmarshal([]byte(text), f); err != nil {
			t.Fatal(err)
		}
		readPDF[p.binder()] = f
	}
	return readPDF[p.binder()]
}

func TestBinderBookmarksLeadToWhatTheyName(t *testing.T) {
	p := example(t)
	texts := leaves(t)
	bookmarks := all(p.pdf(t).Outlines)
	for _, b := range bookmarks {
		want := squeezed(strings.TrimPrefix(b.Title, "Drawing: "))
		if name, _, drawing := strings.Cut(strings.TrimPrefix(b.Title, "Drawing: "), ", drawing "); drawing {
			want = squeezed(name)
		}
		if b.Leaf < 1 || b.Leaf > len(texts) || !strings.Contains(squeezed(texts[b.Leaf-1]), want) {
			t.Errorf("bookmark %q leads to leaf %d, which does not say it", b.Title, b.Leaf)
		}
	}
	steps, drawings := 0, 0
	for _, one := range p.made.Document.Pages {
		if !one.Only.Fits(p.made.Document.Default()) {
			continue
		}
		drawings += len(one.Sheets)
		for _, b := range one.Blocks {
			if step, is := b.(page.Step); is && step.Only.Fits(p.made.Document.Default()) {
				steps++
			}
		}
	}
	if want := steps + drawings; len(bookmarks) < want || drawings < 20 || steps < 35 {
		t.Errorf("%d bookmarks for %d steps and %d drawings", len(bookmarks), steps, drawings)
	}
}

// Every link in the file leads to a leaf of it or to an outside address.
func TestBinderLinksLeadSomewhere(t *testing.T) {
	f := example(t).pdf(t)
	leaf := map[string]bool{}
	for _, one := range f.Pages {
		leaf[one.Object] = true
	}
	inside := 0
	for _, object := range f.Qpdf[1] {
		text := string(object)
		links := strings.Count(text, `"/Link"`)
		lead := regexp.MustCompile(`"/Dest": \[\s*"(\d+ 0 R)"`).FindAllStringSubmatch(text, -1)
		for _, to := range lead {
			inside++
			if !leaf[to[1]] {
				t.Errorf("a link leads to object %s, which is no leaf", to[1])
			}
		}
		if out := strings.Count(text, `"/URI": `); links > len(lead)+out {
			t.Errorf("%d links, %d of them lead to a leaf and %d out: %.300s", links, len(lead), out, text)
		}
	}
	if inside < 500 {
		t.Errorf("only %d links", inside)
	}
}

// sheetSizes are the sheets of ISO 216 in millimetres.
var sheetSizes = map[string][2]float64{"A4": {210, 297}, "A3": {297, 420}, "A2": {420, 594}, "A1": {594, 841}, "A0": {841, 1189}}

// Leaves are A4; each drawing has the sheet that it says.
func TestBinderPageSizes(t *testing.T) {
	p := example(t)
	info := inspect.Run(t, "pdfinfo", "-f", "1", "-l", "100000", p.binder())
	sizes := map[int][2]float64{}
	for _, m := range regexp.MustCompile(`Page +(\d+) size: +([\d.]+) x ([\d.]+) pts`).FindAllStringSubmatch(info, -1) {
		n, _ := strconv.Atoi(m[1])
		w, _ := strconv.ParseFloat(m[2], 64)
		h, _ := strconv.ParseFloat(m[3], 64)
		sizes[n] = [2]float64{w * 25.4 / 72, h * 25.4 / 72}
	}
	want := map[int][2]float64{}
	for _, one := range p.made.Document.Pages {
		for _, s := range one.Sheets {
			if !one.Only.Fits(p.made.Document.Default()) {
				continue
			}
			name, way, _ := strings.Cut(s.Size, " ")
			size := sheetSizes[name]
			if way == "landscape" {
				size[0], size[1] = size[1], size[0]
			}
			want[p.leafOf(t, s.Picture.Title)] = size
		}
	}
	if len(sizes) != len(leaves(t)) {
		t.Errorf("%d sizes for %d leaves", len(sizes), len(leaves(t)))
	}
	for n, size := range sizes {
		should, drawing := want[n]
		if !drawing {
			should = sheetSizes["A4"]
		}
		if math.Abs(size[0]-should[0]) > 0.1 || math.Abs(size[1]-should[1]) > 0.1 {
			t.Errorf("leaf %d measures %.1f × %.1f mm, want %v", n, size[0], size[1], should)
		}
	}
}

// leafOf is the leaf that the bookmark of a drawing leads to.
func (p publication) leafOf(t *testing.T, title string) int {
	t.Helper()
	for _, b := range all(p.pdf(t).Outlines) {
		if b.Title == "Drawing: "+title {
			return b.Leaf
		}
	}
	t.Errorf("no bookmark for the drawing %q", title)
	return 0
}

// strokes are the straight lines of a leaf's content in millimetres, as (length
// across, length down), transforms applied.
func strokes(t *testing.T, content string) [][2]float64 {
	t.Helper()
	const point = 25.4 / 72
	var (
		list      [][2]float64
		numbers   []float64
		at, start [2]float64
		scale     = [2]float64{1, 1}
		kept      [][2]float64
	)
	to := func(x, y float64) {
		list = append(list, [2]float64{math.Abs(x-at[0]) * scale[0] * point, math.Abs(y-at[1]) * scale[1] * point})
		at = [2]float64{x, y}
	}
	for _, word := range strings.Fields(content) {
		if v, err := strconv.ParseFloat(word, 64); err == nil {
			numbers = append(numbers, v)
			continue
		}
		n := numbers
		switch {
		case word == "q":
			kept = append(kept, scale)
		case word == "Q" && len(kept) > 0:
			scale, kept = kept[len(kept)-1], kept[:len(kept)-1]
		case word == "cm" && len(n) == 6 && n[1] == 0 && n[2] == 0:
			scale = [2]float64{scale[0] * n[0], scale[1] * n[3]}
		case word == "m" && len(n) == 2:
			at = [2]float64{n[0], n[1]}
			start = at
		case word == "l" && len(n) == 2:
			to(n[0], n[1])
		case word == "c" && len(n) == 6:
			at = [2]float64{n[4], n[5]}
		case word == "h":
			to(start[0], start[1])
		}
		numbers = nil
	}
	return list
}

// Lines of the drawings measure on paper what the plan says, by the stated scale.
// The lengths are the plan's own and are read here from its text, not from what was
// worked out.
func TestDrawingsMeasureTrue(t *testing.T) {
	p := example(t)
	for _, c := range []struct {
		name, part string
		length     float64 // mm
		lines      int     // at least so many of that length
	}{
		// opening 140 + pillar.length 156 + 80 mm: the ribs of the slotted bar.
		{name: "slotted bar", part: "post", length: 376, lines: 4},
		// opening 140 - rest_height 20 + 36 mm: both sides of a bar on a sheet that it fits.
		{name: "round bar", part: "pillar", length: 156, lines: 2},
		// outline 260 × 180 mm with corners of 4 mm.
		{name: "plate, along", part: "head_plate", length: 252, lines: 2},
		{name: "plate, across", part: "head_plate", length: 172, lines: 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			one := p.page(t, "parts/"+c.part)
			if len(one.Sheets) == 0 {
				t.Fatal("no drawing")
			}
			sheet := one.Sheets[0]
			var paper, real float64
			if _, err := fmt.Sscanf(sheet.Scale, "%g:%g", &paper, &real); err != nil {
				t.Fatalf("scale %q: %v", sheet.Scale, err)
			}
			want := c.length * paper / real
			found, nearest := 0, math.Inf(1)
			for _, s := range strokes(t, uncompressed(t, p.binder(), p.leafOf(t, sheet.Picture.Title))) {
				length := math.Hypot(s[0], s[1])
				if off := math.Abs(length - want); off <= 0.05 {
					found++
				} else if off < math.Abs(nearest-want) {
					nearest = length
				}
			}
			if found < c.lines {
				t.Errorf("%d lines measure %.2f mm (%g mm at %s), want %d; the next measures %.3f mm", found, want, c.length, sheet.Scale, c.lines, nearest)
			}
		})
	}
}

// A part that is drawn broken off has no line of its true length any more: its drawing
// says it. The length is the plan's own.
func TestBrokenViewsSayTheTrueLength(t *testing.T) {
	const part, length = "guide_rod", 400.0 // post 376 + 24 mm
	p := example(t)
	sheet := p.page(t, "parts/"+part).Sheets[0]
	if sheet.Scale != "1:1" {
		t.Fatalf("drawn at %s", sheet.Scale)
	}
	leaf := p.leafOf(t, sheet.Picture.Title)
	for _, s := range strokes(t, uncompressed(t, p.binder(), leaf)) {
		if long := math.Hypot(s[0], s[1]); math.Abs(long-length) <= 0.05 {
			t.Errorf("a line measures %.2f mm: the view is not broken", long)
		}
	}
	page := fmt.Sprint(leaf)
	words := strings.Fields(inspect.Run(t, "pdftotext", "-enc", "UTF-8", "-f", page, "-l", page, p.binder(), "-"))
	if !slices.Contains(words, fmt.Sprint(length)) {
		t.Errorf("%g stands nowhere on the drawing: %q", length, words)
	}
}

// A builder's binder is made for any combination of choices and says what holds
// under it and nothing of the others.
func TestBinderOfEveryCombination(t *testing.T) {
	t.Parallel()
	p := example(t)
	doc := p.made.Document
	for i, s := range p.work.Combinations() {
		name := fmt.Sprint(s.Case.Options)
		t.Run(name, func(t *testing.T) {
			data, problems, err := binder.Render(doc, binder.Options{Combination: page.Combination(s.Case.Options), Kept: keptOfExample})
			if err != nil {
				t.Fatal(err)
			}
			for _, problem := range problems {
				t.Error(problem)
			}
			file := filepath.Join(scratch, fmt.Sprintf("combination-%d.pdf", i))
			if err := os.WriteFile(file, data, 0o644); err != nil {
				t.Fatal(err)
			}
			inspect.Run(t, "qpdf", "--check", file)
			text := squeezed(inspect.Run(t, "pdftotext", "-enc", "UTF-8", file, "-"))
			for _, line := range s.Bill.Lines {
				if title := bill.Title(line.Part); !strings.Contains(text, squeezed(title)) {
					t.Errorf("part %q is not in it", title)
				}
			}
			for _, a := range p.work.Plan.Assemblies {
				for _, step := range a.Steps {
					built := s.Reckoning.Tally().Assembled[a.ID.Text] > 0 && step.Only.Fits(s.Case.Options)
					if has := strings.Contains(text, squeezed(step.Title.Value)); has != built {
						t.Errorf("step %q: in the binder %v, part of the work %v", step.Title.Value, has, built)
					}
				}
			}
		})
	}
}
