package binder

import (
	"strings"
	"testing"
	"unicode/utf8"

	"plansheaf/publish/page"
)

func testComposer(t testing.TB) *composer {
	t.Helper()
	fonts, err := openFonts()
	if err != nil {
		t.Fatal(err)
	}
	c := newComposer(&page.Document{Pages: []*page.Page{{ID: "here", Title: "Here"}}}, Options{}, fonts, newDarkroom(nil), pageDigits)
	c.survey()
	c.page = "here"
	return c
}

func TestCleaned(t *testing.T) {
	for _, test := range []struct {
		name, text, want string
		problem          ProblemKind
		char             rune
	}{
		{name: "plain", text: "M8×25, ⌀5.5 ±0.1 °C µm Ω ½", want: "M8×25, ⌀5.5 ±0.1 °C µm Ω ½"},
		{name: "composed", text: "e\u0301", want: "é"},
		{name: "Greek and Cyrillic", text: "Ωμέγα Болт", want: "Ωμέγα Болт"},
		{name: "a sign that is drawn", text: "⌴", want: "⌴"},
		{name: "another face has it", text: "⟂", want: "⟂"},
		{name: "line ends are spaces", text: "a\nb\tc", want: "a b c"},
		{name: "no font", text: "a\u4e2db", want: "a[U+4E2D]b", problem: MissingGlyph, char: '中'},
		{name: "beyond U+FFFF", text: "\U0001F527", want: "[U+1F527]", problem: MissingGlyph, char: '\U0001F527'},
		{name: "control character", text: "a\x07b", want: "a\ufffdb", problem: LostBytes, char: 7},
		{name: "invalid bytes", text: "a\xff\xfeb", want: "a\ufffdb", problem: LostBytes, char: utf8.RuneError},
		{name: "direction marks", text: "a\u202eb\u200d\ufe0f", want: "ab"},
		{name: "right to left", text: "\u05d0", want: "\u05d0", problem: Script, char: '\u05d0'},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := testComposer(t)
			var got strings.Builder
			for _, s := range c.cleaned(test.text, regular) {
				for _, r := range s.words {
					if !s.symbol && !c.fonts.has(s.face, r) {
						// Hebrew has no glyph in every face; its code would be printed.
						t.Errorf("face %d has no %U", s.face, r)
					}
				}
				got.WriteString(s.words)
			}
			if got.String() != test.want {
				t.Errorf("got %q, want %q", got.String(), test.want)
			}
			switch {
			case test.problem == "" && len(c.problems) > 0:
				t.Errorf("problem %v", c.problems[0])
			case test.problem != "" && (len(c.problems) != 1 || c.problems[0].Kind != test.problem || c.problems[0].Rune != test.char || c.problems[0].Where != "here"):
				t.Errorf("problems %+v", c.problems)
			}
		})
	}
}

func TestProblemIsSaidOnceForEachPlace(t *testing.T) {
	c := testComposer(t)
	for range 3 {
		c.cleaned("中中", regular)
	}
	c.near = "further"
	c.cleaned("中", regular)
	if len(c.problems) != 2 || c.problems[1].Where != "here#further" {
		t.Errorf("%+v", c.problems)
	}
}

