package check_test

import (
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/finding"
	"plansheaf/design/trial"
)

const machinesDir = "../../testdata/machines"

// machine is a plan with texts replaced: [file, old, new].
func machine(t *testing.T, name string, edits [][3]string) fs.FS {
	t.Helper()
	files := fstest.MapFS{}
	for path, text := range trial.FilesOf(t, os.DirFS(machinesDir+"/"+name)) {
		files[path] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	for _, e := range edits {
		f := files[e[0]]
		if f == nil || !strings.Contains(string(f.Data), e[1]) {
			t.Fatalf("%s does not hold %q", e[0], e[1])
		}
		f.Data = []byte(strings.ReplaceAll(string(f.Data), e[1], e[2]))
	}
	return files
}

// TestSoundMachines: machines that can be built raise no alarm. That M5 screws with
// drop-in nuts hold 20 mm slotted bar and four M3 screws 31 mm apart a motor of frame
// size 17 is common practice, no source.
func TestSoundMachines(t *testing.T) {
	for _, name := range []string{"slide", "shelf", "screen"} {
		for _, f := range run(t, machine(t, name, nil)) {
			t.Errorf("%s: %s: %s [%s]", name, f.At, f.Message, f.Rule)
		}
	}
}

// standing takes the motions out of the slide: most mistakes do not need them.
var standing = [][3]string{
	{"plan.yaml", "motions:\n  feed: {from: 0 mm, to: 120 mm, about: carriage away from the motor}\n", ""},
	{"assemblies/slide.yaml", ", moves: {about: axis, by: -feed / lead_screw.lead * 1 turn}", ""},
	{"assemblies/slide.yaml", ", moves: {along: x, by: feed}", ""},
}

// motorLead adds a lead to the slide, from the motor over some points to the bearing.
func motorLead(via string) [][3]string {
	return [][3]string{
		{"parts/drive.yaml", "coupling:\n", "motor_lead: {title: Motor lead, made: bought, mass: 0.05 kg, buy: {any: lead of four cores, price: 2 EUR}, strand: {d: 5 mm, length: 800 mm}}\ncoupling:\n"},
		{"assemblies/slide.yaml", "  bush: ", "  motor_lead: {part: motor_lead, from: motor, to: bearing, via: " + via + "}\n  bush: "},
		{"assemblies/slide.yaml", "adds: [stop]", "adds: [stop, motor_lead]"},
	}
}

// ledThrough adds the lead and leads it through a new hole of the motor plate.
func ledThrough(bore string) [][3]string {
	return append(motorLead("[motor_plate.lead, [0 mm, 50 mm, 90 mm], [240 mm, 50 mm, 90 mm]]"),
		[3]string{"parts/frame.yaml", "    pilot: ", "    lead: {at: [6 mm, 60 mm], bore: " + bore + "}\n    pilot: "})
}

// ordered moves a step of an assembly's file behind another: the last block of the file
// that begins with the first name, to after the block of the second.
func ordered(t *testing.T, fsys fs.FS, file, step, behind string) fs.FS {
	t.Helper()
	files := fsys.(fstest.MapFS)
	head, steps, ok := strings.Cut(string(files[file].Data), "\nsteps:\n")
	if !ok {
		t.Fatalf("%s has no steps", file)
	}
	var blocks []string
	for line := range strings.Lines(steps) {
		if strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "   ") {
			blocks = append(blocks, "")
		}
		blocks[len(blocks)-1] += line
	}
	at := func(name string) int {
		i := slices.IndexFunc(blocks, func(b string) bool { return strings.HasPrefix(b, "  "+name+":\n") })
		if i < 0 {
			t.Fatalf("%s has no step %s", file, name)
		}
		return i
	}
	i := at(step)
	moved := blocks[i]
	blocks = slices.Delete(blocks, i, i+1)
	blocks = slices.Insert(blocks, at(behind)+1, moved)
	files[file].Data = []byte(head + "\nsteps:\n" + strings.Join(blocks, ""))
	return files
}

// midStop has the stop on a third cross rail, under the lead screw. That a screw there
// cannot be reached once the lead screw is in is common practice, no source.
var midStop = [][3]string{
	{"assemblies/slide.yaml", "  stop:       {part: stop_block, at: [0 mm, 90 mm, 20 mm]}", "  mid_cross: {part: cross_rail, at: [200 mm, 20 mm, 0 mm]}\n  stop: {part: stop_block, at: [200 mm, 90 mm, 20 mm]}"},
	{"assemblies/slide.yaml", "through: [stop.rail, near_cross.slot_top]", "through: [stop.rail, mid_cross.slot_top]"},
	{"assemblies/slide.yaml", "far_cross, corner_a,", "far_cross, mid_cross, corner_a,"},
}

