package sequence_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/reckon"
	"plansheaf/design/sequence"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
	"plansheaf/design/standards"
	"plansheaf/design/trial"
)

// record works a small plan out.
func record(t testing.TB, files trial.Files) *sequence.Record {
	t.Helper()
	r := trial.Reckoning(t, files)
	r.All()
	trial.Clean(t, r.Findings())
	l := layout.Of(r)
	trial.Clean(t, l.Findings())
	return sequence.Of(r, l, sequence.NewGraph(r), nil)
}

// said are the obstructions in a few words.
func said(rec *sequence.Record) []string {
	var list []string
	for _, o := range rec.Obstructions {
		text := fmt.Sprintf("%d %s", o.Kind, o.Name)
		if o.Step >= 0 {
			text += " in " + rec.Graph.Say(o.Step)
		}
		if o.Since >= 0 {
			text += fmt.Sprintf(" by %s since %s", o.Blocks.Name(), rec.Graph.Say(o.Since))
		}
		if o.Latest >= 0 {
			text += " latest " + rec.Graph.Say(o.Latest)
		}
		list = append(list, text)
	}
	return list
}

func expect(t *testing.T, rec *sequence.Record, want ...string) {
	t.Helper()
	got := said(rec)
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
		for _, o := range rec.Obstructions {
			t.Log(o.Name, o.Tried)
		}
	}
}

// roofed holds a clamp on a floor under a roof. Its M6 screw ends 25 mm above the
// ground; the short arm of a 5 mm key is 33 mm long (ISO 2936), all of which it needs
// above the screw to be lifted out of the socket.
func roofed(roof float64) trial.Files {
	return trial.Files{
		"parts/p.yaml": fmt.Sprintf(`cap: {standard: ISO 4762 M6x16 - 8.8}
clamp: {title: Clamp, made: bought, shape: [{box: [40 mm, 40 mm, 9 mm]}], holes: {h: {at: [20 mm, 20 mm], for: M6}}}
frame:
  title: Frame
  made: bought
  shape: [{box: [60 mm, 60 mm, 10 mm]}, {box: [60 mm, 10 mm, %[1]g mm], at: [0 mm, 50 mm, 0 mm]}, {box: [60 mm, 60 mm, 8 mm], at: [0 mm, 0 mm, %[1]g mm]}]
  holes: {h: {face: bottom, at: [30 mm, 25 mm], tap: M6, depth: 10 mm}}
`, roof),
		"assemblies/rig.yaml": `title: Rig
holds: {frame: {part: frame, at: [0 mm, 0 mm, 0 mm]}, clamp: {part: clamp, at: [10 mm, 5 mm, 10 mm]}}
joints: {hold: {screw: cap, through: [clamp.h, frame.h]}}
steps:
  lay: {title: Lay, adds: [frame], text: T}
  fix: {title: Fix, adds: [clamp], fastens: [hold], text: T}
`,
	}
}

func TestKeyThatMissesByLittle(t *testing.T) {
	for _, c := range []struct {
		roof float64
		ok   bool
	}{{57, false}, {57.9, false}, {58.06, true}, {70, true}} {
		rec := record(t, roofed(c.roof))
		if ok := len(rec.Obstructions) == 0; ok != c.ok {
			t.Errorf("roof at %g mm: %v", c.roof, said(rec))
		}
	}
	rec := record(t, roofed(57))
	if len(rec.Obstructions) != 1 || !strings.Contains(rec.Obstructions[0].Tried[0], "takes 33 mm above the screw, frame leaves 32 mm") {
		t.Errorf("told %v", rec.Obstructions)
	}
}

