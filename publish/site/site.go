package site

import (
	"bytes"
	"errors"
	"fmt"
	"html/template"
	"sort"
	"strings"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
	"plansheaf/themes"
)

// A File is one file of the site. Path is relative to the publication's root,
// with forward slashes: "index.html", "parts/head_plate.html",
// "assets/style.css", "drawings/head_plate.svg".
type File struct {
	Path string
	Data []byte
}

// Render returns the files of the site for doc, sorted by path. A page with the
// ID "index" becomes index.html at the root of the publication; a picture named
// "drawings/head_plate" becomes drawings/head_plate.svg. A long page of steps goes on on
// further ones, which have its ID with a number: build/press.2.html.
//
// Pictures whose marks kept knows from an earlier run are taken over as they were written
// then; kept may be nil.
//
// It returns an error when doc contradicts itself: two pages, anchors, pictures
// or tick boxes of one name, a link to a page or anchor that is not there, a
// path that would leave the publication. All such faults are in the one error.
func Render(doc *page.Document, kept *memo.Store) ([]File, error) {
	b, err := newBuilder(doc, kept)
	if err != nil {
		return nil, err
	}
	for i, p := range b.doc.Pages {
		html, err := b.page(i, p)
		if err != nil {
			return nil, fmt.Errorf("page %q: %w", p.ID, err)
		}
		b.add(p.ID+".html", html)
	}
	if err := b.addAssets(); err != nil {
		return nil, err
	}
	if len(b.faults) > 0 {
		return nil, fmt.Errorf("site: %w", errors.Join(b.faults...))
	}
	sort.Slice(b.files, func(i, j int) bool { return b.files[i].Path < b.files[j].Path })
	return b.files, nil
}

// A builder collects the files of one site and the faults of its document.
type builder struct {
	doc       *page.Document
	tongue    *wording.Table // the theme's own words
	spoken    bool           // they are in the document's language
	names     names
	choices   map[string]page.Choice
	standard  page.Combination // what is shown with scripts off
	steps     []stepEntry
	templates *template.Template
	pictures  pictures
	files     []File
	taken     map[string]bool // paths of files
	faults    []error

	series map[string]series      // of the pages that were parted, by each ID
	moved  map[page.Target]string // anchors of parted pages that are on a further one: its ID

	listed   map[page.Kind][]*page.Page // that the contents list may show
	below    map[string][]*page.Page    // by the ID of the page that lists them
	open     *page.Page                 // of the open questions; nil for none
	stepped  map[string]bool            // files of pages with steps
	contents map[string]template.HTML   // lists of contents that are written already
}

func newBuilder(doc *page.Document, kept *memo.Store) (*builder, error) {
	tongue, spoken := wording.For(doc.Language)
	say := func(p string, values ...any) string { return tongue.Say(wording.Phrase(p), values...) }
	templates, err := template.New("site").Funcs(template.FuncMap{"say": say, "fill": filler(tongue)}).ParseFS(themes.Site, "site/*.gohtml")
	if err != nil {
		return nil, fmt.Errorf("parse page templates: %w", err)
	}
	settle(templates, tongue)
	b := &builder{
		doc:       doc,
		tongue:    tongue,
		spoken:    spoken || doc.Language == "",
		choices:   map[string]page.Choice{},
		standard:  doc.Default(),
		templates: templates,
		pictures:  newPictures(kept),
		taken:     map[string]bool{},
		series:    map[string]series{},
		moved:     map[page.Target]string{},
		contents:  map[string]template.HTML{},
	}
	b.split()
	for _, choice := range doc.Choices {
		b.choices[choice.ID] = choice
	}
	b.names = b.survey()
	b.outline()
	return b, nil
}

// filler puts pieces of HTML into a phrase where it says %s.
func filler(tongue *wording.Table) func(p string, pieces ...template.HTML) template.HTML {
	return func(p string, pieces ...template.HTML) template.HTML {
		var out strings.Builder
		for i, words := range strings.Split(tongue.Say(wording.Phrase(p)), "%s") {
			if i > 0 && i <= len(pieces) {
				out.WriteString(string(pieces[i-1]))
			}
			out.WriteString(escape(words))
		}
		return template.HTML(out.String())
	}
}

// add keeps a file; a second one of the same path is a fault.
func (b *builder) add(path string, data []byte) {
	if b.taken[path] {
		b.fault("two files want the path %q", path)
		return
	}
	b.taken[path] = true
	b.files = append(b.files, File{Path: path, Data: data})
}

func (b *builder) fault(format string, args ...any) {
	b.faults = append(b.faults, fmt.Errorf(format, args...))
}

// addAssets adds what all pages share: style sheet, script, the script's data
// and the pictures that the pages showed.
func (b *builder) addAssets() error {
	for _, name := range []string{"style.css", "script.js"} {
		data, err := themes.Site.ReadFile("site/" + name)
		if err != nil {
			return fmt.Errorf("read theme: %w", err)
		}
		b.add("assets/"+name, data)
	}
	if err := b.addScriptData(); err != nil {
		return err
	}
	for _, name := range b.pictures.order {
		b.add(name, b.pictures.made[name])
	}
	return nil
}

// run fills in a template.
func (b *builder) run(name string, data any) (template.HTML, error) {
	var out bytes.Buffer
	if err := b.templates.ExecuteTemplate(&out, name, data); err != nil {
		return "", fmt.Errorf("template %q: %w", name, err)
	}
	return template.HTML(out.String()), nil
}
