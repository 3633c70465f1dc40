package site

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"net/url"
	"path"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// render renders doc and indexes its files by path.
func render(t *testing.T, doc *page.Document) map[string][]byte {
	t.Helper()
	files, err := Render(doc, nil)
	if err != nil {
		t.Fatal(err)
	}
	byPath := map[string][]byte{}
	last := ""
	for _, f := range files {
		if f.Path <= last {
			t.Errorf("%q stands after %q", f.Path, last)
		}
		last = f.Path
		byPath[f.Path] = f.Data
	}
	return byPath
}

// elements parses a page and calls visit for every element.
func elements(t *testing.T, data []byte, visit func(*html.Node)) {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	for n := range doc.Descendants() {
		if n.Type == html.ElementNode {
			visit(n)
		}
	}
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// passedThrough are the sample's files that others write beside the site.
var passedThrough = map[string]bool{
	"files/crank_knob.stl": true, "binder.pdf": true, "files/clay photo.png": true, "files/wiring.svg": true,
}

func TestEveryLinkAndIDResolves(t *testing.T) {
	files := render(t, sample())
	ids := map[string]map[string]bool{}
	for file, data := range files {
		if path.Ext(file) != ".html" {
			continue
		}
		ids[file] = map[string]bool{}
		elements(t, data, func(n *html.Node) {
			if id := attribute(n, "id"); id != "" {
				if ids[file][id] {
					t.Errorf("%s: two elements have the id %q", file, id)
				}
				ids[file][id] = true
			}
		})
	}
	if len(ids) != len(sample().Pages) {
		t.Errorf("%d pages for %d", len(ids), len(sample().Pages))
	}
	linked := map[string]bool{}
	for file := range ids {
		elements(t, files[file], func(n *html.Node) {
			for _, name := range []string{"href", "src"} {
				address := attribute(n, name)
				if address == "" {
					continue
				}
				u, err := url.Parse(address)
				if err != nil {
					t.Errorf("%s: %q: %v", file, address, err)
					continue
				}
				if u.Scheme != "" || u.Host != "" {
					if n.Data != "a" || u.Host != "example.org" {
						t.Errorf("%s: <%s %s=%q> leads out", file, n.Data, name, address)
					}
					continue
				}
				to := file
				if u.Path != "" {
					to = path.Join(path.Dir(file), u.Path)
				}
				linked[to] = true
				if files[to] == nil && !passedThrough[to] {
					t.Errorf("%s: %q leads to %q, which is not there", file, address, to)
				}
				if u.Fragment != "" && !ids[to][u.Fragment] {
					t.Errorf("%s: %q: no such id in %q", file, address, to)
				}
			}
			for _, name := range []string{"for", "aria-labelledby"} {
				if id := attribute(n, name); id != "" && !ids[file][id] {
					t.Errorf("%s: %s=%q: no such id", file, name, id)
				}
			}
		})
	}
	for file := range files {
		if !linked[file] && file != "assets/search-data.js" { // the script loads it
			t.Errorf("nothing leads to %s", file)
		}
	}
}

func TestPagesWeighLittle(t *testing.T) {
	files := render(t, sample())
	shared := len(files["assets/style.css"]) + len(files["assets/script.js"]) + len(files["assets/steps-data.js"])
	const limit = 150_000
	for file, data := range files {
		if path.Ext(file) == ".html" && len(data)+shared > limit {
			t.Errorf("%s weighs %d bytes with what it loads, over %d", file, len(data)+shared, limit)
		}
	}
}

func TestPicturesAreWellFormed(t *testing.T) {
	for file, data := range render(t, sample()) {
		if path.Ext(file) != ".svg" {
			continue
		}
		decoder := xml.NewDecoder(bytes.NewReader(data))
		for {
			_, err := decoder.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Errorf("%s: %v", file, err)
				break
			}
		}
	}
}

func TestSameDocumentSameBytes(t *testing.T) {
	first := render(t, sample())
	for range 3 {
		again := render(t, sample())
		for file, data := range again {
			if !bytes.Equal(data, first[file]) {
				t.Errorf("%s differs from run to run", file)
			}
		}
	}
}

// hostile is text that would be markup, script or an address if it could.
const hostile = `"'><script>alert(1)</script><img src=x onerror=alert(2)>{{.}}&amp;</script><!--`

