package site

import (
	"testing"

	"plansheaf/publish/page"
)

func TestHeadCell(t *testing.T) {
	cells := func(words ...string) []page.Cell {
		var cells []page.Cell
		for _, w := range words {
			cells = append(cells, page.Cell{Words: page.Words(w)})
		}
		return cells
	}
	for _, row := range []struct {
		name  string
		cells []page.Cell
		want  int
	}{
		{name: "name first", cells: cells("Upright post", "4"), want: 0},
		{name: "item number first", cells: cells("12", "Upright post", "4"), want: 1},
		{name: "count and nothing", cells: cells("4 ×", "", "Upright post"), want: 2},
		{name: "numbers alone", cells: cells("1", "2.5"), want: -1},
		{name: "none", want: -1},
	} {
		if got := headCell(row.cells); got != row.want {
			t.Errorf("%s: cell %d names the row, want %d", row.name, got, row.want)
		}
	}
}

func TestShortCellsAndMeasuresStayOnOneLine(t *testing.T) {
	b, err := newBuilder(&page.Document{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := &pageWriter{builder: b, page: &page.Page{ID: "x"}}
	columns := []page.Column{{}, {Align: page.Right, Wide: true}, {}}
	row := w.row(page.Row{Cells: []page.Cell{
		{Words: page.Words("Cap screw M8×25 with washer")}, {Words: page.Words("2026-04-12")}, {Words: page.Words("60")},
	}}, columns, []string{"a", "b", "c"}, false)
	for i, want := range []string{"", "n r wide", ""} {
		if got := row.Cells[i].Class; got != want {
			t.Errorf("cell %d has the class %q, want %q", i, got, want)
		}
	}
	for _, m := range []struct{ first, want string }{
		{first: "24 N·m", want: `<span class="two">`},
		{first: "260 × 120 × 10 mm", want: `<span class="two long">`},
	} {
		if got := string(w.words([]page.Inline{mm(m.first, "x")})); got[:len(m.want)] != m.want {
			t.Errorf("%s is written %s, want %s first", m.first, got, m.want)
		}
	}
}
