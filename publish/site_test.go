package publish_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"plansheaf/publish/inspect"
	"plansheaf/publish/page"
	"plansheaf/publish/site/browser"
)

// elements are the elements of a page of HTML.
func elements(t *testing.T, data []byte) []*html.Node {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var list []*html.Node
	for n := range doc.Descendants() {
		if n.Type == html.ElementNode {
			list = append(list, n)
		}
	}
	return list
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// void elements of HTML have no end tag (HTML standard, 13.1.2).
var void = map[string]bool{"area": true, "base": true, "br": true, "col": true, "embed": true, "hr": true, "img": true,
	"input": true, "link": true, "meta": true, "source": true, "track": true, "wbr": true}

// strict lists what is wrong with a page's tags: x/net/html mends everything that it
// parses, so the tags are counted here, before it does.
func strict(data []byte) (faults []string) {
	z := html.NewTokenizer(bytes.NewReader(data))
	var open []string
	foreign := func() bool { return slices.Contains(open, "svg") }
	for {
		kind := z.Next()
		switch token := z.Token(); kind {
		case html.ErrorToken:
			if !errors.Is(z.Err(), io.EOF) {
				faults = append(faults, z.Err().Error())
			}
			if len(open) > 0 {
				faults = append(faults, fmt.Sprintf("left open: %v", open))
			}
			return faults
		case html.StartTagToken, html.SelfClosingTagToken:
			names := map[string]bool{}
			for _, a := range token.Attr {
				if names[a.Key] {
					faults = append(faults, fmt.Sprintf("<%s> has two attributes %q", token.Data, a.Key))
				}
				names[a.Key] = true
			}
			if kind == html.SelfClosingTagToken && !foreign() && !void[token.Data] {
				faults = append(faults, fmt.Sprintf("<%s/> closes nothing", token.Data))
			}
			if kind == html.StartTagToken && !void[token.Data] {
				open = append(open, token.Data)
			}
		case html.EndTagToken:
			if len(open) == 0 || open[len(open)-1] != token.Data {
				faults = append(faults, fmt.Sprintf("</%s> within %v", token.Data, open))
				return faults
			}
			open = open[:len(open)-1]
		}
	}
}

// faultsOf are the faults of a site's pages that a strict reader finds: tags, ids,
// links, loads from elsewhere.
func faultsOf(t *testing.T, p publication) (faults []string) {
	t.Helper()
	ids := map[string]map[string]bool{}
	say := func(format string, values ...any) { faults = append(faults, fmt.Sprintf(format, values...)) }
	parsed := map[string][]*html.Node{}
	for _, name := range p.ending(".html") {
		for _, fault := range strict(p.files[name]) {
			say("%s: %s", name, fault)
		}
		if !bytes.HasPrefix(p.files[name], []byte("<!DOCTYPE html>")) && !bytes.HasPrefix(p.files[name], []byte("<!doctype html>")) {
			say("%s does not begin with a doctype", name)
		}
		ids[name], parsed[name] = map[string]bool{}, elements(t, p.files[name])
		for _, n := range parsed[name] {
			if id := attribute(n, "id"); id != "" {
				if ids[name][id] {
					say("%s: two elements have the id %q", name, id)
				}
				ids[name][id] = true
			}
		}
	}
	for name, list := range parsed {
		for _, n := range list {
			for _, key := range []string{"href", "src", "srcset", "action", "poster", "data"} {
				if address := attribute(n, key); address != "" {
					faults = append(faults, leads(p, ids, name, n, key, address)...)
				}
			}
			if n.Data == "script" && (n.FirstChild != nil || attribute(n, "src") == "") && !isData(n) {
				say("%s: a script within the page", name)
			}
			for _, a := range n.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" {
					say("%s: <%s %s=%q>", name, n.Data, a.Key, a.Val)
				}
			}
		}
	}
	slices.Sort(faults)
	return faults
}

