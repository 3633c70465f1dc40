package binder

import (
	"slices"

	"plansheaf/publish/page"
)

// cellPad is the room left and right of a cell's words, rowPad above and below,
// in millimetres.
const (
	cellPad = 1.4
	rowPad  = 0.95
)

// leastColumn is the narrowest that a column is made before a table is cut into
// several side by side, in millimetres.
const leastColumn = 11.0

// A tableSetter holds what one table's rows have in common.
type tableSetter struct {
	*composer
	col    column
	cols   []page.Column
	widths []float64 // mm, paddings included
	ticks  float64   // width of the column of tick boxes; 0 without
	size   float64   // type size
	head   *tableHead
}

// table composes a table: its head is repeated on each leaf and no row is cut,
// unless it is taller than a leaf.
func (c *composer) table(t page.Table, col column) []atom {
	rows, foot := c.rowsFor(t.Rows), c.rowsFor(t.Foot)
	if len(t.Columns) == 0 || len(rows)+len(foot) == 0 && len(t.Caption) == 0 {
		return nil
	}
	var atoms []atom
	if t.ID != "" {
		c.near = t.ID
	}
	if pair, ok := c.inTwo(t, rows, foot, col); ok {
		return c.anchored(pair, t.ID)
	}
	for i, part := range c.panels(t, rows, foot, col) {
		caption := t.Caption
		if i > 0 {
			caption = nil
		}
		atoms = append(atoms, c.tablePart(part, caption, col)...)
	}
	// Half a leaf is little enough to be kept in one piece.
	return c.anchored(together(atoms, c.paper.room()/2), t.ID)
}

// anchored makes a table's atoms the place that its name leads to.
func (c *composer) anchored(atoms []atom, id string) []atom {
	if id != "" && len(atoms) > 0 {
		atoms[0].marks = append(atoms[0].marks, c.anchor(id))
	}
	return spaced(atoms, 3.4)
}

// inTwo sets a long list of few and narrow columns as two beside each other, so that
// it needs half the height; ok is false where that does not suit the table.
func (c *composer) inTwo(t page.Table, rows, foot []page.Row, col column) (pair []atom, ok bool) {
	const between, fewest = 6.0, 10
	if len(rows) < fewest || len(foot) > 0 || len(t.Caption) > 0 || len(t.Columns) > 4 {
		return nil, false
	}
	for _, r := range rows {
		if r.Section || r.Tick != "" {
			return nil, false
		}
	}
	s := &tableSetter{composer: c, cols: t.Columns, size: min(tableSize, col.size)}
	wanted, least, cells := s.natural(tablePanel{t.Columns, rows, nil})
	side := column{col.x, (col.width - between) / 2, col.size, col.depth}
	if sum(wanted) > side.width*1.4 || sum(least) > side.width {
		return nil, false // it would mostly be broken lines
	}
	// Both halves have the same columns.
	columns := slices.Clone(t.Columns)
	for i, width := range distribute(wanted, least, cells, side.width) {
		columns[i].Width = width
	}
	n := (len(rows) + 1) / 2
	left := stacked(c.tablePart(tablePanel{columns, rows[:n], nil}, nil, side))
	side.x += side.width + between
	right := stacked(c.tablePart(tablePanel{columns, rows[n:], nil}, nil, side))
	if left.height > c.paper.room()*figureShare || right.height > c.paper.room()*figureShare {
		return nil, false
	}
	return []atom{beside(left, right)}, true
}

// rowsFor are the rows that fit the choices. A section whose rows all belong to
// other choices goes with them.
func (c *composer) rowsFor(rows []page.Row) []page.Row {
	var out []page.Row
	held, left := false, false // the latest section has rows; some are left
	drop := func() {
		if held && !left {
			out = out[:len(out)-1]
		}
		held, left = false, false
	}
	open := false // a section stands last in out or above what follows
	for _, r := range rows {
		fits := r.Only.Fits(c.choices)
		if r.Section {
			drop()
			if open = fits; fits {
				out = append(out, r)
			}
			continue
		}
		held = held || open
		if fits {
			left = true
			out = append(out, r)
		}
	}
	drop()
	return out
}

// A tablePanel is a table, or some of its columns.
type tablePanel struct {
	columns    []page.Column
	rows, foot []page.Row
}

