package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// Open confines reading to the directory dir: no path and no symbolic link leads
// out of it. The caller closes the root when all is read.
func Open(dir string) (*os.Root, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("open the plan %q: %w", dir, err)
	}
	return root, nil
}

// Read reads the plan whose root directory is fsys (a root's FS method gives one).
// It returns the model, never nil unless err is not, and all findings about the
// plan's text in the order of file, line and column. Parts of the plan that could
// not be read are absent from the model. err is not nil only where the directory
// itself cannot be listed.
func Read(fsys fs.FS, limits Limits) (*plan.Plan, []finding.Finding, error) {
	g := &reading{
		limits:  limits,
		plan:    &plan.Plan{},
		damaged: map[any]bool{},
		unread:  map[string]bool{},
	}
	t, err := g.list(fsys)
	if err != nil {
		return nil, nil, err
	}
	for _, k := range fileKinds {
		for _, name := range t.byKind[k.name] {
			g.readFile(t, k, name)
		}
	}
	if len(t.byKind["plan"]) == 0 && !t.full {
		g.report(missingFile, finding.WholeFile("plan.yaml"), "the plan has no plan.yaml", "write plan.yaml at the plan's root, with title, machine and revision")
		g.unread["plan"] = true
	}
	for _, name := range t.files {
		g.readShipped(t, name)
	}
	g.finish(t)
	finding.Sort(g.findings)
	g.findings = slices.CompactFunc(g.findings, func(a, b finding.Finding) bool {
		return a.Rule == b.Rule && a.At == b.At && a.Message == b.Message
	})
	return g.plan, g.findings, nil
}

// A fileKind is one kind of the plan's own files.
type fileKind struct {
	name  string // as Schema knows it
	title string
	place string // its path, with * for the name of a file among several
	read  func(r *reader, stem string, e entry)
	// schema is nil where the file has no structure of its own.
	schema func(b *book) schema
}

// kindOf makes a fileKind read by a form; into gives the place for a file's content.
func kindOf[T any](name, title, place string, f form[T], into func(r *reader, stem plan.Word) *T) fileKind {
	return fileKind{
		name: name, title: title, place: place, schema: f.schema,
		read: func(r *reader, stem string, e entry) {
			id := plan.Word{Text: stem, At: finding.OnLine(r.doc.file, 1, 1, 1)}
			if strings.Contains(place, "*") && !idSpelling.MatchString(stem) {
				id.At = finding.WholeFile(r.doc.file)
				remedy := ""
				if mended := mendID(stem); mended != "" {
					remedy = "rename it to " + mended + path.Ext(place)
				}
				r.report(badID, id.At, fmt.Sprintf("the file's name is an id, and %s cannot be one", quoted(stem)), remedy)
			}
			thing := into(r, id)
			before := r.faults
			f.read(r, e, thing)
			if r.faults > before {
				r.damaged[thing] = true
			}
		},
	}
}

// fileKinds are the plan's own files. What comes first is read first.
var fileKinds []fileKind

