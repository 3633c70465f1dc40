package binder

import (
	"slices"
	"strings"

	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// A chapter is pages that run on without starting a leaf; the drawings of all
// of them follow it.
type chapter struct{ pages []*page.Page }

// runsOn are the kinds whose pages follow each other on one leaf: the key goes
// on after a page of any kind listed.
var runsOn = map[page.Kind][]page.Kind{
	page.Part:        {page.Part},
	page.Calculation: {page.Calculations, page.Calculation},
	page.Joints:      {page.Joints},
	page.Open:        {page.Changes, page.Open},
	page.Downloads:   {page.Changes, page.Open, page.Downloads},
	page.License:     {page.Changes, page.Open, page.Downloads, page.License},
}

// chapters groups pages into chapters, in order.
func chapters(pages []*page.Page) []chapter {
	var out []chapter
	for i, p := range pages {
		on := false
		if i > 0 {
			for _, before := range runsOn[p.Kind] {
				on = on || pages[i-1].Kind == before
			}
		}
		if !on {
			out = append(out, chapter{})
		}
		last := &out[len(out)-1]
		last.pages = append(last.pages, p)
	}
	return out
}

// A book is all leaves in order.
type book struct {
	leaves    []leaf
	bookmarks []bookmark
	entries   []entry
}

// An entry is a line of the contents.
type entry struct {
	title    string
	depth    int
	anchor   string
	drawings []string // anchors of the page's drawing sheets
}

// book lays out the whole binder: cover, safety, contents, then the pages in
// the document's order.
func (c *composer) book() (*book, error) {
	var first, rest []*page.Page
	for _, p := range c.order {
		if p.Kind == page.Safety {
			first = append(first, p)
		} else {
			rest = append(rest, p)
		}
	}
	if len(first)+len(rest) == 0 {
		return nil, ErrNothing
	}
	b := &book{bookmarks: []bookmark{{line(c.doc.Title), 0, coverAnchor}}}
	b.leaves = append(b.leaves, c.cover())
	safety := c.bind(b, first)
	mark := len(c.marks)
	// What stands before the contents is bookmarked before them.
	body := c.bind(b, rest)
	b.bookmarks = append(b.bookmarks, c.marks[:mark]...)
	b.bookmarks = append(b.bookmarks, bookmark{c.say("Contents"), 0, contentsAnchor})
	b.bookmarks = append(b.bookmarks, c.marks[mark:]...)
	b.leaves = append(b.leaves, safety...)
	b.leaves = append(b.leaves, c.contents(b.entries)...)
	b.leaves = append(b.leaves, body...)
	return b, nil
}

// bind lays out pages with their drawings.
func (c *composer) bind(b *book, pages []*page.Page) []leaf {
	var leaves []leaf
	for _, chapter := range chapters(pages) {
		var atoms []atom
		for i, p := range chapter.pages {
			c.page, c.near = p.ID, ""
			p = c.afterCover(p)
			title := line(p.Title)
			e := entry{title: title, depth: c.depthOf(p.ID), anchor: p.ID}
			for n := range p.Sheets {
				if c.sheetFits(p.Sheets[n]) {
					e.drawings = append(e.drawings, sheetAnchor(p.ID, n))
				}
			}
			b.entries = append(b.entries, e)
			c.bookmark(title, 0, p.ID)
			for n, anchor := range e.drawings {
				c.bookmark(c.sheetTitle(p, n), 1, anchor)
			}
			atoms = append(atoms, c.pageAtoms(p, i == 0, e.drawings)...)
		}
		leaves = append(leaves, paginate(atoms, c.paper.room())...)
		leaves = append(leaves, c.drawings(chapter)...)
	}
	return leaves
}

// afterCover is a page without what the cover says of it: title, summary, picture.
func (c *composer) afterCover(p *page.Page) *page.Page {
	if p.Kind != page.Front {
		return p
	}
	rest := *p
	if rest.Title == c.doc.Title {
		rest.Title = c.say("Overview")
	}
	if rest.Summary == c.doc.Summary {
		rest.Summary = ""
	}
	for i, b := range p.Blocks {
		if f, ok := b.(page.Figure); ok && f.Picture != nil && f.Picture == c.onCover {
			rest.Blocks = slices.Delete(slices.Clone(p.Blocks), i, i+1)
			break
		}
	}
	return &rest
}

// pageAtoms composes a page of the document with its title.
func (c *composer) pageAtoms(p *page.Page, opens bool, drawings []string) []atom {
	col := column{0, c.paper.textWidth(), bodySize, 0}
	atoms := c.pageTitle(p, opens, drawings, col)
	body := c.blocks(p.Blocks, col)
	if len(body) == 0 {
		atoms[len(atoms)-1].stay = free
	}
	atoms = append(atoms, body...)
	if !opens {
		atoms = together(atoms, c.paper.room()/2)
	}
	atoms[0].start = &start{section: line(p.Title)}
	return atoms
}

// pageTitle composes the head of a page: large where it opens a leaf, smaller
// where it runs on.
func (c *composer) pageTitle(p *page.Page, opens bool, drawings []string, col column) []atom {
	title := column{col.x, min(col.width, measure), titleSize, 0}
	rule := ruleMark{col.x, 0, col.x + 26, 0, 1.1, accentInk, false}
	lead := 3.2
	if !opens {
		title.size = sectionSize
		rule = ruleMark{col.x, 0, col.x + col.width, 0, 0.35, ink, false}
		lead = 2
	}
	w := &writer{composer: c}
	w.text(p.Title, style{bold, title.size, ink}, destination{})
	set := c.shortened(c.set(w.out, title), c.paper.room()/3)
	if len(set) == 0 {
		set = []atom{{height: lineHeight(title.size)}}
	}
	shift(&set[0], lead)
	set[0].marks = append(set[0].marks, rule, anchorMark{0, p.ID})
	if !opens {
		set[0].before = 11
	}
	if p.Summary != "" {
		w := &writer{composer: c}
		w.text(p.Summary, style{italic, bodySize, faintInk}, destination{})
		summary := c.shortened(c.set(w.out, column{col.x, min(col.width, measure), bodySize, 0}), c.paper.room()/3)
		if len(summary) > 0 {
			summary[0].before = 1
		}
		set = append(set, summary...)
	}
	for n, anchor := range drawings {
		small := style{regular, smallSize + 0.4, faintInk}
		link := destination{anchor: anchor}
		w := &writer{composer: c}
		w.text(c.sheetLabel(p.Sheets[n])+", ", small, link)
		w.out = append(w.out, run{page: anchor, style: small, link: link})
		lines := c.shortened(c.set(w.out, column{col.x, col.width, small.size, 0}), c.paper.room()/6)
		lines[0].before = 0.8
		set = append(set, lines...)
	}
	set[len(set)-1].after = 4
	set[len(set)-1].stay = glued
	return holding(set, glued)
}

// finishLeaves gives every leaf its place on paper, running head, watermark and
// numbers.
func (c *composer) finishLeaves(b *book, twoSided bool) {
	numbers := map[string]int{}
	for i := range b.leaves {
		l := &b.leaves[i]
		if !l.drawing {
			l.width, l.height = c.paper.width, c.paper.height
			left := c.left(i, twoSided)
			for n, m := range l.marks {
				l.marks[n] = m.moved(left, c.paper.top)
			}
		}
		for _, m := range l.marks {
			if a, ok := m.(anchorMark); ok {
				if _, known := numbers[a.name]; !known {
					numbers[a.name] = i + 1
				}
			}
		}
	}
	for i := range b.leaves {
		l := &b.leaves[i]
		l.marks = c.numbered(l.marks, numbers)
		var under []mark
		if c.doc.Draft && !(l.drawing && showsDraft(l.marks)) {
			under = append(under, c.draftAcross(l))
		}
		l.marks = append(under, l.marks...)
		switch {
		case l.drawing:
			l.marks = append(l.marks, c.margin(l, i+1, len(b.leaves))...)
		default:
			left := c.left(i, twoSided)
			l.marks = append(l.marks, c.strip(l, left, i+1, len(b.leaves))...)
			l.marks = append(l.marks, c.edgeMarks(left > c.paper.edge)...)
		}
	}
}

// left is where the text frame begins on leaf i, counted from 0.
func (c *composer) left(i int, twoSided bool) float64 {
	if twoSided && i%2 == 1 {
		return c.paper.edge
	}
	return c.paper.binding
}

// numbered writes the page numbers among marks, now that they are known.
func (c *composer) numbered(marks []mark, numbers map[string]int) []mark {
	words := func(anchor string) string {
		if n := numbers[anchor]; n > 0 {
			return itoa(n)
		}
		return "–"
	}
	out := make([]mark, 0, len(marks))
	for _, m := range marks {
		switch m := m.(type) {
		case pageMark:
			number := words(m.anchor)
			out = append(out, textMark{m.x - c.fonts.width(number, m.style.face, m.style.size), m.y, number, m.style})
		case lateLine:
			runs := append([]run(nil), m.line.runs...)
			for i, r := range runs {
				if r.page != "" {
					runs[i].words, runs[i].page = c.pagePrefix()+words(r.page), ""
				}
			}
			out = append(out, c.lineMarks(textLine{runs: runs}, m.x, m.y)...)
		default:
			out = append(out, m)
		}
	}
	return out
}

// showsDraft reports whether a drawing says DRAFT itself.
func showsDraft(marks []mark) bool {
	for _, m := range marks {
		if p, ok := m.(pictureMark); ok && says(p.picture.Marks, draftWord) {
			return true
		}
	}
	return false
}

func says(marks []picture.Mark, word string) bool {
	for _, m := range marks {
		switch m := m.(type) {
		case picture.Text:
			if strings.Contains(m.Words, word) && m.Ink == picture.Watermark {
				return true
			}
		case picture.Group:
			if says(m.Marks, word) {
				return true
			}
		case picture.Clip:
			if says(m.Marks, word) {
				return true
			}
		}
	}
	return false
}