// panels cuts a table with more columns than the paper holds into several, each
// with the first column, as a wide list is continued on a second sheet.
func (c *composer) panels(t page.Table, rows, foot []page.Row, col column) []tablePanel {
	most := max(2, int(col.width/leastColumn))
	if len(t.Columns) <= most {
		return []tablePanel{{t.Columns, rows, foot}}
	}
	var panels []tablePanel
	for from := 1; from < len(t.Columns); from += most - 1 {
		to := min(from+most-1, len(t.Columns))
		panels = append(panels, tablePanel{
			append([]page.Column{t.Columns[0]}, t.Columns[from:to]...),
			someCells(rows, from, to), someCells(foot, from, to),
		})
	}
	return panels
}

// someCells are rows with their first cell and those from from to to.
func someCells(rows []page.Row, from, to int) []page.Row {
	out := make([]page.Row, len(rows))
	for i, r := range rows {
		if !r.Section && len(r.Cells) > 0 {
			cells := []page.Cell{r.Cells[0]}
			r.Cells = append(cells, r.Cells[min(from, len(r.Cells)):min(to, len(r.Cells))]...)
		}
		if from > 1 {
			r.ID, r.Tick = "", ""
		}
		out[i] = r
	}
	return out
}

// tablePart composes one panel with its head.
func (c *composer) tablePart(t tablePanel, caption []page.Inline, col column) []atom {
	s := &tableSetter{composer: c, col: col, cols: t.columns, size: min(tableSize, col.size)}
	for _, r := range t.rows {
		if r.Tick != "" {
			s.ticks = 6
		}
	}
	s.measure(t)
	var atoms []atom
	if len(caption) > 0 {
		set := c.set(c.runs(caption, style{bold, tableSize, ink}, false), column{col.x, col.width, tableSize, col.depth})
		atoms = append(atoms, spaced(holding(set, glued), 1)...)
		if len(atoms) > 0 {
			atoms[len(atoms)-1].stay = glued
		}
	}
	head := s.headRow()
	s.head = &tableHead{height: head.height, marks: head.marks}
	atoms = append(atoms, head)
	body := s.body(t.rows)
	total := s.footRows(t.foot)
	if len(total) > 0 && len(body) > 0 {
		body[len(body)-1].stay = glued
	}
	atoms = append(atoms, append(body, total...)...)
	// Rule under the last row.
	end := &atoms[len(atoms)-1]
	end.marks = append(end.marks, ruleMark{col.x, end.height, col.x + s.total(), end.height, 0.35, ink, false})
	end.stay = free
	return atoms
}

// total is the table's width in millimetres.
func (s *tableSetter) total() float64 {
	sum := s.ticks
	for _, w := range s.widths {
		sum += w
	}
	return sum
}

// body composes the rows; a section row stays with the row after it, the last
// two rows rather stay together.
func (s *tableSetter) body(rows []page.Row) []atom {
	var atoms []atom
	for i, r := range rows {
		next := s.row(r, false)
		if r.Section && i+1 < len(rows) {
			next[len(next)-1].stay = glued
		}
		if i+1 < len(rows) {
			next[len(next)-1].stay = max(next[len(next)-1].stay, inTable)
		}
		if (i == 0 || i == len(rows)-2) && i+1 < len(rows) && len(next) == 1 {
			next[0].stay = max(next[0].stay, last)
		}
		atoms = append(atoms, next...)
	}
	return atoms
}

// footRows composes the totals, kept together.
func (s *tableSetter) footRows(rows []page.Row) []atom {
	var atoms []atom
	for i, r := range rows {
		next := s.row(r, true)
		if i == 0 {
			next[0].marks = append(next[0].marks, ruleMark{s.col.x, 0, s.col.x + s.total(), 0, 0.35, ink, false})
		}
		atoms = append(atoms, next...)
	}
	if size(atoms) > s.paper.room()/3 {
		return atoms
	}
	return holding(atoms, glued)
}

// headRow composes the column heads, which never stand without a row.
func (s *tableSetter) headRow() atom {
	cells := make([][]page.Inline, len(s.cols))
	for i, c := range s.cols {
		cells[i] = c.Head
	}
	set, height := s.cells(cells, style{bold, s.size * 0.94, ink})
	// A head must leave room for rows.
	limit := s.paper.room() / 3
	if height > limit {
		s.problem(Problem{Kind: Shortened, Text: "a table's column head is too long for the paper"})
	}
	var marks []mark
	total := s.total()
	height = min(height, limit)
	fill := ground
	marks = append(marks, boxMark{rect: rect{s.col.x, 0, total, height}, fill: &fill})
	for i, column := range set {
		marks = append(marks, s.cellMarks(i, column, 0, limit, s.size*0.94)...)
	}
	marks = append(marks,
		ruleMark{s.col.x, 0, s.col.x + total, 0, 0.35, ink, false},
		ruleMark{s.col.x, height, s.col.x + total, height, 0.2, ink, false})
	return atom{height: height, marks: marks, stay: glued}
}

