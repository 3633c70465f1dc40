package data

import (
	"encoding/json"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
)

// A joint's place, a step's card and the tools as data: an M8 × 20 through a plate of 10
// mm into 16 mm of thread in steel, which asks for one diameter; a bolt whose nut needs
// a second spanner.
func TestJointsCardsAndToolsAsData(t *testing.T) {
	w := check.Out(trial.Plan(t, trial.Files{
		"parts/all.yaml": `base: {title: Base, made: machined, material: steel_s235, shape: [{box: [60 mm, 60 mm, 20 mm]}], holes: {seat: {at: [10 mm, 10 mm], tap: M8, depth: 16 mm}, far: {at: [40 mm, 40 mm], for: M8}}}
plate: {title: Plate, made: machined, material: steel_s235, shape: [{box: [60 mm, 60 mm, 10 mm]}], holes: {pass: {at: [10 mm, 10 mm], for: M8}, far: {at: [40 mm, 40 mm], for: M8}}}
cap: {standard: ISO 4762 M8x20 - 8.8}
bolt: {standard: ISO 4014 M8x45 - 8.8}
nut: {standard: ISO 4032 M8 - 8}
`,
		"assemblies/rig.yaml": `title: Rig
holds: {base: {part: base, at: [0 mm, 0 mm, 0 mm]}, plate: {part: plate, at: [0 mm, 0 mm, 20 mm]}}
joints: {hold: {screw: cap, through: [plate.pass, base.seat]}, bolted: {screw: bolt, through: [plate.far, base.far], into: nut, torque: hand}}
steps: {join: {title: Join, adds: [base, plate], fastens: [hold, bolted], people: 2, text: T}}
`,
	}))
	data, err := PlanJSON(w, nil)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Cases []struct{ Joints, Steps, Tools []map[string]any }
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	text := func(v any) string {
		out, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	c := doc.Cases[0]
	for _, want := range []struct {
		name string
		in   any
		has  string
	}{
		{"place", c.Joints[0]["measured"], `"clamped_mm":10,"filled_mm":10,"gaps_mm":[0],"into":"thread","layers":[{"enter_mm":0,"feature":"pass","leave_mm":10,"part":"plate"},{"enter_mm":10,"feature":"seat","leave_mm":26,"part":"base"}],"longest_mm":25.375,"needs_because":"1 × 8 mm in steel","needs_mm":8,"shortest_mm":18,"under_head":"plate.pass"`},
		{"lengths", c.Joints[0]["lengths_mm"], `[20,25]`},
		{"bag", c.Steps[0]["bag"], `[{"count":1,"part":"base"},{"count":1,"part":"plate"},{"count":1,"part":"cap"},{"count":1,"part":"bolt"},{"count":1,"part":"nut"}]`},
		{"work", c.Steps[0]["joints"], `{"holds":[{"kind":"spanner","size":"13 mm"}],"joint":"rig.bolted","length":"45","places":1,"screw":"bolt","started":false,"tools":[{"kind":"spanner","size":"13 mm"}],"torque":"hand tight"}`},
		{"people", c.Steps[0]["people"], `2`},
		{"spanner", c.Tools, `{"joints":["rig.bolted"],"kind":"spanner","once":true,"owned":false,"parts":[],"size":"13 mm","steps":["rig.join"],"turns":2,"two_at_once":true}`},
	} {
		if got := text(want.in); !strings.Contains(got, want.has) {
			t.Errorf("%s: %s\nlacks %s", want.name, got, want.has)
		}
	}
	if csv := string(ToolsCSV(w.Default())); !strings.Contains(csv, "spanner,13 mm,no,2,yes,yes,,rig.bolted,rig.join\r\n") {
		t.Errorf("the list of tools is\n%s", csv)
	}
}
