package site

import (
	"html/template"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"plansheaf/publish/page"
)

type tableView struct {
	ID, Class string
	Caption   template.HTML
	Columns   []columnView
	Span      int // columns, tick boxes included
	Ticks     bool
	Groups    []groupView
	Foot      []rowView
	Sort      bool
	Only      only
}

type columnView struct {
	Head  template.HTML
	Class string
}

// groupView is a run of rows under a section row, or before the first one.
type groupView struct {
	Section *rowView
	Rows    []rowView
}

type rowView struct {
	ID    string
	Ticks bool // its table has a column of tick boxes
	Tick  string
	About string // what is ticked
	Cells []cellView
	Only  only
}

type cellView struct {
	Words template.HTML
	Label string // the column's head, shown beside the cell on narrow screens
	Class string
	Head  bool // names its row
}

// alignments are the classes of a column's cells; cells on the left have none.
var alignments = map[page.Align]string{page.Right: "r", page.Centre: "c"}

// fewColumns is how many columns stay a table on the narrowest screen; with more,
// the style sheet turns each row into a small block there.
const fewColumns = 2

// shortCell is how many characters a cell may have that must stay on one line: a
// date, a code, a price.
const shortCell = 12

func (w *pageWriter) table(t page.Table) (template.HTML, error) {
	view := tableView{
		ID: t.ID, Caption: w.words(t.Caption), Only: w.only(t.Only), Sort: t.Sort,
		Span: len(t.Columns), Class: "table",
	}
	heads := make([]string, len(t.Columns))
	wide := false
	for i, column := range t.Columns {
		heads[i] = plain(column.Head)
		view.Columns = append(view.Columns, columnView{w.words(column.Head), alignments[column.Align]})
		wide = wide || column.Wide
	}
	if len(t.Columns) > fewColumns || wide {
		view.Class += " stack"
	}
	for _, row := range append(t.Rows[:len(t.Rows):len(t.Rows)], t.Foot...) {
		view.Ticks = view.Ticks || row.Tick != ""
	}
	if view.Ticks {
		view.Span++
	}
	for _, row := range t.Rows {
		r := w.row(row, t.Columns, heads, view.Ticks)
		if row.Section {
			view.Groups = append(view.Groups, groupView{Section: &r})
			continue
		}
		if len(view.Groups) == 0 {
			view.Groups = append(view.Groups, groupView{})
		}
		last := &view.Groups[len(view.Groups)-1]
		last.Rows = append(last.Rows, r)
	}
	for _, row := range t.Foot {
		view.Foot = append(view.Foot, w.row(row, t.Columns, heads, view.Ticks))
	}
	return w.run("table", view)
}

// headCell is the cell that names a row: the first that holds more than a number;
// -1 when none does.
func headCell(cells []page.Cell) int {
	return slices.IndexFunc(cells, func(cell page.Cell) bool {
		return strings.ContainsFunc(plain(cell.Words), unicode.IsLetter)
	})
}

// saidMath is the beginning of a formula with its words.
var saidMath = regexp.MustCompile(`<math alttext="([^"]*)"`)

// namedFormulas gives formulas in the head of a row their words as a name: what heads
// a row is read out with each of its cells, and formulas alone are passed over.
func namedFormulas(words template.HTML) template.HTML {
	return template.HTML(saidMath.ReplaceAllString(string(words), `<math alttext="$1" aria-label="$1"`))
}

func (w *pageWriter) row(row page.Row, columns []page.Column, heads []string, ticks bool) rowView {
	view := rowView{ID: row.ID, Ticks: ticks, Tick: row.Tick, Only: w.only(row.Only)}
	head := headCell(row.Cells)
	for i, cell := range row.Cells {
		c := cellView{Words: w.words(cell.Words), Head: i == head}
		text := plain(cell.Words)
		if c.Head {
			c.Words = namedFormulas(c.Words)
		}
		if i == max(head, 0) {
			view.About = text
			c.Words += view.Only.Mark()
		}
		var classes []string
		if utf8.RuneCountInString(text) <= shortCell && strings.ContainsAny(text, " -") {
			classes = append(classes, "n")
		}
		if i < len(columns) {
			c.Label = heads[i]
			if class := alignments[columns[i].Align]; class != "" {
				classes = append(classes, class)
			}
			if columns[i].Wide {
				classes = append(classes, "wide")
			}
		}
		c.Class = strings.Join(classes, " ")
		view.Cells = append(view.Cells, c)
	}
	// Short rows keep the table's shape.
	for i := len(row.Cells); i < len(columns) && !row.Section; i++ {
		view.Cells = append(view.Cells, cellView{})
	}
	return view
}