// A screw behind a lead screw cannot be reached once the lead screw is in: common
// practice, no source.
func TestScrewBehindLeadScrew(t *testing.T) {
	files := trial.Files{
		"stock.yaml": "rod: {title: Rod, section: {round: {d: 20 mm}}, material: steel_s235}\n",
		"parts/p.yaml": `cap: {standard: ISO 4762 M5x12 - 8.8}
wall: {title: Wall, made: bought, shape: [{box: [100 mm, 10 mm, 200 mm]}], holes: {h: {face: front, at: [50 mm, 100 mm], tap: M5, depth: 10 mm}}}
plate: {title: Plate, made: bought, shape: [{box: [30 mm, 5 mm, 30 mm]}], holes: {h: {face: front, at: [15 mm, 15 mm], for: M5}}}
lead: {title: Lead screw, made: cut, stock: rod, lies: z, length: 200 mm}
`,
		"assemblies/rig.yaml": `title: Rig
holds: {wall: {part: wall, at: [0 mm, 40 mm, 0 mm]}, plate: {part: plate, at: [35 mm, 35 mm, 85 mm]}, lead: {part: lead, at: [40 mm, 0 mm, 0 mm]}}
joints: {hold: {screw: cap, through: [plate.h, wall.h]}}
steps:
  stand: {title: Stand, adds: [wall], text: T}
  hang: {title: Hang, adds: [plate], fastens: [hold], loose: [hold], text: T}
  lead_in: {title: Lead, adds: [lead], text: T}
  pull: {title: Pull, tightens: [hold], text: T}
`,
	}
	rec := record(t, files)
	expect(t, rec, "0 hold in rig.pull by lead since rig.lead_in latest rig.hang")
	if got := rec.Remedy(rec.Obstructions[0]); got != "tighten it right after rig.hang at the latest, while there is room" {
		t.Errorf("remedy %q", got)
	}
	proposals := rec.Propose()
	if len(proposals) != 1 || proposals[0].Left != 0 || len(proposals[0].Moves) != 1 {
		t.Fatalf("proposals %+v", proposals)
	}
	var order []string
	for _, k := range proposals[0].Order {
		order = append(order, rec.Graph.Steps[k].Step.ID.Text)
	}
	if got := strings.Join(order, " "); got != "stand hang pull lead_in" {
		t.Errorf("proposed %s", got)
	}
	files["assemblies/rig.yaml"] = strings.Replace(files["assemblies/rig.yaml"], "at: [40 mm, 0 mm, 0 mm]", "at: [70 mm, 0 mm, 0 mm]", 1)
	expect(t, record(t, files)) // beside it there is room
}

// A screw under a platen is reached with the platen up.
func TestMachineIsMovedOutOfTheWay(t *testing.T) {
	files := trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nmotions: {stroke: {from: 0 mm, to: 100 mm, about: up}}\n",
		"parts/p.yaml": `cap: {standard: ISO 4762 M6x16 - 8.8}
clamp: {title: Clamp, made: bought, shape: [{box: [40 mm, 40 mm, 9 mm]}], holes: {h: {at: [20 mm, 20 mm], for: M6}}}
floor: {title: Floor, made: bought, shape: [{box: [60 mm, 60 mm, 10 mm]}], holes: {h: {face: bottom, at: [30 mm, 25 mm], tap: M6, depth: 10 mm}}}
platen: {title: Platen, made: bought, shape: [{box: [500 mm, 500 mm, 8 mm]}]}
`,
		"assemblies/rig.yaml": `title: Rig
holds: {floor: {part: floor, at: [0 mm, 0 mm, 0 mm]}, clamp: {part: clamp, at: [10 mm, 5 mm, 10 mm]}, platen: {part: platen, at: [-200 mm, -200 mm, 30 mm], moves: {along: z, by: stroke}}}
joints: {hold: {screw: cap, through: [clamp.h, floor.h]}}
steps:
  lay: {title: Lay, adds: [floor, clamp], fastens: [hold], loose: [hold], text: T}
  hang: {title: Hang, adds: [platen], text: T}
  pull: {title: Pull, tightens: [hold], text: T}
`,
	}
	expect(t, record(t, files))
	files["plan.yaml"] = strings.Replace(files["plan.yaml"], "to: 100 mm", "to: 10 mm", 1)
	expect(t, record(t, files), "0 hold in rig.pull by platen since rig.hang latest rig.lay")
}

