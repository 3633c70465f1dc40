package joint_test

import (
	"math"
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/trial"
)

// Wood screws by hand: 3 × 4 mm of thread in wood (common practice), DIN 7997 with
// thread on three fifths of its length, the point 2 mm under the far face at least.
func TestWoodScrews(t *testing.T) {
	for _, row := range []struct {
		name, screw, board, last, serves string
		filled                           float64
		wants                            joint.Fault
	}{
		// 12 mm shelf, 18 mm side: the thread of 4x25 begins 10 mm below the head.
		{"pilot hole, long enough", "DIN 7997 4x25", "18 mm", "side.pilot", "25", 13, joint.Fits},
		{"pilot hole, short", "DIN 7997 4x20", "18 mm", "side.pilot", "25", 8, joint.Short},
		{"no pilot hole", "DIN 7997 4x25", "18 mm", "side.top", "25", 13, joint.Fits},
		{"through a thin board", "DIN 7997 4x30", "16 mm", "side.pilot", "25", 16, joint.Stands},
		{"thick board, shank in the wood", "DIN 7997 4x40", "40 mm", "side.pilot", "25 30 35 40 45 50", 24, joint.Fits},
	} {
		t.Run(row.name, func(t *testing.T) {
			at := "20 mm"
			if row.last == "side.top" {
				at = "60 mm" // the pilot hole lies elsewhere
			}
			places, _ := measured(t, "screw: {standard: "+row.screw+"}\n"+
				"shelf: {title: Shelf, made: bought, material: birch_plywood, shape: [{box: [80 mm, 40 mm, 12 mm]}], holes: {fix: {at: [20 mm, 20 mm], bore: 4.5 mm, countersink: {d: 7.5 mm, angle: 90 deg}}}}\n"+
				"side: {title: Side, made: bought, material: birch_plywood, shape: [{box: [80 mm, 40 mm, "+row.board+"]}], holes: {pilot: {at: ["+at+", 20 mm], bore: 2.5 mm, depth: 10 mm}}}",
				"  side: {part: side, at: [0 mm, 0 mm, 0 mm]}\n  shelf: {part: shelf, at: [0 mm, 0 mm, "+row.board+"]}", "screw: screw, through: [shelf.fix, "+row.last+"]")
			if len(places) != 1 {
				t.Fatalf("%d places", len(places))
			}
			p := &places[0]
			if got := serving(places); got != row.serves {
				t.Errorf("serving %s, want %s", got, row.serves)
			}
			if math.Abs(p.Filled()-row.filled) > 1e-6 {
				t.Errorf("filled %v, want %v", p.Filled(), row.filled)
			}
			if got := p.Judge(*p.Screw.Fastener); got != row.wants {
				t.Errorf("judged %v, want %v", got, row.wants)
			}
			if p.Stop != nil || p.Struck != nil {
				t.Errorf("stop %+v, struck %+v", p.Stop, p.Struck)
			}
		})
	}
}

// A groove measured on the body against the sizes that it was drawn with, on a shaft
// that stands, on one that lies, and in a bore.
func TestGrooves(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{
		"parts/p.yaml": `outer: {standard: DIN 471 12}
inner: {standard: DIN 472 22}
shaft:
  title: Shaft
  made: bought
  shape:
    - {cylinder: {d: 12 mm, l: 60 mm}}
    - {tube: {d: 12 mm, bore: 11.4 mm, l: 1.2 mm}, at: [0 mm, 0 mm, 50 mm], cut: yes, name: groove}
    - {tube: {d: 12 mm, bore: 11.5 mm, l: 1.1 mm}, at: [0 mm, 0 mm, 58.9 mm], cut: yes, name: open}
hub:
  title: Hub
  made: bought
  shape:
    - {cylinder: {d: 36 mm, l: 20 mm}}
    - {cylinder: {d: 22 mm, l: 20 mm}, at: [7 mm, 7 mm, 0 mm], cut: yes}
    - {cylinder: {d: 23 mm, l: 1.1 mm}, at: [6.5 mm, 6.5 mm, 17 mm], cut: yes, name: groove}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  stands: {part: shaft, at: [0 mm, 0 mm, 0 mm]}
  lies: {part: shaft, at: [30 mm, 0 mm, 0 mm], turn: [y 90 deg, z 30 deg]}
  hub: {part: hub, at: [-80 mm, 0 mm, 0 mm]}
joints:
  one: {ring: outer, into: stands.groove}
  two: {ring: outer, into: lies.groove}
  three: {ring: outer, into: stands.open}
  four: {ring: inner, into: hub.groove}
`,
	})
	l := layout.Of(r)
	trial.Clean(t, l.Findings())
	a := r.Plan.Assembly("rig")
	for _, row := range []struct {
		joint string
		want  joint.Groove
	}{
		{"one", joint.Groove{Floor: 11.4, Seat: 12, Width: 1.2, Edge: 7.7}},
		{"two", joint.Groove{Floor: 11.4, Seat: 12, Width: 1.2, Edge: 7.7}},
		{"three", joint.Groove{Floor: 11.5, Seat: 12, Edge: 7.7, Open: true}},
		{"four", joint.Groove{Floor: 23, Seat: 22, Width: 1.1, Edge: 1.9}},
	} {
		places := l.Fastenings(a, a.Joint(row.joint))
		if len(places) != 1 || len(places[0].Hardware()) != 1 {
			t.Fatalf("%s: %d places", row.joint, len(places))
		}
		got, ok := joint.GrooveAt(&places[0])
		if row.joint == "three" {
			got.Width = 0 // one wall only
		}
		near := func(a, b float64) bool { return math.Abs(a-b) < 0.02 }
		if !ok || !near(got.Floor, row.want.Floor) || !near(got.Seat, row.want.Seat) || !near(got.Width, row.want.Width) || !near(got.Edge, row.want.Edge) || got.Open != row.want.Open {
			t.Errorf("%s: %+v, want %+v", row.joint, got, row.want)
		}
	}
}

