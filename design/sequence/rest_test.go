package sequence_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/sequence"
	"plansheaf/design/trial"
)

// standing is a plate on two rails of some height, to which a post is screwed from below:
// its M6 screw's head ends 6 mm under the plate.
func standing(rails, mass float64, says string) trial.Files {
	return trial.Files{
		"tools.yaml": "crane: {title: Crane, lifts: 60 kg}\n",
		"parts/p.yaml": fmt.Sprintf(`cap: {standard: ISO 4762 M6x35 - 8.8}
plate: {title: Plate, made: bought, mass: %g kg, shape: [{box: [300 mm, 300 mm, 20 mm]}], holes: {h: {at: [150 mm, 150 mm], for: M6}}}
rail: {title: Rail, made: bought, mass: 0.1 kg, shape: [{box: [20 mm, 300 mm, %g mm]}]}
post: {title: Post, made: bought, mass: 0.2 kg, shape: [{box: [40 mm, 40 mm, 150 mm]}], holes: {h: {face: bottom, at: [20 mm, 20 mm], tap: M6, depth: 25 mm}}}
glue: {title: Glue, made: consumable, amount: 10 g}
`, mass, rails),
		"assemblies/rig.yaml": fmt.Sprintf(`title: Rig
holds:
  plate: {part: plate, at: [0 mm, 0 mm, 0 mm]}
  left: {part: rail, at: [0 mm, 0 mm, -%[1]g mm]}
  right: {part: rail, at: [280 mm, 0 mm, -%[1]g mm]}
  post: {part: post, at: [130 mm, 130 mm, 20 mm]}
joints:
  hold: {screw: cap, through: [plate.h, post.h]}
  rails: {glue: [left.top, right.top], onto: plate.bottom, with: glue}
steps:
  lay: {title: Lay, adds: [plate, left, right], fastens: [rails], text: T}
  fix: {title: Fix, %[2]sadds: [post], fastens: [hold], loose: [hold], text: T}
  turn: {title: Turn, rests_on: left, tightens: [hold], text: T}
`, rails, says),
	}
}

func TestBenchUnderTheWork(t *testing.T) {
	const shut = "10 hold in rig.fix"
	cases := []struct {
		name        string
		rails, mass float64
		says        string
		want        []string
	}{
		// 35 mm of thread must be drawn out under the head, which is 6 mm high: ISO 4762.
		{name: "rails 1 mm too low", rails: 40, mass: 6, want: []string{shut}},
		{name: "rails high enough", rails: 41.2, mass: 6},
		{name: "on its back", rails: 10, mass: 6, says: "rests_on: back, "},
		{name: "upside down", rails: 10, mass: 6, says: "rests_on: top, "},
		{name: "in hand", rails: 10, mass: 6, says: "rests_on: hand, "},
		{name: "on its bottom, as is said", rails: 10, mass: 6, says: "rests_on: bottom, ", want: []string{shut}},
		{name: "light work is picked up", rails: 10, mass: 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { expect(t, record(t, standing(c.rails, c.mass, c.says)), c.want...) })
	}
	rec := record(t, standing(10, 6, ""))
	o := rec.Obstructions[0]
	if o.What != sequence.ScrewShutOut || o.On != "bottom" || !slices.Equal(o.Faces, []string{"top", "left", "right", "front", "back"}) || rec.Graph.Say(o.Later) != "rig.turn" {
		t.Errorf("told %+v", o)
	}
	if got, want := rec.Remedy(o), "write rests_on: top (or left, right, front, back) in rig.fix: then all that it does goes; or put it in in rig.turn, where the work lies otherwise"; got != want {
		t.Errorf("remedy %q, want %q", got, want)
	}
}

// What lies in its place and is held by nothing falls out when the work is turned, unless
// something is below it then.
func TestPartsThatFallOut(t *testing.T) {
	cases := []struct {
		name, fix, turned string
		want              []string
	}{
		{name: "a lid laid on", turned: "top", want: []string{"lid"}},
		{name: "held by glue", fix: "fastens: [stuck], ", turned: "top"},
		{name: "a pin keeps it", turned: "back"},
		{name: "only pushed along", fix: "fastens: [slides], ", turned: "top", want: []string{"lid"}},
		{name: "a wall behind it", turned: "right"},
		{name: "not turned", turned: "bottom"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			rec := record(t, trial.Files{
				"parts/p.yaml": `base: {title: Base, made: bought, mass: 6 kg, shape: [{box: [100 mm, 100 mm, 10 mm]}, {box: [10 mm, 100 mm, 60 mm], at: [90 mm, 0 mm, 0 mm]}], holes: {h: {at: [40 mm, 50 mm], bore: 8 mm H7}}}
lid: {title: Lid, made: bought, mass: 1 kg, shape: [{box: [60 mm, 60 mm, 10 mm]}, {cylinder: {d: 8 mm h6, l: 10 mm}, at: [26 mm, 26 mm, -10 mm], name: pin}]}
glue: {title: Glue, made: consumable, amount: 10 g}
`,
				"assemblies/rig.yaml": `title: Rig
holds: {base: {part: base, at: [0 mm, 0 mm, 0 mm]}, lid: {part: lid, at: [10 mm, 20 mm, 0 mm]}}
joints:
  stuck: {glue: lid.bottom, onto: base.top, with: glue}
  slides: {slide: lid.pin, into: base.h}
steps:
  lay: {title: Lay, adds: [base, lid], ` + c.fix + `text: T}
  turn: {title: Turn, rests_on: ` + c.turned + `, text: T}
`,
			})
			if got := rec.Card(1).Rest.Falls; strings.Join(got, " ") != strings.Join(c.want, " ") {
				t.Errorf("falls %v, want %v", got, c.want)
			}
		})
	}
}

