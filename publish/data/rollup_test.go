package data

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
	"plansheaf/publish/inspect"
)

// printing is the bench with two printed parts, a consumable and hostile titles.
var printing = bench.With(trial.Files{
	"parts/more.yaml": `knob: {title: "+Knob; \"round\"", made: printed, material: petg, shape: [{box: [20 mm, 20 mm, 20 mm]}], print: {face: bottom, walls: 3, infill: 20 %, layer: 0.2 mm, time: 50 min}}
tag: {title: "@Tag\nof two lines", made: printed, material: pla, shape: [{box: [20 mm, 10 mm, 2 mm]}], print: {face: bottom, mass: 1 g}}
grease: {title: "-Grease", made: consumable, amount: 30 g}
`,
	"assemblies/power.yaml": `title: Power
holds:
  motor: {part: motor, at: [0 mm, 0 mm, 0 mm]}
  knobs: {part: knob, at: [0 mm, 0 mm, 0 mm], count: 3, step: [30 mm, 0 mm, 0 mm]}
  tag: {part: tag, at: [0 mm, 90 mm, 0 mm]}
steps: {mount: {title: "=Mount", adds: [motor, knobs, tag], uses: [grease 4 g], text: T, time: 5 min}}
`,
})

// Every list as CSV reads the same in a reader that shares nothing with what wrote it:
// Python's. No cell would be run, and each row has as many cells as the head.
func TestListsInPython(t *testing.T) {
	python := inspect.Program(t, "python3")
	w := check.Out(trial.Plan(t, printing))
	s := w.Choosing(map[string]string{"drive": "motor"})
	lists := map[string][]byte{
		"parts": PartsCSV(s), "assemblies": AssembliesCSV(s), "steps": StepsCSV(s), "prints": PrintsCSV(s), "everything": EverythingCSV(w), "shopping": ShoppingCSV(s, "EUR"),
	}
	for name, data := range lists {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command(python, "-c", "import csv,io,json,sys\ntext=sys.stdin.buffer.read().decode('utf-8')\njson.dump(list(csv.reader(io.StringIO(text,newline=''),strict=True)),sys.stdout)")
			cmd.Stdin = strings.NewReader(string(data))
			out, err := cmd.Output()
			if err != nil {
				t.Fatal(err)
			}
			var theirs [][]string
			if err := json.Unmarshal(out, &theirs); err != nil {
				t.Fatal(err)
			}
			ours, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
			if err != nil || len(theirs) != len(ours) || len(ours) < 2 {
				t.Fatalf("%d rows in Python, %d here, %v", len(theirs), len(ours), err)
			}
			for i, row := range theirs {
				if len(row) != len(theirs[0]) {
					t.Errorf("row %d has %d cells, the head %d", i, len(row), len(theirs[0]))
				}
				for _, cell := range row {
					if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r\n") {
						t.Errorf("a spreadsheet would run %q", cell)
					}
				}
			}
		})
	}
}

// The lists and the plan as data say what the bill does, under each choice: three knobs
// of 4.877 g (2,800 mm³ of walls and closed layers, a fifth of 5,200 mm³ within, PETG of
// 1,270 kg/m³) and a tag as weighed, with a motor alone.
func TestRollupsAsData(t *testing.T) {
	w := check.Out(trial.Plan(t, printing))
	s := w.Choosing(map[string]string{"drive": "motor"})
	prints := records(t, PrintsCSV(s))
	if len(prints) != 3 || prints[1][0] != "knob" || prints[1][2] != "3" || prints[1][9] != "estimated" || prints[2][8] != "1" || prints[2][9] != "given" {
		t.Errorf("prints %v", prints)
	}
	var doc struct {
		Cases []struct {
			Options map[string]string
			Kinds   []struct {
				Kind   string
				Pieces int
			}
			Parts      []struct{ Count int }
			Assemblies []struct {
				ID     string
				Count  int
				Holds  map[string]int
				Centre *[3]float64 `json:"centre_mm"`
			}
			Plastic []struct {
				Material string
				Mass     float64 `json:"mass_kg"`
			}
			Steps []struct {
				ID   string
				Uses []struct{ Part, Text string }
			}
		}
		Whatever []struct {
			Part  string
			Count int
			Cases []int
		}
		Differences []struct {
			Choice, Option string
			Minutes        float64
			Sized          []string
			Parts          []struct {
				Part     string
				From, To int
			}
		}
	}
	text, err := PlanJSON(w, nil)
	if err == nil {
		err = json.Unmarshal(text, &doc)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range doc.Cases {
		pieces := 0
		for _, k := range c.Kinds {
			pieces += k.Pieces
		}
		for _, p := range c.Parts {
			pieces -= p.Count
		}
		if pieces != 0 {
			t.Errorf("%v: the kinds have %d pieces more than the parts", c.Options, pieces)
		}
		motor := c.Options["drive"] == "motor"
		if motor != (len(c.Plastic) == 2) {
			t.Errorf("%v: plastic %v", c.Options, c.Plastic)
		}
		if motor && math.Abs(c.Plastic[0].Mass-3*0.0048768) > 1e-6 {
			t.Errorf("%g kg of PETG", c.Plastic[0].Mass)
		}
		for _, st := range c.Steps {
			if st.ID == "power.mount" && (len(st.Uses) != 1 || st.Uses[0].Text != "4 g (0.1411 oz)" && st.Uses[0].Text != "4 g") {
				t.Errorf("the step uses %v", st.Uses)
			}
		}
	}
	most := map[string]string{}
	for _, m := range doc.Whatever {
		most[m.Part] = fmt.Sprint(m.Count, len(m.Cases))
	}
	// Four posts and as many screws with the large tile, in two of four cases.
	for part, want := range map[string]string{"post": "4 2", "cap": "4 2", "knob": "3 2", "motor": "1 2"} {
		if most[part] != want {
			t.Errorf("at most %s, and in how many cases: %q, want %q", part, most[part], want)
		}
	}
	for _, d := range doc.Differences {
		switch d.Choice + " " + d.Option {
		case "drive motor":
			if d.Minutes != 5 || len(d.Parts) != 4 { // motor, knobs, tag, grease
				t.Errorf("the motor takes %g min and %v more", d.Minutes, d.Parts)
			}
		case "tile large":
			if len(d.Parts) != 2 || d.Parts[0].To-d.Parts[0].From != 2 || len(d.Sized) != 1 || d.Sized[0] != "post" {
				t.Errorf("the large tile changes %v", d.Parts)
			}
		default:
			t.Errorf("a difference for %s %s, which is the plan's own", d.Choice, d.Option)
		}
	}
	if len(doc.Differences) != 2 {
		t.Errorf("%d differences, want 2", len(doc.Differences))
	}
}
