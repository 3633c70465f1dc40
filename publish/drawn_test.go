package publish

import (
	"reflect"
	"slices"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/memo"
	"plansheaf/design/trial"
	"plansheaf/publish/compose"
)

// cabinet is a small plan with a part of sheet, its template, and a bought one.
var cabinet = trial.Files{
	"plan.yaml":      "title: Cabinet\nmachine: cabinet\nrevision: A\nlanguage: en\ncurrency: EUR\n",
	"materials.yaml": "pine: {title: Pine, density: 500 kg/m^3}\n",
	"stock.yaml":     "ply: {title: Plywood, material: pine, sheet: 18 mm, sold: [{size: [1200 mm, 600 mm], price: 20 EUR}], kerf: 3 mm}\n",
	"parts/all.yaml": `side: {title: Side, made: sheet, stock: ply, outline: {rectangle: [300 mm, 200 mm]}, holes: {h: {face: top, line: {from: [30 mm, 30 mm], step: [200 mm, 0 mm], count: 2}, bore: 8 mm}}}
shelf: {title: Shelf, made: sheet, stock: ply, outline: {rectangle: [250 mm, 180 mm]}}
knob: {title: Knob, made: bought, material: pine, shape: [{cylinder: {d: 30 mm, l: 20 mm}}]}
`,
	"drawings/side.yaml": "title: Side\nof: side\ntemplate: yes\n",
	"assemblies/cabinet.yaml": `title: Cabinet
holds:
  side: {part: side, at: [0 mm, 0 mm, 0 mm]}
  shelf: {part: shelf, at: [0 mm, 0 mm, 18 mm]}
  knob: {part: knob, at: [100 mm, 50 mm, 36 mm]}
steps:
  one: {title: One, adds: [side, shelf, knob], text: T}
`,
}

// drawnParts draws the parts of a plan, with what a store keeps.
func drawnParts(t *testing.T, files trial.Files, store *memo.Store) (compose.Pictures, []string) {
	t.Helper()
	w := check.Keeping(trial.Plan(t, files), store)
	out, problems, _, err := draw(w, false, true)
	if err != nil {
		t.Fatal(err)
	}
	var says []string
	for _, p := range problems {
		says = append(says, p.Message)
	}
	for _, list := range out.Assembled { // what holds its situations is not compared
		for i := range list {
			list[i].Cases = nil
		}
	}
	return out, says
}

// What is drawn with a store is what is drawn without one, before and after a change of one
// part; and what did not change is not drawn again.
func TestDrawingsAreTakenOver(t *testing.T) {
	store := memo.New()
	first, says := drawnParts(t, cabinet, store)
	if len(first.Sheets["side"]) < 2 || len(first.Files["side"]) != len(first.Sheets["side"])+1 || first.Thumbs["knob"] == nil {
		t.Fatalf("%d sheets and %d files of the side", len(first.Sheets["side"]), len(first.Files["side"]))
	}
	plain, saysPlain := drawnParts(t, cabinet, nil)
	if !reflect.DeepEqual(first, plain) || !slices.Equal(says, saysPlain) {
		t.Error("with a store drawn otherwise than without")
	}
	store.Next()
	again, saysAgain := drawnParts(t, cabinet, store)
	if !reflect.DeepEqual(first, again) || !slices.Equal(says, saysAgain) || store.Uses().New > 0 {
		t.Errorf("drawn again otherwise, or with %d new results", store.Uses().New)
	}
	changed := cabinet.With(trial.Files{"parts/all.yaml": `side: {title: Side, made: sheet, stock: ply, outline: {rectangle: [300 mm, 200 mm]}, holes: {h: {face: top, line: {from: [30 mm, 30 mm], step: [200 mm, 0 mm], count: 2}, bore: 8 mm}}}
shelf: {title: Shelf, made: sheet, stock: ply, outline: {rectangle: [250 mm, 175 mm]}}
knob: {title: Knob, made: bought, material: pine, shape: [{cylinder: {d: 30 mm, l: 20 mm}}]}
`})
	store.Doubt = true
	store.Next()
	with, saysWith := drawnParts(t, changed, store)
	without, saysWithout := drawnParts(t, changed, nil)
	if !reflect.DeepEqual(with, without) || !slices.Equal(saysWith, saysWithout) {
		t.Error("after a change drawn otherwise than without a store")
	}
	if uses := store.Uses(); uses.Known < 5 || uses.New == 0 {
		t.Errorf("after a change %+v", uses)
	}
	if faults := store.Faults(); len(faults) > 0 {
		t.Errorf("%q", faults)
	}
}