// leads says what is wrong with where an attribute leads.
func leads(p publication, ids map[string]map[string]bool, name string, n *html.Node, key, address string) []string {
	u, err := url.Parse(address)
	if err != nil {
		return []string{fmt.Sprintf("%s: %q: %v", name, address, err)}
	}
	if u.Scheme != "" || u.Host != "" {
		if n.Data == "a" && key == "href" && (u.Scheme == "https" || u.Scheme == "http" || u.Scheme == "mailto") {
			return nil
		}
		return []string{fmt.Sprintf("%s: <%s %s=%q> leads out", name, n.Data, key, address)}
	}
	to := name
	if u.Path != "" {
		to = path.Join(path.Dir(name), u.Path)
	}
	if p.files[to] == nil {
		return []string{fmt.Sprintf("%s: %q leads to %q, which is not there", name, address, to)}
	}
	if u.Fragment != "" && path.Ext(to) == ".html" && !ids[to][u.Fragment] {
		return []string{fmt.Sprintf("%s: %q: no such id in %q", name, address, to)}
	}
	return nil
}

func TestSiteIsStrict(t *testing.T) {
	p := example(t)
	for _, fault := range faultsOf(t, p) {
		t.Error(fault)
	}
	if n := len(p.ending(".html")); n < 90 {
		t.Errorf("only %d pages", n)
	}
	css := p.files["assets/style.css"]
	for _, bad := range []string{"http:", "https:", "@import"} {
		if bytes.Contains(css, []byte(bad)) {
			t.Errorf("the style sheet holds %q", bad)
		}
	}
}