// A belt of 15 mm runs in the middle of rims that reach from 10 to 30 mm above the
// ground: its upper edge lies at 27.5 mm, 24.5 mm below the heads at 52 mm. A pin of
// 4 mm lies across below the other screw, its axis at 28 mm.
func TestWhatJointsBringIsInTheWay(t *testing.T) {
	const rig = `title: Rig
holds:
  a: {part: wheel, at: [0 mm, 0 mm, 0 mm]}
  b: {part: wheel, at: [100 mm, 0 mm, 0 mm]}
  belt: {part: belt, around: [a, b]}
  plate: {part: plate, at: [40 mm, 0 mm, 20 mm]}
  lid: {part: lid, at: [40 mm, 0 mm, 48 mm]}
joints:
  hold: {screw: long, through: [[lid.belt, lid.pin], [plate.belt, plate.pin]]}
  cross: {pin: pin, through: [plate.side, plate.far]}
`
	r := trial.Reckoning(t, trial.Files{
		"parts/p.yaml": `long: {standard: ISO 4762 M5x30 - 8.8}
pin: {standard: ISO 8734 4x40}
wheel:
  title: Wheel
  made: bought
  shape: [{cylinder: {d: 24 mm, l: 8 mm}, at: [6 mm, 6 mm, 0 mm]}, {cylinder: {d: 36 mm, l: 2 mm}, at: [0 mm, 0 mm, 8 mm]}, {cylinder: {d: 30.7 mm, l: 20 mm}, at: [2.65 mm, 2.65 mm, 10 mm]}]
  holes: {bore: {at: [18 mm, 18 mm], bore: 8 mm}}
  has: {teeth: 20, pitch: 5 mm}
belt: {title: Belt, made: bought, loop: {pitch: 5 mm, width: 15 mm, teeth: 60, thick: 3.6 mm}}
plate:
  title: Plate
  made: bought
  material: steel
  shape: [{box: [40 mm, 60 mm, 8 mm]}, {box: [10 mm, 60 mm, 20 mm], at: [0 mm, 0 mm, -20 mm]}, {box: [10 mm, 60 mm, 20 mm], at: [30 mm, 0 mm, -20 mm]}]
  holes: {belt: {at: [20 mm, 34 mm], tap: M5}, pin: {at: [20 mm, 10 mm], tap: M5}, side: {face: left, at: [10 mm, 8 mm], bore: 4 mm H7}, far: {face: right, at: [10 mm, 8 mm], bore: 4 mm H7}}
lid: {title: Lid, made: bought, shape: [{box: [40 mm, 60 mm, 4 mm]}], holes: {belt: {at: [20 mm, 34 mm], for: M5}, pin: {at: [20 mm, 10 mm], for: M5}}}
`,
		"assemblies/rig.yaml": rig,
	})
	l := layout.Of(r)
	trial.Clean(t, l.Findings())
	a := r.Plan.Assembly("rig")
	places := joint.Of(r, l).Stacks(a, a.Joint("hold"))
	if len(places) != 2 {
		t.Fatalf("%d places", len(places))
	}
	for i, want := range []joint.Stop{{At: 24.5, Say: "belt"}, {At: 22, Say: "pin of cross"}} {
		if got := places[i].Stop; got == nil || math.Abs(got.At-want.At) > 0.2 || got.Say != want.Say {
			t.Errorf("place %d: stop %+v, want %+v", i+1, got, want)
		}
	}
}
