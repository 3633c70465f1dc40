package joint_test

import (
	"math"
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
	"plansheaf/design/trial"
)

// rig holds a lid on a body by one joint.
func rig(screw, body, joint, more string) trial.Files {
	return trial.Files{
		"stock.yaml": `alu: {title: A, section: {square: {side: 40 mm}}, material: aluminium_6063}
steel: {title: S, section: {square: {side: 40 mm}}, material: steel_s235}
slotted: {title: B, section: {slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9 mm, pocket: 16 mm}}, material: aluminium_6063}
`,
		"parts/all.yaml": "screw: {standard: " + screw + "}\nbody: {title: Body, " + body + "}\nlid: {title: Lid, made: cut, stock: steel, length: 10 mm, holes: {h: {face: right, at: [20 mm, 20 mm], bore: 20 mm}}}\n" + more,
		"assemblies/rig.yaml": `title: Rig
holds: {lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}, body: {part: body, at: [10 mm, 0 mm, 0 mm]}}
joints: {hold: ` + joint + `}
`,
	}
}

func TestTightening(t *testing.T) {
	const tapped = ", holes: {h: {face: left, at: [20 mm, 20 mm], tap: M8, depth: 20 mm}}"
	const through = "{screw: screw, through: [lid.h, body.h]}"
	cases := []struct {
		name  string
		files trial.Files
		want  float64 // N·m, two figures
		known bool
		limit string
	}{
		// One diameter of thread in steel bears π 8² × 0.75 × 235 × 0.577 × 0.5 = 10 224 N;
		// with friction 0.1 a newton takes 0.16 × 1.25 + 0.058 × 7.188 + (9 + 0.95 × 13) / 40
		// = 1.151 N mm: 11.8.
		{name: "M8 8.8 in soft steel", files: rig("ISO 4762 M8x25 - 8.8", "made: cut, stock: steel, length: 50 mm"+tapped, through, ""), want: 11, known: true, limit: "the thread in Structural steel S235JR"},
		// One and a half diameters: 1.5 × π 8² × 0.75 × 145 × 0.577 × 0.5 = 9462 N: 10.9.
		{name: "M8 in aluminium", files: rig("ISO 4762 M8x25 - 8.8", "made: cut, stock: alu, length: 50 mm"+tapped, through, ""), want: 10, known: true, limit: "the thread in Aluminium 6063-T5"},
		// Of 6 mm of thread instead of 12 half the force: 4731 N: 5.44.
		{name: "M8 in a shallow hole in aluminium", files: rig("ISO 4762 M8x16 - 8.8", "made: cut, stock: alu, length: 50 mm, holes: {h: {face: left, at: [20 mm, 20 mm], tap: M8, depth: 6 mm}}", through, ""), want: 5.4, known: true, limit: "the thread in Aluminium 6063-T5"},
		// Under the nut lie π/4 (11.7² − 9²) = 43.9 mm² that bear 165 MPa: 7244 N: 8.3.
		{name: "M8 with a nut on aluminium", files: rig("ISO 4762 M8x60 - 8.8", "made: cut, stock: alu, length: 20 mm, holes: {h: {face: left, at: [20 mm, 20 mm], for: M8}}", "{screw: screw, through: [lid.h, body.h], into: nut}", "nut: {standard: ISO 4032 M8 - 8}\n"), want: 8.3, known: true, limit: "the pressure under the nut on Aluminium 6063-T5"},
		// The screw decides on steel: 19.1 kN (VDI 2230, table A1) × 1.151 N mm = 22.0.
		{name: "M8 with a nut on steel", files: rig("ISO 4762 M8x60 - 8.8", "made: cut, stock: steel, length: 20 mm, holes: {h: {face: left, at: [20 mm, 20 mm], for: M8}}", "{screw: screw, through: [lid.h, body.h], into: nut, under_nut: [washer]}", "nut: {standard: ISO 4032 M8 - 8}\nwasher: {standard: ISO 7089 8}\n"), want: 21, known: true, limit: "the screw, class 8.8"},
		// Two lips of 2 mm over 2 × 8 mm: 64 mm² × 145 × 0.577 × 0.5 = 2677 N: 3.08.
		{name: "slot nut in a slotted bar", files: rig("ISO 4762 M8x16 - 8.8", "made: cut, stock: slotted, length: 50 mm", "{screw: screw, through: [lid.h, body.slot_front], into: nut}", "nut: {title: N, made: bought, fastener: {nut: M8, slot: 8 mm, height: 6 mm, goes_in: front}}\n"), want: 3, known: true, limit: "the lips of the slot"},
		{name: "thread in a part of unknown material", files: rig("ISO 4762 M8x25 - 8.8", "made: bought, shape: [{box: [40 mm, 40 mm, 40 mm]}]"+tapped, through, ""), limit: "the thread in a part whose material the plan does not say"},
		{name: "thread in wood", files: rig("ISO 4762 M8x25 - 8.8", "made: machined, material: birch_plywood, shape: [{box: [40 mm, 40 mm, 40 mm]}]"+tapped, through, ""), limit: "the thread in Birch plywood"},
		{name: "insert", files: rig("ISO 4762 M8x25 - 8.8", "made: printed, material: petg, shape: [{box: [40 mm, 40 mm, 40 mm]}], holes: {h: {face: left, at: [20 mm, 20 mm], insert: M8, depth: 12 mm}}", "{screw: screw, through: [lid.h, body.h], into: nut}", "nut: {title: N, made: bought, fastener: {insert: M8, seat: 10 mm, length: 12 mm}}\n"), limit: "the insert in PETG"},
		{name: "as the plan says", files: rig("ISO 4762 M8x25 - 8.8", "made: cut, stock: alu, length: 50 mm"+tapped, "{screw: screw, through: [lid.h, body.h], torque: 9 N*m}", ""), want: 9, known: true, limit: "the plan"},
		// By hand: d0 = 5.11 mm, twist 0.306, 20.5 mm² × 0.9 × 634 MPa / 1.132 = 10.3 kN (yield
		// of grade 5: SAE J429), times 0.943 N mm a newton.
		{name: "inch screw, grade 5", files: rig("ASME B18.2.1 1/4-20 x 1 grade 5", "made: cut, stock: steel, length: 20 mm, holes: {h: {face: left, at: [20 mm, 20 mm], bore: 20 mm}}", "{screw: screw, through: [lid.h, body.h], into: nut}", "nut: {title: N, made: bought, fastener: {nut: 1/4-20, height: 6 mm}}\n"), want: 9.8, known: true, limit: "the screw, class grade 5"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, c.files)
			a := r.Plan.Assembly("rig")
			got := joint.Tighten(r, a, a.Joint("hold"))
			trial.Clean(t, r.Findings())
			if got.Known != c.known || math.Abs(got.Torque.SI-c.want) > 1e-9 || got.Limit != c.limit || got.Hand {
				t.Errorf("%g N·m, known %v, limited by %q: want %g, %v, %q", got.Torque.SI, got.Known, got.Limit, c.want, c.known, c.limit)
			}
		})
	}
}