// The validity check runs html-validate's rules of the HTML standard over every page
// of the example. PLANSHEAF_HTML_VALIDATE names its script bin/html-validate.mjs.
func TestSiteIsValidHTML(t *testing.T) {
	t.Parallel()
	script := inspect.Setting(t, "PLANSHEAF_HTML_VALIDATE", "the path of html-validate's script")
	p := example(t)
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, ".htmlvalidate.json"), []byte(`{"root": true, "extends": ["html-validate:standard"]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range p.ending(".html") {
		file := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, p.files[name], 0o644); err != nil {
			t.Fatal(err)
		}
	}
	command := exec.Command(inspect.Program(t, "node"), script, "--formatter", "text", "--ext", "html", folder)
	command.Dir = folder
	if out, err := command.CombinedOutput(); err != nil {
		t.Errorf("html-validate: %v\n%.4000s", err, bytes.ReplaceAll(out, []byte(folder), nil))
	}
}

// withoutPictures is a page's source less the pictures drawn in it.
func withoutPictures(data []byte) int {
	size := len(data)
	for {
		from := bytes.Index(data, []byte("<svg"))
		if from < 0 {
			return size
		}
		to := bytes.Index(data[from:], []byte("</svg>"))
		if to < 0 {
			return size
		}
		size -= to + len("</svg>")
		data = data[from+to+len("</svg>"):]
	}
}

// A page with its style sheet and the scripts that it loads weighs little before
// pictures: clients in a cold garage have slow phones.
func TestPagesWeighLittle(t *testing.T) {
	p := example(t)
	const limit = 150_000
	for _, name := range p.ending(".html") {
		weight := withoutPictures(p.files[name])
		for _, n := range elements(t, p.files[name]) {
			switch {
			case n.Data == "script":
				weight += len(p.files[path.Join(path.Dir(name), attribute(n, "src"))])
			case n.Data == "link" && attribute(n, "rel") == "stylesheet":
				weight += len(p.files[path.Join(path.Dir(name), attribute(n, "href"))])
			}
		}
		if weight > limit {
			t.Errorf("%s weighs %d bytes with what it loads, over %d", name, weight, limit)
		}
	}
}

// What a reader sees holds no brace, no unfinished format, no empty value.
func TestSiteWordsAreFinished(t *testing.T) {
	p := example(t)
	for _, name := range p.ending(".html") {
		doc, err := html.Parse(bytes.NewReader(p.files[name]))
		if err != nil {
			t.Fatal(err)
		}
		for n := range doc.Descendants() {
			if n.Type != html.TextNode || n.Parent.Data == "script" || n.Parent.Data == "style" {
				continue
			}
			if n.Data == "{" && n.Parent.Data == "mo" { // the brace before the cases of a formula
				continue
			}
			for _, bad := range []string{"{", "}", "%!", "NaN", "<nil>", "\ufffd", "  ,", " ,", "()", "_to_"} {
				if strings.Contains(n.Data, bad) {
					t.Errorf("%s: %q holds %q", name, strings.TrimSpace(n.Data), bad)
				}
			}
		}
	}
}

// watched are one page or two of every kind that readers open most.
var watched = []string{
	"index.html", "build/press.html", "build/press.2.html", "build/base.html", "joints/press.html", "tools.html", "parts/head_plate.html", "parts/motor.html", "drawings.html",
	"calculations/press_force.html", "safety.html", "shopping.html", "parts.html", "by-assembly.html", "by-step.html", "prints.html", "choices.html", "hazards.html", "pages/wiring.html",
}

// The site opens from its folder: nothing comes from elsewhere, the browser has
// nothing to complain of, pictures load, nothing is wider than the screen.
func TestSiteInTheBrowser(t *testing.T) {
	t.Parallel()
	p := example(t)
	b := browser.Start(t, p.folder)
	pictures := 0
	for _, width := range []int64{1280, 360} { // px
		b.See(width, "light", true)
		for _, name := range watched {
			b.Visit(name)
			if title := browser.Eval[string](b, `document.title`); title == "" {
				t.Errorf("%s has no title", name)
			}
			if wide := browser.Eval[int64](b, `document.documentElement.scrollWidth`); wide > width {
				t.Errorf("%s is %d px wide on %d px", name, wide, width)
			}
			blank := browser.Eval[[]string](b, `Promise.all([...document.images].map((i) => { i.loading = "eager"; return i.decode().catch(() => 0); }))
				.then(() => [...document.images].filter((i) => !(i.naturalWidth > 0)).map((i) => i.src))`)
			for _, src := range blank {
				t.Errorf("%s: the picture %s does not load", name, src)
			}
			pictures += browser.Eval[int](b, `document.images.length + document.querySelectorAll("svg[role=img]").length`)
		}
	}
	if pictures < 60 {
		t.Errorf("only %d pictures were seen", pictures)
	}
	requests := b.Requests()
	if len(requests) < 2*len(watched) {
		t.Errorf("only %d requests were seen", len(requests))
	}
	for _, address := range requests {
		if !strings.HasPrefix(address, "file://") {
			t.Errorf("asked for %s", address)
		}
	}
	for _, fault := range b.Faults() {
		t.Errorf("the browser complains: %s", fault)
	}
}

// written is a page of the document as the site has it, on one page or on several.
func (p publication) written(id string) string {
	all := string(p.files[id+".html"])
	for n := 2; p.files[fmt.Sprintf("%s.%d.html", id, n)] != nil; n++ {
		all += string(p.files[fmt.Sprintf("%s.%d.html", id, n)])
	}
	return all
}

// Every step of the document is on the site with its picture, its cautions before
// its text.
func TestSiteShowsEveryStep(t *testing.T) {
	p := example(t)
	steps := 0
	for _, one := range p.made.Document.Pages {
		source := p.written(one.ID)
		for _, block := range one.Blocks {
			step, is := block.(page.Step)
			if !is {
				continue
			}
			steps++
			if n := strings.Count(source, `id="`+step.Anchor+`"`); n != 1 {
				t.Errorf("%s shows step %q %d times", one.ID, step.Title, n)
			}
			if !strings.Contains(source, html.EscapeString(step.Title)) {
				t.Errorf("%s does not say the title of step %q", one.ID, step.Title)
			}
			if len(step.Text) == 0 {
				t.Errorf("step %s has no text", step.ID)
			}
		}
	}
	if steps < 35 {
		t.Errorf("only %d steps", steps)
	}
}

// isData reports whether a script element holds data that no browser runs: JSON that
// cannot end its element.
func isData(n *html.Node) bool {
	return attribute(n, "type") == "application/ld+json" && n.FirstChild != nil &&
		json.Valid([]byte(n.FirstChild.Data)) && !strings.Contains(n.FirstChild.Data, "<")
}