// A nut for a joint of the machine is slid into the frame's rail while the frame is built:
// once both cheeks close the rail's ends, it cannot come in any more.
func TestNutsForAnotherAssembly(t *testing.T) {
	rig := func(first, then string) trial.Files {
		return trial.Files{
			"plan.yaml":  "title: Rig\nmachine: rig\nrevision: A\n",
			"stock.yaml": "bar: {title: Slotted bar, section: {slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9.2 mm, pocket: 16 mm}}, material: steel_s235}\n",
			"parts/p.yaml": `cap: {standard: ISO 4762 M6x16 - 8.8}
nut: {title: Slot nut, made: bought, fastener: {nut: M6, slot: 8 mm, height: 6 mm, goes_in: end}}
rail: {title: Rail, made: cut, stock: bar, length: 200 mm}
cheek: {title: Cheek, made: bought, shape: [{box: [9 mm, 30 mm, 30 mm]}]}
lid: {title: Lid, made: bought, shape: [{box: [100 mm, 30 mm, 8 mm]}], holes: {h: {at: [50 mm, 15 mm], for: M6}}}
`,
			"assemblies/frame.yaml": `title: Frame
holds: {rail: {part: rail, at: [9 mm, 0 mm, 0 mm]}, left: {part: cheek, at: [0 mm, 0 mm, 0 mm]}, right: {part: cheek, at: [209 mm, 0 mm, 0 mm]}}
steps:
  lay: {title: Lay, adds: [rail` + first + `], text: T}
  slide: {title: Slide, slides_in: [rig.hold], text: T}
  last: {title: Last, adds: [` + then + `], text: T}
`,
			"assemblies/rig.yaml": `title: Rig
holds: {frame: {assembly: frame, at: [0 mm, 0 mm, 0 mm], turn: z 90 deg}, lid: {part: lid, at: [-30 mm, 60 mm, 30 mm], turn: z 90 deg}}
joints: {hold: {screw: cap, through: [lid.h, frame.rail.slot_top], into: nut}}
steps:
  place: {title: Place, adds: [frame, lid], fastens: [hold], text: T}
`,
		}
	}
	expect(t, record(t, rig(", left", "right")))
	expect(t, record(t, rig(", left, right", "")), "5 hold in frame.slide by right since frame.lay")
}

// The screw of a clamping collar is turned with a 3 mm key from its hole's mouth: its short
// arm and the way off its socket take 20 mm (ISO 2936), which a wall in front must leave.
func TestClampBeforeAWall(t *testing.T) {
	rig := func(wall float64) trial.Files {
		return trial.Files{
			"parts/p.yaml": `shaft: {title: Shaft, made: bought, shape: [{cylinder: {d: 12 mm h9, l: 60 mm}, name: body}]}
collar: {title: Clamping collar, made: bought, shape: [{cylinder: {d: 28 mm, l: 11 mm}}], holes: {bore: {at: [14 mm, 14 mm], bore: 12 mm}, pinch: {face: front, at: [14 mm, 5.5 mm], bore: 4 mm}}, fastener: {clamp: 12 mm, closes: 0.4 mm, tool: hex key 3 mm, driven_at: pinch}}
wall: {title: Wall, made: bought, shape: [{box: [400 mm, 10 mm, 400 mm]}]}
`,
			"assemblies/rig.yaml": fmt.Sprintf(`title: Rig
holds: {shaft: {part: shaft, at: [8 mm, 8 mm, -20 mm]}, collar: {part: collar, at: [0 mm, 0 mm, 0 mm]}, wall: {part: wall, at: [-200 mm, -%g mm, -200 mm]}}
joints: {stop: {grip: shaft.body, by: collar.bore}}
steps:
  put: {title: Put, adds: [wall, shaft, collar], text: T}
  fix: {title: Fix, fastens: [stop], text: T}
`, wall+10),
		}
	}
	expect(t, record(t, rig(60)))
	expect(t, record(t, rig(8)), "0 stop in rig.fix by wall since rig.put")
	tools := record(t, rig(60)).Card(1).Joints[0].Tools
	if len(tools) != 1 || tools[0] != (sequence.Wrench{Kind: "hex key", Size: "3 mm"}) {
		t.Errorf("tools %v", tools)
	}
}
