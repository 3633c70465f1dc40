package joint_test

import (
	"math"
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

// The mouth of a clamp's own screw, worked out by hand: the collar stands turned by a
// quarter, so that its front looks to the right.
func TestClampScrews(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n",
		"parts/p.yaml": `shaft: {title: Shaft, made: machined, material: steel_s235, shape: [{cylinder: {d: 12 mm h9, l: 60 mm}, name: body}]}
own: {title: Clamp, made: bought, buy: any, material: steel, shape: [{cylinder: {d: 28 mm, l: 11 mm}}], holes: {bore: {at: [14 mm, 14 mm], bore: 12 mm}, pinch: {face: front, at: [14 mm, 5.5 mm], bore: 4 mm}}, fastener: {clamp: 12 mm, closes: 0.4 mm, tool: hex key 3 mm, driven_at: pinch}}
blind: {title: Other clamp, made: bought, buy: any, material: steel, shape: [{cylinder: {d: 28 mm, l: 11 mm}}], holes: {bore: {at: [14 mm, 14 mm], bore: 12 mm}}, fastener: {clamp: 12 mm, closes: 0.4 mm, tool: hex key 3 mm}}
ring: {standard: DIN 705 A 12, buy: any}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  shaft: {part: shaft, at: [8 mm, 8 mm, 0 mm]}
  own: {part: own, at: [0 mm, 0 mm, 0 mm], turn: z 90 deg}
  blind: {part: blind, at: [0 mm, 0 mm, 40 mm]}
  ring: {part: ring, at: [3 mm, 3 mm, 20 mm]}
joints:
  held: {grip: shaft.body, by: own.bore}
  set: {grip: shaft.body, by: ring.bore}
  unsaid: {grip: shaft.body, by: blind.bore}
steps:
  join: {title: Join, adds: [shaft, own, ring, blind], fastens: [held, set, unsaid], text: Clamp them., time: 1 min}
`,
	})
	m := joint.Of(r, layout.Of(r))
	a := r.Plan.Assembly("rig")
	for _, row := range []struct {
		joint      string
		mouth, dir solid.Vec
		tool       joint.Tool
		places     int
	}{
		{"held", solid.Vec{X: 28, Y: 14, Z: 5.5}, solid.Vec{X: -1}, joint.Tool{"hex key", "3 mm"}, 1},
		{"set", solid.Vec{X: 14, Y: 3, Z: 26}, solid.Vec{Y: 1}, joint.Tool{"hex key", "3 mm"}, 1},
		{"unsaid", solid.Vec{}, solid.Vec{}, joint.Tool{}, 0},
	} {
		got := m.ClampScrews(a, a.Joint(row.joint))
		if len(got) != row.places {
			t.Errorf("%s: %d places, want %d", row.joint, len(got), row.places)
			continue
		}
		if row.places == 0 {
			continue
		}
		g := got[0]
		if g.Mouth.Sub(row.mouth).Len() > 0.01 || g.Dir.Sub(row.dir).Len() > 1e-9 || g.Tool != row.tool {
			t.Errorf("%s: %+v, want %+v", row.joint, g, row)
		}
		if math.Abs(g.Drive.Size-3) > 1e-9 {
			t.Errorf("%s: drive %+v", row.joint, g.Drive)
		}
	}
	if tight := joint.Tighten(r, a, a.Joint("set")); !tight.Known || tight.Torque.SI <= 0 {
		t.Errorf("the collar's screw: %+v", tight)
	}
}
