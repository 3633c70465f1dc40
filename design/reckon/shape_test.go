package reckon_test

import (
	"fmt"
	"math"
	"testing"

	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// disc is the area of a circle of diameter d.
func disc(d float64) float64 { return math.Pi / 4 * d * d }

// Volumes of parts as a plan gives them, by closed form, mm³.
func TestShapesFromText(t *testing.T) {
	const plate = `stock: plate, outline: {rectangle: [100 mm, 60 mm]}`
	cases := []struct {
		name  string
		stock string // section of the bar; the sheet "plate" is 10 mm thick
		part  string
		want  float64
	}{
		{name: "round", stock: "{round: {d: 10 mm}}", part: "made: cut, stock: bar, length: 100 mm", want: disc(10) * 100},
		{name: "square", stock: "{square: {side: 20 mm}}", part: "made: cut, stock: bar, length: 50 mm", want: 20 * 20 * 50},
		{name: "rectangle, corners round", stock: "{rectangle: {size: [20 mm, 10 mm], corner: 2 mm}}", part: "made: cut, stock: bar, length: 50 mm", want: (20*10 - (4-math.Pi)*4) * 50},
		{name: "tube", stock: "{tube: {d: 20 mm, wall: 2 mm}}", part: "made: cut, stock: bar, length: 100 mm", want: (disc(20) - disc(16)) * 100},
		{name: "box", stock: "{box: {size: [30 mm, 20 mm], wall: 2 mm}}", part: "made: cut, stock: bar, length: 100 mm", want: (30*20 - 26*16) * 100},
		{name: "angle", stock: "{angle: {size: [30 mm, 20 mm], wall: 3 mm}}", part: "made: cut, stock: bar, length: 100 mm", want: (30*3 + 17*3) * 100},
		{name: "channel", stock: "{channel: {size: [30 mm, 20 mm], wall: 3 mm}}", part: "made: cut, stock: bar, length: 100 mm", want: (30*3 + 2*17*3) * 100},
		// Each pocket narrows at 45 degrees from 16 mm to the slot's 8 within its 7.2 mm.
		{name: "slotted bar", stock: "{slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9.2 mm, pocket: 16 mm, core: 6.8 mm}}", part: "made: cut, stock: bar, length: 10 mm, lies: z", want: (30*30 - 4*(8*2+16*3.2+(16+8)/2*4) - disc(6.8)) * 10},
		{name: "free outline", stock: "{outline: [[0 mm, 0 mm], [30 mm, 0 mm], [0 mm, 40 mm]]}", part: "made: cut, stock: bar, length: 10 mm", want: 30 * 40 / 2 * 10},
		{name: "threaded bar", stock: "{thread: M6}", part: "made: cut, stock: bar, length: 100 mm", want: disc(6) * 100},
		{name: "inches", stock: "{round: {d: 1/2 in}}", part: "made: cut, stock: bar, length: 1 ft", want: disc(12.7) * 304.8},

		{name: "sheet", part: "made: sheet, " + plate, want: 100 * 60 * 10},
		{name: "sheet, corners round", part: "made: sheet, stock: plate, outline: {rectangle: [100 mm, 60 mm], corners: {round: 8 mm}}", want: (100*60 - (4-math.Pi)*64) * 10},
		{name: "sheet, corners chamfered", part: "made: sheet, stock: plate, outline: {rectangle: [100 mm, 60 mm], corners: {chamfer: 5 mm}}", want: (100*60 - 4*12.5) * 10},
		{name: "disc", part: "made: sheet, stock: plate, outline: {circle: 50 mm}", want: disc(50) * 10},
		{name: "polygon", part: "made: sheet, stock: plate, outline: {polygon: [[0 mm, 0 mm], [60 mm, 0 mm], [60 mm, 20 mm], [20 mm, 20 mm], [20 mm, 50 mm], [0 mm, 50 mm]]}", want: (60*20 + 20*30) * 10},
		{name: "path with half circles", part: "made: sheet, stock: plate, outline: {path: [{from: [0 mm, 0 mm]}, {to: [40 mm, 0 mm]}, {arc: [40 mm, 20 mm], radius: 10 mm, turn: left}, {to: [0 mm, 20 mm]}, {arc: [0 mm, 0 mm], radius: 10 mm, turn: left}]}", want: (40*20 + disc(20)) * 10},

		{name: "box and cylinder", part: "made: machined, material: steel_s235, shape: [{box: [40 mm, 40 mm, 10 mm]}, {cylinder: {d: 20 mm, l: 30 mm}, at: [10 mm, 10 mm, 10 mm]}]", want: 40*40*10 + disc(20)*30},
		{name: "cylinder lying along x cut from a box", part: "made: machined, material: steel_s235, shape: [{box: [50 mm, 30 mm, 30 mm]}, {cylinder: {d: 10 mm, l: 50 mm}, axis: x, at: [0 mm, 10 mm, 10 mm], cut: yes}]", want: 50*30*30 - disc(10)*50},
		{name: "pipe", part: "made: turned, material: steel_s235, shape: [{tube: {d: 20 mm, bore: 8 mm, l: 15 mm}}]", want: (disc(20) - disc(8)) * 15},
		{name: "cone", part: "made: turned, material: steel_s235, shape: [{cone: {d: 20 mm, to: 10 mm, l: 30 mm}}]", want: math.Pi * 30 / 12 * (20*20 + 20*10 + 10*10)},
		{name: "prism", part: "made: machined, material: steel_s235, shape: [{prism: {outline: [[0 mm, 0 mm], [30 mm, 0 mm], [0 mm, 30 mm]], l: 20 mm}}]", want: 450 * 20},
		{name: "turned", part: "made: turned, material: steel_s235, shape: [{turned: [{d: 20 mm, l: 10 mm}, {d: 12 mm, l: 40 mm}, {d: 8 mm, l: 5 mm}]}]", want: disc(20)*10 + disc(12)*40 + disc(8)*5},
		{name: "threaded end: plain at its major diameter", part: "made: turned, material: steel_s235, shape: [{turned: [{thread: M8, l: 20 mm}, {d: 12 mm, l: 40 mm}]}]", want: disc(8)*20 + disc(12)*40},
		{name: "threaded cylinder", part: "made: turned, material: steel_s235, shape: [{cylinder: {thread: Tr16x4, l: 100 mm}}]", want: disc(16) * 100},

		{name: "bore", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], bore: 12 mm}}", want: 60000 - disc(12)*10},
		{name: "bore with depth", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], bore: 12 mm, depth: 4 mm}}", want: 60000 - disc(12)*4},
		{name: "clearance for M8, medium 9 mm: ISO 273", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], for: M8}}", want: 60000 - disc(9)*10},
		{name: "clearance for M8, fine 8.4 mm: ISO 273", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], for: M8, fit: fine}}", want: 60000 - disc(8.4)*10},
		{name: "tap through: drill 6.8 mm", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], tap: M8}}", want: 60000 - disc(6.8)*10},
		// A blind tap hole has the drill's point below its depth: 118 degrees.
		{name: "tap with depth", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], tap: M5, depth: 5 mm}}", want: 60000 - disc(4.2)*5 - disc(4.2)*2.1/math.Tan(59*math.Pi/180)/3},
		{name: "grid", part: "made: sheet, " + plate + ", holes: {h: {grid: {from: [10 mm, 10 mm], step: [20 mm, 20 mm], count: [4, 2]}, bore: 5 mm}}", want: 60000 - 8*disc(5)*10},
		{name: "circle of holes", part: "made: sheet, " + plate + ", holes: {h: {circle: {centre: [50 mm, 30 mm], d: 40 mm, count: 6}, bore: 5 mm}}", want: 60000 - 6*disc(5)*10},
		{name: "line of holes", part: "made: sheet, " + plate + ", holes: {h: {line: {from: [10 mm, 10 mm], step: [15 mm, 5 mm], count: 5}, bore: 5 mm}}", want: 60000 - 5*disc(5)*10},
		{name: "points", part: "made: sheet, " + plate + ", holes: {h: {points: [[10 mm, 10 mm], [33 mm, 44 mm], [80 mm, 20 mm]], bore: 5 mm}}", want: 60000 - 3*disc(5)*10},
		{name: "slot", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], slot: {long: 20 mm, wide: 8 mm, along: x}}}", want: 60000 - (12*8+disc(8))*10},
		{name: "counterbore", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], bore: 9 mm, counterbore: {d: 15 mm, depth: 6 mm}}}", want: 60000 - disc(15)*6 - disc(9)*4},
		// 90 degrees: the cone from 12 to 6 mm is 3 mm high.
		{name: "countersink", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], bore: 6 mm, countersink: {d: 12 mm, angle: 90 deg}}}", want: 60000 - math.Pi*3/12*(144+72+36) - disc(6)*7},
		{name: "hole across a bar", stock: "{square: {side: 20 mm}}", part: "made: cut, stock: bar, length: 50 mm, holes: {h: {face: front, at: [25 mm, 10 mm], bore: 6 mm}}", want: 20*20*50 - disc(6)*20},
		{name: "hole through one wall of a box", stock: "{box: {size: [30 mm, 20 mm], wall: 2 mm}}", part: "made: cut, stock: bar, length: 100 mm, holes: {h: {face: top, at: [50 mm, 15 mm], bore: 6 mm}}", want: (30*20-26*16)*100 - disc(6)*2},
		{name: "hole through all walls of a box", stock: "{box: {size: [30 mm, 20 mm], wall: 2 mm}}", part: "made: cut, stock: bar, length: 100 mm, holes: {h: {face: top, at: [50 mm, 15 mm], bore: 6 mm, through: all}}", want: (30*20-26*16)*100 - disc(6)*4},
		{name: "seat for the plan's insert", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], insert: M4}}", want: 60000 - disc(5.6)*10},
		{name: "bore that a screw forms its thread in", part: "made: sheet, " + plate + ", holes: {h: {at: [50 mm, 30 mm], forms: M4, bore: 3.6 mm}}", want: 60000 - disc(3.6)*10},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			section := c.stock
			if section == "" {
				section = "{round: {d: 1 mm}}"
			}
			r := trial.Reckoning(t, trial.Files{
				"stock.yaml": fmt.Sprintf("bar: {title: Bar, section: %s, material: steel_s235}\nplate: {title: Plate, sheet: 10 mm, material: steel_s235}\n", section),
				"parts/all.yaml": fmt.Sprintf("it: {title: It, %s}\n", c.part) +
					"insert_m4: {title: Insert, made: bought, fastener: {insert: M4, seat: 5.6 mm, length: 8 mm}}\n",
				"assemblies/rig.yaml": "title: Rig\nholds: {it: {part: it, at: [0 mm, 0 mm, 0 mm]}}\n",
			})
			p := r.Part("it")
			trial.Clean(t, r.Findings())
			if p.Solid == nil {
				t.Fatal("no solid")
			}
			if got := p.Measures.Volume; math.Abs(got-c.want) > 1e-6*c.want {
				t.Errorf("volume %.4f mm³, want %.4f", got, c.want)
			}
			if want := c.want / 1e9 * p.Material.Density; !p.Weighed || math.Abs(p.Mass-want) > 1e-6*want {
				t.Errorf("mass %g kg, want %g", p.Mass, want)
			}
		})
	}
}

