package publish_test

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"plansheaf/design/source/fixture"
	"plansheaf/design/starter"
	"plansheaf/publish"
	"plansheaf/publish/inspect"
)

// said are the keys of a plan whose values are the author's own words.
var said = map[string]bool{"title": true, "summary": true, "say": true, "says": true, "harm": true, "warning": true,
	"because": true, "about": true, "text": true, "source": true, "code": true, "finish": true}

// saying puts words in the place of every text of a plan's file.
func saying(n *yaml.Node, words string) {
	for i, child := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 1 && child.Kind == yaml.ScalarNode && said[n.Content[i-1].Value] {
			*child = yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Style: yaml.DoubleQuotedStyle, Value: words}
		}
		saying(child, words)
	}
}

// hostilePlan is the starting plan with words for every text of it, and files that
// would harm who opens them.
func hostilePlan(t *testing.T, words string) fstest.MapFS {
	t.Helper()
	plan := fstest.MapFS{}
	err := fs.WalkDir(starter.Plan(), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(starter.Plan(), name)
		if err != nil {
			return err
		}
		if path.Ext(name) == ".yaml" {
			var doc yaml.Node
			if err := yaml.Unmarshal(data, &doc); err != nil {
				return err
			}
			saying(&doc, words)
			if data, err = yaml.Marshal(&doc); err != nil {
				return err
			}
		}
		plan[name] = &fstest.MapFile{Data: data}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	shown := ""
	for name, data := range hostileFiles() {
		plan["files/"+name] = &fstest.MapFile{Data: data}
		shown += "\n\n![picture](files/" + name + ")\n"
	}
	plan["pages/about.md"] = &fstest.MapFile{Data: []byte("---\ntitle: About\n---\n" + words + shown)}
	return plan
}

// png is a picture that says to be so wide and high, grey, with this for its rows.
func png(width, height uint32, rows []byte) []byte {
	out := []byte("\x89PNG\r\n\x1a\n")
	chunk := func(kind string, data []byte) {
		out = binary.BigEndian.AppendUint32(out, uint32(len(data)))
		body := append([]byte(kind), data...)
		out = binary.BigEndian.AppendUint32(append(out, body...), crc32.ChecksumIEEE(body))
	}
	head := binary.BigEndian.AppendUint32(nil, width)
	head = binary.BigEndian.AppendUint32(head, height)
	chunk("IHDR", append(head, 8, 0, 0, 0, 0))
	chunk("IDAT", rows)
	chunk("IEND", nil)
	return out
}

// hostileFiles are pictures that would fill memory, end early, are none, or carry a
// script.
func hostileFiles() map[string][]byte {
	whole := png(4, 4, []byte("no deflate stream"))
	return map[string][]byte{
		"bomb.png":  png(60_000, 60_000, []byte{0x78, 0x9c, 0x03, 0x00, 0x00, 0x00, 0x00, 0x01}),
		"rows.png":  whole,
		"short.png": whole[:40],
		"empty.png": {},
		"none.jpg":  []byte("<html><script>alert(1)</script></html>"),
		"run.svg":   []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><script>alert(2)</script></svg>`),
		"deep.svg":  []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">` + strings.Repeat("<g>", 5_000)),
	}
}

