package data

import (
	"encoding/json"
	"math"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
)

// What is laid, led and stretched comes out with points that add up: the belt's spans
// run on from one to the next and are as long as its path, which for two equal
// pulleys is their distance twice and 20 teeth.
func TestPlanJSONShowsCourses(t *testing.T) {
	p := trial.Plan(t, trial.Files{
		"parts/all.yaml": `pulley: {title: Pulley, made: bought, shape: [{cylinder: {d: 30 mm, l: 20 mm}}], has: {teeth: 20, pitch: 5 mm}}
belt: {title: Belt, made: bought, loop: {pitch: 5 mm, width: 15 mm, teeth: 60, thick: 3 mm}}
lead: {title: Lead, made: bought, strand: {d: 2 mm, length: 90 mm}}
strut: {title: Strut, made: bought, telescopes: {closed: 50 mm, stroke: 30 mm, shapes: [rod]}, shape: [{cylinder: {d: 12 mm, l: 40 mm}}, {cylinder: {d: 6 mm, l: 50 mm}, at: [3 mm, 3 mm, 0 mm], name: rod}]}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  drive: {assembly: drive, at: [10 mm, 0 mm, 0 mm]}
`,
		"assemblies/drive.yaml": `title: Drive
holds:
  left: {part: pulley, at: [0 mm, 0 mm, 0 mm]}
  right: {part: pulley, at: [60 mm, 80 mm, 0 mm]}
  over: {part: pulley, at: [0 mm, 0 mm, 80 mm]}
  belt: {part: belt, around: [left, right]}
  lead: {part: lead, from: left.top, to: over.bottom}
  strut: {part: strut, between: {bottom: left.top, top: over.bottom}}
`,
	})
	text, err := PlanJSON(check.Out(p), nil)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Cases []struct {
			Belts      []beltFile
			Strands    []strandFile
			Telescopes []telescopeFile
		}
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	c := doc.Cases[0]
	if len(c.Belts) != 1 || len(c.Strands) != 1 || len(c.Telescopes) != 1 {
		t.Fatalf("%d belts, %d strands, %d telescopes; want one of each", len(c.Belts), len(c.Strands), len(c.Telescopes))
	}
	b := c.Belts[0]
	length := 0.0
	for i, s := range b.Line {
		if next := b.Line[(i+1)%len(b.Line)]; math.Hypot(next.From[0]-s.To[0], next.From[1]-s.To[1]) > 1e-9 {
			t.Errorf("span %d ends at %v, the next begins at %v", i+1, s.To, next.From)
		}
		run := math.Hypot(s.To[0]-s.From[0], s.To[1]-s.From[1])
		if s.Centre != nil { // half a turn
			run *= math.Pi / 2
		}
		length += run
	}
	if math.Abs(length-300) > 1e-9 || math.Abs(b.LengthMM-300) > 1e-9 || b.StatedMM != 300 {
		t.Errorf("spans of %g, a path of %g, a belt of %g; want 300", length, b.LengthMM, b.StatedMM)
	}
	if b.Path != "drive.belt" || b.Pulleys[1].Path != "drive.right" || math.Abs(b.Pulleys[1].WrapDeg-180) > 1e-9 || math.Abs(b.Pulleys[1].InMesh-10) > 1e-9 {
		t.Errorf("belt %s, pulley %+v", b.Path, b.Pulleys[1])
	}
	if b.Plane.AtMM != [3]float64{25, 15, 10} {
		t.Errorf("the belt's plane stands at %v", b.Plane.AtMM)
	}
	if s := c.Strands[0]; s.LengthMM != 60 || s.StatedMM != 90 || len(s.Points) != 2 || s.Points[0] != [3]float64{25, 15, 20} {
		t.Errorf("strand %+v", s)
	}
	if s := c.Telescopes[0]; s.LengthMM != 60 || s.ClosedMM != 50 || s.StrokeMM != 30 || s.Ends[1] != [3]float64{25, 15, 80} {
		t.Errorf("telescope %+v", s)
	}
}
