package binder

import "plansheaf/publish/page"

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
	across := c.factsAcross(fields, col.width)
	var rows []atom
	for from := 0; from < len(fields); from += across {
		rows = append(rows, c.factRow(fields[from:min(from+across, len(fields))], across, col)...)
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

// factsAcross is how many fields stand side by side: as many as their values
// have room on one line for, four at most.
func (c *composer) factsAcross(fields []page.Fact, width float64) int {
	for across := min(4, len(fields)); across > 1; across-- {
		room, fits := width/float64(across)-2*factPad, true
		for _, f := range fields {
			whole, _ := c.natural(c.runs(f.Words, style{regular, 8.6, ink}, false))
			label := c.fonts.width(line(f.Label), regular, labelSize)
			fits = fits && max(whole, label) <= room
		}
		if fits && width/float64(across) > 24 {
			return across
		}
	}
	if len(fields) > 1 && width >= 120 {
		return 2
	}
	return 1
}

// factRow composes fields side by side as one atom; one with a value too long
// for that as text under its label.
func (c *composer) factRow(fields []page.Fact, across int, col column) []atom {
	const valueSize = 8.6
	width := col.width / float64(across)
	labelHigh := lineHeight(labelSize)
	row := atom{}
	for i, f := range fields {
		cell := column{col.x + float64(i)*width + factPad, width - 2*factPad, valueSize, col.depth}
		w := &writer{composer: c}
		w.text(f.Label, style{regular, labelSize, faintInk}, linkMark{})
		cell.size = labelSize
		label := c.set(w.out, cell)
		cell.size = valueSize
		words := c.set(c.runs(f.Words, style{regular, valueSize, ink}, false), cell)
		if size(label)+size(words) > c.paper.room()/4 {
			return append(c.longFacts(fields[:i], across, col), append(c.longFact(f, col), c.longFacts(fields[i+1:], across, col)...)...)
		}
		field := stacked(append(label, words...))
		for _, m := range field.marks {
			row.marks = append(row.marks, m.moved(0, factPad*0.7))
		}
		if i > 0 {
			x := col.x + float64(i)*width
			row.marks = append(row.marks, ruleMark{x, factPad, x, factPad + labelHigh + 2, 0.12, hairInk, false})
		}
		row.height = max(row.height, field.height+2*factPad)
	}
	return []atom{row}
}

// longFacts composes the fields before or after one that is too long.
func (c *composer) longFacts(fields []page.Fact, across int, col column) []atom {
	if len(fields) == 0 {
		return nil
	}
	return c.factRow(fields, across, col)
}

// longFact composes a label and its long value as text.
func (c *composer) longFact(f page.Fact, col column) []atom {
	words := append([]page.Inline{page.Strong{Words: page.Words(f.Label + ": ")}}, f.Words...)
	return c.paragraph(words, col)
}
