package ready

import (
	"regexp"
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

// Every text has its words in each language, none is there for nothing, and numbers,
// names of standards and names to call by are the same in both.
func TestEveryTextIsSaidInEveryLanguage(t *testing.T) {
	all, err := words()
	if err != nil {
		t.Fatal(err)
	}
	telling := regexp.MustCompile(`[0-9]+([./][0-9]+)?|\b[A-Z]{2,}\b|\b[a-z]+_[a-z_]+\b`)
	for language, said := range all {
		used := map[string]bool{"": true}
		for _, c := range All() {
			for _, text := range texts(c) {
				if used[text] {
					continue
				}
				used[text] = true
				other := said[text]
				if other == "" {
					t.Errorf("%s: nothing says %q", language, text)
				}
				for _, word := range telling.FindAllString(text, -1) {
					if !strings.Contains(other, word) && !map[string]bool{"XLPE": true, "I": true}[word] {
						t.Errorf("%s: %q lacks %s of %q", language, other, word, text)
					}
				}
			}
		}
		for text := range said {
			if !used[text] {
				t.Errorf("%s: no calculation says %q", language, text)
			}
		}
	}
}

// texts are all texts of a calculation.
func texts(c *Calc) []string {
	list := append([]string{c.Subject, c.Title, c.About, c.Source}, c.Assumes...)
	for _, in := range c.Inputs {
		list = append(list, in.About)
	}
	for _, f := range c.Finds {
		list = append(list, f.About)
	}
	for _, l := range c.Limits {
		list = append(list, l.Because)
	}
	return list
}

func TestLanguages(t *testing.T) {
	c, _ := Named("power_screw")
	if german := c.In("de"); german.Title != "Bewegungsschraube" || german.Finds[0].Is != c.Finds[0].Is || c.Title != "Power screw" {
		t.Errorf("in German it is called %q, in English %q", german.Title, c.Title)
	}
	if c.In("xx") != c {
		t.Error("a language that nobody knows is not English")
	}
}
