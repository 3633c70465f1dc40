package ready

import (
	"strings"
	"testing"
)

// A fault in an embedded file shows here, not in a run.
func TestLibraryReads(t *testing.T) {
	if _, err := library(); err != nil {
		t.Fatal(err)
	}
	if len(All()) == 0 {
		t.Fatal("the library is empty")
	}
}

func TestFilesAreReadStrictly(t *testing.T) {
	const whole = "subject: S\ncalculations:\n  a:\n    title: A\n    given: {x: {symbol: x, unit: mm, about: length}}\n    find: {y: {symbol: y, unit: mm, is: 2 * x, about: twice}}\n    source: hand\n"
	if _, err := parse("whole", []byte(whole)); err != nil {
		t.Fatal(err)
	}
	rows := []struct{ name, from, to string }{
		{"unknown key", "source: hand", "source: hand\n    sauce: hand"},
		{"missing key", "    source: hand\n", ""},
		{"unknown unit", "unit: mm, about: length", "unit: furlong, about: length"},
		{"bad formula", "2 * x", "2 *"},
		{"name twice", "y: {", "x: {"},
		{"key twice", "source: hand", "source: hand\n    source: hand"},
		{"empty text", "title: A", `title: ""`},
		{"bad name", "  a:\n", "  A:\n"},
		{"table without its columns", "    find:", "    tables: {t: {columns: [a, b], units: [mm, mm], rows: [[1]]}}\n    find:"},
		{"table with too few units", "    find:", "    tables: {t: {columns: [a, b], units: [mm], rows: [[1, 2]]}}\n    find:"},
	}
	for _, row := range rows {
		if _, err := parse(row.name, []byte(strings.Replace(whole, row.from, row.to, 1))); err == nil {
			t.Errorf("%s is read without a fault", row.name)
		}
	}
}
