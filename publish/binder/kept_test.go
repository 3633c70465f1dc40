package binder

import (
	"bytes"
	"reflect"
	"testing"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// photographed is the sample with what is kept besides pictures: photographs, and a
// picture with a letter that no font has.
func photographed() *page.Document {
	doc := sample()
	odd := plate("odd", "Odd", 80, 60)
	odd.Add(picture.Text{At: picture.Point{X: 5, Y: 5}, Words: "a\u4e2d", Height: 3})
	doc.Pages[2].Blocks = append(doc.Pages[2].Blocks,
		page.Figure{Image: &page.Image{Path: "kiln.jpg", Data: photograph("jpeg", 300, 200)}},
		page.Figure{Image: &page.Image{Path: "clay.png", Data: photograph("png", 200, 100)}},
		page.Figure{Image: &page.Image{Path: "broken.png", Data: []byte("no picture")}},
		page.Figure{Picture: odd})
	return doc
}

// renderedWith renders a document with a store.
func renderedWith(t *testing.T, doc *page.Document, kept *memo.Store, options Options) ([]byte, []Problem) {
	t.Helper()
	options.Kept = kept
	pdf, problems, err := Render(doc, options)
	if err != nil {
		t.Fatal(err)
	}
	return pdf, problems
}

func TestWhatIsKeptGivesTheSameBinder(t *testing.T) {
	want, wantProblems := renderedWith(t, photographed(), nil, Options{})
	store := memo.New()
	for run := range 3 {
		store.Doubt = run == 2
		pdf, problems := renderedWith(t, photographed(), store, Options{})
		if !bytes.Equal(pdf, want) || !reflect.DeepEqual(problems, wantProblems) {
			t.Fatalf("run %d gives another binder", run)
		}
		if uses := store.Uses(); run == 0 && uses.New < 30 || run > 0 && (uses.New > 0 || uses.Known < 30) {
			t.Errorf("run %d: %+v", run, uses)
		}
		store.Next()
	}
	if faults := store.Faults(); faults != nil {
		t.Errorf("faults: %q", faults)
	}
}

// TestAChangeDrawsOnlyItselfAnew edits the sample in turn, the store being filled by the
// edit before.
func TestAChangeDrawsOnlyItselfAnew(t *testing.T) {
	store := memo.New()
	renderedWith(t, photographed(), store, Options{})
	for _, test := range []struct {
		name    string
		edit    func(*page.Document)
		options Options
		most    int // results that are new
	}{
		{name: "a picture", most: 3, edit: func(doc *page.Document) { // its look, its form, its leaf
			sheet := doc.Pages[4].Sheets[0].Picture
			sheet.Add(picture.Path{Curves: picture.Circle(picture.Point{X: 50, Y: 50}, 3), Line: picture.Visible})
		}},
		{name: "a word", most: 3, edit: func(doc *page.Document) {
			doc.Pages[4].Blocks = append([]page.Block{page.Paragraph{Words: text("Deburr it.")}}, doc.Pages[4].Blocks...)
		}},
		{name: "leaves more at the end", most: 5, edit: func(doc *page.Document) { // and none before them
			end := doc.Pages[len(doc.Pages)-1]
			for range 8 {
				end.Blocks = append(end.Blocks, page.Paragraph{Words: text(longProse)})
			}
		}},
		{name: "a letter that no font held", most: 4, edit: func(doc *page.Document) {
			doc.Pages[4].Blocks = append([]page.Block{page.Paragraph{Words: text("Ж")}}, doc.Pages[4].Blocks...)
		}},
		{name: "the same picture larger", most: 4, edit: func(doc *page.Document) {
			doc.Pages[4].Sheets[0].Picture.Height += 1
		}},
		{name: "another choice", options: Options{Combination: page.Combination{"drive": "crank"}}, most: 80, edit: func(*page.Document) {}},
		{name: "two-sided", options: Options{TwoSided: true}, most: 80, edit: func(*page.Document) {}},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc := photographed()
			test.edit(doc)
			want, wantProblems := renderedWith(t, doc, nil, test.options)
			store.Next()
			pdf, problems := renderedWith(t, doc, store, test.options)
			if !bytes.Equal(pdf, want) || !reflect.DeepEqual(problems, wantProblems) {
				t.Error("what is kept gives another binder")
			}
			uses := store.Uses()
			if uses.New == 0 && test.most < 80 || uses.New > test.most {
				t.Errorf("%d results are new, want 1 to %d", uses.New, test.most)
			}
			t.Logf("%+v", uses)
		})
	}
	if faults := store.Faults(); faults != nil {
		t.Errorf("faults: %q", faults)
	}
}