// The mistakes that the example plan had: its side guard's lowest screw stood before
// the wall of the control box, the mould could not be lifted over its pins under the
// back guard, and what its texts said of how the frame lies no step did.
func TestMistakesOfTheExample(t *testing.T) {
	cases := []struct {
		name     string
		file     string
		old, new string
		want     []string
	}{
		{name: "as it is"},
		{
			name: "guard turned the other way", file: "assemblies/press.yaml", old: "turn: [z 180 deg, y -90 deg]", new: "turn: y 90 deg",
			want: []string{
				"3 right_guard_to_post in press.fit_side_guards by control.body since press.control_on_board",
				"0 right_guard_to_post in press.fit_side_guards by control.body since press.control_on_board",
			},
		},
		{
			name: "posts screwed on through the bench", file: "assemblies/base.yaml", old: "    rests_on: top\n", new: "",
			want: []string{"10 bed_to_post in base.stand_posts"},
		},
		{
			name: "nuts held under the board with the base standing", file: "assemblies/base.yaml", old: "    rests_on: back\n    fastens: [board_to_bed]", new: "    fastens: [board_to_bed]",
			want: []string{"10 board_to_bed in base.board_on"},
		},
		{
			name: "back guard lower", file: "assemblies/press.yaml", old: "at: [0 mm, 190 mm, 67 mm]", new: "at: [0 mm, 190 mm, 55 mm]",
			want: []string{"8 mould in press.place_mould by back_guard since press.fit_back_guard latest press.close_panel"},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := fstest.MapFS{}
			root := "../../example-plan"
			err := filepath.WalkDir(root, func(name string, d os.DirEntry, err error) error {
				if err != nil || d.IsDir() {
					return err
				}
				data, err := os.ReadFile(name)
				rel, _ := filepath.Rel(root, name)
				files[filepath.ToSlash(rel)] = &fstest.MapFile{Data: data}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
			if c.file != "" {
				text := string(files[c.file].Data)
				if strings.Count(text, c.old) != 1 {
					t.Fatalf("%q stands %d times in %s", c.old, strings.Count(text, c.old), c.file)
				}
				files[c.file].Data = []byte(strings.Replace(text, c.old, c.new, 1))
			}
			p, found, err := source.Read(files, source.DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range found {
				if f.Severity == finding.Error {
					t.Error(f.Message)
				}
			}
			r := reckon.New(p, reckon.Default(p), nil)
			r.All()
			expect(t, sequence.Of(r, layout.Of(r), sequence.NewGraph(r), nil), c.want...)
		})
	}
}

func TestCard(t *testing.T) {
	rec := record(t, trial.Files{
		"tools.yaml": "crane: {title: Crane, lifts: 60 kg}\n",
		"parts/p.yaml": `bolt: {standard: ISO 4017 M8x30 - 8.8}
nut: {standard: ISO 4032 M8 - 8}
washer: {standard: ISO 7089 8}
top: {title: Top, made: bought, mass: 3 kg, shape: [{box: [60 mm, 40 mm, 8 mm]}], holes: {h: {line: {from: [15 mm, 20 mm], step: [30 mm, 0 mm], count: 2}, for: M8}}}
base: {title: Base, made: bought, mass: 50 kg, shape: [{box: [60 mm, 40 mm, 8 mm]}], holes: {h: {line: {from: [15 mm, 20 mm], step: [30 mm, 0 mm], count: 2}, for: M8}}}
`,
		"assemblies/rig.yaml": `title: Rig
holds: {base: {part: base, at: [0 mm, 0 mm, 0 mm]}, top: {part: top, at: [0 mm, 0 mm, 8 mm]}}
joints: {hold: {screw: bolt, under_head: [washer], through: [top.h, base.h], into: nut}}
steps:
  set: {title: Set, adds: [base], tools: [crane], people: 2, time: 10 min, text: T}
  join: {title: Join, rests_on: front, adds: [top], fastens: [hold], people: 2, tools: [crane], text: T}
`,
	})
	expect(t, rec)
	set, join := rec.Card(0), rec.Card(1)
	if set.People != 2 || !set.Timed || math.Abs(set.Time.SI-600) > 1e-9 || !set.Lift.Hoist || set.Lift.Mass != 50 || set.Lift.Limit != 33 || !set.Lift.Known {
		t.Errorf("set: %+v", set)
	}
	if len(set.Bag) != 1 || set.Bag[0].Count != 1 || len(set.Joints) != 0 {
		t.Errorf("set: bag %+v", set.Bag)
	}
	var bag []string
	for _, i := range join.Bag {
		bag = append(bag, fmt.Sprintf("%d %s", i.Count, i.Part.Part.ID.Text))
	}
	if got := strings.Join(bag, ", "); got != "1 top, 2 bolt, 2 washer, 2 nut" {
		t.Errorf("bag %s", got)
	}
	if r := join.Rest; !r.Turned() || r.Mass != 50 || !r.Known || r.Limit != 33 || !r.Hoist {
		t.Errorf("laid on its front: %+v", r)
	}
	if join.Lift.Limit != 33 || join.Lift.Mass != 3 || len(join.Joints) != 1 {
		t.Fatalf("join: %+v", join)
	}
	w := join.Joints[0]
	// ISO 4017 and ISO 4032: 13 mm across flats for M8.
	if w.Places != 2 || w.Length != "30" || w.Started || !w.Tight.Known || len(w.Tools) != 1 || w.Tools[0] != (sequence.Wrench{Kind: "spanner", Size: "13 mm"}) || len(w.Holds) != 1 || w.Holds[0].Size != "13 mm" {
		t.Errorf("work %+v", w)
	}
	for _, tool := range rec.Tools() {
		if tool.Kind == "spanner" && (tool.Turns() != 4 || len(tool.Steps) != 1) {
			t.Errorf("spanner: %d turns in %v", tool.Turns(), tool.Steps)
		}
	}
}

// Circles through more than one assembly.
func TestCircles(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{
		"parts/p.yaml":          "a: {title: A, made: bought, shape: [{box: [9 mm, 9 mm, 9 mm]}]}\n",
		"assemblies/rig.yaml":   "title: Rig\nholds: {inner: {assembly: inner, at: [0 mm, 0 mm, 0 mm]}}\nsteps: {put: {title: Put, adds: [inner], text: T}}\n",
		"assemblies/inner.yaml": "title: Inner\nholds: {a: {part: a, at: [0 mm, 0 mm, 0 mm]}}\nsteps: {make: {title: Make, adds: [a], needs: [rig.put], text: T}}\n",
	})
	if got := sequence.NewGraph(r).Circles(); len(got) != 1 || len(got[0]) != 2 {
		t.Errorf("circles %v", got)
	}
}

func BenchmarkOf(b *testing.B) {
	for _, plates := range []int{125, 500} {
		p, found, err := source.Read(generated.Plan(plates), source.DefaultLimits())
		if err != nil || len(found) > 0 {
			b.Fatal(err, found)
		}
		r := reckon.New(p, reckon.Default(p), nil)
		r.All()
		l := layout.Of(r)
		b.Run(fmt.Sprintf("parts=%d", plates), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if rec := sequence.Of(r, l, sequence.NewGraph(r), nil); len(rec.Obstructions) > 0 {
					b.Fatal(said(rec))
				}
			}
		})
	}
}