// A mistake is one change that makes a sound machine one that cannot be built, or
// should not.
type mistake struct {
	name, machine string
	edits         [][3]string
	step, behind  string   // a step that is done after another instead
	rules         []string // what must be found, and nothing else of weight
	moving        bool     // the mistake is about the slide's motions, which stay
	among         bool     // other rules speak too, and the same ones more than once: nothing of it fits
	says          string   // what one of the messages or remedies must hold
}

var mistakes = []mistake{
	{name: "screw 5 mm longer in a slot", machine: "slide", edits: [][3]string{{"parts/fasteners.yaml", "M5x12 -", "M5x16 -"}},
		rules: []string{"screw-too-long"}, says: "take ISO 4762 M5x12 - 8.8, which leaves 0.1 mm"},
	{name: "screw 0.1 mm short of its thread", machine: "slide", edits: [][3]string{{"parts/drive.yaml", "{box: [20 mm, 70 mm, 6 mm]}", "{box: [20 mm, 70 mm, 6.3 mm]}"}},
		rules: []string{"screw-too-short"}, says: "0.1 mm"},
	{name: "M4 for M5 in drop-in nuts", machine: "slide", edits: [][3]string{{"parts/fasteners.yaml", "ISO 4762 M5x10 - 8.8", "ISO 4762 M4x10 - 8.8"}},
		rules: []string{"thread-mismatch", "thread-mismatch", "thread-mismatch"}, says: "takes M5"},
	{name: "motor held by M4", machine: "slide", edits: [][3]string{{"parts/fasteners.yaml", "ISO 4762 M3x8 - 8.8", "ISO 4762 M4x8 - 8.8"}},
		rules: []string{"thread-mismatch"}, says: "take a screw M3"},
	{name: "motor plate 6 mm thick", machine: "slide", edits: [][3]string{{"stock.yaml", "sheet: 4 mm", "sheet: 6 mm"}, {"assemblies/slide.yaml", "at: [-4 mm, 70 mm, 0 mm]", "at: [-6 mm, 70 mm, 0 mm]"}, {"assemblies/slide.yaml", "at: [-44 mm, 78.85", "at: [-46 mm, 78.85"}},
		rules: []string{"screw-too-short", "screw-too-short", "screw-too-short"}, says: "take ISO 4762 M5x12 - 8.8"},
	{name: "motor holes 30 apart", machine: "slide", edits: [][3]string{{"parts/frame.yaml", "step: [31 mm, 31 mm]", "step: [30 mm, 31 mm]"}},
		rules: []string{"holes-out-of-line"}, says: "miss by 1 mm"},
	{name: "hole moved within its clearance", machine: "slide", edits: [][3]string{{"parts/frame.yaml", "from: [14.5 mm, 29.5 mm]", "from: [14.65 mm, 29.5 mm]"}}},
	{name: "one hole of the pattern forgotten", machine: "slide", edits: [][3]string{{"parts/frame.yaml", "step: [31 mm, 31 mm], count: [2, 2]}, for: M3", "step: [31 mm, 31 mm], count: [2, 1]}, for: M3"}},
		rules: []string{"holes-unpaired"}, says: "motor.flange.3"},
	{name: "tapped too shallow for its screw", machine: "slide", edits: [][3]string{{"parts/drive.yaml", "tap: M5, depth: 16 mm", "tap: M5, depth: 8 mm"}},
		rules: []string{"screw-too-long"}, says: "stands on the floor"},
	{name: "slot nut for another slot", machine: "slide", edits: [][3]string{{"parts/fasteners.yaml", "slot: 6 mm", "slot: 8 mm"}},
		rules: []string{"insert-does-not-fit", "insert-does-not-fit", "insert-does-not-fit", "insert-does-not-fit"}, says: "slot of 8 mm"},
	{name: "nuts that go in at the end of a closed slot", machine: "slide", edits: [][3]string{{"parts/fasteners.yaml", "goes_in: front", "goes_in: end"}},
		rules: []string{"slot-nut-never-slid-in", "slot-nut-never-slid-in", "slot-nut-never-slid-in"}, says: "slides_in"},
	{name: "coupling never added", machine: "slide", edits: [][3]string{{"assemblies/slide.yaml", "    adds: [coupling]\n", ""}},
		rules: []string{"instance-never-added"}, says: "coupling"},
	{name: "a third cross rail under the lead screw is sound", machine: "slide", edits: midStop},
	{name: "screw behind the lead screw, once that is in", machine: "slide", edits: midStop, step: "fit_stop", behind: "run_screw",
		rules: []string{"screw-out-of-reach"}, says: "screw leaves 12 mm"},
	{name: "coupling after the screw", machine: "slide", step: "fit_coupling", behind: "fit_bearing",
		rules: []string{"joint-fastened-too-early", "part-cannot-go-in"}, says: "coupling"},
	{name: "bracket not turned", machine: "slide", edits: [][3]string{{"assemblies/slide.yaml", ", turn: z 180 deg", ""}},
		rules: []string{"screw-too-short", "screw-too-short"}, says: "close the gap of 20 mm"},
	{name: "bush seat 0.2 mm too wide", machine: "slide", edits: [][3]string{{"parts/drive.yaml", "bore: 12 mm H7", "bore: 12.2 mm"}},
		rules: []string{"fit-fails"}, says: "press fit"},
	{name: "screw bar of another lead", machine: "slide", edits: [][3]string{{"stock.yaml", "thread: Tr8x2", "thread: Tr8x1.5"}},
		rules: []string{"thread-mismatch"}, says: "leads are"},
	{name: "screw turned twice as far as the carriage goes", machine: "slide", moving: true, edits: [][3]string{{"assemblies/slide.yaml", "by: -feed / lead_screw.lead * 1 turn", "by: -feed / lead_screw.lead * 2 turn"}},
		rules: []string{"turns-and-travel-differ"}, says: "120 turns times a lead of 2 mm make 240 mm"},
	{name: "screw bar of the other hand", machine: "slide", moving: true, edits: [][3]string{{"stock.yaml", "thread: Tr8x2", "thread: Tr8x2-LH"}},
		rules: []string{"turns-and-travel-differ"}, says: "the other way, for a left-hand thread"},
	{name: "motor lead over the carriage is sound", machine: "slide", moving: true, edits: motorLead("[[0 mm, 50 mm, 90 mm], [240 mm, 50 mm, 90 mm]]")},
	{name: "motor lead hangs before the carriage", machine: "slide", moving: true, edits: motorLead("[[0 mm, 50 mm, 90 mm], [240 mm, 50 mm, 90 mm], [240 mm, 50 mm, 25 mm], [240 mm, 50 mm, 90 mm]]"),
		rules: []string{"motion-meets-strand"}, says: "runs into"},
	{name: "motor lead through a hole of the plate is sound", machine: "slide", edits: ledThrough("5.5 mm")},
	{name: "hole in the plate thinner than the motor lead", machine: "slide", edits: ledThrough("4.5 mm"),
		rules: []string{"strand-has-no-room"}, says: "\"motor_plate.lead\" is 4.5 mm across, and \"motor_lead\", 5 mm thick"},
	{name: "carriage lower than the rails", machine: "slide", edits: [][3]string{{"assemblies/slide.yaml", "{assembly: carriage_unit, at: [90 mm, 0 mm, 20 mm]", "{assembly: carriage_unit, at: [90 mm, 0 mm, 18 mm]"}},
		among: true, rules: []string{"bodies-overlap"}, says: "overlap by 2 mm"},
	{name: "bracket of 20 mm bar on 1 inch bar", machine: "shelf", edits: [][3]string{
		{"parts/all.yaml", "    - {box: [1 in, 1/8 in, 7/8 in]}\n    - {box: [1/8 in, 7/8 in, 7/8 in], at: [0 in, 1/8 in, 0 in]}", "    - {box: [24 mm, 4 mm, 18 mm]}\n    - {box: [4 mm, 20 mm, 18 mm], at: [0 mm, 4 mm, 0 mm]}"},
		{"parts/all.yaml", "at: [11/16 in, 7/16 in], for: 1/4-20", "at: [15 mm, 9 mm], for: M5"}},
		among: true, rules: []string{"holes-out-of-line", "screw-does-not-pass"}, says: "write for: 1/4-20"},
	{name: "fasteners of 20 mm bar on 1 inch bar", machine: "shelf", edits: [][3]string{
		{"parts/all.yaml", "ASME B18.3 1/4-20 x 3/8", "ISO 4762 M5x10 - 8.8"}, {"parts/all.yaml", "nut: 1/4-20, slot: 0.256 in, height: 0.15 in", "nut: M5, slot: 6 mm, height: 4 mm"}},
		among: true, rules: []string{"clearance-too-large", "insert-does-not-fit"}, says: "slot of 6 mm"},
	{name: "head on a long hole", machine: "slide", edits: [][3]string{{"parts/frame.yaml", "rail: {at: [10 mm, 10 mm], for: M5}", "rail: {at: [10 mm, 10 mm], slot: {long: 14 mm, wide: 5.5 mm, along: x}}"}},
		rules: []string{"washer-missing"}, says: "ISO 7089 5"},
	{name: "M6 for M5 in the nut block", machine: "slide", edits: [][3]string{{"parts/fasteners.yaml", "ISO 4762 M5x20 - 8.8", "ISO 4762 M6x20 - 8.8"}},
		rules: []string{"thread-mismatch"}, says: "take a screw M5"},
	{name: "screw so long that its shank reaches the thread", machine: "slide", edits: [][3]string{{"parts/fasteners.yaml", "ISO 4762 M5x20 - 8.8", "ISO 4762 M5x40 - 8.8"}},
		rules: []string{"screw-too-long"}, says: "take ISO 4762 M5x20"},
	{name: "bearing block rides on its rail", machine: "slide", moving: true, edits: [][3]string{{"assemblies/slide.yaml", "{part: bearing_block, at: [span - 20 mm, 65 mm, 20 mm]}", "{part: bearing_block, at: [span - 20 mm, 65 mm, 20 mm], moves: {along: x, by: feed}}"}},
		among: true, rules: []string{"joint-moves-apart"}, says: "far_cross"},
	{name: "slot nut left out", machine: "slide", edits: [][3]string{{"assemblies/slide.yaml", "through: [stop.rail, near_cross.slot_top]\n    into: slot_nut_m5", "through: [stop.rail, near_cross.slot_top]"}},
		rules: []string{"nothing-to-bite"}, says: "no nut is named"},
	{name: "bronze nut 1 mm aside", machine: "slide", among: true, edits: [][3]string{{"assemblies/carriage_unit.yaml", "at: [11.5 mm, 89 mm, 14 mm]", "at: [11.5 mm, 90 mm, 14 mm]"}},
		rules: []string{"holes-out-of-line"}, says: "\"carriage.nut\" stands 1 mm too far along y"},
	{name: "short rails mitred at 44 degrees", machine: "screen", among: true, edits: [][3]string{{"parts/all.yaml", "  length: 420 mm\n  mitre: {start: 45 deg", "  length: 420 mm\n  mitre: {start: 44 deg"}},
		rules: []string{"layers-apart"}, says: "stand at an angle of 2°"},
	{name: "wooden deck under bare heads", machine: "shelf", among: true, edits: [][3]string{{"stock.yaml", "material: aluminium_6061", "material: birch_plywood"}},
		rules: []string{"washer-missing"}, says: "presses straight on \"deck.rails\", which is Birch plywood"},
	{name: "M5 in a hole tapped 10-32", machine: "shelf", edits: [][3]string{{"parts/all.yaml", "ASME B18.3 10-32 x 1/2", "ISO 4762 M5x12 - 8.8"}},
		rules: []string{"thread-mismatch"}, says: "jams"},
}

