package binder

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"plansheaf/publish/inspect"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

// rendered writes a document's binder to a file and gives its path. BINDER_OUT
// names a file to keep it in, for looking at.
func rendered(t *testing.T, doc *page.Document, options Options) (string, []Problem) {
	t.Helper()
	pdf, problems, err := Render(doc, options)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "binder.pdf")
	if keep := os.Getenv("BINDER_OUT"); keep != "" {
		path = keep
	}
	if err := os.WriteFile(path, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	return path, problems
}

// sampleBinder is the sample's PDF, rendered once for all tests that only read
// it.
var sampleBinder = sync.OnceValues(func() ([]byte, error) {
	pdf, _, err := Render(sample(), Options{})
	return pdf, err
})

// sampleFile is a file with the sample's binder.
func sampleFile(t *testing.T) string {
	t.Helper()
	pdf, err := sampleBinder()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "binder.pdf")
	if err := os.WriteFile(path, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func draft() *page.Document {
	doc := sample()
	doc.Draft = true
	return doc
}

func letter() *page.Document {
	doc := sample()
	doc.Sheet = "letter"
	return doc
}

func TestBinderIsValid(t *testing.T) {
	for _, test := range []struct {
		name    string
		doc     *page.Document
		options Options
	}{
		{name: "A4", doc: sample()},
		{name: "draft", doc: draft()},
		{name: "letter, two-sided", doc: letter(), options: Options{TwoSided: true}},
		{name: "other choice", doc: sample(), options: Options{Combination: page.Combination{"drive": "crank"}}},
		{name: "attachments", doc: sample(), options: Options{Attachments: []Attachment{
			{Name: "zebra.csv", Type: "text/csv", About: "List", Data: []byte("a,b\n")}, {Name: "äpfel (1).json", Data: []byte("{}")}}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			path, problems := rendered(t, test.doc, test.options)
			for _, p := range problems {
				t.Errorf("problem: %v", p)
			}
			if out := inspect.Run(t, "qpdf", "--check", path); strings.Contains(strings.ToLower(out), "warning") {
				t.Error(out)
			}
			info := inspect.Run(t, "pdfinfo", path)
			for _, want := range []string{"Title:           Bench tile press", "Author:          The kiln yard workshop",
				"CreationDate:", "2026", "Metadata Stream: yes", "PDF version:     1.7"} {
				if !strings.Contains(info, want) {
					t.Errorf("pdfinfo lacks %q:\n%s", want, info)
				}
			}
		})
	}
}

func TestAttachmentsComeBack(t *testing.T) {
	path, _ := rendered(t, sample(), Options{Attachments: []Attachment{{Name: "list.csv", Type: "text/csv", Data: []byte("item,count\n1,2\n")}}})
	if out := inspect.Run(t, "pdfdetach", "-list", path); !strings.Contains(out, "list.csv") {
		t.Errorf("pdfdetach lists %q", out)
	}
	saved := filepath.Join(t.TempDir(), "out")
	inspect.Run(t, "pdfdetach", "-save", "1", "-o", saved, path)
	if data, err := os.ReadFile(saved); err != nil || string(data) != "item,count\n1,2\n" {
		t.Errorf("saved %q, %v", data, err)
	}
	for _, name := range []string{"", "a/b", `a\b`} {
		if _, _, err := Render(sample(), Options{Attachments: []Attachment{{Name: name}}}); err == nil {
			t.Errorf("attachment named %q was taken", name)
		}
	}
}

// wordsOf are the words of all that a document's pages say under choices.
// letters are the words within a formula, one after the other.
func letters(n *notation.Node) string {
	if n == nil {
		return ""
	}
	words := n.Text
	if n.Kind == notation.Operator || n.Kind == notation.Fence {
		words = "" // signs, and brackets that may be drawn
	}
	for _, inner := range append(append([]*notation.Node(nil), n.Args...), n.Sub, n.Sup) {
		words += " " + letters(inner)
	}
	return words
}

func wordsOf(doc *page.Document, c page.Combination) []string {
	var b strings.Builder
	var blocks func([]page.Block)
	say := func(words []page.Inline) { b.WriteString(plain(words, c) + "\n") }
	rows := func(rows []page.Row) {
		for _, r := range rows {
			for _, cell := range r.Cells {
				say(cell.Words)
			}
		}
	}
	table := func(t *page.Table) {
		if t == nil {
			return
		}
		say(t.Caption)
		for _, col := range t.Columns {
			say(col.Head)
		}
		rows(t.Rows)
		rows(t.Foot)
	}
	facts := func(facts []page.Fact) {
		for _, f := range facts {
			b.WriteString(f.Label + "\n")
			say(f.Words)
		}
	}
	caution := func(box page.CautionBox) {
		b.WriteString(strings.ToUpper(string(box.Signal)) + "\n")
		say(box.Title)
		blocks(box.Blocks)
	}
	blocks = func(list []page.Block) {
		for _, block := range list {
			switch v := block.(type) {
			case page.Heading:
				say(v.Words)
			case page.Paragraph:
				say(v.Words)
			case page.List:
				for _, item := range v.Items {
					blocks(item.Blocks)
				}
			case page.Quote:
				blocks(v.Blocks)
			case page.Code:
				b.WriteString(strings.Split(v.Text, "a_very")[0] + "\n")
			case page.Footnotes:
				for _, n := range v.Notes {
					blocks(n.Blocks)
				}
			case page.Table:
				table(&v)
			case page.Figure:
				say(v.Caption)
			case page.CautionBox:
				caution(v)
			case page.Facts:
				facts(v.Facts)
			case page.Step:
				b.WriteString(plain(v.Number, nil) + " " + v.Title + "\n")
				for _, box := range v.Cautions {
					caution(box)
				}
				say(v.Figure.Caption)
				table(v.Bag)
				table(v.Screws)
				facts(v.Facts)
				blocks(v.Text)
				blocks([]page.Block{page.List{Items: v.Measures}})
			case page.Equation:
				say(v.About)
				if v.Name != nil {
					b.WriteString(letters(v.Name) + "\n")
				}
				b.WriteString(letters(v.Is) + "\n")
				say(v.Result)
				facts(v.Facts)
			case page.Cards:
				for _, card := range v.Cards {
					if card.Only.Fits(c) {
						b.WriteString(card.Title + "\n")
						say(card.Note)
					}
				}
			}
		}
	}
	for _, p := range doc.Pages {
		if p.Only.Fits(c) {
			b.WriteString(p.Title + "\n" + p.Summary + "\n")
			blocks(p.Blocks)
		}
	}
	b.WriteString(doc.Title + " " + doc.Summary + " " + doc.Revision + " " + doc.Date + " " + doc.License)
	return strings.Fields(b.String())
}

func TestEveryWordIsPrinted(t *testing.T) {
	doc := sample()
	for _, c := range []page.Combination{{"drive": "motor", "tile": "150"}, {"drive": "crank", "tile": "100"}} {
		path, _ := rendered(t, doc, Options{Combination: c})
		out := inspect.Run(t, "pdftotext", "-enc", "UTF-8", path, "-")
		// Signs that are drawn are no text; words may be broken; a page number or an
		// address may stand before the stop that follows a link.
		loose := func(s string) string {
			return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" \n\f\u00a0⌴⌵⟂", r) }), "")
		}
		all, seen := loose(out), map[string]bool{}
		for _, word := range wordsOf(doc, c) {
			if !seen[word] && !strings.Contains(all, loose(strings.TrimRight(word, ".;,"))) {
				t.Errorf("%v: %q is not printed", c, word)
			}
			seen[word] = true
		}
	}
}

