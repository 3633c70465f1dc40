package binder

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"plansheaf/publish/inspect"
	"plansheaf/publish/notation"
	"plansheaf/publish/notation/specimen"
	"plansheaf/publish/page"
)

// specimens are equations of every kind of formula and some at random.
func specimens() []page.Equation {
	texts := append([]string(nil), specimen.Kinds...)
	for seed := range uint64(20) {
		texts = append(texts, specimen.Random(seed, 4))
	}
	var list []page.Equation
	for i, text := range texts {
		name := notation.Name([]string{"force", "F_max", "a_name_that_is_far_longer_than_any_that_one_would_write_down"}[i%3])
		list = append(list, page.Equation{Name: name, Is: set(text), Worked: []page.Worked{{Is: set(text)}}, Result: []page.Inline{page.Measure{First: "4.21 kN", Second: "946 lbf"}, page.Text(" or "), page.Formula{Is: set(text)}}})
	}
	return list
}

// TestEquationsKeepToTheirColumn holds for wide and narrow columns: no mark stands
// beyond the column, none beyond its atom.
func TestEquationsKeepToTheirColumn(t *testing.T) {
	for _, width := range []float64{170, 80, 46} {
		for i, e := range specimens() {
			c := testComposer(t)
			col := column{12, width, bodySize, 0}
			for _, a := range c.equation(e, col) {
				for _, m := range a.marks {
					box := m.box(c.fonts)
					if box.x < col.x-0.01 || box.x+box.w > col.x+width+0.01 {
						t.Errorf("equation %d in %g mm: %s from %.1f to %.1f leaves the column", i, width, describe(m), box.x, box.x+box.w)
					}
					if p, drawn := m.(pictureMark); drawn && (box.y < -0.01 || box.y+box.h > a.height+0.01) {
						t.Errorf("equation %d in %g mm: %s leaves its line", i, width, p.picture.Title)
					}
				}
			}
		}
	}
}

func describe(m mark) string {
	switch m := m.(type) {
	case pictureMark:
		return m.picture.Title
	case textMark:
		return m.words
	}
	return "a mark"
}

// TestEquationsAsText reads formulas back from the PDF: their letters come line by line,
// what stands above before what stands below.
func TestEquationsAsText(t *testing.T) {
	doc := &page.Document{Title: "Press", Pages: []*page.Page{{ID: "index", Title: "Force", Blocks: []page.Block{
		page.Equation{Name: notation.Name("force"), Is: set("2 * pi * torque / lead_screw.lead + brake"), Result: text("4.21 kN")},
		page.Paragraph{Words: []page.Inline{page.Text("It holds while "), page.Formula{Is: set("slenderness >= 60 * mu_0")}, page.Text(".")}},
	}}}}
	pdf, problems, err := Render(doc, Options{})
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	path := filepath.Join(t.TempDir(), "b.pdf")
	if err := os.WriteFile(path, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	got := strings.Join(strings.Fields(inspect.Run(t, "pdftotext", "-layout", "-enc", "UTF-8", path, "-")), " ")
	for _, want := range []string{"torque", "force = + brake", "lead", "= 4.21 kN", "It holds while slenderness ≥ 60 μ"} {
		if !strings.Contains(strings.ReplaceAll(got, "\u202f", " "), want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
}
