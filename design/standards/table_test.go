package standards

import (
	"io/fs"
	"strings"
	"testing"
)

// TestTablesAreSound walks every embedded table: each reads, names its source
// before its header, and holds no row twice.
func TestTablesAreSound(t *testing.T) {
	entries, err := fs.ReadDir(files, "tables")
	if err != nil {
		t.Fatal(err)
	}
	sources := Sources()
	if len(sources) != len(entries) {
		t.Errorf("%d sources for %d tables", len(sources), len(entries))
	}
	for _, source := range sources {
		if len(source.Lines) == 0 || len(strings.Join(source.Lines, "")) < 30 {
			t.Errorf("table %s names no source", source.Table)
		}
		seen := make(map[string]bool)
		for _, r := range readTable(source.Table).rows {
			line := strings.Join(r.cells, ",")
			if seen[line] {
				t.Errorf("table %s holds %s twice", source.Table, line)
			}
			seen[line] = true
			for _, cell := range r.cells {
				if cell != strings.TrimSpace(cell) {
					t.Errorf("table %s: blanks around %q", source.Table, cell)
				}
			}
		}
	}
}

// TestNumbersOfTables reads every cell whose column names a unit as a number; a
// cell that is none panics in use, so it must not be there.
func TestNumbersOfTables(t *testing.T) {
	units := []string{"_mm", "_mm2", "_n", "_n_m", "_mpa", "_degc", "_kg_m3"}
	for _, source := range Sources() {
		for _, r := range readTable(source.Table).rows {
			for column := range r.columns {
				if strings.HasSuffix(column, "_in") {
					if r.text(column) != "" && r.inches(column) <= 0 {
						t.Errorf("table %s, %s: %q", source.Table, column, r.text(column))
					}
				}
				for _, unit := range units {
					if strings.HasSuffix(column, unit) && r.number(column) < 0 {
						t.Errorf("table %s, %s: %q", source.Table, column, r.text(column))
					}
				}
			}
		}
	}
}

func TestTableWithoutRows(t *testing.T) {
	for _, row := range []struct{ name, content string }{
		{"empty", ""},
		{"comments only", "# source\n"},
		{"header only", "# source\na,b\n"},
		{"ragged", "# source\na,b\n1,2\n3\n"},
	} {
		if _, err := parseTable(row.name, row.content); err == nil {
			t.Errorf("%s: no error", row.name)
		}
	}
}

// TestTablesAnswer calls every table's reader once, so that a column that a
// table lacks shows here and not at a builder's.
func TestTablesAnswer(t *testing.T) {
	counts := map[string]int{
		"threads": len(Threads()), "standards": len(Standards()), "hex keys": len(HexKeys()), "spanners": len(Spanners()),
		"sheets": len(Sheets()), "scales": len(Scales()), "line groups": len(LineGroups()), "lettering": len(Letterings()),
		"title fields": len(TitleFields()), "signs": len(Signs()), "signal words": len(SignalWords()), "colours": len(SafetyColours()),
		"sockets": len(Sockets()), "laser classes": len(LaserClasses()), "materials": len(Materials()), "bearings": len(Bearings()),
	}
	for name, count := range counts {
		if count < 5 {
			t.Errorf("%s: only %d", name, count)
		}
	}
}

func TestResultsAreTheCallersOwn(t *testing.T) {
	Threads()[0].Name = "spoilt"
	Materials()[0].ID = "spoilt"
	Standards()[0] = "spoilt"
	if Threads()[0].Name == "spoilt" || Materials()[0].ID == "spoilt" || Standards()[0] == "spoilt" {
		t.Error("a caller can spoil the tables")
	}
}