func TestEveryLeafHasItsRunningHead(t *testing.T) {
	for _, test := range []struct {
		name string
		doc  *page.Document
	}{{"released", sample()}, {"draft", draft()}} {
		t.Run(test.name, func(t *testing.T) {
			path, _ := rendered(t, test.doc, Options{})
			leaves := strings.Split(strings.TrimSuffix(inspect.Run(t, "pdftotext", path, "-"), "\f"), "\f")
			for i, text := range leaves {
				flat := strings.Join(strings.Fields(text), " ")
				for _, want := range []string{"Bench tile press", fmt.Sprintf("%d / %d", i+1, len(leaves))} {
					if !strings.Contains(flat, want) {
						t.Errorf("leaf %d lacks %q", i+1, want)
					}
				}
				if !strings.Contains(flat, "Revision C") && !strings.Contains(flat, "Revision") {
					t.Errorf("leaf %d does not say its revision", i+1)
				}
				if got := strings.Contains(flat, "DRAFT"); got != test.doc.Draft {
					t.Errorf("leaf %d says DRAFT: %v", i+1, got)
				}
			}
		})
	}
}

func TestDrawingsKeepTheirPaper(t *testing.T) {
	path := sampleFile(t)
	out := inspect.Run(t, "pdfinfo", "-f", "1", "-l", "999", path)
	// A3 and A4 in points (ISO 216 at 72 points an inch).
	a3 := strings.Count(out, "1190.55 x 841.89 pts")
	if a3 != 3 {
		t.Errorf("%d leaves are A3 landscape, want 3:\n%s", a3, out)
	}
}

