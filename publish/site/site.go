package site

import (
	"bytes"
	"errors"
	"fmt"
	"html/template"
	"runtime"
	"sort"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

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
	s, err := Begin(doc, kept)
	if err != nil {
		return nil, err
	}
	return s.Finish(doc.Downloads)
}

// A Site is begun: all is written but the pages that list what to download, which may not
// be there yet.
type Site struct {
	b     *builder
	pages []*pageWriter // written, by their places in the document; nil: not yet
}

// Begin writes what does not hang on the document's downloads; see [Render]. The document
// may not change while it does.
func Begin(doc *page.Document, kept *memo.Store) (*Site, error) {
	b, err := newBuilder(doc, kept)
	if err != nil {
		return nil, err
	}
	s := &Site{b: b, pages: make([]*pageWriter, len(b.doc.Pages))}
	var data []File
	err = s.write(func(p *page.Page) bool { return p.Kind != page.Downloads }, func() (err error) {
		data, err = b.scriptData()
		return err
	})
	for _, f := range data {
		b.add(f.Path, f.Data)
	}
	return s, err
}

// Finish writes the rest, now that it is known what there is to download, and returns the
// files of the whole site; see [Render].
func (s *Site) Finish(downloads []page.Download) ([]File, error) {
	b := s.b
	b.doc.Downloads = downloads // its own: the builder has parted the document
	if err := s.write(func(p *page.Page) bool { return p.Kind == page.Downloads }); err != nil {
		return nil, err
	}
	for _, w := range s.pages {
		b.add(w.page.ID+".html", w.html)
		b.faults = append(b.faults, w.faults...)
		b.addPictures(w.shown)
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

// write writes the pages that are wanted, beside each other and beside other work. The
// error is that of the first page in the document that has one.
func (s *Site) write(wanted func(*page.Page) bool, beside ...func() error) error {
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for _, work := range beside {
		group.Go(work)
	}
	failed := make([]error, len(s.pages))
	for i, p := range s.b.doc.Pages {
		if !wanted(p) {
			continue
		}
		group.Go(func() (err error) {
			if s.pages[i], err = s.b.page(i, p); err != nil {
				failed[i] = fmt.Errorf("page %q: %w", p.ID, err)
			}
			return nil
		})
	}
	err := group.Wait()
	for _, one := range failed {
		if one != nil {
			return one
		}
	}
	return err
}

// A builder collects the files of one site and the faults of its document. Pages are
// written beside each other: what they share stands when the first begins, but for what is
// for any number of goroutines.
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
	contents sync.Map                   // lists of contents that are written already
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
		pictures:  pictures{kept: kept, made: map[string][]byte{}},
		taken:     map[string]bool{},
		series:    map[string]series{},
		moved:     map[page.Target]string{},
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

// addAssets adds what all pages share: style sheet and script.
func (b *builder) addAssets() error {
	for _, name := range []string{"style.css", "script.js"} {
		data, err := themes.Site.ReadFile("site/" + name)
		if err != nil {
			return fmt.Errorf("read theme: %w", err)
		}
		b.add("assets/"+name, data)
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
