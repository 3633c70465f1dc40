package source

import (
	"fmt"
	"math"
	"path"
	"regexp"
	"strconv"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// readTables reads the tables that calculations look values up in.
func (g *reading) readTables() {
	read := map[string]*plan.Table{}
	for _, c := range g.plan.Calcs {
		for i := range c.Tables {
			name := c.Tables[i].File.Text
			table, known := read[name]
			if file := g.plan.File(name); !known && file != nil && file.Data != nil {
				table = g.readTable(file)
				read[name] = table
			}
			c.Tables[i].Data = table
		}
	}
}

var columnHead = regexp.MustCompile(`^([a-z][a-z0-9_]*)(?: *\[([^\[\]]*)\])?$`)

// readTable reads comma-separated numbers under a row of names with units. It gives
// nil after a fault.
func (g *reading) readTable(file *plan.File) *plan.Table {
	if int64(len(file.Data)) > g.limits.TextFile {
		g.report(tooLarge, finding.WholeFile(file.Path), fmt.Sprintf("the table is %d bytes long, more than %d", len(file.Data), g.limits.TextFile), "")
		return nil
	}
	if ext := path.Ext(file.Path); ext != ".csv" {
		g.report(badTable, finding.WholeFile(file.Path), "a table is a file of comma-separated values, with a name that ends in .csv", "")
		return nil
	}
	text, ok := g.decode(file.Path, file.Data)
	if !ok {
		return nil
	}
	r := &reader{reading: g, doc: newDocument(file.Path, text)}
	table := &plan.Table{}
	for i := range r.doc.lines {
		if strings.TrimSpace(r.doc.lines[i]) == "" || strings.HasPrefix(r.doc.lines[i], "#") {
			continue
		}
		cells := r.cells(i + 1)
		if table.Columns == nil {
			r.tableHead(table, cells)
			continue
		}
		r.tableRow(table, i+1, cells)
		if len(table.Rows)*len(table.Columns) > g.limits.TableCells {
			r.report(tooLarge, finding.WholeFile(file.Path), fmt.Sprintf("the table holds more than %d numbers", g.limits.TableCells), "")
			return nil
		}
	}
	if r.faults == 0 && len(table.Rows) == 0 {
		r.report(badTable, finding.WholeFile(file.Path), "the table has no rows", "")
	}
	if r.faults > 0 {
		return nil
	}
	return table
}

// A cell is one field of a table's line.
type cell struct {
	text string
	at   finding.Span
}

func (r *reader) cells(line int) []cell {
	var cells []cell
	column := 1
	for _, text := range strings.Split(r.doc.line(line), ",") {
		trimmed := strings.TrimSpace(text)
		lead := runes(text) - runes(strings.TrimLeft(text, " \t"))
		cells = append(cells, cell{strings.Trim(trimmed, `"`), finding.OnLine(r.doc.file, line, column+lead, max(1, runes(trimmed)))})
		column += runes(text) + 1
	}
	return cells
}

func (r *reader) tableHead(t *plan.Table, cells []cell) {
	seen := map[string]bool{}
	for _, c := range cells {
		m := columnHead.FindStringSubmatch(c.text)
		if m == nil {
			r.report(badTable, c.at, fmt.Sprintf("%s is no column head", quoted(c.text)), "write an id and its unit in brackets: speed [rpm]")
			m = []string{"", c.text, ""}
		} else if seen[m[1]] {
			r.report(badTable, c.at, fmt.Sprintf("a second column is called %s", quoted(m[1])), "rename one of them")
		}
		seen[m[1]] = true
		t.Columns = append(t.Columns, m[1])
		t.Units = append(t.Units, strings.TrimSpace(m[2]))
	}
}

func (r *reader) tableRow(t *plan.Table, line int, cells []cell) {
	if len(cells) != len(t.Columns) {
		r.report(badTable, r.doc.wholeLine(line), fmt.Sprintf("the row has %d numbers under %d column heads", len(cells), len(t.Columns)), "")
		return
	}
	row := make([]float64, len(cells))
	for i, c := range cells {
		v, err := strconv.ParseFloat(c.text, 64)
		if err != nil || math.IsInf(v, 0) || math.IsNaN(v) || strings.ContainsAny(c.text, "xX_") {
			r.report(badTable, c.at, fmt.Sprintf("%s is no number", quoted(c.text)), "")
			continue
		}
		row[i] = v
	}
	t.Rows = append(t.Rows, row)
}
