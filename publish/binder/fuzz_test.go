package binder

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/memo"
	"plansheaf/publish/inspect"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// hostile is a document with the same bytes wherever text or data may stand.
func hostile(s string, data []byte) *page.Document {
	w := []page.Inline{page.Text(s), page.Strong{Words: text(s)}, page.Verbatim(s), page.Measure{First: s, Second: s},
		page.Link{To: page.Target{URL: s}, Words: text(s)}, page.Link{To: page.Target{Page: s, Anchor: s}, Words: text(s)}, page.Link{To: page.Target{File: s}, Words: text(s)}, page.NoteRef(len(s))}
	cells := page.Table{ID: s, Caption: w, Columns: []page.Column{{Head: w, Width: math.NaN()}, {Head: w}}, Rows: []page.Row{{ID: s, Cells: []page.Cell{{Words: w}, {Words: w}, {Words: w}}}, {Section: true}, {}}, Foot: []page.Row{{Cells: []page.Cell{{Words: w}}}}}
	odd := &picture.Picture{Name: s, Title: s, Width: 50, Height: math.Inf(1)}
	good := plate(s, s, 60, 40)
	strange := notation.Equation(notation.Name(s), notation.Beside(notation.Name(s+"."+s), s))
	image := &page.Image{Path: s, Alt: s, Data: data}
	step := page.Step{ID: s, Anchor: s, Number: page.Words(s), Title: s, Tick: s, Figure: &page.Figure{Image: image, Caption: w}, Bag: &cells, Screws: &cells,
		Facts: []page.Fact{{Label: s, Words: w}}, Text: []page.Block{page.Code{Text: s}}, Cautions: []page.CautionBox{{Signal: page.Signal(s), Sign: s, Title: w}}}
	blocks := []page.Block{page.Heading{Level: len(s), ID: s, Words: w}, page.Paragraph{Words: w}, page.List{Start: -7, Ordered: true, Items: []page.Item{{}, {Tick: s, Blocks: []page.Block{page.Paragraph{Words: w}}}}},
		page.Quote{}, page.Quote{Blocks: []page.Block{page.Code{Text: s}}}, page.Footnotes{}, page.Footnotes{Notes: []page.Footnote{{Number: len(s)}}}, cells, page.Table{}, page.Figure{}, page.Figure{Picture: odd}, page.Figure{Small: true, Image: image},
		page.Paragraph{}, page.Figure{Picture: good, Caption: w}, page.Facts{}, step, page.Step{}, page.Equation{ID: s, Name: strange, About: w, Is: strange, Worked: []page.Worked{{Is: strange}}, Result: append([]page.Inline{page.Formula{Is: strange}}, w...), Facts: []page.Fact{{Label: s, Words: w}}}, page.Equation{},
		page.Cards{Cards: []page.Card{{Target: page.Target{Page: s}, Title: s, Note: w, Picture: odd}}}, page.Cards{}, nil, &cells, page.CautionBox{}}
	return &page.Document{Title: s, Summary: s, Revision: s, Date: s, Authors: []string{s, s}, License: s, Language: s, Sheet: s, Machine: s,
		Choices: []page.Choice{{ID: s, Title: s, Options: []page.Option{{ID: s, Title: s}}}},
		Pages: []*page.Page{nil, {ID: s, Title: s, Kind: page.Kind(s), Summary: s, Parent: s, Blocks: blocks, Sheets: []page.Sheet{{Picture: good, Size: s, Scale: s}, {Picture: odd}, {}}},
			{ID: s, Title: s, Kind: page.Safety, Parent: s, Blocks: blocks}}}
}

// FuzzLayOut looks for text and image bytes that end in a panic, in a mark
// outside its leaf or in a character that prints as an empty box.
func FuzzLayOut(f *testing.F) {
	for i, s := range hostileTexts {
		f.Add(s, hostileImages[i%len(hostileImages)])
	}
	f.Fuzz(func(t *testing.T, s string, data []byte) {
		s, data = s[:min(len(s), 300)], data[:min(len(data), 1<<16)] // one run is to take no longer
		twoSided := len(s)%2 == 0
		c, b, err := layOut(hostile(s, data), Options{TwoSided: twoSided})
		if err != nil {
			t.Fatal(err)
		}
		checkLeaves(t, c, b, twoSided)
	})
}

// hostileTexts and hostileImages are what breaks programs.
var (
	hostileTexts = []string{
		"Head plate",
		"\xff\x00\x1b\u202e\U0001F527\u0301\u0301 )(\\<>&]]>%PDF {nb}",
		"",
		"averyveryverylongwordaveryveryverylongwordaveryveryverylongwordaveryveryverylongword中",
		":cover", ":contents", "#", "\u2028\u00ad\u200b\u00a0", strings.Repeat("W", 200), strings.Repeat("i \n", 60),
	}
	hostileImages = [][]byte{photograph("png", 3, 3), []byte("\x89PNG\r\n\x1a\n"), {0xFF, 0xD8, 0xFF, 0xE1, 0xFF, 0xFF}, photograph("jpeg", 2, 2)}
)

func TestHostileTextIsReadable(t *testing.T) {
	for i, s := range hostileTexts[:5] {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			path, problems := rendered(t, hostile(s, hostileImages[i%len(hostileImages)]), Options{})
			if len(problems) == 0 {
				t.Error("nothing is reported")
			}
			inspect.Run(t, "qpdf", "--check", path)
			inspect.Run(t, "pdftotext", path, "-")
		})
	}
}

// FuzzDevelop looks for image bytes that end in a panic, or in an image that
// gofpdf would not take.
func FuzzDevelop(f *testing.F) {
	f.Add(photograph("png", 4, 4))
	f.Add(photograph("jpeg", 8, 8))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := newDarkroom(nil).develop(data)
		if err == nil && (len(r.Data) == 0 || r.Width <= 0 || r.Height <= 0) {
			t.Errorf("%d by %d, %d bytes", r.Width, r.Height, len(r.Data))
		}
	})
}

// long is a document of about the given number of leaves.
func long(leaves int) *page.Document {
	doc := &page.Document{Title: "Long", Revision: "A", Date: "2026-01-01"}
	for i := 0; i < leaves; i += 4 {
		t := partsTable(36)
		t.Caption = text(fmt.Sprintf("List %d", i))
		doc.Pages = append(doc.Pages, &page.Page{ID: fmt.Sprintf("p%d", i), Title: fmt.Sprintf("Section %d", i), Kind: page.Prose,
			Blocks: append(stepBlocks(1), t)})
	}
	return doc
}

func BenchmarkRender(b *testing.B) {
	for _, leaves := range []int{100, 400} {
		for name, kept := range map[string]*memo.Store{"anew": nil, "known": memo.New()} {
			b.Run(fmt.Sprintf("%d-leaves-%s", leaves, name), func(b *testing.B) {
				doc := long(leaves)
				if _, _, err := Render(doc, Options{Kept: kept}); err != nil {
					b.Fatal(err)
				}
				b.ReportAllocs()
				for b.Loop() {
					pdf, _, err := Render(doc, Options{Kept: kept})
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(len(pdf)), "bytes/binder")
				}
			})
		}
	}
}
