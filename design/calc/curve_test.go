package calc_test

import (
	"math"
	"testing"

	"plansheaf/design/calc"
	"plansheaf/design/trial"
)

// A curve is the result worked out anew at each value of its input, with the lines that
// the result is compared with.
func TestCurves(t *testing.T) {
	report, r := run(t, `tables: {curve: files/curve.csv}
given:
  friction: {is: 0.2 ± 0.05}
  load:     {is: 100 N}
  speed:    {is: 150 rpm}
find:
  drag:   friction * load
  rest:   sqrt(load - 2 * drag)
  torque: curve.torque(speed)
graphs:
  - {of: drag, against: friction}
  - {of: rest, against: friction, from: 0.1, to: 0.9}
  - {of: torque, against: speed, from: 0 rpm, to: 400 rpm}
  - {of: drag, against: lever}
require: [{that: drag <= 40 N}, {that: friction * 1000 N > drag}, {that: load > 1 N}]
holds_while: [drag < load]
`, trial.Files{"files/curve.csv": curve, "plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nvalues: {lever: {is: 4 mm}}\n"})
	drag := calc.CurveOf(r, report.Calc, report.Calc.Graphs[0], 5)
	if !drag.Known || len(drag.Points) != 5 {
		t.Fatalf("%+v", drag)
	}
	for i, p := range drag.Points {
		if want := 0.1 + 0.05*float64(i); math.Abs(p.X-want) > 1e-12 || math.Abs(p.Y-100*want) > 1e-9 || !p.Known {
			t.Errorf("point %d is %+v, want %g and %g", i, p, want, 100*want)
		}
	}
	if drag.X.SI != 0.2 || math.Abs(drag.Y.SI-20) > 1e-12 || math.Abs(drag.Y.Plus-5) > 1e-9 {
		t.Errorf("design point %+v, %+v", drag.X, drag.Y)
	}
	if len(drag.Lines) != 3 {
		t.Fatalf("lines %+v", drag.Lines)
	}
	if y, level := drag.Lines[0].Level(); !level || y != 40 || drag.Lines[0].Op != "<=" || drag.Lines[0].Source != "40 N" {
		t.Errorf("first line %+v", drag.Lines[0])
	}
	if _, level := drag.Lines[1].Level(); level || drag.Lines[1].Op != "<" || math.Abs(drag.Lines[1].Y[4]-300) > 1e-9 {
		t.Errorf("second line %+v", drag.Lines[1])
	}
	if !drag.Lines[2].Limit {
		t.Errorf("third line %+v", drag.Lines[2])
	}
	for _, c := range []struct {
		graph int
		known []bool
	}{
		{1, []bool{true, true, true, false, false}}, // a root of what is negative beyond 0.5
		{2, []bool{false, true, true, true, false}}, // a table from 100 to 300 rpm
		{3, []bool{true, true, true, true, true}},   // a value that the result does not lean on
	} {
		got := calc.CurveOf(r, report.Calc, report.Calc.Graphs[c.graph], 5)
		for i, p := range got.Points {
			if p.Known != c.known[i] {
				t.Errorf("graph %d, point %d: %+v", c.graph, i, p)
			}
		}
	}
	trial.Clean(t, r.Findings())
}

// Which tables a calculation reads, also through its own functions.
func TestUses(t *testing.T) {
	report, _ := run(t, `tables: {curve: files/curve.csv, idle: files/curve.csv}
define: {pull(at): "curve.torque(at) / 10 mm"}
given: {speed: {is: 150 rpm}, heat: {is: curve.warm(speed)}}
find: {force: pull(speed), twice: 2 * force}
`, trial.Files{"files/curve.csv": curve})
	if len(report.Uses) != 1 {
		t.Fatalf("uses %+v", report.Uses)
	}
	u := report.Uses[0]
	if u.Table.Name.Text != "curve" || len(u.Columns) != 2 || u.Columns[0] != "warm" || u.Columns[1] != "torque" || len(u.By) != 2 || u.By[0] != "heat" || u.By[1] != "force" {
		t.Errorf("use %+v", u)
	}
}

// One calculation serves several assemblies: a second file names the first and gives what
// differs. Results, limits and spread are those of its own inputs.
func TestMadeFromAnother(t *testing.T) {
	_, r := run(t, `given: {load: {is: 100 N ± 10 N}, arm: {is: 20 mm}}
find: {moment: load * arm}
holds_while: [arm < 30 mm]
`, trial.Files{
		"calcs/left.yaml":  "title: Left\nfrom: it\ngiven: {arm: {is: 50 mm}}\nfind: {twice: 2 * moment}\nrequire: [{that: moment < 5.2 N*m}]\n",
		"calcs/third.yaml": "title: Third\nfrom: left\ngiven: {load: {is: 1 N}}\n",
	})
	for name, want := range map[string]float64{"it.moment": 2, "left.moment": 5, "left.twice": 10, "third.moment": 0.05, "third.twice": 0.1} {
		if v, err := r.Show(name); err != nil || math.Abs(v.SI-want) > 1e-12 {
			t.Errorf("%s = %v, %v, want %g", name, v.SI, err, want)
		}
	}
	left := calc.Run(r, r.Plan.Calc("left"), 0)
	if got := left.Limits; len(got) != 1 || got[0].Holds {
		t.Errorf("limits %+v", got)
	}
	if d := left.Finds[0].Drivers; len(d) != 1 || d[0].Name != "left.load" {
		t.Errorf("drivers %+v: the copy's input is its own", d)
	}
	if c := left.Requires[0].Certainty; math.Abs(c-0.8849) > 1e-4 { // Φ(1.2)
		t.Errorf("certainty %g", c)
	}
}
