package reckon_test

import (
	"reflect"
	"strings"
	"testing"

	"plansheaf/design/memo"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// drawnPlan leads through all that draws may go through: arithmetic, tables, functions,
// sums, cases, conditions, another calculation.
func drawnPlan() trial.Files {
	return values("side: {is: 10 mm ± 1 mm}\n  other: {is: 3 N}\n").With(trial.Files{
		"parts/all.yaml":      "post: {title: P, made: bought, mass: 0.2 kg, has: {grip: 5 N ± 1 N}}\nspindle: {title: S, made: bought, mass: 0.3 kg}\n",
		"assemblies/rig.yaml": "title: Rig\nholds:\n  post: {part: post, at: [0 mm, 0 mm, 0 mm]}\n  spindle: {part: spindle, at: [100 mm, 0 mm, 0 mm]}\n",
		"calcs/one.yaml": `title: One
tables: {curve: files/curve.csv}
define: {bend(x): "x^2 / (1 mm) + side"}
given: {speed: {is: 150 rpm ± 60 rpm}, f: {is: 0.30 ± 0.2}, n: {is: 100 N}}
find:
  torque: curve.torque(speed)
  bent:   bend(side) * f
  weight: sum(p, rig.parts, p.mass) * 9.81 m/s^2 * f
  case:   if(f > 0.3, f * n, n + other)
require:
  - {that: torque > 1 N*m and weight < 10 N}
  - {that: case < 200 N}
`,
		"calcs/two.yaml":  "title: Two\ngiven: {m: {is: 2 ± 0.9}}\nfind: {y: one.torque * m^2, z: post.grip / m}\n",
		"files/curve.csv": "speed [rpm],torque [N*m]\n100,2.0\n200,1.0\n300,0.5\n",
	})
}

// draw draws for all calculations of a plan.
func draw(t *testing.T, files trial.Files, kept *memo.Store) map[string]*reckon.Samples {
	t.Helper()
	p, found := trial.Read(t, files)
	for _, f := range found {
		if f.Severity.String() == "error" {
			t.Fatalf("%s: %s", f.At, f.Message)
		}
	}
	shapes := reckon.NewShapes()
	shapes.Kept = kept
	r := reckon.New(p, reckon.Default(p), shapes)
	r.All()
	out := map[string]*reckon.Samples{}
	for _, c := range p.Calcs {
		out[c.ID.Text] = r.Sample(c)
	}
	trial.Clean(t, r.Findings())
	return out
}

// What was drawn is taken over where all that it follows from is the same, and only there.
func TestDrawsKept(t *testing.T) {
	cases := []struct {
		name, file, old, new string
		drawn                int // calculations that must be drawn anew
	}{
		{name: "nothing"},
		{name: "lines of a file", file: "calcs/one.yaml", old: "given:", new: "# moved down\n\n\ngiven:"},
		{name: "another value", file: "plan.yaml", old: "other: {is: 3 N}", new: "other: {is: 3 N}\n  unused: {is: 4 N ± 1 N}"},
		{name: "a title", file: "parts/all.yaml", old: "title: P", new: "title: Post"},
		{name: "a spread", file: "calcs/two.yaml", old: "± 0.9", new: "± 0.8", drawn: 1},
		{name: "a nominal value", file: "calcs/two.yaml", old: "2 ±", new: "3 ±", drawn: 1},
		{name: "a formula", file: "calcs/two.yaml", old: "m^2", new: "m^3", drawn: 1},
		{name: "an input without spread", file: "calcs/one.yaml", old: "100 N}", new: "110 N}", drawn: 1},
		{name: "a value of the plan", file: "plan.yaml", old: "is: 3 N", new: "is: 4 N", drawn: 1},
		{name: "a function", file: "calcs/one.yaml", old: "x^2 /", new: "x^3 / (1 mm) /", drawn: 1},
		{name: "a table", file: "files/curve.csv", old: "200,1.0", new: "200,1.1", drawn: 2},
		{name: "between rows", file: "calcs/one.yaml", old: "curve: files/curve.csv", new: "curve: {file: files/curve.csv, between: smooth}", drawn: 2},
		{name: "a part's mass", file: "parts/all.yaml", old: "0.3 kg", new: "0.4 kg", drawn: 1},
		{name: "what a group holds", file: "assemblies/rig.yaml", old: "spindle: {part: spindle,", new: "spindle: {part: post,", drawn: 1},
		{name: "a condition", file: "calcs/one.yaml", old: "weight < 10 N", new: "weight < 1 N", drawn: 1},
		{name: "a part's property", file: "parts/all.yaml", old: "5 N ± 1 N", new: "5 N ± 2 N", drawn: 1},
	}
	kept := memo.New()
	draw(t, drawnPlan(), kept)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := drawnPlan()
			if c.file != "" {
				text := strings.Replace(files[c.file], c.old, c.new, 1)
				if text == files[c.file] {
					t.Fatalf("%q does not stand in %s", c.old, c.file)
				}
				files = files.With(trial.Files{c.file: text})
			}
			before := kept.Uses()
			got := draw(t, files, kept)
			u := kept.Uses()
			if fresh, known := u.New-before.New, u.Known-before.Known; fresh != c.drawn || fresh+known != len(got) {
				t.Errorf("of %d calculations %d drawn anew and %d known, want %d anew", len(got), fresh, known, c.drawn)
			}
			if want := draw(t, files, nil); !reflect.DeepEqual(got, want) {
				t.Errorf("got %+v, want %+v", got, want)
			}
		})
	}
	kept.Doubt = true
	draw(t, drawnPlan(), kept)
	if faults := kept.Faults(); len(faults) > 0 {
		t.Errorf("faults %q", faults)
	}
}

// What formulas may repeat in all cases together is spent as much by draws that are known
// as by those that are drawn.
func TestDrawsKeptSpendSteps(t *testing.T) {
	files := values("side: {is: 10 mm ± 3 mm}").With(trial.Files{
		"calcs/one.yaml": "title: One\nfind: {root: \"solve(x, 0 mm, 100 mm, x * x = side * side)\", bent: root^2}\n",
	})
	kept, p := memo.New(), trial.Plan(t, files)
	var steps []int64
	for range 2 {
		shapes := reckon.NewShapes()
		shapes.Kept = kept
		r := reckon.New(p, reckon.Default(p), shapes)
		before := r.Scope().Work().Done()
		if r.Sample(p.Calcs[0]) == nil {
			t.Fatal("nothing drawn")
		}
		steps = append(steps, r.Scope().Work().Done()-before)
	}
	if u := kept.Uses(); u.Known != 1 || steps[0] != steps[1] || steps[0] < 100_000 {
		t.Errorf("steps %d, uses %+v", steps, u)
	}
}
