package site

import (
	"strings"

	"plansheaf/publish/page"
)

// walk calls visit for every block, outer ones first, in reading order.
func walk(blocks []page.Block, visit func(page.Block)) {
	for _, block := range blocks {
		visit(block)
		for _, inner := range within(block) {
			walk(inner, visit)
		}
	}
}

// within lists the runs of blocks inside a block, in reading order.
func within(block page.Block) [][]page.Block {
	var inner [][]page.Block
	items := func(items []page.Item) {
		for _, item := range items {
			inner = append(inner, item.Blocks)
		}
	}
	switch block := block.(type) {
	case page.List:
		items(block.Items)
	case page.Quote:
		inner = append(inner, block.Blocks)
	case page.Footnotes:
		for _, note := range block.Notes {
			inner = append(inner, note.Blocks)
		}
	case page.CautionBox:
		inner = append(inner, block.Blocks)
	case page.Step:
		for _, caution := range block.Cautions {
			inner = append(inner, []page.Block{caution})
		}
		for _, table := range []*page.Table{block.Bag, block.Screws} {
			if table != nil {
				inner = append(inner, []page.Block{*table})
			}
		}
		inner = append(inner, block.Text)
		items(block.Measures)
	}
	return inner
}

// wordsOf lists the runs of words that stand directly in a block.
func wordsOf(block page.Block) [][]page.Inline {
	var runs [][]page.Inline
	add := func(words ...[]page.Inline) { runs = append(runs, words...) }
	switch block := block.(type) {
	case page.Heading:
		add(block.Words)
	case page.Paragraph:
		add(block.Words)
	case page.Code:
		add(page.Words(block.Text))
	case page.Table:
		add(block.Caption)
		for _, column := range block.Columns {
			add(column.Head)
		}
		for _, rows := range [][]page.Row{block.Rows, block.Foot} {
			for _, row := range rows {
				for _, cell := range row.Cells {
					add(cell.Words)
				}
			}
		}
	case page.Figure:
		add(block.Caption)
	case page.CautionBox:
		add(block.Title)
	case page.Facts:
		for _, fact := range block.Facts {
			add(page.Words(fact.Label), fact.Words)
		}
	case page.Step:
		add(page.Words(block.Title))
		for _, fact := range block.Facts {
			add(page.Words(fact.Label), fact.Words)
		}
	case page.Equation:
		add(page.Words(saidFormula(block.Name)), block.About, page.Words(saidFormula(block.Is)), block.Result)
		for _, fact := range block.Facts {
			add(page.Words(fact.Label), fact.Words)
		}
	case page.Cards:
		for _, card := range block.Cards {
			add(page.Words(card.Title), card.Note)
		}
	case page.Halfway:
		add(block.About)
		for _, c := range block.Chapters {
			add(c.Title)
			for _, list := range c.Lists {
				add(list.Label)
				for _, item := range list.Items {
					add(item.Words)
				}
			}
		}
	}
	return runs
}

// plain is the text of words without any dress: all variants, both units.
func plain(words []page.Inline) string {
	var b strings.Builder
	for _, word := range words {
		switch word := word.(type) {
		case page.Text:
			b.WriteString(string(word))
		case page.Strong:
			b.WriteString(plain(word.Words))
		case page.Emphasis:
			b.WriteString(plain(word.Words))
		case page.Verbatim:
			b.WriteString(string(word))
		case page.Formula:
			b.WriteString(saidFormula(word.Is))
		case page.Measure:
			b.WriteString(word.First)
			if word.Second != "" {
				b.WriteString(" (" + word.Second + ")")
			}
		case page.Varies:
			for i, variant := range word.Variants {
				if i > 0 {
					b.WriteString(" / ")
				}
				b.WriteString(plain(variant.Words))
			}
		case page.Link:
			b.WriteString(plain(word.Words))
		case page.Newline:
			b.WriteString(" ")
		}
	}
	return b.String()
}

// links calls visit for every link target among words.
func links(words []page.Inline, visit func(page.Target)) {
	for _, word := range words {
		switch word := word.(type) {
		case page.Strong:
			links(word.Words, visit)
		case page.Emphasis:
			links(word.Words, visit)
		case page.Varies:
			for _, variant := range word.Variants {
				links(variant.Words, visit)
			}
		case page.Link:
			visit(word.To)
		}
	}
}