func TestHostileTextStaysText(t *testing.T) {
	doc := hostileDocument()
	files := render(t, doc)
	plainFiles := render(t, sample())
	for file, data := range files {
		if path.Ext(file) == ".js" {
			if _, known := plainFiles[file]; known && bytes.Contains(data, []byte("</script")) {
				t.Errorf("%s: closes a script element", file)
			}
			continue
		}
		if path.Ext(file) != ".html" {
			continue
		}
		elements(t, data, func(n *html.Node) {
			for _, a := range n.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" {
					t.Errorf("%s: <%s> has %s=%q", file, n.Data, a.Key, a.Val)
				}
				address := strings.ToLower(strings.TrimSpace(a.Val))
				if (a.Key == "href" || a.Key == "src") && (strings.HasPrefix(address, "javascript:") || strings.HasPrefix(address, "data:")) {
					t.Errorf("%s: %s=%q", file, a.Key, a.Val)
				}
			}
			if n.Data == "script" && (n.FirstChild != nil || !strings.Contains(attribute(n, "src"), "assets/")) {
				t.Errorf("%s: a script that is not ours", file)
			}
			if n.Data == "img" && attribute(n, "src") == "x" {
				t.Errorf("%s: an image that is not ours", file)
			}
		})
	}
	if !bytes.Contains(files["index.html"], []byte("&lt;script&gt;alert(1)")) {
		t.Error("the hostile text is not shown as text")
	}
}

// hostileDocument has hostile text in every field that holds words.
func hostileDocument() *page.Document {
	words := page.Words(hostile)
	only := page.Only{{Choice: hostile, Options: []string{hostile}}}
	hostileNode := notation.Equation(notation.Name(hostile), notation.Beside(notation.Name(hostile+"."+hostile), hostile))
	step := page.Step{ID: hostile, Anchor: `a"><script>`, Number: page.Words(hostile), Title: hostile, Only: only, Tick: hostile,
		Facts: []page.Fact{{Label: hostile, Words: words}}, Measures: []page.Item{{Tick: hostile + "2", Blocks: []page.Block{para(hostile)}}}}
	return &page.Document{
		Title: hostile, Summary: hostile, Revision: hostile, Date: hostile, Authors: []string{hostile}, License: hostile,
		Language: hostile, Machine: hostile, Draft: true,
		Choices: []page.Choice{{ID: hostile, Title: hostile, Default: "x", Options: []page.Option{{ID: hostile, Title: hostile}, {ID: "x", Title: hostile}}}},
		Pages: []*page.Page{{ID: "index", Title: hostile, Kind: page.Downloads, Summary: hostile, Only: only, Blocks: []page.Block{
			page.Heading{Level: 2, ID: `h"><script>`, Words: words}, para(hostile), page.Code{Text: hostile, Language: hostile},
			page.Paragraph{Words: []page.Inline{
				page.Link{To: page.Target{URL: "javascript:alert(1)"}, Words: words},
				page.Link{To: page.Target{URL: " JaVaScRiPt:alert(1)"}, Words: words},
				page.Link{To: page.Target{URL: "data:text/html,<script>"}, Words: words},
				page.Link{To: page.Target{URL: `https://example.org/"onmouseover="alert(1)`}, Words: words},
				page.Measure{First: hostile, Second: hostile}, page.Verbatim(hostile),
				page.Varies{Variants: []page.Variant{{When: only, Words: words}, {Words: words}}},
			}},
			page.Table{ID: `t"><script>`, Caption: words, Columns: []page.Column{{Head: words}, {Head: words}, {Head: words}, {Head: words}},
				Rows: []page.Row{{Tick: hostile + "3", Cells: []page.Cell{{Words: words}, {Words: words}}, Only: only}}},
			page.Equation{ID: `q"><script>`, Name: hostileNode, About: words, Is: hostileNode, Worked: []page.Worked{{When: only, Is: hostileNode}}, Result: append([]page.Inline{page.Formula{Is: hostileNode}}, words...), Facts: []page.Fact{{Label: hostile, Words: words}}},
			page.Figure{Picture: &picture.Picture{Name: "p", Title: hostile, Description: hostile, Width: 10, Height: 10}, Caption: words},
			page.Figure{Image: &page.Image{Path: `files/"onerror="alert(1).png`, Alt: hostile}},
			page.CautionBox{Signal: page.Danger, Sign: hostile, Title: words, Blocks: []page.Block{para(hostile)}},
			page.Cards{Cards: []page.Card{{Target: page.Target{URL: "javascript:alert(3)"}, Title: hostile, Note: words}}},
			page.Facts{Facts: []page.Fact{{Label: hostile, Words: words}}}, step,
		}}},
		Downloads: []page.Download{{Path: `files/javascript:alert(1).pdf`, Title: hostile, About: hostile, Bytes: 12}},
	}
}