// Tools that holes, cuts and screws call for: drills by ISO 273 and the tap drills,
// hex keys by ISO 4762, spanners by ISO 4032.
func TestTools(t *testing.T) {
	files := trial.Files{
		"stock.yaml": "bar: {title: Bar, section: {square: {side: 20 mm}}, material: steel_s235}\nplate: {title: Plate, sheet: 10 mm, material: steel_s235}\n",
		"parts/all.yaml": `post: {title: Post, made: cut, stock: bar, length: 100 mm, holes: {end: {face: right, at: [10 mm, 10 mm], tap: M6, depth: 15 mm}, pin: {face: front, at: [50 mm, 10 mm], bore: 5 mm}}}
lid: {title: Lid, made: sheet, stock: plate, outline: {rectangle: [50 mm, 50 mm]}, holes: {one: {at: [10 mm, 10 mm], for: M6}, pin: {at: [30 mm, 30 mm], bore: 4 mm}}}
cap: {standard: ISO 4762 M6x20 - 8.8}
bolt: {standard: ISO 4017 M6x20 - 8.8}
nut: {standard: ISO 4032 M6 - 8}
`,
		"tools.yaml": "square: {title: Engineer's square, owned: yes}\n",
		"assemblies/rig.yaml": `title: Rig
holds: {post: {part: post, at: [0 mm, 0 mm, 0 mm]}, lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}}
joints:
  socket: {screw: cap, through: [lid.one, post.end]}
  hexagon: {screw: bolt, through: [lid.one], into: nut}
steps: {build: {title: Build, adds: [post, lid], fastens: [socket, hexagon], tools: [square], text: T}}
`,
	}
	var got []string
	for _, tool := range record(t, files).Tools() {
		got = append(got, strings.TrimSpace(tool.Kind+" "+tool.Size))
	}
	want := []string{"saw", "drill 5 mm", "drill 6.6 mm", "drill 4 mm", "tap M6", "hex key 5 mm", "spanner 10 mm", "Engineer's square"}
	if strings.Join(got, ", ") != strings.Join(want, ", ") {
		t.Errorf("tools %v, want %v", got, want)
	}
}

