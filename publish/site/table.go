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
	Foot      template.HTML // its rows
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
	Rows    template.HTML
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
	var rows strings.Builder // of the last group
	for i, row := range t.Rows {
		r := w.row(row, t.Columns, heads, view.Ticks)
		switch {
		case row.Section:
			view.Groups = append(view.Groups, groupView{Section: &r})
			rows.Reset()
			continue
		case i == 0:
			view.Groups = append(view.Groups, groupView{})
		}
		w.writeRow(&rows, r)
		if i+1 == len(t.Rows) || t.Rows[i+1].Section {
			view.Groups[len(view.Groups)-1].Rows = template.HTML(rows.String())
		}
	}
	var foot strings.Builder
	for _, row := range t.Foot {
		w.writeRow(&foot, w.row(row, t.Columns, heads, view.Ticks))
	}
	view.Foot = template.HTML(foot.String())
	return w.run("table", view)
}

// writeRow writes a row on a line of its own. There are too many rows for a template.
func (w *pageWriter) writeRow(b *strings.Builder, r rowView) {
	put := func(texts ...string) {
		for _, text := range texts {
			b.WriteString(text)
		}
	}
	put("\n<tr class=\"row", r.Only.Class(), `"`, string(r.Only.Attr()))
	if r.ID != "" {
		put(` id="`, quoted(r.ID), `"`)
	}
	put(">")
	if r.Ticks {
		put(`<td class="box">`)
		if r.Tick != "" {
			put(`<input type="checkbox" data-tick="`, quoted(r.Tick), `" aria-label="`, quoted(w.tongue.Say("Done: %s", r.About)), `">`)
		}
		put("</td>")
	}
	for _, cell := range r.Cells {
		end := "</td>"
		if cell.Head {
			put(`<th scope="row"`)
			end = "</th>"
		} else {
			put("<td")
		}
		if cell.Class != "" {
			put(` class="`, cell.Class, `"`)
		}
		if !cell.Head && cell.Label != "" && cell.Words != "" {
			put(` data-label="`, quoted(cell.Label), `"`)
		}
		put(">", string(cell.Words), end)
	}
	put("</tr>")
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
