package site_test

import (
	"fmt"
	"net/url"
	"path"
	"regexp"
	"strings"
	"testing"

	"plansheaf/publish/page"
	"plansheaf/publish/site"
)

// longBuild is a document with an assembly of so many steps, each linking to the first
// and, from outside, to the last.
func longBuild(steps int) *page.Document {
	build := &page.Page{ID: "build/all", Title: "All", Kind: page.Assembly, Parent: "build"}
	for i := range steps {
		build.Blocks = append(build.Blocks, page.Step{
			ID: fmt.Sprintf("all.s%d", i), Anchor: fmt.Sprintf("step-s%d", i), Number: page.Words(fmt.Sprintf("1.%d", i+1)), Title: "Join", Tick: fmt.Sprintf("all.s%d", i),
			Bag: &page.Table{Columns: []page.Column{{Head: page.Words("Count")}, {Head: page.Words("Part")}}, Rows: []page.Row{{Cells: []page.Cell{{Words: page.Words("4")}, {Words: page.Words("Bracket")}}}}},
			Text: []page.Block{page.Paragraph{Words: []page.Inline{
				page.Text(strings.Repeat("Stand the post on the base and start its screws. ", 20)),
				page.Link{To: page.Target{Page: "build/all", Anchor: "step-s0"}, Words: page.Words("the first")},
				page.Link{To: page.Target{Anchor: fmt.Sprintf("step-s%d", steps-1)}, Words: page.Words("the last")},
			}}},
		})
	}
	return &page.Document{Title: "Rig", Pages: []*page.Page{
		{ID: "index", Title: "Rig", Kind: page.Front, Blocks: []page.Block{page.Paragraph{Words: []page.Inline{
			page.Link{To: page.Target{Page: "build/all", Anchor: fmt.Sprintf("step-s%d", steps-1)}, Words: page.Words("the end")}}}}},
		{ID: "build", Title: "Building", Kind: page.Assemblies},
		build,
	}}
}

var hrefs = regexp.MustCompile(`href="([^"]+)"`)

// However many steps an assembly has, no page grows with them beyond what its contents
// list asks for; every step is on one page; every link finds its step.
func TestLongAssembliesGoOnOnFurtherPages(t *testing.T) {
	for _, c := range []struct{ steps, pages int }{{1, 1}, {8, 1}, {60, 3}, {200, 10}} {
		t.Run(fmt.Sprint(c.steps), func(t *testing.T) {
			files, err := site.Render(longBuild(c.steps), nil)
			if err != nil {
				t.Fatal(err)
			}
			text := map[string]string{}
			pages, steps := 0, 0
			for _, f := range files {
				text[f.Path] = string(f.Data)
				if strings.HasPrefix(f.Path, "build/all") {
					pages++
					steps += strings.Count(text[f.Path], `<article class="step`)
					if len(f.Data) > 75_000 {
						t.Errorf("%s weighs %d bytes", f.Path, len(f.Data))
					}
				}
			}
			if pages < c.pages || c.pages == 1 && pages > 1 || steps != c.steps {
				t.Errorf("%d steps on %d pages, want %d on at least %d", steps, pages, c.steps, c.pages)
			}
			for name, body := range text {
				if !strings.HasSuffix(name, ".html") {
					continue
				}
				for _, m := range hrefs.FindAllStringSubmatch(body, -1) {
					u, err := url.Parse(m[1])
					if err != nil {
						t.Fatal(err)
					}
					to := name
					if u.Path != "" {
						to = path.Join(path.Dir(name), u.Path)
					}
					if other, there := text[to]; !there || u.Fragment != "" && !strings.Contains(other, `id="`+u.Fragment+`"`) {
						t.Errorf("%s: %s leads nowhere", name, m[1])
					}
				}
			}
		})
	}
}

// The contents list names a long assembly once, with all its steps, but for those who
// read it.
func TestContentsOfALongAssembly(t *testing.T) {
	files, err := site.Render(longBuild(60), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, file, has, hasNot string
	}{
		{name: "all steps are counted", file: "index.html", has: `data-count="build/all.html build/all.2.html build/all.3.html"`},
		{name: "named once", file: "index.html", hasNot: `>All, part 2 of 3</a>`},
		{name: "listed to its reader", file: "build/all.3.html", has: `<a href="../build/all.2.html">All, part 2 of 3</a>`},
		{name: "the first page says how it goes on", file: "build/all.html", has: `<a href="../build/all.3.html">All, part 3 of 3</a>`},
		{name: "the step before is on the page before", file: "build/all.2.html", has: `data-way="previous" href="../build/all.html#step-s`},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, f := range files {
				if f.Path != c.file {
					continue
				}
				if c.has != "" && !strings.Contains(string(f.Data), c.has) {
					t.Errorf("%s lacks %s", c.file, c.has)
				}
				if c.hasNot != "" && strings.Contains(string(f.Data), c.hasNot) {
					t.Errorf("%s has %s", c.file, c.hasNot)
				}
				return
			}
			t.Errorf("no file %s", c.file)
		})
	}
}
