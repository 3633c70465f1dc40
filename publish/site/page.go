package site

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"strings"

	"plansheaf/publish/page"
)

// A pageWriter writes one page.
type pageWriter struct {
	*builder
	page      *page.Page
	root      string
	level     int  // of the heading written last
	stepLevel int  // of the titles of this page's steps; 0: none written yet
	inStep    bool // blocks belong to a step
	noteRefs  map[int]bool

	html   []byte  // what is written
	shown  []shown // pictures, in order of first use
	faults []error
}

func (w *pageWriter) fault(format string, args ...any) {
	w.faults = append(w.faults, fmt.Errorf(format, args...))
}

// pageView is what page.gohtml shows.
type pageView struct {
	Doc         *page.Document
	Page        *page.Page
	Root        string
	Own         string // begins the theme's own ids
	Lang        template.HTMLAttr
	KindName    string
	Only        only
	Trail       []navEntry
	Nav         []navGroup
	Contents    template.HTML // Nav as it is written
	Pickers     []pickerView
	Choice      []choiceView
	Units       string
	First, Both string // names of the first system and of both
	Second      string
	Summary     string
	Intro       template.HTML // the blocks before the first heading
	Body        template.HTML
	Sheets      []sheetView
	Downloads   []downloadView
	Children    []navEntry
	Steps       bool // has steps
	Progress    string
	Done, Total template.HTML // of the progress, filled in by the script
	Number      int
	Count       int
	Previous    *navEntry
	Next        *navEntry
	Home        template.URL // the document's first page
	Open        template.URL
	Metadata    template.JS // on the first page: JSON-LD
}

// choiceView is what is chosen, as the title block says it.
type choiceView struct {
	ID, Title string
	Options   []optionView
}

type sheetView struct {
	Only   only
	Image  *imageView
	Number int
	Title  string
	Size   string
	Scale  string
}

type downloadView struct {
	Href  template.URL
	Title string
	About string
	Size  string
	Path  string
	Save  bool // rather than open
}

// page writes the document's i-th page.
func (b *builder) page(i int, p *page.Page) (*pageWriter, error) {
	w := &pageWriter{builder: b, page: p, root: root(p.ID), level: 1, noteRefs: map[int]bool{}}
	intro, body, err := w.body()
	if err != nil {
		return nil, err
	}
	view := pageView{
		Doc: b.doc, Page: p, Root: w.root, Own: ownMark, KindName: b.tongue.Say(kindNames[p.Kind]),
		Only: b.only(p.Only), Trail: w.trail(), Pickers: b.pickers(),
		Summary: p.Summary, Intro: intro, Body: body, Steps: w.stepLevel > 0,
		Number: i + 1, Count: len(b.doc.Pages), Progress: w.progress(),
		Home: w.href(b.doc.Pages[0].ID+".html", ""),
	}
	view.Done, view.Total = `<span class="done">0</span>`, `<span class="total">0</span>`
	view.First, view.Second = b.tongue.Say("Metric"), b.tongue.Say("Inch")
	if b.doc.System == "inch" {
		view.Done, view.Total = `<span class="done">0</span>`, `<span class="total">0</span>`
		view.First, view.Second = view.Second, view.First
	}
	if !b.spoken {
		// The theme has no words in the document's language.
		view.Lang = template.HTMLAttr(fmt.Sprintf(` lang="%s"`, b.tongue.Language()))
	}
	for _, picker := range view.Pickers {
		view.Choice = append(view.Choice, choiceView{picker.ID, picker.Title, picker.Options})
	}
	if view.Sheets, err = w.sheets(); err != nil {
		return nil, err
	}
	if p.Kind == page.Downloads {
		view.Downloads = w.downloads()
	}
	if i == 0 && b.doc.Metadata != nil {
		if !json.Valid(b.doc.Metadata) || bytes.ContainsRune(b.doc.Metadata, '<') {
			w.fault("the metadata is no JSON that can stand in a page")
		}
		view.Metadata = template.JS(b.doc.Metadata)
	}
	view.Children = w.unlinkedChildren()
	view.Previous, view.Next = w.pageEntry(i-1), w.pageEntry(i+1)
	if b.open != nil {
		view.Open = w.href(b.open.ID+".html", "")
	}
	if view.Contents, err = w.contentsList(view); err != nil {
		return nil, err
	}
	html, err := b.run("page", view)
	w.html = []byte(strings.TrimSpace(string(html)) + "\n")
	return w, err
}

// body is the page's blocks, parted at the first heading: the drawing sheets
// stand between.
func (w *pageWriter) body() (intro, body template.HTML, err error) {
	at := len(w.page.Blocks)
	for i, block := range w.page.Blocks {
		if _, isHeading := block.(page.Heading); isHeading {
			at = i
			break
		}
	}
	if intro, err = w.blocks(w.page.Blocks[:at]); err != nil {
		return "", "", err
	}
	body, err = w.blocks(w.page.Blocks[at:])
	return intro, body, err
}

// progress says which steps a page reports on: "page" its own, "all" the whole
// machine's, or none.
func (w *pageWriter) progress() string {
	switch {
	case w.stepLevel > 0:
		return "page"
	case len(w.steps) > 0 && (w.page.Kind == page.Front || w.page.Kind == page.Assemblies):
		return "all"
	}
	return ""
}

// sheets are the page's drawings, but for those that its blocks show already.
func (w *pageWriter) sheets() ([]sheetView, error) {
	shown := map[string]bool{}
	walk(w.page.Blocks, func(block page.Block) {
		if f, ok := block.(page.Figure); ok && f.Picture != nil && !f.Small {
			shown[f.Picture.Name] = true
		}
	})
	var views []sheetView
	for i, sheet := range w.page.Sheets {
		if sheet.Picture != nil && shown[sheet.Picture.Name] {
			continue
		}
		image, err := w.image(sheet.Picture)
		if err != nil {
			return nil, err
		}
		if image == nil {
			continue
		}
		views = append(views, sheetView{w.only(sheet.Only), image, i + 1, sheet.Picture.Title, sheet.Size, sheet.Scale})
	}
	return views, nil
}

// downloads lists the files offered that the page's own blocks do not link to.
func (w *pageWriter) downloads() []downloadView {
	linked := map[string]bool{}
	walk(w.page.Blocks, func(block page.Block) {
		for _, words := range wordsOf(block) {
			links(words, func(t page.Target) { linked[t.File] = true })
		}
	})
	var views []downloadView
	for _, d := range w.doc.Downloads {
		href, _ := w.target(page.Target{File: d.Path})
		if href == "" || linked[d.Path] {
			continue
		}
		title := d.Title
		if title == "" {
			title = d.Path
		}
		views = append(views, downloadView{href, title, d.About, bytesText(d.Bytes), d.Path, !opensSafely(d.Path)})
	}
	return views
}

// bytesText prints a file's size in decimal units (IEC 80000-13); empty when it
// is not known.
func bytesText(n int64) string {
	switch {
	case n <= 0:
		return ""
	case n < 1000:
		return fmt.Sprintf("%d B", n)
	case n < 1000*1000:
		return fmt.Sprintf("%.1f kB", float64(n)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1000/1000)
}