func TestDocumentsThatContradictThemselvesAreRefused(t *testing.T) {
	link := func(to page.Target) page.Block {
		return page.Paragraph{Words: []page.Inline{page.Link{To: to, Words: page.Words("there")}}}
	}
	pic := func(title string) page.Block {
		return page.Figure{Picture: &picture.Picture{Name: "same", Title: title, Width: 10, Height: 10}}
	}
	heading := page.Heading{Level: 2, ID: "twice", Words: page.Words("Twice")}
	tick := page.List{Items: []page.Item{{Tick: "twice", Blocks: []page.Block{para("a")}}}}
	for _, row := range []struct {
		name, want string
		blocks     []page.Block
		more       *page.Page
	}{
		{name: "page missing", blocks: []page.Block{link(page.Target{Page: "nowhere"})}, want: `"nowhere", which is not there`},
		{name: "anchor missing", blocks: []page.Block{link(page.Target{Page: "index", Anchor: "gone"})}, want: `anchor "gone"`},
		{name: "own anchor missing", blocks: []page.Block{link(page.Target{Anchor: "gone"})}, want: `anchor "gone"`},
		{name: "file outside", blocks: []page.Block{link(page.Target{File: "../secret"})}, want: `"../secret"`},
		{name: "image outside", blocks: []page.Block{page.Figure{Image: &page.Image{Path: "/etc/x.png"}}}, want: `"/etc/x.png"`},
		{name: "picture outside", blocks: []page.Block{page.Figure{Picture: &picture.Picture{Name: "../x", Title: "x", Width: 1, Height: 1}}}, want: `"../x"`},
		{name: "two anchors", blocks: []page.Block{heading, heading}, want: `two anchors "twice"`},
		{name: "two ticks", blocks: []page.Block{tick, tick}, want: `id "twice"`},
		{name: "two pictures of one name", blocks: []page.Block{pic("a"), pic("b")}, want: `the name "same"`},
		{name: "anchor of the theme", blocks: []page.Block{page.Heading{Level: 2, ID: "_main"}}, want: `"_main" cannot be an anchor`},
		{name: "anchor with a blank", blocks: []page.Block{page.Heading{Level: 2, ID: "a b"}}, want: `"a b" cannot be an anchor`},
		{name: "unknown signal word", blocks: []page.Block{page.CautionBox{Signal: "oops"}}, want: `"oops" is not a signal word`},
		{name: "two pages", more: &page.Page{ID: "index"}, want: `two pages have the ID "index"`},
		{name: "page outside", more: &page.Page{ID: "../index"}, want: `"../index" is not a path`},
		{name: "parent missing", more: &page.Page{ID: "x", Parent: "y"}, want: `parent "y"`},
		{name: "own ancestor", more: &page.Page{ID: "x", Parent: "x"}, want: `its own ancestor`},
	} {
		t.Run(row.name, func(t *testing.T) {
			doc := &page.Document{Title: "Press", Pages: []*page.Page{{ID: "index", Title: "Press", Blocks: row.blocks}}}
			if row.more != nil {
				doc.Pages = append(doc.Pages, row.more)
			}
			_, err := Render(doc, nil)
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("error %v, want one that says %q", err, row.want)
			}
		})
	}
}

func TestAddresses(t *testing.T) {
	for _, row := range []struct{ name, address, want string }{
		{name: "https", address: "https://example.org/a b?q=1&r=2#c", want: "https://example.org/a%20b?q=1&r=2#c"},
		{name: "mailto", address: "mailto:me@example.org", want: "mailto:me@example.org"},
		{name: "script", address: "javascript:alert(1)", want: ""},
		{name: "script behind a blank", address: "\tjavascript:alert(1)", want: ""},
		{name: "control character inside", address: "java\nscript:alert(1)", want: ""},
		{name: "data", address: "data:text/html,x", want: ""},
		{name: "file", address: "file:///etc/passwd", want: ""},
		{name: "no scheme", address: "//example.org/", want: ""},
		{name: "no host", address: "https:///x", want: ""},
	} {
		if got := string(outside(row.address)); got != row.want {
			t.Errorf("%s: outside(%q) = %q, want %q", row.name, row.address, got, row.want)
		}
	}
}