// The weakest of the parts that a joint threads into decides.
func TestWeakestThreadDecides(t *testing.T) {
	files := rig("ISO 4762 M8x25 - 8.8", "made: cut, stock: steel, length: 50 mm, holes: {h: {face: left, at: [20 mm, 20 mm], tap: M8, depth: 20 mm}}",
		"{screw: screw, through: [[lid.h, lid.h], [body.h, soft.h]]}",
		"soft: {title: Soft, made: cut, stock: alu, length: 50 mm, holes: {h: {face: left, at: [20 mm, 20 mm], tap: M8, depth: 20 mm}}}\n")
	files["assemblies/rig.yaml"] = `title: Rig
holds: {lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}, body: {part: body, at: [10 mm, 0 mm, 0 mm]}, soft: {part: soft, at: [10 mm, 50 mm, 0 mm]}}
joints: {hold: {screw: screw, through: [lid.h, [body.h, soft.h]]}}
`
	r := trial.Reckoning(t, files)
	a := r.Plan.Assembly("rig")
	if got := joint.Tighten(r, a, a.Joint("hold")); got.Limit != "the thread in Aluminium 6063-T5" {
		t.Errorf("limited by %q, want the aluminium", got.Limit)
	}
}

// TestNothingToTighten: what nothing turns gets neither a torque nor a word for it.
func TestNothingToTighten(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{
		"stock.yaml":          "plate: {title: P, sheet: 6 mm, material: steel_s235}\n",
		"parts/all.yaml":      "pin: {standard: ISO 8734 4x12}\nslab: {title: S, made: sheet, stock: plate, outline: {rectangle: [40 mm, 40 mm]}, holes: {h: {at: [20 mm, 20 mm], bore: 4 mm H7}}}\n",
		"assemblies/rig.yaml": "title: Rig\nholds: {a: {part: slab, at: [0 mm, 0 mm, 0 mm]}, b: {part: slab, at: [0 mm, 0 mm, 6 mm]}}\njoints: {hold: {pin: pin, through: [b.h, a.h]}}\n",
	})
	a := r.Plan.Assemblies[0]
	if got := joint.Tighten(r, a, a.Joints[0]); !got.Never || got.Known || got.Hand {
		t.Errorf("a pin is tightened: %+v", got)
	}
}