// A thread about a bar is the face's, for drawings and for what runs on it.
func TestThreadsAboutBars(t *testing.T) {
	for _, shape := range []string{"{cylinder: {thread: Tr16x4, l: 100 mm}, name: spindle}", "{turned: [{d: 20 mm, l: 5 mm}, {thread: Tr16x4, l: 100 mm}]}"} {
		r := trial.Reckoning(t, trial.Files{"parts/all.yaml": "it: {title: It, made: turned, material: steel_s235, shape: [" + shape + "]}\n"})
		var threaded int
		for _, f := range r.Part("it").Solid.Faces {
			if f.Thread != nil && f.Thread.Designation == "Tr16x4" && f.Thread.Pitch == 4 {
				threaded++
			}
		}
		trial.Clean(t, r.Findings())
		if threaded != 1 {
			t.Errorf("%s: %d threaded faces, want one", shape, threaded)
		}
	}
}

const bodies = `bracket: {title: Bracket, made: bought, mass: 100 g, shape: [{box: [40 mm, 20 mm, 10 mm]}], holes: {leg: {at: [10 mm, 10 mm], for: M6}, other: {at: [30 mm, 10 mm], bore: 4 mm}}}
opened: {title: Opened, made: altered, of: bracket, holes: {leg: {at: [10 mm, 10 mm], for: M8}}, because: B}
wider: {title: Wider, made: altered, of: opened, holes: {slit: {at: [20 mm, 10 mm], bore: 5 mm}}, because: B}
`

