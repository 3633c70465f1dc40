package compose_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
	"plansheaf/publish/page"
)

// A part's page names each step that adds it, uses it up, or makes, prepares or
// tightens a joint that it is in; no other.
func TestPartPagesNameTheStepsThatHandleThem(t *testing.T) {
	w := check.Out(trial.Plan(t, trial.Files{
		"parts/all.yaml": `base: {title: Base, made: machined, material: steel_s235, shape: [{box: [60 mm, 60 mm, 20 mm]}], holes: {seat: {at: [10 mm, 10 mm], tap: M8, depth: 16 mm}}}
plate: {title: Plate, made: machined, material: steel_s235, shape: [{box: [60 mm, 60 mm, 10 mm]}], holes: {pass: {at: [10 mm, 10 mm], for: M8}}}
other: {title: Other, made: machined, material: steel_s235, shape: [{box: [20 mm, 20 mm, 20 mm]}]}
cap: {standard: ISO 4762 M8x20 - 8.8}
grease: {title: Grease, made: consumable, amount: 30 g, buy: any}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  base: {part: base, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [0 mm, 0 mm, 20 mm]}
  other: {part: other, at: [80 mm, 0 mm, 0 mm]}
joints: {hold: {screw: cap, through: [plate.pass, base.seat]}}
steps:
  lay: {title: Lay the base, adds: [base], text: T}
  start: {title: Start the screw, adds: [plate], loose: [hold], text: T}
  aside: {title: Put aside, adds: [other], uses: [grease 2 g], text: T}
  tighten: {title: Tighten all, tightens: [hold], text: T}
`,
	}))
	doc := document(t, w)
	cases := []struct {
		part  string
		steps []string
	}{
		{"base", []string{"Lay the base", "Start the screw", "Tighten all"}},
		{"plate", []string{"Start the screw", "Tighten all"}},
		{"other", []string{"Put aside"}},
		{"grease", []string{"Put aside"}},
	}
	for _, c := range cases {
		var got []string
		blocks := pageOf(t, doc, "parts/"+c.part).Blocks
		for i, b := range blocks {
			if h, ok := b.(page.Heading); ok && h.ID == "used" {
				each(blocks[i+1], func(p page.Paragraph) {
					_, step, _ := strings.Cut(said(p.Words, nil), ": ")
					got = append(got, step)
				})
			}
		}
		if !slices.Equal(got, c.steps) {
			t.Errorf("%s: used in %q, want %q", c.part, got, c.steps)
		}
	}
}

// The rows of the parts list that a combination has are numbered without gaps.
func TestItemsAreNumberedWithoutGaps(t *testing.T) {
	doc := document(t, check.Out(trial.Plan(t, press)))
	for _, c := range combinations(doc) {
		n := 0
		each(pageOf(t, doc, "parts").Blocks, func(r page.Row) {
			if r.Section || !r.Only.Fits(c) || r.ID == "" || said(r.Cells[2].Words, c) == "–" {
				return
			}
			if n++; said(r.Cells[0].Words, c) != fmt.Sprint(n) {
				t.Errorf("%v: row %d (%s) has the number %s", c, n, r.ID, said(r.Cells[0].Words, c))
			}
		})
		if n < 4 {
			t.Errorf("%v: %d rows", c, n)
		}
	}
}

// Quotes, code and rules in a text that depends on a choice come and go with it.
func TestTextsByChoiceHoldEveryKindOfBlock(t *testing.T) {
	files := press.With(trial.Files{"assemblies/press.yaml": strings.Replace(press["assemblies/press.yaml"],
		`crank: "Turn {handle}."`, `crank: "Turn {handle}.\n\n> Quoted.\n\n---\n\n    coded\n"`, 1)})
	doc := document(t, check.Out(trial.Plan(t, files)))
	found := 0
	each(pageOf(t, doc, "build/press").Blocks, func(s page.Step) {
		for _, b := range s.Text {
			var only page.Only
			switch b := b.(type) {
			case page.Quote:
				only = b.Only
			case page.Code:
				only = b.Only
			case page.Break:
				only = b.Only
			default:
				continue
			}
			found++
			if only.Fits(page.Combination{"drive": "motor"}) || !only.Fits(page.Combination{"drive": "crank"}) {
				t.Errorf("%T stands with %v", b, only)
			}
		}
	})
	if found != 3 {
		t.Errorf("%d blocks of these kinds, want 3", found)
	}
}

// Parts without drawings stand behind the parts list, those with one behind the
// drawings; the document holds its own words in the plan's language, the author's as
// they are.
func TestDocumentSpeaksThePlansLanguage(t *testing.T) {
	files := press.With(trial.Files{"plan.yaml": press["plan.yaml"] + "language: de-AT\n"})
	doc := document(t, check.Out(trial.Plan(t, files)))
	titles := map[string]string{"safety": "Sicherheit", "parts": "Teile", "shopping": "Einkauf", "cutting": "Zuschnitt", "build": "Aufbau", "parts/motor": "Motor"}
	for id, want := range titles {
		if got := pageOf(t, doc, id).Title; got != want {
			t.Errorf("%s is called %q, want %q", id, got, want)
		}
	}
	at := func(id string) int {
		return slices.IndexFunc(doc.Pages, func(p *page.Page) bool { return p.ID == id })
	}
	if motor := at("parts/motor"); motor < at("parts") || motor > at("shopping") {
		t.Errorf("the motor, which has no drawing, is page %d; the parts list %d, the shopping list %d", motor, at("parts"), at("shopping"))
	}
}

// The steps that a combination has are numbered without gaps, in the order of the
// assemblies that it builds.
func TestStepsAreNumberedWithoutGaps(t *testing.T) {
	files := press.With(trial.Files{"assemblies/press.yaml": strings.Replace(press["assemblies/press.yaml"], "  crank: {title",
		"  first: {title: Crank first, text: T, only: {drive: crank}, uses: [grease 1 g]}\n  crank: {title", 1) + "  last: {title: Last, text: T, uses: [grease 1 g]}\n"})
	doc := document(t, check.Out(trial.Plan(t, files)))
	for _, c := range combinations(doc) {
		built, numbered := 0, 0
		for _, pg := range doc.Pages {
			if pg.Kind != page.Assembly || !pg.Only.Fits(c) {
				continue
			}
			built++
			n := 0
			each(pg.Blocks, func(s page.Step) {
				if !s.Only.Fits(c) {
					return
				}
				n++
				numbered++
				if got, want := said(s.Number, c), fmt.Sprintf("%d.%d", built, n); got != want {
					t.Errorf("%v: step %s has the number %s, want %s", c, s.ID, got, want)
				}
			})
		}
		if numbered < 3 {
			t.Errorf("%v: only %d steps", c, numbered)
		}
	}
}
