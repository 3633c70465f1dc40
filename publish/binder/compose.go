package binder

import (
	"fmt"
	"strconv"
	"strings"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/wording"
)

// A composer turns the blocks of a document into atoms. It is made for one
// rendering.
type composer struct {
	doc      *page.Document
	tongue   *wording.Table // the words that are not the document's
	choices  page.Combination
	paper    paper
	fonts    *fonts
	digits   string // as wide as the widest page number
	images   *darkroom
	kept     *memo.Store
	keys     keyring
	scratch  scratch
	checked  map[*picture.Picture]bool // whether a picture can be drawn
	order    []*page.Page              // the pages that fit the choices
	pages    map[string]*page.Page     // the same by id
	excluded map[string]bool           // pages that belong to other choices
	anchors  map[string]bool           // "page" and "page#anchor"
	page     string                    // id of the page being composed
	near     string                    // the latest anchor on it
	onCover  *picture.Picture          // the picture that the cover shows
	marks    []bookmark
	problems []Problem
	seen     map[Problem]bool
}

// A bookmark is an entry of the PDF's outline.
type bookmark struct {
	title  string
	level  int // 0: top
	anchor string
}

// A column is where blocks are set: from x on, width wide, in type of size
// points.
type column struct {
	x, width float64
	size     float64
	depth    int // how many blocks stand around
}

// deepestBlocks bounds nested lists and quotes; what is deeper left
// out and reported. The room that their frames need on a leaf grows with it.
const deepestBlocks = 24

// narrowest is the least width that an indent leaves, in millimetres.
const narrowest = 45.0

// indented is the column moved in by d millimetres, unless it is too narrow
// already.
func (col column) indented(d float64) column {
	col.depth++
	if col.width-d < narrowest {
		return col
	}
	col.x, col.width = col.x+d, col.width-d
	return col
}

// where names the place being composed.
func (c *composer) where() string {
	if c.near != "" {
		return c.page + "#" + c.near
	}
	return c.page
}

// problem keeps a problem once for each place.
func (c *composer) problem(p Problem) {
	p.Where = c.where()
	if !c.seen[p] {
		c.seen[p] = true
		c.problems = append(c.problems, p)
	}
}

// report keeps a problem with a character once for each place, with a stretch of
// the text around it.
func (c *composer) report(kind ProblemKind, r rune, text string) {
	key := Problem{Kind: kind, Rune: r, Where: c.where()}
	if !c.seen[key] {
		c.seen[key] = true
		c.problem(Problem{Kind: kind, Rune: r, Text: around(text, r)})
	}
}

// body is the look of running text in a column.
func (col column) body() style { return style{regular, col.size, ink} }

// blocks composes blocks one below the other.
func (c *composer) blocks(blocks []page.Block, col column) []atom {
	if col.depth > deepestBlocks {
		c.problem(Problem{Kind: BadBlock, Text: "blocks are nested too deeply; the innermost are left out"})
		return nil
	}
	var atoms []atom
	for i := 0; i < len(blocks); i++ {
		if figure, ok := blocks[i].(page.Figure); ok && figure.Small && i+1 < len(blocks) {
			if pair := c.besideText(figure, blocks[i+1], col); pair != nil {
				atoms = append(atoms, pair...)
				i++
				continue
			}
		}
		next := c.block(blocks[i], col)
		if _, heading := blocks[i].(page.Heading); heading && len(next) > 0 && i+1 == len(blocks) {
			next[len(next)-1].stay = free
		}
		if _, figure := blocks[i].(page.Figure); figure && len(next) > 0 && i+1 < len(blocks) {
			if _, listed := blocks[i+1].(page.Table); listed {
				next[len(next)-1].stay = held // the list of what the picture numbers
			}
		}
		atoms = append(atoms, next...)
	}
	return atoms
}

// block composes one block; nothing for one that belongs to other choices.
func (c *composer) block(block page.Block, col column) []atom {
	switch b := block.(type) {
	case page.Heading:
		return c.when(b.Only, func() []atom { return c.heading(b, col) })
	case page.Paragraph:
		return c.when(b.Only, func() []atom { return c.paragraph(b.Words, col) })
	case page.List:
		return c.when(b.Only, func() []atom { return c.list(b, col) })
	case page.Quote:
		return c.when(b.Only, func() []atom { return c.quote(b, col) })
	case page.Code:
		return c.when(b.Only, func() []atom { return c.code(b, col) })
	case page.Break:
		return c.when(b.Only, func() []atom { return c.thematicBreak(col) })
	case page.Footnotes:
		return c.footnotes(b, col)
	case page.Table:
		return c.when(b.Only, func() []atom { return c.table(b, col) })
	case page.Figure:
		return c.when(b.Only, func() []atom { return c.figure(b, col) })
	case page.CautionBox:
		return c.when(b.Only, func() []atom { return c.caution(b, col) })
	case page.Facts:
		return c.when(b.Only, func() []atom { return c.facts(b.Facts, col) })
	case page.Step:
		return c.when(b.Only, func() []atom { return c.step(b, col) })
	case page.Equation:
		return c.equation(b, col)
	case page.Cards:
		return c.when(b.Only, func() []atom { return c.cards(b, col) })
	case page.Halfway:
		return c.paragraph(b.OnPaper, col)
	}
	c.problem(Problem{Kind: BadBlock, Text: fmt.Sprintf("the binder cannot print a %T", block)})
	return nil
}

