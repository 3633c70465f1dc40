package compose_test

import (
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
	"plansheaf/publish/page"
)

// printed is a machine with two equal units, in which printed knobs stand, and a choice
// that adds one.
var printed = trial.Files{
	"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nlicense: MIT\ncurrency: EUR\nchoices: {grip: {title: Grip, options: {plain: Plain grip, wide: Wide grip}, default: plain}}\n",
	"parts/p.yaml": `knob: {title: Knob, made: printed, material: petg, shape: [{box: [20 mm, 20 mm, 20 mm]}], print: {face: bottom, walls: 3, infill: 20 %, time: 90 min}}
grease: {title: Grease, made: consumable, amount: 30 g, buy: any}
`,
	"assemblies/rig.yaml": `title: Rig
holds:
  units: {assembly: unit, at: [0 mm, 0 mm, 0 mm], count: 2, step: [100 mm, 0 mm, 0 mm]}
  extra: {part: knob, at: [0 mm, 50 mm, 0 mm], only: {grip: wide}}
steps: {set: {title: Set, adds: [units], text: T, time: 5 min}, more: {title: More, adds: [extra], text: T, time: 5 min, only: {grip: wide}}}
`,
	"assemblies/unit.yaml": `title: Unit
holds: {knobs: {part: knob, at: [0 mm, 0 mm, 0 mm], count: 2, step: [20 mm, 0 mm, 0 mm]}}
steps: {join: {title: Join, adds: [knobs], uses: [grease 2 g], text: T, time: 5 min}}
`,
}

// The further lists say how much of what stands where: two knobs in each of two units,
// their middle between them, 4.877 g each of 3,840 mm³ of plastic.
func TestFurtherLists(t *testing.T) {
	doc := document(t, check.Out(trial.Plan(t, printed)))
	texts := map[string]string{}
	for _, p := range doc.Pages {
		texts[p.ID] = fmt.Sprintf("%v", p.Blocks)
	}
	for _, c := range []struct{ page, want string }{
		{"by-assembly", "x 20 mm, y 10 mm, z 10 mm"},
		{"by-assembly", "9.7536 g"}, // one unit
		{"by-step", "2 g"},
		{"by-step", " (2 times)"},
		{"prints", "about"},
		{"prints", "20 g"}, // four knobs
		{"prints", "6 h"},  // of 90 min
		{"choices", "Wide grip instead of Plain grip"},
		{"choices", "+4.8768 g"},
		{"choices", "+5 min"},
		{"choices", "Everything, whatever you choose"},
		{"parts", "By kind"},
	} {
		if text, known := texts[c.page]; !known || !strings.Contains(text, c.want) {
			t.Errorf("page %s: %q is not there", c.page, c.want)
		}
	}
	for _, p := range doc.Pages {
		if p.Parent == "parts" && p.Kind == page.PartsList && p.Summary == "" {
			t.Errorf("%s has no summary", p.ID)
		}
	}
	plain := document(t, check.Out(trial.Plan(t, trial.Files{
		"parts/p.yaml":        "post: {title: Post, made: bought, buy: any, shape: [{box: [9 mm, 9 mm, 9 mm]}]}\n",
		"assemblies/rig.yaml": "title: Rig\nholds: {post: {part: post, at: [0 mm, 0 mm, 0 mm]}}\n",
	})))
	for _, p := range plain.Pages {
		if p.ID == "prints" {
			t.Error("a machine without a printed part has a list of them")
		}
	}
}