// A qpdfFile is what the tests read of qpdf's JSON.
type qpdfFile struct {
	Pages    []struct{ Object string }
	Outlines []outlineJSON
	Qpdf     []map[string]json.RawMessage
}

type outlineJSON struct {
	Title       string
	Open        bool
	DestPage    int           `json:"destpageposfrom1"`
	Kids        []outlineJSON `json:"kids"`
	Destination []any         `json:"dest"`
}

func structureOf(t *testing.T, path string) qpdfFile {
	t.Helper()
	var f qpdfFile
	if err := json.Unmarshal([]byte(inspect.Run(t, "qpdf", "--json", "--json-key=pages", "--json-key=outlines", "--json-key=qpdf", path)), &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// leafTexts are the words of each leaf.
func leafTexts(t *testing.T, path string) []string {
	var texts []string
	for _, text := range strings.Split(inspect.Run(t, "pdftotext", path, "-"), "\f") {
		texts = append(texts, strings.Join(strings.Fields(text), " "))
	}
	return texts
}

func TestBookmarksLeadToWhatTheyName(t *testing.T) {
	path := sampleFile(t)
	f, texts := structureOf(t, path), leafTexts(t, path)
	count := 0
	var walk func([]outlineJSON)
	walk = func(items []outlineJSON) {
		for _, item := range items {
			count++
			want := strings.Join(strings.Fields(strings.TrimPrefix(item.Title, "Drawing: ")), " ")
			if item.DestPage < 1 || !strings.Contains(texts[item.DestPage-1], want) {
				t.Errorf("bookmark %q leads to leaf %d, which does not say it", item.Title, item.DestPage)
			}
			walk(item.Kids)
		}
	}
	walk(f.Outlines)
	if top := len(f.Outlines); top != 10 {
		t.Errorf("%d bookmarks at the top, want 10", top)
	}
	if count < 30 {
		t.Errorf("only %d bookmarks", count)
	}
}

func TestContentsAndLinksAgree(t *testing.T) {
	path := sampleFile(t)
	f, texts := structureOf(t, path), leafTexts(t, path)
	number := map[string]int{}
	for i, p := range f.Pages {
		number[p.Object] = i + 1
	}
	contents := ""
	for _, text := range texts {
		if strings.Contains(text, "Section Contents") || strings.Contains(text, "Contents Drawing Page") {
			contents = text
		}
	}
	if contents == "" {
		t.Fatal("no leaf of contents")
	}
	for _, title := range []string{"Safety", "Parts list", "Frame", "Drive", "Calculations"} {
		match := regexp.MustCompile(title + `[ .]* (\d+)`).FindStringSubmatch(contents)
		if match == nil {
			t.Errorf("contents do not list %q", title)
			continue
		}
		var leaf int
		fmt.Sscan(match[1], &leaf)
		if !strings.Contains(texts[leaf-1], title) {
			t.Errorf("contents send to leaf %d for %q", leaf, title)
		}
	}
	links := 0
	for _, raw := range regexp.MustCompile(`"/Dest": \[\s*"(\d+ 0 R)"`).FindAllStringSubmatch(inspect.Run(t, "qpdf", "--json", path), -1) {
		links++
		if number[raw[1]] == 0 {
			t.Errorf("a link leads to object %s, which is no page", raw[1])
		}
	}
	if links < 40 {
		t.Errorf("only %d links", links)
	}
}

func TestSameDocumentSameBytes(t *testing.T) {
	first, err := sampleBinder()
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		again, _, err := Render(sample(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first, again) {
			t.Fatal("the same document gave other bytes")
		}
	}
}

func TestNothingToPrint(t *testing.T) {
	if _, _, err := Render(&page.Document{Title: "Empty"}, Options{}); !errors.Is(err, ErrNothing) {
		t.Errorf("got %v", err)
	}
	if _, _, err := Render(nil, Options{}); err == nil {
		t.Error("no document was rendered")
	}
}

func TestCatalog(t *testing.T) {
	path := sampleFile(t)
	out := inspect.Run(t, "qpdf", "--qdf", "--object-streams=disable", path, "-")
	for _, want := range []string{"/PrintScaling /None", "/DisplayDocTitle true", "/PickTrayByPDFSize true", "/Lang (en)",
		"/PageLabels", "/PageMode /UseOutlines", "<dc:title>", "/ID ["} {
		if !strings.Contains(out, want) {
			t.Errorf("the file lacks %q", want)
		}
	}
	if strings.Contains(out, "/BlendMode") || strings.Contains(out, "NaN") {
		t.Error("the file holds what it should not")
	}
}