// An altered part has its base's holes, its own in place of those of the same
// name, and its base's mass less the share that is taken away.
func TestAlteredParts(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{"parts/all.yaml": bodies})
	const box = 40 * 20 * 10
	base := box - disc(6.6)*10 - disc(4)*10
	opened := box - disc(9)*10 - disc(4)*10
	cases := []struct {
		id     string
		volume float64
	}{
		{"bracket", base}, {"opened", opened}, {"wider", opened - disc(5)*10},
	}
	for _, c := range cases {
		p := r.Part(c.id)
		if math.Abs(p.Measures.Volume-c.volume) > 1e-6*c.volume {
			t.Errorf("%s: volume %.3f mm³, want %.3f", c.id, p.Measures.Volume, c.volume)
		}
		if want := 0.1 * c.volume / base; !p.Weighed || math.Abs(p.Mass-want) > 1e-9 {
			t.Errorf("%s: mass %g kg, want %g", c.id, p.Mass, want)
		}
	}
	trial.Clean(t, r.Findings())
}

// A mass that is given beats one by the stock, which beats the computed one; holes
// take their share of what the stock weighs.
func TestMasses(t *testing.T) {
	const holed = "holes: {h: {at: [50 mm, 10 mm], bore: 10 mm}}"
	share := 1 - disc(10)*20/(20*20*100)
	cases := []struct {
		name, stock, part string
		want              float64
	}{
		{name: "given", stock: "section: {square: {side: 20 mm}}, mass: 2 kg/m", part: "made: cut, length: 100 mm, mass: 3 kg", want: 3},
		{name: "by length", stock: "section: {square: {side: 20 mm}}, mass: 2 kg/m", part: "made: cut, length: 100 mm", want: 0.2},
		{name: "by length, with a hole", stock: "section: {square: {side: 20 mm}}, mass: 2 kg/m", part: "made: cut, length: 100 mm, " + holed, want: 0.2 * share},
		{name: "by area", stock: "sheet: 20 mm, mass: 5 kg/m^2", part: "made: sheet, outline: {rectangle: [100 mm, 20 mm]}", want: 5 * 0.1 * 0.02},
		{name: "by area, with a hole", stock: "sheet: 20 mm, mass: 5 kg/m^2", part: "made: sheet, outline: {rectangle: [100 mm, 20 mm]}, " + holed, want: 5 * 0.1 * 0.02 * share},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{
				"stock.yaml":     "raw: {title: Raw, material: steel_s235, " + c.stock + "}\n",
				"parts/all.yaml": "it: {title: It, stock: raw, " + c.part + "}\n",
			})
			p := r.Part("it")
			trial.Clean(t, r.Findings())
			if !p.Weighed || math.Abs(p.Mass-c.want) > 1e-9 {
				t.Errorf("mass %g kg (known: %v), want %g", p.Mass, p.Weighed, c.want)
			}
		})
	}
}