// A screw and a nut of no standard name their own tools, which the list counts.
func TestToolsThatThePlanNames(t *testing.T) {
	rec := record(t, trial.Files{
		"parts/p.yaml": `knob: {title: Screw of the kit, made: bought, fastener: {screw: M5, length: 30 mm, tool: bit TX 25}}
wing: {title: Nut of the kit, made: bought, fastener: {nut: M5, height: 4 mm, tool: spanner 9 mm}}
plate: {title: Plate, made: bought, shape: [{box: [60 mm, 40 mm, 8 mm]}], holes: {h: {line: {from: [15 mm, 20 mm], step: [30 mm, 0 mm], count: 2}, for: M5}}}
`,
		"assemblies/rig.yaml": `title: Rig
holds: {base: {part: plate, at: [0 mm, 0 mm, 0 mm]}, top: {part: plate, at: [0 mm, 0 mm, 8 mm]}}
joints: {hold: {screw: knob, through: [top.h, base.h], into: wing}}
steps: {join: {title: Join, rests_on: front, adds: [base, top], fastens: [hold], text: T}}
`,
	})
	var got []string
	for _, tool := range rec.Tools() {
		got = append(got, fmt.Sprintf("%s %s x%d", tool.Kind, tool.Size, tool.Turns()))
	}
	if text := strings.Join(got, ", "); text != "spanner 9 mm x2, bit TX 25 x2" {
		t.Errorf("tools %s", text)
	}
}

// channelled stands the clamp's screw in the middle of a channel between two long walls,
// under a bridge that leaves no room for ratchets, drivers and a key's long arm upright: what
// turns the screw swings from wall to wall, with the finger or the hand on it.
func channelled(screw string, half float64) trial.Files {
	return trial.Files{
		"parts/p.yaml": fmt.Sprintf(`cap: {standard: %[4]s}
clamp: {title: Clamp, made: bought, shape: [{box: [20 mm, 20 mm, 9 mm]}], holes: {h: {at: [10 mm, 10 mm], for: M6}}}
channel:
  title: Channel
  made: bought
  shape:
    - {box: [800 mm, %[1]g mm, 10 mm]}
    - {box: [800 mm, 10 mm, 100 mm], at: [0 mm, -10 mm, 0 mm]}
    - {box: [800 mm, 10 mm, 100 mm], at: [0 mm, %[1]g mm, 0 mm]}
    - {box: [20 mm, %[2]g mm, 8 mm], at: [390 mm, -10 mm, 58.5 mm]}
  holes: {h: {face: bottom, at: [400 mm, %[3]g mm], tap: M6, depth: 10 mm}}
`, 2*half, 2*half+20, half+10, screw),
		"assemblies/rig.yaml": fmt.Sprintf(`title: Rig
holds: {channel: {part: channel, at: [0 mm, 0 mm, 0 mm]}, clamp: {part: clamp, at: [390 mm, %g mm, 10 mm]}}
joints: {hold: {screw: cap, through: [clamp.h, channel.h]}}
steps:
  fix: {title: Fix, adds: [channel, clamp], fastens: [hold], text: T}
`, half),
	}
}

