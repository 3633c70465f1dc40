package data

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"plansheaf/design/check"
	"plansheaf/design/trial"
)

// screwed is a screw of 4 mm lead that turns while its nut, an assembly of its own,
// slides, with a rider seated on the nut and a belt beside them.
var screwed = trial.Files{
	"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nmotions: {drop: {from: 0 mm, to: 50 mm}}\n",
	"parts/all.yaml": `post: {title: Post, made: machined, material: steel_s235, shape: [{cylinder: {d: 20 mm, l: 300 mm}}]}
lid: {title: Lid, made: machined, material: steel_s235, shape: [{box: [60 mm, 60 mm, 10 mm]}], holes: {peg: {at: [30 mm, 30 mm], bore: 20 mm}}}
pulley: {title: Pulley, made: bought, shape: [{cylinder: {d: 30 mm, l: 20 mm}}], has: {teeth: 20, pitch: 5 mm}}
belt: {title: Belt, made: bought, loop: {pitch: 5 mm, width: 15 mm, teeth: 60, thick: 3 mm}}
`,
	"assemblies/rig.yaml": `title: Rig
holds:
  screw: {part: post, at: [0 mm, 0 mm, 0 mm], moves: {about: axis, by: drop / 4 mm * 1 turn}}
  nut: {assembly: nut, at: [100 mm, 0 mm, 100 mm], moves: {along: z, by: -drop}}
  stays: {part: lid, at: [200 mm, 0 mm, 0 mm]}
  left: {part: pulley, at: [0 mm, 200 mm, 0 mm]}
  right: {part: pulley, at: [60 mm, 280 mm, 0 mm]}
  belt: {part: belt, around: [left, right]}
`,
	"assemblies/nut.yaml": "title: Nut\nholds: {lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}}\n",
}

// planSchema is the schema, compiled: compiling checks it against the draft's own
// meta-schema.
func planSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := PlanSchema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("https://example.org/plan", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("https://example.org/plan")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What is written is as the schema says, for plans with and without everything; what
// differs from it is refused.
func TestPlanJSONFollowsItsSchema(t *testing.T) {
	schema := planSchema(t)
	for name, files := range map[string]trial.Files{"choices": bench, "motions": screwed, "nothing": {}} {
		text, err := PlanJSON(check.Out(trial.Plan(t, files)), nil)
		if err != nil {
			t.Fatal(err)
		}
		judge := func(text string) error {
			doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			return schema.Validate(doc)
		}
		if err := judge(string(text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for old, wrong := range map[string]string{`"title"`: `"heading"`, `"mass_kg": `: `"mass_kg": "" , "x": `} {
			if judge(strings.Replace(string(text), old, wrong, 1)) == nil {
				t.Errorf("%s: %s in place of %s is not refused", name, wrong, old)
			}
		}
	}
}

// Every key of the schema says what it means.
func TestSchemaIsDocumented(t *testing.T) {
	text, err := PlanSchema()
	if err != nil {
		t.Fatal(err)
	}
	var schema any
	if err := json.Unmarshal(text, &schema); err != nil {
		t.Fatal(err)
	}
	keys := 0
	var walk func(v any, at string)
	walk = func(v any, at string) {
		m, ok := v.(map[string]any)
		if !ok {
			return
		}
		if properties, ok := m["properties"].(map[string]any); ok {
			for key, one := range properties {
				keys++
				if about, _ := one.(map[string]any)["description"].(string); about == "" && !strings.HasSuffix(at, "findings") {
					t.Errorf("%s.%s is not described", at, key)
				}
				walk(one, at+"."+key)
			}
		}
		walk(m["items"], at)
		walk(m["additionalProperties"], at)
	}
	walk(schema, "")
	if keys < 120 {
		t.Errorf("only %d keys", keys)
	}
}

// Every instance stands somewhere, but for the belt, which has its pitch line; at the
// ends of a motion what slides, what turns and what came along stand elsewhere.
func TestPlanJSONTellsWhereEverythingStands(t *testing.T) {
	text, err := PlanJSON(check.Out(trial.Plan(t, screwed)), nil)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Cases []struct {
			Instances []instanceFile
			Poses     []poseFile
			Belts     []beltFile
		}
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	for _, c := range doc.Cases {
		if len(c.Instances) != 7 || len(c.Belts) != 1 {
			t.Fatalf("%d instances, %d belts", len(c.Instances), len(c.Belts))
		}
		for _, in := range c.Instances {
			if (in.AtMM == nil || in.Axes == nil) != (in.Path == "belt") {
				t.Errorf("%s stands at %v, turned %v", in.Path, in.AtMM, in.Axes)
			}
		}
		if len(c.Poses) != 1 {
			t.Fatalf("%d poses, want the far end of the one motion", len(c.Poses))
		}
		pose := c.Poses[0]
		want := map[string][3]float64{"screw": {20, 20, 0}, "nut": {100, 0, 50}, "nut.lid": {100, 0, 50}}
		if pose.Motion != "drop" || pose.At.SI != 0.05 || len(pose.Moved) != len(want) {
			t.Errorf("pose %+v", pose)
		}
		for _, in := range pose.Moved {
			at, known := want[in.Path]
			for i := range at {
				known = known && in.AtMM != nil && math.Abs(in.AtMM[i]-at[i]) < 1e-9
			}
			if !known {
				t.Errorf("%s stands at %v, want %v", in.Path, in.AtMM, at)
			}
			// Twelve and a half turns on 4 mm of lead: the screw's x points back.
			if in.Path == "screw" && math.Abs(in.Axes[0][0]+1) > 1e-9 {
				t.Errorf("the screw is turned to %v", in.Axes)
			}
		}
	}
}