// when composes what fits the choices.
func (c *composer) when(only page.Only, compose func() []atom) []atom {
	if !only.Fits(c.choices) {
		return nil
	}
	return compose()
}

// set breaks runs into lines in a column and gives an atom for each.
func (c *composer) set(runs []run, col column) []atom {
	var atoms []atom
	for _, l := range c.setLines(runs, col.width) {
		atoms = append(atoms, atom{height: lineHeight(col.size), marks: c.lineMarks(l, col.x, baselineOf(col.size))})
	}
	return atoms
}

// shortened keeps the lines that have room in height millimetres and reports
// when some are left out. It guards what is never cut from growing beyond a leaf.
func (c *composer) shortened(lines []atom, height float64) []atom {
	if size(lines) <= height {
		return lines
	}
	n := len(lines)
	for n > 1 && size(lines[:n]) > height {
		n--
	}
	c.problem(Problem{Kind: Shortened, Text: fmt.Sprintf("a title, caption or label has %d lines; %d are printed", len(lines), n)})
	return lines[:n]
}

// paragraph composes running text; its first two and last two lines stay
// together.
func (c *composer) paragraph(words []page.Inline, col column) []atom {
	col.width = min(col.width, measure)
	atoms := c.set(c.runs(words, col.body(), true), col)
	return spaced(unwidowed(atoms), col.size*mmPerPoint*0.62)
}

// unwidowed keeps a paragraph's first two and last two lines together.
func unwidowed(atoms []atom) []atom {
	if n := len(atoms); n > 1 {
		atoms[0].stay = max(atoms[0].stay, widowed)
		atoms[n-2].stay = max(atoms[n-2].stay, widowed)
	}
	return atoms
}

// spaced sets the space around a block.
func spaced(atoms []atom, space float64) []atom {
	if n := len(atoms); n > 0 {
		atoms[0].before = max(atoms[0].before, space)
		atoms[n-1].after = max(atoms[n-1].after, space)
	}
	return atoms
}

// headingLooks are size, space above and space below, by level from 2.
var headingLooks = []struct{ size, before, after float64 }{
	{12.5, 8, 2.6}, {10.5, 6, 2}, {9.5, 4.5, 1.6},
}

// heading composes a section's title, which never stands alone at a leaf's end.
func (c *composer) heading(h page.Heading, col column) []atom {
	look := headingLooks[min(max(h.Level-2, 0), len(headingLooks)-1)]
	c.near = h.ID
	col.width, col.size = min(col.width, measure), look.size
	atoms := c.set(c.runs(h.Words, style{bold, look.size, ink}, false), col)
	if len(atoms) == 0 {
		return nil
	}
	holding(atoms, glued)
	first, end := &atoms[0], &atoms[len(atoms)-1]
	first.before, end.after, end.stay = look.before, look.after, glued
	if h.ID != "" {
		first.marks = append(first.marks, c.anchor(h.ID))
		if h.Level <= 2 {
			c.bookmark(plain(h.Words, c.choices), 1, c.page+"#"+h.ID)
		}
	}
	return atoms
}

// bookmark adds an entry to the outline, levels below the page being composed.
func (c *composer) bookmark(title string, below int, anchor string) {
	if title = line(title); title == "" {
		title = "–"
	}
	c.marks = append(c.marks, bookmark{title, c.depthOf(c.page) + below, anchor})
}

// depthOf is how many pages stand above one, by their parents.
func (c *composer) depthOf(id string) int {
	depth := 0
	for p := c.pages[id]; p != nil && p.Parent != "" && c.pages[p.Parent] != nil && depth < 8; p = c.pages[p.Parent] {
		depth++
	}
	return depth
}

// anchor marks the page being composed as a place that links lead to.
func (c *composer) anchor(id string) mark { return anchorMark{0, anchorName(c.page, id)} }

// noteAnchor is the name of a footnote's place.
func (c *composer) noteAnchor(number int) string { return c.page + "#:note:" + itoa(number) }

// anchorName is the name of a place within a page; the page itself for no id.
func anchorName(pageID, id string) string {
	if id == "" {
		return pageID
	}
	return pageID + "#" + id
}

// say is a phrase in the document's language.
func (c *composer) say(p wording.Phrase, values ...any) string { return c.tongue.Say(p, values...) }

func itoa(n int) string { return strconv.Itoa(n) }

// words is a plain string as inlines, an absent one as none.
func words(text string) []page.Inline { return page.Words(strings.TrimSpace(text)) }