// A hex key is put back on after 60 degrees, a spanner after 30: turned over, its jaws stand
// 15 degrees the other way; a ring has twelve corners. Between walls w from the screw an arm
// of half its width h, with an end that is round about the screw at R, turns by f to either
// side: sqrt(R^2 - h^2) sin f + h cos f = w.
func TestSwingBetweenWalls(t *testing.T) {
	spanner, _ := standards.SpannerOf(10) // ISO 4017: 10 mm across flats for M6
	for _, c := range []struct {
		screw       string
		reach, half float64
		swing       float64
		ok          bool
	}{
		// ISO 2936: the long arm of a 5 mm key measures 85 mm; its corners stand 5.774 mm
		// apart; the finger that pushes it takes 15 mm on either side (common practice, no source).
		{screw: "ISO 4762 M6x16 - 8.8", reach: 85 - 5.774/2, half: 5.774/2 + 15, swing: 57},
		{screw: "ISO 4762 M6x16 - 8.8", reach: 85 - 5.774/2, half: 5.774/2 + 15, swing: 59.5},
		{screw: "ISO 4762 M6x16 - 8.8", reach: 85 - 5.774/2, half: 5.774/2 + 15, swing: 60.5, ok: true},
		{screw: "ISO 4762 M6x16 - 8.8", reach: 85 - 5.774/2, half: 5.774/2 + 15, swing: 64, ok: true},
		// A shank as wide as 0.4 of the width across flats and 1.5 mm to either side, in a hand
		// that takes 20 mm more (common practice, no source).
		{screw: "ISO 4017 M6x16 - 8.8", reach: spanner.Length, half: 0.4*10 + 1.5 + 20, swing: 27},
		{screw: "ISO 4017 M6x16 - 8.8", reach: spanner.Length, half: 0.4*10 + 1.5 + 20, swing: 29.5},
		{screw: "ISO 4017 M6x16 - 8.8", reach: spanner.Length, half: 0.4*10 + 1.5 + 20, swing: 30.5, ok: true},
		{screw: "ISO 4017 M6x16 - 8.8", reach: spanner.Length, half: 0.4*10 + 1.5 + 20, swing: 40, ok: true},
	} {
		f := c.swing / 2 * math.Pi / 180
		wall := math.Sqrt(c.reach*c.reach-c.half*c.half)*math.Sin(f) + c.half*math.Cos(f)
		rec := record(t, channelled(c.screw, math.Round(wall*1000)/1000))
		if ok := len(rec.Obstructions) == 0; ok != c.ok {
			t.Errorf("%s, swing of %g degrees: %v", c.screw, c.swing, said(rec))
			for _, o := range rec.Obstructions {
				t.Log(strings.Join(o.Tried, "\n"))
			}
		}
	}
}

// A ratchet of 24 teeth takes 15 degrees. The bolt's head stands in a collar that lets a
// socket in and no spanner; between tall walls the shortest ratchet decides, by the same
// closed form as above, with half of its handle's width, 8 mm, in a hand of 20 mm more
// (common practice, no source).
func TestRatchetBetweenWalls(t *testing.T) {
	ratchet, _ := standards.RatchetFor("1/4")
	for _, c := range []struct {
		swing float64
		ok    bool
	}{{14, false}, {14.5, false}, {15.5, true}, {20, true}} {
		f, half := c.swing/2*math.Pi/180, 8.0+20
		wall := math.Sqrt(ratchet.Length*ratchet.Length-half*half)*math.Sin(f) + half*math.Cos(f)
		files := channelled("ISO 4017 M6x16 - 8.8", math.Round(wall*1000)/1000)
		parts := strings.ReplaceAll(files["parts/p.yaml"], "100 mm]", "600 mm]")
		parts = regexp.MustCompile(`.*58.5 mm\]}\n`).ReplaceAllString(parts, "")
		files["parts/p.yaml"] = parts + "collar: {title: Collar, made: bought, shape: [{tube: {d: 24 mm, bore: 17 mm, l: 12 mm}}]}\n"
		rig := strings.Replace(files["assemblies/rig.yaml"], "holds: {", fmt.Sprintf("holds: {collar: {part: collar, at: [388 mm, %g mm, 19 mm]}, ", math.Round(wall*1000)/1000-2), 1)
		files["assemblies/rig.yaml"] = strings.Replace(rig, "adds: [channel, clamp]", "adds: [channel, clamp, collar]", 1)
		rec := record(t, files)
		if ok := len(rec.Obstructions) == 0; ok != c.ok {
			t.Errorf("swing of %g degrees: %v", c.swing, said(rec))
			for _, o := range rec.Obstructions {
				t.Log(strings.Join(o.Tried, "\n"))
			}
		}
	}
}