func TestHrefs(t *testing.T) {
	for _, row := range []struct{ name, from, path, anchor, want string }{
		{name: "beside", from: "index", path: "safety.html", want: "safety.html"},
		{name: "below", from: "index", path: "parts/post.html", anchor: "holes", want: "parts/post.html#holes"},
		{name: "above", from: "parts/post", path: "index.html", want: "../index.html"},
		{name: "own anchor", from: "parts/post", path: "parts/post.html", anchor: "holes", want: "#holes"},
		{name: "blank and hash", from: "index", path: "files/a #1.pdf", want: "files/a%20%231.pdf"},
		{name: "colon first", from: "index", path: "javascript:x.pdf", want: "./javascript:x.pdf"},
		{name: "colon first, from below", from: "parts/post", path: "a:b.pdf", want: "../a:b.pdf"},
	} {
		w := &pageWriter{page: &page.Page{ID: row.from}, root: root(row.from)}
		if got := string(w.href(row.path, row.anchor)); got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

// With scripts off a page must say what holds by default plainly and mark the
// rest.
func TestOtherChoicesAreMarkedWithoutScripts(t *testing.T) {
	files := render(t, sample())
	for _, row := range []struct{ name, file, want string }{
		{name: "row", file: "parts.html", want: `<tr class="row other" data-only="drive=crank" id="crank_knob">`},
		{name: "mark", file: "parts.html", want: `<span class="no-script mark">Only with Hand crank</span>`},
		{name: "varying words", file: "index.html", want: `<span data-n="1" data-when="drive=motor">4.31 kN</span><span data-n="0" data-when="drive=crank" class="other"><span class="no-script"> [Hand crank: </span>2.9 kN<span class="no-script">]</span></span>`},
		{name: "page", file: "parts/crank_knob.html", want: `This page holds only with Hand crank.`},
		{name: "choices", file: "choices.html", want: `Tile size: Large, 150 mm`},
	} {
		if !bytes.Contains(files[row.file], []byte(row.want)) {
			t.Errorf("%s: %s lacks %q", row.name, row.file, row.want)
		}
	}
}

// A file of the plan that could carry a script is saved, never opened as a page.
func TestFilesThatCouldRunAreSaved(t *testing.T) {
	doc := sample()
	doc.Downloads = append(doc.Downloads, page.Download{Path: "files/wiring.svg", Title: "Wiring"})
	doc.Pages[0].Blocks = append(doc.Pages[0].Blocks, page.Paragraph{Words: []page.Inline{
		page.Link{To: page.Target{File: "files/notes.HTML"}, Words: page.Words("notes")},
		page.Link{To: page.Target{File: "files/crank_knob.stl"}, Words: page.Words("knob")},
	}})
	files := render(t, doc)
	for _, row := range []struct{ name, file, want string }{
		{name: "download", file: "downloads.html", want: `<a href="files/wiring.svg" download>`},
		{name: "link", file: "index.html", want: `<a download href="files/notes.HTML">`},
		{name: "link to what cannot run", file: "index.html", want: `<a href="files/crank_knob.stl">`},
	} {
		if !bytes.Contains(files[row.file], []byte(row.want)) {
			t.Errorf("%s: %s lacks %q", row.name, row.file, row.want)
		}
	}
}

func TestHeadingsNeverJump(t *testing.T) {
	for file, data := range render(t, sample()) {
		if path.Ext(file) != ".html" {
			continue
		}
		level := 0
		elements(t, data, func(n *html.Node) {
			if len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6' {
				now := int(n.Data[1] - '0')
				if now > level+1 {
					t.Errorf("%s: <%s> after level %d", file, n.Data, level)
				}
				level = now
			}
		})
	}
}

func TestDraftIsOnEveryPage(t *testing.T) {
	doc := sample()
	doc.Draft = true
	for file, data := range render(t, doc) {
		if path.Ext(file) == ".html" && !bytes.Contains(data, []byte("<strong>DRAFT</strong>")) {
			t.Errorf("%s does not say that it is a draft", file)
		}
	}
}

func TestDownloadsAreListedOnce(t *testing.T) {
	data := string(render(t, sample())["downloads.html"])
	for _, file := range []string{"files/crank_knob.stl", "binder.pdf"} {
		if n := strings.Count(data, fmt.Sprintf("href=%q", file)); n != 1 {
			t.Errorf("%s is linked %d times, want 1", file, n)
		}
	}
}

func TestSearchHasPartsStepsAndWords(t *testing.T) {
	b, err := newBuilder(sample(), nil)
	if err != nil {
		t.Fatal(err)
	}
	find := func(word string) string {
		for _, e := range b.searchEntries() {
			if strings.Contains(" "+e.Words+" ", " "+word+" ") {
				return e.Href
			}
		}
		return ""
	}
	for _, row := range []struct{ name, word, want string }{
		{name: "part", word: "knob", want: "parts.html"},
		{name: "step by id", word: "frame.posts", want: "build/frame.html#step-posts"},
		{name: "word of a step", word: "wobbles", want: "build/frame.html#step-posts"},
		{name: "screw of a step", word: "m8×25", want: "shopping.html"},
		{name: "word of a footnote", word: "thumb", want: "pages/clay.html"},
		{name: "row without a page", word: "crush_platen", want: "hazards.html#crush_platen"},
		{name: "nothing", word: "unicorn", want: ""},
	} {
		if got := find(row.word); got != row.want {
			t.Errorf("%s: %q found at %q, want %q", row.name, row.word, got, row.want)
		}
	}
}