func TestHandTight(t *testing.T) {
	r := trial.Reckoning(t, rig("ISO 4762 M8x25 - 8.8", "made: cut, stock: alu, length: 50 mm, holes: {h: {face: left, at: [20 mm, 20 mm], tap: M8, depth: 20 mm}}", "{screw: screw, through: [lid.h, body.h], torque: hand}", ""))
	a := r.Plan.Assembly("rig")
	if got := joint.Tighten(r, a, a.Joint("hold")); !got.Hand || got.Known {
		t.Errorf("got %+v, want hand tight", got)
	}
}

// Hex keys by ISO 4762, ISO 10642 and ISO 7380-1, spanners by ISO 4017 and ISO 4032.
func TestTools(t *testing.T) {
	cases := []struct{ designation, kind, size string }{
		{"ISO 4762 M3x10 - 8.8", "hex key", "2.5 mm"},
		{"ISO 4762 M4x10 - 8.8", "hex key", "3 mm"},
		{"ISO 4762 M5x16 - 8.8", "hex key", "4 mm"},
		{"ISO 4762 M6x16 - 8.8", "hex key", "5 mm"},
		{"ISO 4762 M8x25 - 8.8", "hex key", "6 mm"},
		{"ISO 4762 M10x30 - 8.8", "hex key", "8 mm"},
		{"ISO 4762 M12x40 - 8.8", "hex key", "10 mm"},
		{"ISO 10642 M6x20 - 10.9", "hex key", "4 mm"},
		{"ISO 7380-1 M6x12 - 10.9", "hex key", "4 mm"},
		{"ISO 4017 M6x20 - 8.8", "spanner", "10 mm"},
		{"ISO 4017 M8x20 - 8.8", "spanner", "13 mm"},
		{"ISO 4017 M10x30 - 8.8", "spanner", "16 mm"},
		{"ISO 4032 M8 - 8", "spanner", "13 mm"},
		{"ISO 4032 M12 - 8", "spanner", "18 mm"},
		{"ISO 7089 8", "", ""},
	}
	for _, c := range cases {
		t.Run(c.designation, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{"parts/all.yaml": "it: {standard: " + c.designation + "}\n"})
			tool, ok := joint.ToolOf(r.Part("it"))
			if tool.Kind != c.kind || tool.Size != c.size || ok != (c.kind != "") {
				t.Errorf("%s %s, want %s %s", tool.Kind, tool.Size, c.kind, c.size)
			}
		})
	}
	if _, ok := joint.ToolOf(nil); ok {
		t.Error("a tool for no part")
	}
	if _, ok := joint.ToolOf(&reckon.Part{}); ok {
		t.Error("a tool for a part that is no fastener")
	}
}