// cells sets each cell's words in its column and gives the row's height.
func (s *tableSetter) cells(cells [][]page.Inline, st style) ([][]textLine, float64) {
	lines := 1
	set := make([][]textLine, len(cells))
	for i, words := range cells {
		if i < len(s.widths) {
			set[i] = s.setLines(s.runs(words, st, false), s.widths[i]-2*cellPad)
			lines = max(lines, len(set[i]))
		}
	}
	return set, float64(lines)*lineHeight(st.size) + 2*rowPad
}

// cellMarks are the marks of a cell's lines from number from on, as many as fit
// into height.
func (s *tableSetter) cellMarks(i int, lines []textLine, from int, height, size float64) []mark {
	if i >= len(s.widths) {
		return nil
	}
	x := s.col.x + s.ticks
	for _, w := range s.widths[:i] {
		x += w
	}
	var marks []mark
	for n := from; n < len(lines); n++ {
		y := rowPad + float64(n-from)*lineHeight(size)
		if y+lineHeight(size) > height+tolerance {
			break
		}
		slack := s.widths[i] - 2*cellPad - lines[n].width
		at := x + cellPad
		switch s.cols[i].Align {
		case page.Right:
			at += slack
		case page.Centre:
			at += slack / 2
		}
		marks = append(marks, s.lineMarks(lines[n], at, y+baselineOf(size))...)
	}
	return marks
}

// row composes a row as one atom, or as several if it is taller than a leaf.
func (s *tableSetter) row(r page.Row, total bool) []atom {
	if r.ID != "" {
		s.near = r.ID
	}
	if r.Section {
		return s.section(r)
	}
	st := style{regular, s.size, ink}
	if total {
		st.face = bold
	}
	cells := make([][]page.Inline, len(s.cols))
	for i := range min(len(cells), len(r.Cells)) {
		cells[i] = r.Cells[i].Words
	}
	set, height := s.cells(cells, st)
	most := s.paper.room() - s.head.height - s.col.framePads()
	perAtom := max(1, int((most-2*rowPad)/lineHeight(s.size)))
	var atoms []atom
	for from := 0; from == 0 || height > most && from < longest(set); from += perAtom {
		part := atom{height: height, head: s.head}
		if height > most {
			part.height = float64(min(perAtom, longest(set)-from))*lineHeight(s.size) + 2*rowPad
		}
		for i, column := range set {
			part.marks = append(part.marks, s.cellMarks(i, column, from, part.height, s.size)...)
		}
		atoms = append(atoms, part)
	}
	s.dress(atoms, r)
	return atoms
}

// longest is the greatest number of lines among cells.
func longest(set [][]textLine) int {
	n := 0
	for _, lines := range set {
		n = max(n, len(lines))
	}
	return n
}

// dress adds a row's rule, tick box and anchor.
func (s *tableSetter) dress(atoms []atom, r page.Row) {
	first, end := &atoms[0], &atoms[len(atoms)-1]
	end.marks = append(end.marks, ruleMark{s.col.x, end.height, s.col.x + s.total(), end.height, 0.12, hairInk, false})
	if r.Tick != "" {
		first.marks = append(first.marks, tickBox(s.col.x+cellPad, rowPad+baselineOf(s.size), s.size))
	}
	if r.ID != "" {
		first.marks = append(first.marks, s.anchor(r.ID))
	}
}

// section composes a row that spans all columns.
func (s *tableSetter) section(r page.Row) []atom {
	var words []page.Inline
	if len(r.Cells) > 0 {
		words = r.Cells[0].Words
	}
	col := column{s.col.x + cellPad, s.total() - 2*cellPad, s.size, s.col.depth}
	atoms := s.set(s.runs(words, style{bold, s.size, accentInk}, false), col)
	if len(atoms) == 0 {
		atoms = []atom{{height: lineHeight(s.size)}}
	}
	for i := range atoms {
		atoms[i].head = s.head
	}
	shift(&atoms[0], 2.2)
	atoms[len(atoms)-1].height += rowPad
	holding(atoms, widowed)
	s.dress(atoms, r)
	return atoms
}

// shift makes room above an atom's marks, within it.
func shift(a *atom, by float64) {
	for i, m := range a.marks {
		a.marks[i] = m.moved(0, by)
	}
	a.height += by
}
