package binder

import (
	"math"

	"plansheaf/publish/page"
)

// facts composes labelled values as the fields of a title block: a ruled grid,
// each value under its small label.
func (c *composer) facts(facts []page.Fact, col column) []atom {
	var fields []page.Fact
	for _, f := range facts {
		if f.Only.Fits(c.choices) {
			fields = append(fields, f)
		}
	}
	if len(fields) == 0 {
		return nil
	}
	grid := 4
	if col.width < 110 {
		grid = 2
	}
	var rows []atom
	for _, r := range c.factGrid(fields, grid, col.width) {
		rows = append(rows, c.factRow(r, col)...)
	}
	top := &rows[0]
	top.marks = append(top.marks, ruleMark{col.x, 0, col.x + col.width, 0, 0.35, ink, false})
	for i := range rows {
		width := 0.12
		tint := hairInk
		if i == len(rows)-1 {
			width, tint = 0.35, ink
		}
		rows[i].marks = append(rows[i].marks,
			ruleMark{col.x, rows[i].height, col.x + col.width, rows[i].height, width, tint, false})
	}
	return spaced(together(rows, c.paper.room()/2), 3)
}

// factPad is the room around a field's words in millimetres.
const factPad = 1.3

// A field is a fact in its place in the grid.
type field struct {
	page.Fact
	x, width float64 // mm from the column's left edge
}

// factGrid places fields on a grid of equal columns, each as many columns wide
// as its words need on one line; the last of a row takes what is left.
func (c *composer) factGrid(facts []page.Fact, grid int, width float64) [][]field {
	unit := width / float64(grid)
	var rows [][]field
	var row []field
	taken := 0
	flush := func() {
		if len(row) > 0 {
			end := &row[len(row)-1]
			end.width = width - end.x
			rows, row, taken = append(rows, row), nil, 0
		}
	}
	for _, f := range facts {
		whole, _ := c.natural(c.runs(f.Words, style{regular, valueSize, ink}, false))
		whole = max(whole, c.fonts.width(line(f.Label), regular, labelSize))
		span := min(grid, max(1, int(math.Ceil((whole+2*factPad)/unit-tolerance))))
		if taken+span > grid {
			flush()
		}
		row = append(row, field{f, float64(taken) * unit, float64(span) * unit})
		taken += span
	}
	flush()
	return rows
}

// valueSize is the type size of fields' values.
const valueSize = 8.6

// factRow composes fields side by side as one atom; a value too long for that
// becomes text under its label.
func (c *composer) factRow(fields []field, col column) []atom {
	row := atom{}
	for i, f := range fields {
		cell := column{col.x + f.x + factPad, f.width - 2*factPad, labelSize, col.depth}
		w := &writer{composer: c}
		w.text(f.Label, style{regular, labelSize, faintInk}, destination{})
		label := c.set(w.out, cell)
		cell.size = valueSize
		words := c.set(c.runs(f.Words, style{regular, valueSize, ink}, false), cell)
		if size(label)+size(words) > c.paper.room()/4 {
			return c.longFacts(fields, i, col)
		}
		set := stacked(append(label, words...))
		for _, m := range set.marks {
			row.marks = append(row.marks, m.moved(0, factPad*0.7))
		}
		row.height = max(row.height, set.height+2*factPad)
	}
	for _, f := range fields[1:] {
		row.marks = append(row.marks, ruleMark{col.x + f.x, 0, col.x + f.x, row.height, 0.12, hairInk, false})
	}
	return []atom{row}
}

// longFacts composes a row whose i-th value is too long for the grid: that one
// as text, those before and after it in rows of their own.
func (c *composer) longFacts(fields []field, i int, col column) []atom {
	var atoms []atom
	if i > 0 {
		atoms = append(atoms, c.factRow(fields[:i], col)...)
	}
	words := append([]page.Inline{page.Strong{Words: page.Words(fields[i].Label + ": ")}}, fields[i].Words...)
	atoms = append(atoms, c.paragraph(words, col)...)
	if i+1 < len(fields) {
		atoms = append(atoms, c.factRow(fields[i+1:], col)...)
	}
	return atoms
}
