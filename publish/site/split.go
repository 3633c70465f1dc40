package site

import (
	"fmt"

	"plansheaf/publish/page"
)

// pageWeight is how much a page with many steps or tables may hold, in bytes as weigh
// tells them, before it goes on on another: with style sheet and scripts it must come
// quickly over a slow line.
const pageWeight = 75_000

// A series is the pages that one page of the document became, by their IDs in order.
type series []string

// split parts the pages of the document that would grow too heavy: those whose kind
// may be parted, in front of a step or a table. The first keeps the ID; a further one
// has its number behind a dot, which no name in a plan holds.
func (b *builder) split() {
	doc := *b.doc
	doc.Pages = nil
	for _, p := range b.doc.Pages {
		doc.Pages = append(doc.Pages, b.parted(p)...)
	}
	b.doc = &doc
}

// first is the page that begins what a page goes on with: itself for most.
func (b *builder) first(id string) string {
	if all := b.series[id]; len(all) > 0 {
		return all[0]
	}
	return id
}

// holder is the page that an anchor of a page of the document came to stand on.
func (b *builder) holder(id, anchor string) string {
	if to := b.moved[page.Target{Page: id, Anchor: anchor}]; to != "" {
		return to
	}
	return id
}

// partable are the kinds of page that may be parted, and in front of what.
var partable = map[page.Kind]func(page.Block) bool{
	page.Assembly: func(block page.Block) bool { _, is := block.(page.Step); return is },
	page.Joints:   func(block page.Block) bool { _, is := block.(page.Table); return is },
}

// parted is a page as the pages that it is written on.
func (b *builder) parted(p *page.Page) []*page.Page {
	runs := runsOf(p)
	if len(runs) == 1 {
		return []*page.Page{p}
	}
	pages := make([]*page.Page, len(runs))
	var ids series
	for i, run := range runs {
		one := *p
		one.Blocks = run
		if i > 0 {
			one.ID, one.Parent, one.Sheets = fmt.Sprintf("%s.%d", p.ID, i+1), p.ID, nil
			one.Title = b.tongue.Say("%s, part %d of %d|a long page", p.Title, i+1, len(runs))
			walk(run, func(block page.Block) {
				for _, id := range anchorsOf(block) {
					if id != "" {
						b.moved[page.Target{Page: p.ID, Anchor: id}] = one.ID
					}
				}
			})
		}
		ids = append(ids, one.ID)
		pages[i] = &one
	}
	for _, id := range ids {
		b.series[id] = ids
	}
	return pages
}

// runsOf parts a page's blocks into what one page may hold each, about equally much.
func runsOf(p *page.Page) [][]page.Block {
	before := partable[p.Kind]
	whole := [][]page.Block{p.Blocks}
	if before == nil {
		return whole
	}
	sum := 0
	for _, block := range p.Blocks {
		if _, notes := block.(page.Footnotes); notes {
			return whole // they belong to all of it
		}
		sum += weigh(block)
	}
	pages := (sum + pageWeight - 1) / pageWeight
	share := sum / max(pages, 1)
	from, weight, begun := 0, 0, false
	var runs [][]page.Block
	for i, block := range p.Blocks {
		own := weigh(block)
		if before(block) {
			if begun && len(runs) < pages-1 && weight+own/2 > share {
				runs = append(runs, p.Blocks[from:i])
				from, weight = i, 0
			}
			begun = true
		}
		weight += own
	}
	return append(runs, p.Blocks[from:])
}

// What markup weighs beside the words, in bytes, near enough.
const (
	stepWeight    = 1500
	blockWeight   = 120
	wordsWeight   = 60 // a cell, a paragraph
	linkWeight    = 60
	measureWeight = 90
	variantWeight = 110
)

// weigh is about how many bytes a block comes to in a page.
func weigh(block page.Block) int {
	sum := 0
	walk([]page.Block{block}, func(one page.Block) {
		sum += blockWeight
		if _, is := one.(page.Step); is {
			sum += stepWeight
		}
		for _, words := range wordsOf(one) {
			sum += wordsWeight + weighWords(words)
		}
	})
	return sum
}

func weighWords(words []page.Inline) int {
	sum := 0
	for _, word := range words {
		switch word := word.(type) {
		case page.Measure:
			sum += measureWeight
		case page.Varies:
			for _, v := range word.Variants {
				sum += variantWeight + weighWords(v.Words)
			}
			continue
		case page.Link:
			sum += linkWeight + weighWords(word.Words)
			continue
		}
		sum += len(plain([]page.Inline{word}))
	}
	return sum
}