func init() { // the list refers to forms that refer to the resolver that refers to the list
	fileKinds = []fileKind{
		kindOf("plan", "A plan's identity, values and choices: plan.yaml", "plan.yaml", planForm, func(r *reader, _ plan.Word) *plan.Plan { return r.plan }),
		kindOf("stock", "What parts are cut from: stock.yaml", "stock.yaml",
			pointers("a map of stock", stockForm, id, func(s *plan.Stock) *plan.Word { return &s.ID }), func(r *reader, _ plan.Word) *[]*plan.Stock { return &r.plan.Stock }),
		kindOf("materials", "Materials of the plan's own: materials.yaml", "materials.yaml",
			pointers("a map of materials", materialForm, id, func(m *plan.Material) *plan.Word { return &m.ID }), func(r *reader, _ plan.Word) *[]*plan.Material { return &r.plan.Materials }),
		kindOf("suppliers", "Who sells what: suppliers.yaml", "suppliers.yaml",
			pointers("a map of suppliers", supplierForm, id, func(s *plan.Supplier) *plan.Word { return &s.ID }), func(r *reader, _ plan.Word) *[]*plan.Supplier { return &r.plan.Suppliers }),
		kindOf("tools", "Tools: tools.yaml", "tools.yaml",
			pointers("a map of tools", toolForm, id, func(t *plan.Tool) *plan.Word { return &t.ID }), func(r *reader, _ plan.Word) *[]*plan.Tool { return &r.plan.Tools }),
		kindOf("parts", "Parts, a group of them: parts/*.yaml", "parts/*.yaml", partGroup, func(r *reader, stem plan.Word) *parts { return &parts{group: stem.Text} }),
		kindOf("assembly", "An assembly: assemblies/*.yaml", "assemblies/*.yaml", assemblyForm, func(r *reader, stem plan.Word) *plan.Assembly {
			r.assembly = &plan.Assembly{ID: stem}
			r.plan.Assemblies = append(r.plan.Assemblies, r.assembly)
			return r.assembly
		}),
		kindOf("drawing", "A drawing: drawings/*.yaml", "drawings/*.yaml", drawingForm, func(r *reader, stem plan.Word) *plan.Drawing {
			d := &plan.Drawing{ID: stem}
			r.of = &d.Of
			r.plan.Drawings = append(r.plan.Drawings, d)
			return d
		}),
		kindOf("calc", "A calculation: calcs/*.yaml", "calcs/*.yaml", calcForm, func(r *reader, stem plan.Word) *plan.Calc {
			c := &plan.Calc{ID: stem}
			r.plan.Calcs = append(r.plan.Calcs, c)
			return c
		}),
		kindOf("safety", "Hazards: safety/*.yaml", "safety/*.yaml",
			pointers("a map of hazards", hazardForm, id, func(h *plan.Hazard) *plan.Word { return &h.ID }), func(r *reader, _ plan.Word) *[]*plan.Hazard { return &r.plan.Hazards }),
		kindOf("page", "A page's front matter: pages/*.md", "pages/*.md", frontMatterForm, func(r *reader, stem plan.Word) *plan.Page {
			p := &plan.Page{ID: stem}
			r.plan.Pages = append(r.plan.Pages, p)
			return p
		}),
	}
}

// parts are the parts of one file.
type parts struct {
	group string
	list  []*plan.Part
}

var partGroup = form[parts]{
	what: "a map of parts",
	read: func(r *reader, e entry, into *parts) {
		pointers("a map of parts", partForm, id, func(p *plan.Part) *plan.Word { return &p.ID }).read(r, e, &into.list)
		for _, p := range into.list {
			p.Group = into.group
		}
		r.plan.Parts = append(r.plan.Parts, into.list...)
	},
	schema: pointers("", partForm, id, func(p *plan.Part) *plan.Word { return &p.ID }).schema,
}

// readFile reads one of the plan's own files.
func (g *reading) readFile(t *tree, k fileKind, name string) {
	if t.text >= g.limits.AllText {
		g.report(tooLarge, finding.WholeFile(name), fmt.Sprintf("the plan's own files together are larger than %d bytes; this one is not read", g.limits.AllText), "")
		g.unread[k.name] = true
		return
	}
	data, ok := g.load(t.fsys, name, min(g.limits.TextFile, g.limits.AllText-t.text))
	if !ok {
		g.unread[k.name] = true
		return
	}
	t.text += int64(len(data))
	text, ok := g.decode(name, data)
	if !ok {
		g.unread[k.name] = true
		return
	}
	r := &reader{reading: g, doc: newDocument(name, text)}
	stem := strings.TrimSuffix(path.Base(name), path.Ext(name))
	if k.name == "page" {
		r.page(k, stem, text)
		return
	}
	root, ok := r.parse(text, 1)
	if !ok {
		g.unread[k.name] = true
		return
	}
	r.root(k, stem, root)
}

// root reads a file's outermost map; an empty file is an empty one. It reports
// whether the file added to the plan.
func (r *reader) root(k fileKind, stem string, root *yaml.Node) bool {
	if root == nil || isNull(root) {
		root = &yaml.Node{Kind: yaml.MappingNode, Line: 1, Column: 1}
	}
	if !r.plain(root) {
		r.unread[k.name] = true
		return false
	}
	r.outermost = root
	k.read(r, stem, entry{value: root})
	return true
}

