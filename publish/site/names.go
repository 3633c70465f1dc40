package site

import (
	"html/template"
	"io/fs"
	"net/url"
	"strings"

	"plansheaf/publish/page"
)

// names knows every page and anchor of the document.
type names struct {
	pages   map[string]*page.Page
	anchors map[string]map[string]bool // page ID to anchors
	ticks   map[string]bool
}

// survey collects the names of a document and reports those that clash.
func (b *builder) survey() names {
	n := names{
		pages:   map[string]*page.Page{},
		anchors: map[string]map[string]bool{},
		ticks:   map[string]bool{},
	}
	for _, p := range b.doc.Pages {
		if !fs.ValidPath(p.ID) || p.ID == "." {
			b.fault("page ID %q is not a path within the publication", p.ID)
		}
		if n.pages[p.ID] != nil {
			b.fault("two pages have the ID %q", p.ID)
		}
		n.pages[p.ID] = p
		anchors := map[string]bool{}
		n.anchors[p.ID] = anchors
		walk(p.Blocks, func(block page.Block) { b.surveyBlock(p, block, anchors, n.ticks) })
	}
	b.surveySteps()
	return n
}

func (b *builder) surveyBlock(p *page.Page, block page.Block, anchors, ticks map[string]bool) {
	anchor := func(id string) {
		switch {
		case id == "":
		case anchors[id]:
			b.fault("page %q has two anchors %q", p.ID, id)
		case strings.ContainsAny(id, " \t\n\r\f") || strings.HasPrefix(id, ownMark):
			b.fault("page %q: %q cannot be an anchor", p.ID, id)
		}
		anchors[id] = true
	}
	tick := func(id string) {
		if id != "" && ticks[id] {
			b.fault("page %q: two tick boxes have the id %q", p.ID, id)
		}
		ticks[id] = true
	}
	for _, id := range anchorsOf(block) {
		anchor(id)
	}
	switch block := block.(type) {
	case page.List:
		for _, item := range block.Items {
			tick(item.Tick)
		}
	case page.Table:
		for _, rows := range [][]page.Row{block.Rows, block.Foot} {
			for _, row := range rows {
				tick(row.Tick)
			}
		}
	case page.Step:
		tick(block.Tick)
		for _, item := range block.Measures {
			tick(item.Tick)
		}
	}
}

// anchorsOf lists the anchors of a block itself, "" where it could have one and has none.
func anchorsOf(block page.Block) []string {
	switch block := block.(type) {
	case page.Heading:
		return []string{block.ID}
	case page.Step:
		return []string{block.Anchor}
	case page.Halfway:
		ids := make([]string, len(block.Reached))
		for i, r := range block.Reached {
			ids[i] = stateAnchor(block, r)
		}
		return ids
	case page.Table:
		ids := []string{block.ID}
		for _, rows := range [][]page.Row{block.Rows, block.Foot} {
			for _, row := range rows {
				ids = append(ids, row.ID)
			}
		}
		return ids
	}
	return nil
}

// ownMark begins every id that the theme itself uses, so that no heading of the
// document can take one.
const ownMark = "_"

// root is the way from a page to the publication's root: "", "../", "../../".
func root(id string) string { return strings.Repeat("../", strings.Count(id, "/")) }

// href is a relative address of a file of the publication as seen from a page.
// It begins with a dot where a colon or nothing would make it something else.
func (w *pageWriter) href(path, anchor string) template.URL {
	if anchor != "" && path == w.page.ID+".html" {
		return template.URL((&url.URL{Fragment: anchor}).String())
	}
	address := (&url.URL{Path: path, Fragment: anchor}).String()
	if w.root == "" {
		return template.URL(address)
	}
	return template.URL(w.root + strings.TrimPrefix(address, "./"))
}

// target is the address of a link, and whether it leads out of the publication.
// It is empty for a target that leads nowhere or may not be followed.
func (w *pageWriter) target(t page.Target) (address template.URL, out bool) {
	switch {
	case t.Page != "":
		t.Page = w.holder(t.Page, t.Anchor)
		if w.names.pages[t.Page] == nil {
			w.fault("page %q links to page %q, which is not there", w.page.ID, t.Page)
			return "", false
		}
		if t.Anchor != "" && !w.names.anchors[t.Page][t.Anchor] {
			w.fault("page %q links to anchor %q of page %q, which is not there", w.page.ID, t.Anchor, t.Page)
		}
		return w.href(t.Page+".html", t.Anchor), false
	case t.File != "":
		if !fs.ValidPath(t.File) {
			w.fault("page %q links to %q, which is not a path within the publication", w.page.ID, t.File)
			return "", false
		}
		return w.href(t.File, ""), false
	case t.URL != "":
		return outside(t.URL), true
	case t.Anchor != "":
		at := w.holder(w.first(w.page.ID), t.Anchor)
		if !w.names.anchors[at][t.Anchor] {
			w.fault("page %q links to its anchor %q, which is not there", w.page.ID, t.Anchor)
		}
		return w.href(at+".html", t.Anchor), false
	}
	return "", false
}

// outside is an outside address that may be followed: http, https or mailto, as
// net/url writes it. It is empty for anything else, javascript: and data: above
// all.
func outside(address string) template.URL {
	u, err := url.Parse(strings.TrimSpace(address))
	if err != nil {
		return ""
	}
	switch u.Scheme {
	case "http", "https":
		if u.Host == "" {
			return ""
		}
	case "mailto":
	default:
		return ""
	}
	return template.URL(u.String())
}