// Whatever an author writes, a draft is made and what is made is sound: text stays
// text in HTML, SVG, PDF, CSV and JSON.
func TestHostileTextsStayText(t *testing.T) {
	for _, c := range []struct{ name, words string }{
		{name: "markup", words: `"'><script>alert(1)</script><img src=x onerror=alert(2)>]]>{{.}}&amp;<!-- \u0026 -->`},
		{name: "line ends", words: "one\r\ntwo\rthree\nfour\u2028five\u2029six\u0085seven\tend"},
		{name: "control characters", words: "a\x00b\x07c\x1b[31md\x7fe\ufffff\ufeffg"},
		{name: "both directions", words: "right \u202eleft\u202c \u2066iso\u2069 שלום مرحبا \u200f\u061c"},
		{name: "very long word", words: strings.Repeat("unbreakable", 300)},
		{name: "ten thousand characters", words: strings.Repeat("Long words of ten. ", 527)},
		{name: "formula", words: `=1+1+cmd|' /C calc'!A0`},
		{name: "at sign", words: "@SUM(A1:A9)"},
		{name: "emoji and rare scripts", words: "🛠️ 𝔐𝔞𝔱𝔥 👩‍🔧 𓀀 e\u0301\u0301\u0301 漢字 ไทย"},
		{name: "links", words: "[a](javascript:alert(1)) ![b](//example.org/x.png) <https://example.org> [c](data:text/html,x) [d](../../secret)"},
		{name: "braces", words: "{stand} {nothing} {picture stand} {{ {stand.mass {stand.posts_to_board.screw} }"},
		{name: "blanks", words: " \t \u00a0 \u200b "},
		{name: "format verbs", words: "%s %d %!v(MISSING) %n 100%"},
		{name: "table", words: "| a | b |\n|---|---|\n| 1 | 2 |\n\n# Heading\n\n```\ncode\n"},
		{name: "task list and note", words: "- [ ] first\n- [x] second\n\nWords[^1].\n\n[^1]: A note."},
		{name: "PDF syntax", words: `) Tj ET (\ endstream endobj << /JS (x) >> \)`},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := makeOf(hostilePlan(t, c.words), true)
			if p.err != nil {
				t.Fatal(p.err)
			}
			sound(t, p)
			file := filepath.Join(t.TempDir(), "binder.pdf")
			if err := os.WriteFile(file, p.files[publish.BinderPath], 0o644); err != nil {
				t.Fatal(err)
			}
			if out := inspect.Run(t, "qpdf", "--check", file); strings.Contains(strings.ToLower(out), "warning") {
				t.Error(out)
			}
		})
	}
}

// sound checks that each file of a publication is what its ending says.
func sound(t *testing.T, p publication) {
	t.Helper()
	for _, fault := range faultsOf(t, p) {
		t.Error(fault)
	}
	for _, name := range p.drawn() {
		decoder := xml.NewDecoder(bytes.NewReader(p.files[name]))
		for {
			token, err := decoder.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Errorf("%s: %v", name, err)
				break
			}
			if e, is := token.(xml.StartElement); is && e.Name.Local == "script" {
				t.Errorf("%s holds a script", name)
			}
		}
	}
	for _, name := range append(p.ending(".json"), p.ending(".sarif")...) {
		if !json.Valid(p.files[name]) {
			t.Errorf("%s is no JSON", name)
		}
	}
	for _, name := range p.ending(".csv") {
		rows, err := csv.NewReader(bytes.NewReader(p.files[name])).ReadAll()
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, row := range rows {
			for _, cell := range row {
				if strings.ContainsAny(cell[:min(1, len(cell))], "=+-@\t\r") {
					t.Errorf("%s: a spreadsheet would run the cell %.40q", name, cell)
				}
			}
		}
	}
}

// Text that is markup elsewhere is read as it was written.
func TestMarkupIsShown(t *testing.T) {
	words := `<b>"5 < 6" & 7</b>`
	p := makeOf(hostilePlan(t, words), true)
	if p.err != nil {
		t.Fatal(p.err)
	}
	for _, n := range elements(t, p.files["index.html"]) {
		if n.Data == "title" && strings.Contains(n.FirstChild.Data, words) {
			return
		}
	}
	t.Errorf("the page's title does not say %q", words)
}

// Every broken plan of the rules' fixtures can be published as a draft, and says so
// on every page when it has errors.
func TestBrokenPlansMakeDrafts(t *testing.T) {
	dirs, err := filepath.Glob("../testdata/rules/*/broken")
	if err != nil || len(dirs) < 40 {
		t.Fatalf("%d fixtures, %v", len(dirs), err)
	}
	for i, dir := range dirs {
		if i%4 != 0 { // a quarter of them: each is checked by its own rule's tests
			continue
		}
		t.Run(filepath.Base(filepath.Dir(dir)), func(t *testing.T) {
			t.Parallel()
			plan, err := fixture.Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			p := makeOf(plan, true)
			if p.err != nil {
				t.Fatal(p.err)
			}
			sound(t, p)
			for _, name := range p.ending(".html") {
				if p.made.Document.Draft != bytes.Contains(p.files[name], []byte("DRAFT")) {
					t.Errorf("%s: draft %v, but the page says otherwise", name, p.made.Document.Draft)
				}
			}
		})
	}
}

// A plan whose assembly cannot be read, so that its parts are used nowhere, makes a draft
// like any other.
func TestUnreadAssemblyMakesADraft(t *testing.T) {
	d := draftOf(t, starter.Plan())
	d["assemblies/stand.yaml"] = "title: {Stand\n"
	p := makeOf(d.fs(), true)
	if p.err != nil {
		t.Fatal(p.err)
	}
	sound(t, p)
}