// A nut between two ribs: they hold it where they stand within the circle of its corners,
// and no tool is needed; a little wider apart they let it turn, and no spanner goes between
// them until they leave its head room. ISO 4032: M6 is 10 mm across flats, 11.547 mm across
// corners; DIN 3110 heads of 10 mm spanners are wider than 20 mm.
func TestNutBetweenRibs(t *testing.T) {
	for _, c := range []struct {
		apart float64
		holds int
		want  []string
	}{
		{apart: 10.1},
		{apart: 11.4},
		{apart: 11.7, holds: 1, want: []string{"2 hold in rig.join by left since rig.join"}},
		{apart: 60, holds: 1},
	} {
		rec := record(t, trial.Files{
			"parts/p.yaml": `cap: {standard: ISO 4762 M6x25 - 8.8}
nut: {standard: ISO 4032 M6 - 8}
plate: {title: Plate, made: bought, mass: 1 kg, shape: [{box: [100 mm, 100 mm, 8 mm]}], holes: {h: {at: [50 mm, 50 mm], for: M6}}}
rib: {title: Rib, made: bought, mass: 1 kg, shape: [{box: [100 mm, 10 mm, 40 mm]}]}
`,
			"assemblies/rig.yaml": fmt.Sprintf(`title: Rig
holds:
  left: {part: rib, at: [0 mm, %g mm, 0 mm]}
  right: {part: rib, at: [0 mm, %g mm, 0 mm]}
  base: {part: plate, at: [0 mm, 0 mm, 40 mm]}
  top: {part: plate, at: [0 mm, 0 mm, 48 mm]}
joints: {hold: {screw: cap, through: [top.h, base.h], into: nut}}
steps: {join: {title: Join, rests_on: hand, adds: [left, right, base, top], fastens: [hold], text: T}}
`, 50-c.apart/2-10, 50+c.apart/2),
		})
		expect(t, rec, c.want...)
		if got := len(rec.Card(0).Joints[0].Holds); got != c.holds {
			t.Errorf("ribs %g mm apart: %d tools hold the nut, want %d", c.apart, got, c.holds)
		}
	}
}

// A drop-in nut needs the mouth of its slot; a cover that was laid on before keeps it
// out, unless it may come from an end.
func TestNutsInSlots(t *testing.T) {
	rig := func(goesIn, first, second string) trial.Files {
		return trial.Files{
			"stock.yaml": "bar: {title: Slotted bar, section: {slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9.2 mm, pocket: 16 mm}}, material: steel_s235}\n",
			"parts/p.yaml": `cap: {standard: ISO 4762 M6x16 - 8.8}
nut: {title: Slot nut, made: bought, fastener: {nut: M6, slot: 8 mm, height: 6 mm, goes_in: ` + goesIn + `}}
rail: {title: Rail, made: cut, stock: bar, length: 200 mm}
cheek: {title: Cheek, made: bought, shape: [{box: [9 mm, 30 mm, 30 mm]}]}
lid: {title: Lid, made: bought, shape: [{box: [200 mm, 30 mm, 8 mm]}], holes: {h: {at: [100 mm, 15 mm], for: M6}}}
`,
			"assemblies/rig.yaml": `title: Rig
holds: {rail: {part: rail, at: [9 mm, 0 mm, 0 mm]}, left: {part: cheek, at: [0 mm, 0 mm, 0 mm]}, right: {part: cheek, at: [209 mm, 0 mm, 0 mm]}, lid: {part: lid, at: [9 mm, 0 mm, 30 mm]}}
joints: {hold: {screw: cap, through: [lid.h, rail.slot_top], into: nut}}
steps:
  one: {title: One, adds: [rail, ` + first + `], text: T}
  two: {title: Two, adds: [` + second + `], text: T}
  three: {title: Three, fastens: [hold], text: T}
`,
		}
	}
	expect(t, record(t, rig("front", "left, right", "lid")), "4 hold in rig.three by lid since rig.two latest rig.one")
	expect(t, record(t, rig("front", "lid", "left, right")), "4 hold in rig.three by lid since rig.one latest rig.one")
	expect(t, record(t, rig("end", "left", "lid"))) // one end is open
}

// A ball end leans round what stands straight above its screw, where the plan says
// that such keys are at hand.
func TestBallEnd(t *testing.T) {
	files := roofed(200)
	files["parts/p.yaml"] = strings.Replace(files["parts/p.yaml"], "{box: [60 mm, 60 mm, 8 mm], at: [0 mm, 0 mm, 200 mm]}", "{box: [60 mm, 24 mm, 8 mm], at: [0 mm, 26 mm, 50 mm]}", 1)
	rec := record(t, files)
	if len(rec.Obstructions) == 0 {
		t.Fatal("the lug above the screw is in nobody's way")
	}
	files["tools.yaml"] = "keys: {title: Ball-ended hex keys, ball_end: yes}\n"
	for _, o := range record(t, files).Obstructions {
		if o.Kind == sequence.OutOfReach {
			t.Error(o.Tried)
		}
	}
}