// Shapes that cannot be are findings at the words that say so, never a panic.
func TestShapesThatCannotBe(t *testing.T) {
	cases := []struct {
		name, part, at string
	}{
		{name: "hole beside the part", part: "made: sheet, stock: plate, outline: {rectangle: [100 mm, 60 mm]}, holes: {h: {at: [500 mm, 30 mm], bore: 5 mm}}", at: "[500 mm, 30 mm]"},
		{name: "length of nothing", part: "made: cut, stock: bar, length: 0 mm", at: "0 mm"},
		{name: "length below nothing", part: "made: cut, stock: bar, length: -5 mm", at: "-5 mm"},
		{name: "arc that reaches nothing", part: "made: sheet, stock: plate, outline: {path: [{from: [0 mm, 0 mm]}, {to: [90 mm, 0 mm]}, {arc: [0 mm, 50 mm], radius: 1 mm, turn: left}]}", at: "{arc: [0 mm, 50 mm], radius: 1 mm, turn: left}"},
		{name: "pattern of none", part: "made: sheet, stock: plate, outline: {rectangle: [100 mm, 60 mm]}, holes: {h: {line: {from: [5 mm, 5 mm], step: [1 mm, 0 mm], count: 0}, bore: 5 mm}}", at: "{from: [5 mm, 5 mm], step: [1 mm, 0 mm], count: 0}"},
		{name: "thread that no table has", part: "made: sheet, stock: plate, outline: {rectangle: [100 mm, 60 mm]}, holes: {h: {at: [50 mm, 30 mm], tap: M7.5}}", at: "M7.5"},
		{name: "thread that no table has, about a bar", part: "made: turned, material: steel_s235, shape: [{cylinder: {thread: M7.5, l: 10 mm}}]", at: "M7.5"},
		{name: "thread cut away", part: "made: machined, material: steel_s235, shape: [{box: [20 mm, 20 mm, 20 mm]}, {cylinder: {thread: M8, l: 20 mm}, at: [5 mm, 5 mm, 0 mm], cut: yes}]", at: "M8"},
		{name: "outline that crosses itself", part: "made: sheet, stock: plate, outline: {polygon: [[0 mm, 0 mm], [10 mm, 10 mm], [10 mm, 0 mm], [0 mm, 10 mm]]}", at: "{polygon: [[0 mm, 0 mm], [10 mm, 10 mm], [10 mm, 0 mm], [0 mm, 10 mm]]}"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := trial.Files{
				"stock.yaml":     "bar: {title: Bar, section: {round: {d: 10 mm}}, material: steel_s235}\nplate: {title: Plate, sheet: 10 mm, material: steel_s235}\n",
				"parts/all.yaml": "it: {title: It, " + c.part + "}\n",
			}
			p, _ := trial.Read(t, files)
			r := reckon.New(p, reckon.Default(p), nil)
			r.Part("it")
			found := r.Findings()
			if len(found) != 1 {
				t.Fatalf("%d findings, want one:\n%s", len(found), said(found))
			}
			if got := trial.Covered(files, found[0]); got != c.at {
				t.Errorf("marks %q, want %q: %s", got, c.at, found[0].Message)
			}
		})
	}
}
