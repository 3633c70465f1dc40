package site

import (
	"html/template"
	"strings"

	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// navGroup is a labelled run of the contents list.
type navGroup struct {
	Title   string
	Entries []navEntry
}

// navEntry is a link to a page.
type navEntry struct {
	Href    template.URL
	File    string // of the page, as the script names it; of a parted one all, with blanks between
	Title   string
	Note    string
	Here    bool
	Inside  bool // this page is below the entry's
	Counted bool // has steps to count
	Only    only
}

// kindNames say what a page is, in its title block.
var kindNames = map[page.Kind]wording.Phrase{
	page.Front:        "Overview",
	page.Safety:       "Safety",
	page.Prose:        "Guide",
	page.Choices:      "Choices",
	page.PartsList:    "Parts list",
	page.Part:         "Part",
	page.Shopping:     "Shopping list",
	page.Cutting:      "Cut list",
	page.Tools:        "Tools list",
	page.Drawings:     "Drawings",
	page.Assemblies:   "Order of work",
	page.Assembly:     "Build steps",
	page.Joints:       "Joints",
	page.Calculations: "Calculations",
	page.Calculation:  "Calculation",
	page.Hazards:      "Hazard register",
	page.Changes:      "Changes",
	page.Open:         "Open questions",
	page.Downloads:    "Downloads",
	page.License:      "Licence",
}

// sections is the order of the contents list: what the reader is up to, and the
// kinds of page that serve it.
var sections = []struct {
	title wording.Phrase
	kinds []page.Kind
}{
	{"Begin", []page.Kind{page.Front, page.Safety, page.Choices, page.Prose}},
	{"Get", []page.Kind{page.PartsList, page.Part, page.Shopping, page.Cutting, page.Tools}},
	{"Make", []page.Kind{page.Drawings}},
	{"Build", []page.Kind{page.Assemblies, page.Assembly}},
	{"Reasons", []page.Kind{page.Calculations, page.Calculation, page.Joints, page.Hazards}},
	{"Record", []page.Kind{page.Changes, page.Open, page.Downloads, page.License}},
}

// always are the kinds that the contents list shows even where another page
// lists them: the work is done from them.
var always = map[page.Kind]bool{page.Assembly: true}

// outline sorts the document's pages by who lists them.
func (b *builder) outline() {
	b.listed, b.below, b.stepped = map[page.Kind][]*page.Page{}, map[string][]*page.Page{}, map[string]bool{}
	for _, p := range b.doc.Pages {
		if p.Parent == "" || always[p.Kind] {
			b.listed[p.Kind] = append(b.listed[p.Kind], p)
		}
		if p.Parent != "" {
			b.below[p.Parent] = append(b.below[p.Parent], p)
		}
		if p.Kind == page.Open && b.open == nil {
			b.open = p
		}
	}
	for _, s := range b.steps {
		b.stepped[s.Page] = true
	}
}

// contentsList is the contents list as seen from the page, as it is written. Pages that it
// does not show itself see the same one from the same place in the tree.
func (w *pageWriter) contentsList(view pageView) (template.HTML, error) {
	seen := "page " + w.page.ID
	if w.page.Parent != "" && !always[w.page.Kind] && len(w.series[w.page.ID]) == 0 {
		seen = "below " + w.root + w.page.Parent
	}
	if known, written := w.contents.Load(seen); written {
		return known.(template.HTML), nil
	}
	view.Nav = w.nav()
	html, err := w.run("contents", view)
	if err == nil {
		w.contents.Store(seen, html)
	}
	return html, err
}

// nav is the contents list as seen from the page. Pages that another page lists
// are left out, but for the assemblies, whose steps are the work.
func (w *pageWriter) nav() []navGroup {
	above := map[string]bool{}
	for id := w.page.Parent; id != "" && !above[id] && w.names.pages[id] != nil; id = w.names.pages[id].Parent {
		above[id] = true
	}
	var groups []navGroup
	for _, section := range sections {
		group := navGroup{Title: w.tongue.Say(section.title)}
		for _, kind := range section.kinds {
			for _, p := range w.listed[kind] {
				if begins := w.first(p.ID); begins != p.ID && begins != w.first(w.page.ID) {
					continue // what a long page goes on with is listed while it is read
				}
				entry := w.entry(p)
				entry.Inside = above[p.ID]
				entry.Counted = w.stepped[entry.File]
				if all := w.series[p.ID]; len(all) > 0 && p.ID == all[0] {
					entry.File = strings.Join(all, ".html ") + ".html"
				}
				if kind == page.Front {
					// Its title is the machine's, which the strip above already says.
					entry.Title = w.tongue.Say(kindNames[kind])
				}
				group.Entries = append(group.Entries, entry)
			}
		}
		if len(group.Entries) > 0 {
			groups = append(groups, group)
		}
	}
	return groups
}

func (w *pageWriter) entry(p *page.Page) navEntry {
	return navEntry{
		Href: w.href(p.ID+".html", ""), File: p.ID + ".html", Title: p.Title, Note: p.Summary,
		Here: p == w.page, Only: w.only(p.Only),
	}
}

// pageEntry is the document's i-th page, or nil.
func (w *pageWriter) pageEntry(i int) *navEntry {
	if i < 0 || i >= len(w.doc.Pages) {
		return nil
	}
	entry := w.entry(w.doc.Pages[i])
	return &entry
}

// trail leads from the top to the page above this one.
func (w *pageWriter) trail() []navEntry {
	var trail []navEntry
	seen := map[string]bool{}
	for id := w.page.Parent; id != ""; {
		parent := w.names.pages[id]
		if parent == nil {
			w.fault("page %q has the parent %q, which is not there", w.page.ID, id)
			break
		}
		if seen[id] {
			w.fault("page %q is its own ancestor", w.page.ID)
			break
		}
		seen[id] = true
		trail = append([]navEntry{w.entry(parent)}, trail...)
		id = parent.Parent
	}
	return trail
}

// unlinkedChildren are the pages below this one that its blocks do not link to,
// so that no page is out of reach.
func (w *pageWriter) unlinkedChildren() []navEntry {
	linked := map[string]bool{}
	walk(w.page.Blocks, func(block page.Block) {
		for _, words := range wordsOf(block) {
			links(words, func(t page.Target) { linked[t.Page] = true })
		}
		switch block := block.(type) {
		case page.Cards:
			for _, card := range block.Cards {
				linked[card.Target.Page] = true
			}
		case page.Figure:
			linked[block.Link.Page] = true
		}
	})
	var children []navEntry
	for _, p := range w.below[w.page.ID] {
		if !linked[p.ID] {
			children = append(children, w.entry(p))
		}
	}
	return children
}