// TestMistakes: a mistake is found by the rule about it, once, and draws no alarm that
// only follows from it.
func TestMistakes(t *testing.T) {
	for _, m := range mistakes {
		t.Run(m.name, func(t *testing.T) {
			edits := m.edits
			if m.machine == "slide" && !m.moving {
				edits = append(slices.Clone(standing), edits...)
			}
			fsys := machine(t, m.machine, edits)
			if m.step != "" {
				fsys = ordered(t, fsys, "assemblies/"+m.machine+".yaml", m.step, m.behind)
			}
			var rules []string
			said := false
			for _, f := range run(t, fsys) {
				if f.Severity < finding.Warning {
					continue
				}
				rules = append(rules, f.Rule)
				said = said || strings.Contains(f.Message, m.says) || strings.Contains(f.Remedy, m.says)
				t.Logf("%s: %s [%s] %s", f.At, f.Message, f.Rule, f.Remedy)
			}
			slices.Sort(rules)
			if m.among {
				rules = slices.DeleteFunc(slices.Compact(rules), func(rule string) bool { return !slices.Contains(m.rules, rule) })
			}
			if !slices.Equal(rules, m.rules) {
				t.Errorf("found %v, expected %v", rules, m.rules)
			}
			if !said && m.says != "" {
				t.Errorf("nothing says %q", m.says)
			}
		})
	}
}