func TestLinesBreakWhereTheyMay(t *testing.T) {
	for _, test := range []struct {
		name, text string
		width      float64 // mm
		want       []string
	}{
		{name: "spaces", text: "one two three", width: 16, want: []string{"one two", "three"}},
		{name: "no-break space", text: "one 25\u00a0mm", width: 14, want: []string{"one", "25 mm"}},
		{name: "number and unit", text: "over 300 mm", width: 17, want: []string{"over", "300 mm"}},
		{name: "mixed number", text: "plus 4 3/4", width: 16, want: []string{"plus", "4 3/4"}},
		{name: "times", text: "10 mm × 20 mm", width: 17, want: []string{"10 mm ×", "20 mm"}},
		{name: "hyphen", text: "counter-clockwise", width: 22, want: []string{"counter-", "clockwise"}},
		{name: "sign is no hyphen", text: "by -25 or", width: 12, want: []string{"by -25", "or"}},
		{name: "slash", text: "spanner/key", width: 18, want: []string{"spanner/", "key"}},
		{name: "soft hyphen", text: "motor\u00adbracket", width: 17, want: []string{"motor", "bracket"}},
		{name: "long word", text: "xxxxxxxxxx", width: 10, want: []string{"xxxxx", "xxxxx"}},
		{name: "combining marks stay", text: "q\u0308q\u0308q\u0308q\u0308q\u0308q\u0308", width: 6.5, want: []string{"q\u0308q\u0308q\u0308", "q\u0308q\u0308q\u0308"}},
		{name: "nothing", text: "", width: 10},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := testComposer(t)
			var got []string
			for _, l := range c.setLines(c.runs(text(test.text), style{regular, bodySize, ink}, false), test.width) {
				words := ""
				for _, m := range c.lineMarks(l, 0, 0) {
					words += m.(textMark).words
				}
				got = append(got, words)
			}
			if strings.Join(got, "|") != strings.Join(test.want, "|") {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}

func TestSafeURL(t *testing.T) {
	for _, test := range []struct {
		raw, want string
		ok        bool
	}{
		{"https://example.org/a b", "https://example.org/a%20b", true},
		{"HTTP://example.org/ü?q=(x)", "http://example.org/%C3%BC?q=(x)", true},
		{"mailto:workshop@example.org", "mailto:workshop@example.org", true},
		{"javascript:alert(1)", "", false},
		{"file:///etc/passwd", "", false},
		{"https:///nohost", "", false},
		{"parts.html", "", false},
		{"http://example.org/\x00", "", false},
	} {
		if got, ok := safeURL(test.raw); got != test.want || ok != test.ok {
			t.Errorf("safeURL(%q) = %q, %v", test.raw, got, ok)
		}
	}
}

func TestTextString(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{`a (b) \c`, `(a \(b\) \\c)`},
		// PDF 32000-1, 7.9.2.2: UTF-16BE with a byte order mark; U+1F527 is a surrogate pair.
		{"ä", "<feff00e4>"},
		{"\U0001F527", "<feffd83ddd27>"},
	} {
		if got := textString(test.text); got != test.want {
			t.Errorf("%q: %s, want %s", test.text, got, test.want)
		}
	}
}

func TestArrangeBookmarks(t *testing.T) {
	items := arrange([]bookmark{{"a", 0, ""}, {"a1", 1, ""}, {"a11", 2, ""}, {"a2", 1, ""}, {"b", 0, ""}, {"skips", 5, ""}})
	for i, want := range []struct{ parent, children, prev, next int }{
		{-1, 2, -1, 4}, {0, 1, -1, 3}, {1, 0, -1, -1}, {0, 0, 1, -1}, {-1, 1, 0, -1}, {4, 0, -1, -1},
	} {
		got := items[i]
		if got.parent != want.parent || got.children != want.children || got.prev != want.prev || got.next != want.next {
			t.Errorf("%s: parent %d, children %d, prev %d, next %d; want %+v", got.title, got.parent, got.children, got.prev, got.next, want)
		}
	}
}

func TestDistribute(t *testing.T) {
	for _, test := range []struct {
		name               string
		whole, least, want []float64
		rows               [][]float64
		room               float64
	}{
		{name: "shared air", whole: []float64{30, 50}, least: []float64{10, 10}, room: 100, want: []float64{40, 60}},
		{name: "little wanted stays together", whole: []float64{10, 10}, least: []float64{5, 5}, room: 100, want: []float64{19, 19}},
		{name: "the rest where rows get lower", whole: []float64{10, 116}, least: []float64{10, 16}, rows: [][]float64{{10, 116}}, room: 60, want: []float64{10, 50}},
		{name: "too much: the widest give", whole: []float64{10, 80, 90}, least: []float64{10, 80, 90}, room: 50, want: []float64{10, 20, 20}},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := distribute(test.whole, test.least, test.rows, test.room)
			for i := range got {
				if d := got[i] - test.want[i]; d > 0.01 || d < -0.01 {
					t.Errorf("got %.3v, want %v", got, test.want)
				}
			}
		})
	}
}

// TestColumnsLowerTheRows: where most rows are long in the first column, it gets
// more, yet the second is not left at its least; and no other division of the
// same room makes the rows lower by more than a line in ten.
func TestColumnsLowerTheRows(t *testing.T) {
	rows := [][]float64{{60, 15}, {60, 15}, {60, 15}, {60, 60}}
	whole, least := []float64{60, 60}, []float64{15, 15}
	got := distribute(whole, least, rows, 80)
	if got[0] <= got[1] || got[1] <= least[1]+5 {
		t.Errorf("widths %.1f", got)
	}
	height := func(first float64) float64 {
		total := 0.0
		for _, r := range rows {
			total += max(1, r[0]/first, r[1]/(80-first))
		}
		return total
	}
	for first := 15.0; first <= 65; first++ {
		if height(first) < height(got[0])*0.9 {
			t.Errorf("%.0f mm for the first column makes the rows %.2f lines high, not %.2f", first, height(first), height(got[0]))
		}
	}
}
