package compose_test

import (
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
	"plansheaf/publish/page"
)

// clamped is a machined plate of 10 mm on a steel base with a tapped hole 16 mm deep, a
// second plate held by a bolt and nut, and a dowel h6 in a bore H7.
var clamped = trial.Files{
	"parts/all.yaml": `base: {title: Base, made: machined, material: steel_s235, shape: [{box: [60 mm, 60 mm, 20 mm]}], holes: {seat: {at: [10 mm, 10 mm], tap: M8, depth: 16 mm}, far: {at: [40 mm, 40 mm], for: M8}, eye: {at: [10 mm, 40 mm], bore: 10 mm H7}}}
plate: {title: Plate, made: machined, material: steel_s235, shape: [{box: [60 mm, 60 mm, 10 mm]}], holes: {pass: {at: [10 mm, 10 mm], for: M8}, far: {at: [40 mm, 40 mm], for: M8}}}
dowel: {title: Dowel, made: bought, mass: 20 g, shape: [{name: body, cylinder: {d: 10 mm h6, l: 15 mm}}]}
cap: {standard: ISO 4762 M8x20 - 8.8}
bolt: {standard: ISO 4014 M8x45 - 8.8}
nut: {standard: ISO 4032 M8 - 8}
`,
	"assemblies/rig.yaml": `title: Rig
holds:
  base: {part: base, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [0 mm, 0 mm, 20 mm]}
  dowel: {part: dowel, at: [5 mm, 35 mm, -20 mm]}
joints:
  hold: {screw: cap, through: [plate.pass, base.seat]}
  bolted: {screw: bolt, through: [plate.far, base.far], into: nut, torque: hand}
  pinned: {push: dowel.body, into: base.eye}
steps:
  lay: {title: Lay the base, adds: [base, dowel], fastens: [pinned], text: T}
  start: {title: Start the screws, adds: [plate], fastens: [hold, bolted], loose: [hold], text: T, people: 2}
  tighten: {title: Tighten all, tightens: [hold], text: T}
`,
}

// table is a table's rows under the only combination, cells with bars between.
func table(rows []page.Row) (out []string) {
	for _, r := range rows {
		var cells []string
		for _, c := range r.Cells {
			cells = append(cells, said(c.Words, nil))
		}
		out = append(out, strings.Join(cells, " | "))
	}
	return out
}

func same(t *testing.T, what string, got, want []string) {
	t.Helper()
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s:\n%s\nwant\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A step lays out what it adds and what its joints take, says which tool turns and which
// holds, what is hand tight and what stays loose.
func TestStepsShowTheirCard(t *testing.T) {
	doc := document(t, check.Out(trial.Plan(t, clamped)))
	steps := map[string]page.Step{}
	each(pageOf(t, doc, "build/rig").Blocks, func(s page.Step) { steps[s.Title] = s })
	for _, c := range []struct {
		step        string
		bag, screws []string
		people      string
	}{
		{step: "Lay the base", bag: []string{"1 | Base", "1 | Dowel"}},
		{step: "Start the screws", bag: []string{"1 | Plate", "1 | Socket head cap screw M8×20", "1 | Hexagon head bolt M8×45", "1 | Hexagon nut M8"},
			screws: []string{"hold | 1 | Socket head cap screw M8×20 |  | hex key 6 mm | leave loose", "bolted | 1 | Hexagon head bolt M8×45 | Hexagon nut M8 | spanner 13 mm, spanner 13 mm on the nut | hand tight"}, people: "2"},
		{step: "Tighten all", screws: []string{"hold | 1 | Socket head cap screw M8×20 |  | hex key 6 mm | 11 N·m"}},
	} {
		t.Run(c.step, func(t *testing.T) {
			s, ok := steps[c.step]
			if !ok {
				t.Fatal("no such step")
			}
			var bag, screws []string
			if s.Bag != nil {
				bag = table(s.Bag.Rows)
			}
			if s.Screws != nil {
				screws = table(s.Screws.Rows)
			}
			same(t, "bag", bag, c.bag)
			same(t, "screws", screws, c.screws)
			people := ""
			for _, f := range s.Facts {
				if f.Label == "People" {
					people = said(f.Words, nil)
				}
			}
			if people != c.people {
				t.Errorf("people %q, want %q", people, c.people)
			}
		})
	}
}

// Each joint says what its screw goes through, what is clamped, how much thread it fills
// of how much it must, which lengths serve; each fit which play it has. A screw M8 × 20
// through 10 mm fills 10 mm of a thread in steel, which asks for one diameter (8 mm): 18
// mm is the shortest, and the hole's 16 mm of thread end half a turn of 1.25 mm beyond the
// longest. The bolt shows two turns behind its nut of 6.8 mm: 39.3 mm. The limits are those of ISO 286-2: H7 +0.015/0, h6 0/−0.009.
func TestJointsSayWhy(t *testing.T) {
	doc := document(t, check.Out(trial.Plan(t, clamped)))
	var got []string
	for _, b := range pageOf(t, doc, "joints/rig").Blocks {
		if tab, ok := b.(page.Table); ok {
			got = append(got, table(tab.Rows)...)
		}
	}
	same(t, "joints", got, []string{
		"hold: 1 × Socket head cap screw M8×20, 11 N·m; it is limited by the thread in Structural steel S235JR; it clamps with 6.4 kN to 9.6 kN",
		"plate.pass | Plate 10 mm, thread in Base 16 mm | 10 mm | 10 mm, needs 8 mm (1 × 8 mm in steel) | 18 mm to 25.38 mm; sold: 20, 25, best 20",
		"bolted: 1 × Hexagon head bolt M8×45, hand tight",
		"plate.far | Plate 10 mm, Base 20 mm, Hexagon nut M8 6.8 mm | 30 mm | 6.8 mm, needs 6.8 mm (the whole nut) | 39.3 mm to 51.3 mm; sold: 40, 45, 50, best 40",
		"pinned | pushed in, without play that is felt | Dowel 10 mm h6 in Base 10 mm H7 | play 0 mm to 0.024 mm",
	})
}

// The tools list says how often a tool turns something, and what is for one thing alone.
func TestToolsSayHowOften(t *testing.T) {
	files := clamped.With(trial.Files{"tools.yaml": "key: {title: Hex key, owned: yes, size: 6 mm}\n"})
	doc := document(t, check.Out(trial.Plan(t, files)))
	var got []string
	each(pageOf(t, doc, "tools").Blocks, func(tab page.Table) { got = append(got, table(tab.Rows)...) })
	same(t, "tools", got, []string{
		"Drill | 6.8 mm | once | to get | Base",
		"Drill | 9 mm | 2 | to get | Base, Plate",
		"Drill | 10 mm | once | to get | Base",
		"Tap | M8 | once | to get | Base",
		"Hex key | 6 mm | 2 in one joint | taken to be there | step Start the screws, step Tighten all",
		"Spanner | 13 mm | 2, two at once | to get | step Start the screws",
	})
}