// page reads front matter between two lines of --- and the prose after it.
func (r *reader) page(k fileKind, stem, text string) {
	body := 1
	var root *yaml.Node
	if r.doc.line(1) == "---" {
		end := slices.IndexFunc(r.doc.lines[1:], func(l string) bool { return strings.TrimRight(l, " ") == "---" })
		if end < 0 {
			r.report(yamlSyntax, r.doc.wholeLine(1), "the front matter that begins here does not end", "close it with a line ---")
			return
		}
		body = end + 3
		var ok bool
		if root, ok = r.parse(strings.Join(r.doc.lines[1:end+1], "\n"), 2); !ok {
			return
		}
	}
	if body == 1 {
		r.report(missingField, finding.OnLine(r.doc.file, 1, 1, max(1, runes(r.doc.line(1)))), "the page has no front matter", "begin it with a line ---, a line title: and its title, and a line ---")
		r.plan.Pages = append(r.plan.Pages, &plan.Page{ID: plan.Word{Text: stem, At: finding.OnLine(r.doc.file, 1, 1, 1)}})
	} else if !r.root(k, stem, root) {
		return
	}
	p := r.plan.Pages[len(r.plan.Pages)-1]
	p.Body = r.doc.textFrom(body)
	if len(p.Body.Value) > r.limits.Prose {
		r.report(tooLarge, finding.WholeFile(r.doc.file), fmt.Sprintf("the page's text is %d bytes long, more than %d", len(p.Body.Value), r.limits.Prose), "split the page")
		p.Body = plan.Text{}
		return
	}
	r.reading.prose = append(r.reading.prose, proseText{r: r, text: p.Body})
}

// load reads a file whole unless it is larger than limit.
func (g *reading) load(fsys fs.FS, name string, limit int64) ([]byte, bool) {
	f, err := fsys.Open(name)
	if err != nil {
		g.report(unreadableFile, finding.WholeFile(name), "the file cannot be opened: "+cause(err), "")
		return nil, false
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		g.report(symlink, finding.WholeFile(name), "this is no regular file", "")
		return nil, false
	}
	// What Stat says may not hold by the time the file is read.
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	switch {
	case err != nil:
		g.report(unreadableFile, finding.WholeFile(name), "the file cannot be read: "+cause(err), "")
		return nil, false
	case int64(len(data)) > limit:
		g.report(tooLarge, finding.WholeFile(name), fmt.Sprintf("the file is %d bytes long, more than %d", max(info.Size(), limit+1), limit), "")
		return nil, false
	}
	return data, true
}

// cause is what the system said, without the path, which the finding names.
func cause(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// decode makes text of a file's bytes: UTF-8, lines ended by \n, nothing that
// cannot be seen.
func (g *reading) decode(name string, data []byte) (string, bool) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		g.report(invalidEncoding, finding.WholeFile(name), "the file is UTF-16", "save it as UTF-8")
		return "", false
	}
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	line, column, good := 1, 1, true
	faults := 0
	for i, c := range text {
		say := ""
		switch {
		case c == utf8.RuneError && !strings.HasPrefix(text[i:], "\uFFFD"):
			say = "a byte that is no UTF-8 text"
		case unseen(c):
			say = fmt.Sprintf("a character that cannot be seen, U+%04X", c)
		}
		if say != "" && faults < 20 {
			faults++
			good = false
			g.report(invalidEncoding, finding.OnLine(name, line, column, 1), say, "")
		}
		column++
		if c == '\n' {
			line, column = line+1, 1
		}
	}
	return text, good
}

// unseen reports characters that programs treat in different ways without showing
// them: controls, line ends that only some know, and changes of text direction.
func unseen(c rune) bool {
	switch {
	case c == '\t' || c == '\n':
		return false
	case c < 0x20, c >= 0x7f && c <= 0x9f, c == 0x2028, c == 0x2029:
		return true
	case c >= 0x202a && c <= 0x202e, c >= 0x2066 && c <= 0x2069, c == 0x200e, c == 0x200f, c == 0x061c:
		return true
	case c == 0xfeff, c == 0xfffe, c == 0xffff, c >= 0xe0000 && c <= 0xe007f:
		return true
	}
	return false
}
