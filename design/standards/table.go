package standards

import (
	"embed"
	"encoding/csv"
	"fmt"
	"path"
	"sort"
	"strconv"
	"strings"
)

//go:embed tables/*.csv
var files embed.FS

// A Source says where the values of one embedded table come from.
type Source struct {
	Table string   // the table's name, for example "metric-threads"
	Lines []string // what its comment lines say, in order
}

// Sources returns the source of every embedded table in the order of the
// tables' names.
func Sources() []Source {
	entries, err := files.ReadDir("tables")
	if err != nil {
		panic("standards: the embedded tables are gone: " + err.Error())
	}
	var all []Source
	for _, entry := range entries {
		name := strings.TrimSuffix(entry.Name(), ".csv")
		all = append(all, Source{Table: name, Lines: readTable(name).comments})
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Table < all[j].Table })
	return all
}

// A table is one embedded CSV file: comment lines beginning with #, a header
// row, and rows of as many cells.
type table struct {
	comments []string
	rows     []row
}

// A row is one line of a table. Cells are asked for by column name; asking for
// a column that is not there is our own mistake and panics, as does a cell that
// is no number where one is wanted. A test walks every table.
type row struct {
	table   string
	columns map[string]int
	cells   []string
}

func readTable(name string) table {
	content, err := files.ReadFile(path.Join("tables", name+".csv"))
	if err != nil {
		panic("standards: no embedded table " + name)
	}
	t, err := parseTable(name, string(content))
	if err != nil {
		panic("standards: " + err.Error())
	}
	return t
}

func parseTable(name, content string) (table, error) {
	var t table
	var data []string
	for line := range strings.Lines(content) {
		if strings.HasPrefix(line, "#") {
			t.comments = append(t.comments, strings.TrimSpace(strings.TrimLeft(line, "#")))
			continue
		}
		data = append(data, line)
	}
	records, err := csv.NewReader(strings.NewReader(strings.Join(data, ""))).ReadAll()
	if err != nil {
		return t, fmt.Errorf("read table %q: %w", name, err)
	}
	if len(records) < 2 {
		return t, fmt.Errorf("read table %q: no rows", name)
	}
	columns := make(map[string]int)
	for i, column := range records[0] {
		columns[column] = i
	}
	for _, cells := range records[1:] {
		t.rows = append(t.rows, row{table: name, columns: columns, cells: cells})
	}
	return t, nil
}

// text returns a cell as it is written.
func (r row) text(column string) string {
	i, known := r.columns[column]
	if !known {
		panic(fmt.Sprintf("standards: table %s has no column %q", r.table, column))
	}
	return r.cells[i]
}

// number returns a cell as a number, 0 where it is empty.
func (r row) number(column string) float64 {
	cell := r.text(column)
	if cell == "" {
		return 0
	}
	value, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		panic(fmt.Sprintf("standards: table %s, column %s: %q is no number", r.table, column, cell))
	}
	return value
}

// inches returns a cell written in inches, decimal or fraction, as millimetres,
// 0 where it is empty.
func (r row) inches(column string) float64 {
	cell := r.text(column)
	if cell == "" {
		return 0
	}
	value, ok := parseInches(cell)
	if !ok {
		panic(fmt.Sprintf("standards: table %s, column %s: %q is no length in inches", r.table, column, cell))
	}
	return value * inch
}

// words returns the blank-separated words of a cell.
func (r row) words(column string) []string {
	return strings.Fields(r.text(column))
}