// Preloads in kN and torques in N·m of VDI 2230 Part 1 (2001) for fine threads and
// hexagon heads, as a fastener maker prints them; least dw of ISO 8765, holes ISO 273
// medium.
func TestPreloadsOfVDI2230(t *testing.T) {
	cases := []struct {
		thread      string
		head, hole  float64
		friction    float64
		yield       float64
		force, turn float64
	}{
		{"M8x1", 11.63, 9, 0.10, 640, 20.7, 22.8}, {"M8x1", 11.63, 9, 0.12, 640, 20.2, 26.1}, {"M8x1", 11.63, 9, 0.14, 640, 19.7, 29.2},
		{"M8x1", 11.63, 9, 0.12, 940, 29.7, 38.3}, {"M8x1", 11.63, 9, 0.12, 1100, 34.7, 44.9},
		{"M10x1.25", 14.63, 11, 0.10, 640, 32.4, 44}, {"M10x1.25", 14.63, 11, 0.12, 640, 31.6, 51}, {"M10x1.25", 14.63, 11, 0.12, 940, 46.4, 75},
		{"M12x1.25", 16.63, 13.5, 0.12, 640, 48.0, 90}, {"M12x1.25", 16.63, 13.5, 0.14, 940, 68.7, 149},
		{"M14x1.5", 19.64, 15.5, 0.12, 640, 64.8, 142}, {"M14x1.5", 19.64, 15.5, 0.14, 1100, 108.7, 274},
		{"M20x1.5", 28.19, 22, 0.10, 660, 151, 392}, {"M20x1.5", 28.19, 22, 0.14, 940, 206, 728},
		{"M24x2", 33.61, 26, 0.12, 660, 209, 769}, {"M24x2", 33.61, 26, 0.12, 1100, 348, 1282},
		{"M16x1.5", 22.49, 17.5, 0.10, 640, 89.6, 189}, {"M16x1.5", 22.49, 17.5, 0.12, 640, 87.6, 218}, {"M16x1.5", 22.49, 17.5, 0.14, 1100, 146.9, 420},
	}
	for _, c := range cases {
		thread, known := standards.ThreadByName(c.thread)
		if !known {
			t.Fatal(c.thread)
		}
		force := joint.AssemblyPreload(thread, c.yield, c.friction)
		turn := force * joint.TorquePerForce(thread, c.friction, c.hole, c.head)
		if math.Abs(force/1000-c.force) > 0.006*c.force || math.Abs(turn-c.turn) > 0.015*c.turn {
			t.Errorf("%s, friction %g, %g MPa: %.1f kN and %.1f N·m, want %g and %g", c.thread, c.friction, c.yield, force/1000, turn, c.force, c.turn)
		}
	}
}

// Coarse threads against the same guideline's table before 2001, as a dealer of metric
// screws prints it, friction 0.10, kN and N·m for cap screws: the edition of 2001 lies up to
// a tenth above it, for it uses more of the screw, and never below. Yields are the classes'
// nominal ones, as was usual then: 640, 900 and 1080 MPa.
func TestPreloadsOfCoarseThreads(t *testing.T) {
	yields := map[string]float64{"8.8": 640, "10.9": 900, "12.9": 1080}
	for _, c := range []struct {
		thread      string
		class       string
		force, turn float64
	}{
		{"M4", "8.8", 4.2, 2.4}, {"M5", "8.8", 6.9, 4.9}, {"M6", "8.8", 9.75, 8}, {"M8", "8.8", 17.9, 20}, {"M10", "8.8", 28.4, 40}, {"M12", "8.8", 41.5, 69}, {"M16", "8.8", 78.5, 170},
		{"M6", "10.9", 13.7, 12}, {"M8", "10.9", 25.1, 28}, {"M10", "10.9", 40, 56}, {"M12", "10.9", 58.5, 98},
		{"M6", "12.9", 16.4, 14}, {"M8", "12.9", 30.2, 34}, {"M12", "12.9", 70, 115},
	} {
		f, err := standards.Parse("ISO 4762 " + c.thread + "x40 - " + c.class)
		hole, known := standards.Clearance(f.Thread, "")
		if err != nil || !known {
			t.Fatal(c.thread, err)
		}
		force := joint.AssemblyPreload(f.Thread, yields[c.class], 0.10) / 1000
		turn := force * 1000 * joint.TorquePerForce(f.Thread, 0.10, hole, f.Head.Diameter*0.95)
		if force < 0.995*c.force || force > 1.1*c.force || turn < 0.95*c.turn || turn > 1.17*c.turn {
			t.Errorf("%s %s: %.1f kN and %.1f N·m, the older table has %g and %g", c.thread, c.class, force, turn, c.force, c.turn)
		}
	}
}
