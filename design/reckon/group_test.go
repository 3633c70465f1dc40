package reckon_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/formula"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

var steps = trial.Files{
	"assemblies/rack.yaml": rack["assemblies/rack.yaml"] + `joints: {}
steps:
  stand: {title: Stand, adds: [posts], text: Stand the posts., time: 12 min ± 2 min, people: 2}
  shelve: {title: Shelve, adds: [shelves], text: Put the shelves in., time: 8 min}
  drive: {title: Drive, adds: [spindle], text: Put the spindle in., time: 5 min, only: {drive: motor}}
  look: {title: Look, text: Look at it.}
`,
	"files/curve.csv": "speed [rpm], torque [N*m]\n0, 1.9\n600, 1.86\n1200, 1.7\n1800, 1.35\n2400, 0.8\n3000, 0\n",
	"calcs/sums.yaml": `title: Sums
tables: {curve: files/curve.csv, smooth: {file: files/curve.csv, between: smooth}}
define:
  weighed(p_mass, g): p_mass * g
  stiffness(e, i, l): 3 * e * i / l^3
  about(v): v * (1 ± 0.1)
given:
  g: {is: 9.81 m/s^2}
  torque: {is: 1.5 N*m ± 0.05 N*m}
find:
  weight: sum(p, rack.parts, weighed(p.mass * p.count, g))
  man_time: sum(s, rack.steps, s.time * s.people, has(s.time))
  speed: solve(n, 0 rpm, 3000 rpm, curve.torque(n) = torque)
  smooth_speed: solve(n, 0 rpm, 3000 rpm, smooth.torque(n) = torque)
  rough: about(torque)
  outer: solve(n, 0 rpm, 9000 rpm, curve.torque(n) = torque)
`,
}

func TestSumsOverThePlan(t *testing.T) {
	r := trial.Reckoning(t, rack.With(steps))
	rows := []struct {
		name, formula string
		want          float64
	}{
		{name: "masses of an assembly's parts are its mass", formula: "sum(p, rack.parts, p.mass * p.count) / rack.mass", want: 1},
		{name: "so are those of a sub-assembly, counted in one of it", formula: "sum(p, level.parts, p.mass * p.count) / level.mass", want: 1},
		{name: "count is that in the assembly, fasteners included", formula: "sum(p, level.parts, p.count)", want: 3},
		{name: "through repeats", formula: "sum(p, rack.parts, p.count)", want: 3 + 2*3 + 1},
		{name: "each kind once", formula: "sum(p, rack.parts, 1)", want: 5},
		{name: "condition on a property that some have", formula: "sum(p, rack.parts, p.load * p.count, has(p.load))", want: 9000},
		{name: "a hole's size", formula: "sum(p, rack.parts, p.rods.count, has(p.rods.diameter))", want: 4},
		{name: "steps", formula: "sum(s, rack.steps, s.time, has(s.time))", want: 25 * 60},
		{name: "one step", formula: "rack.stand.time + rack.shelve.time", want: 20 * 60},
		{name: "people, one where nothing is said", formula: "sum(s, rack.steps, s.people)", want: 5},
		{name: "names written out", formula: "sum(p, (post, spindle), p.length)", want: 0.3},
		{name: "function in a sum", formula: "sums.weight", want: 9.81},
		{name: "steps in a calculation", formula: "sums.man_time", want: (2*12 + 8 + 5) * 60},
		// Between 1200 and 1800 rpm the table falls by 0.35 N·m: 0.2 of that is 342.86 rpm.
		{name: "table read backwards", formula: "sums.speed / 1 rpm", want: 1200 + 600*0.2/0.35},
		{name: "looked for beyond the table, too", formula: "sums.outer / sums.speed", want: 1},
	}
	mass, failed := formula.Parse("rack.mass")
	if failed != nil {
		t.Fatal(failed)
	}
	all, failed := mass.Value(r.Scope())
	if failed != nil {
		t.Fatal(failed)
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			e, failed := formula.Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			v, failed := e.Value(r.Scope())
			if failed != nil {
				t.Fatal(failed)
			}
			want := row.want
			if row.formula == "sums.weight" {
				want *= all.SI
			}
			if math.Abs(v.SI-want) > 1e-9*math.Abs(want) {
				t.Errorf("%s = %g, want %g", row.formula, v.SI, want)
			}
		})
	}
	trial.Clean(t, r.Findings())
}

// Spreads reach results through sums, roots and steps.
func TestSpreadsThroughForms(t *testing.T) {
	r := trial.Reckoning(t, rack.With(steps))
	v, drivers, err := r.Drivers("sums.speed")
	if err != nil || len(drivers) != 1 || drivers[0].Name != "sums.torque" {
		t.Fatalf("got %+v, %v", drivers, err)
	}
	// The table's slope there is 0.35 N·m in 600 rpm.
	want := 0.05 * 600 / 0.35 * 2 * math.Pi / 60
	if math.Abs(v.Plus-want) > 1e-9*want || math.Abs(v.Minus-want) > 1e-9*want {
		t.Errorf("spread %g and %g, want %g rad/s", v.Minus, v.Plus, want)
	}
	smooth, _, err := r.Drivers("sums.smooth_speed")
	if err != nil || !smooth.HasSpread() || math.Abs(smooth.SI/v.SI-1) > 0.05 || smooth.SI == v.SI {
		t.Errorf("along the curve: %+v, %v; on lines %+v", smooth, err, v)
	}
	// A spread in a function adds to that of what it is called with.
	rough, err := r.Show("sums.rough")
	if want := 1.5*0.1 + 0.05*1.1; err != nil || math.Abs(rough.Plus-want) > 0.006 {
		t.Errorf("got %+v, %v; want a spread of %g", rough, err, want)
	}
	trial.Clean(t, r.Findings())
}

func TestFaultsInForms(t *testing.T) {
	rows := []struct{ name, find, rule, at, says string }{
		{name: "unknown group", find: "sum(p, rak.parts, p.mass)", rule: "unknown-name", at: "rak.parts", says: `"rack.parts"`},
		{name: "no group", find: "sum(p, rack.pars, p.mass)", rule: "bad-arithmetic", at: "rack.pars", says: "rack.parts or rack.steps"},
		{name: "unknown property", find: "sum(p, level.parts, p.powr)", rule: "unknown-name", at: "p.powr", says: `"shelf.powr"`},
		{name: "unknown property of a step", find: "sum(s, rack.steps, s.tme)", rule: "unknown-name", at: "s.tme", says: "rack.stand.time"},
		{name: "beyond a table", find: "curve.torque(2 * 1600 rpm)", rule: "bad-arithmetic", at: "curve.torque(2 * 1600 rpm)", says: "runs from 0 rpm to 3000 rpm and says nothing beyond: 2 * 1600 rpm is 3200 rpm"},
		{name: "dimensions in a function", find: "stiffness(210 GPa, 8 mm^4, 1 m) + stiffness(210 GPa, 8 mm, 1 m) * 1 s", rule: "bad-arithmetic", at: "stiffness(210 GPa, 8 mm^4, 1 m) + stiffness(210 GPa, 8 mm, 1 m) * 1 s"},
		{name: "division by zero in a function", find: "stiffness(210 GPa, 8 mm^4, 0 m)", rule: "bad-arithmetic", at: "stiffness(210 GPa, 8 mm^4, 0 m)", says: "3 * e * i / l^3: division by zero: l^3 is 0 m³ with l = 0 m, in stiffness(e, i, l) = 3 * e * i / l^3"},
		{name: "no root", find: "solve(n, 0 rpm, 3000 rpm, curve.torque(n) = 5 N*m)", rule: "bad-arithmetic", at: "solve(n, 0 rpm, 3000 rpm, curve.torque(n) = 5 N*m)", says: "at n = 0 rpm, curve.torque(n) is 1.9 N·m; at n = 3000 rpm, curve.torque(n) is 0 N·m"},
		{name: "a sum of itself", find: "sum(p, (forms.result, 1), p)", rule: "circular-formula", at: "p", says: "forms.result -> forms.result"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			calc := strings.Replace(steps["calcs/sums.yaml"], "title: Sums", "title: Forms", 1)
			head, _, _ := strings.Cut(calc, "find:\n")
			files := rack.With(steps).With(trial.Files{"calcs/forms.yaml": head + "find:\n  result: " + row.find + "\n"})
			p := trial.Plan(t, files)
			r := reckon.New(p, reckon.Default(p), nil)
			r.All()
			found := r.Findings()
			if len(found) != 1 {
				t.Fatalf("got %+v", found)
			}
			f := found[0]
			if covered := trial.Covered(files, f); f.Rule != row.rule || covered != row.at || !strings.Contains(f.Message+" "+f.Remedy, row.says) {
				t.Errorf("got %s at %q: %s (%s)", f.Rule, covered, f.Message, f.Remedy)
			}
		})
	}
}

// A plan whose assemblies hold twice what the next holds, thirty deep, is counted
// without going through each.
func TestContentsOfDoublings(t *testing.T) {
	files := trial.Files{"plan.yaml": "title: Rig\nmachine: a0\nrevision: A\n", "parts/all.yaml": "leaf: {title: Leaf, made: cut, stock: rod_12, length: 10 mm}\n", "stock.yaml": rack["stock.yaml"], "materials.yaml": rack["materials.yaml"]}
	names := strings.Fields("a0 a1 a2 a3 a4 a5 a6 a7 a8 a9 b0 b1 b2 b3 b4 b5")
	for i, name := range names {
		inner := "part: leaf"
		if i+1 < len(names) {
			inner = "assembly: " + names[i+1]
		}
		files["assemblies/"+name+".yaml"] = "title: " + strings.ToUpper(name) + "\nholds:\n  one: {" + inner + ", at: [0 mm, 0 mm, 0 mm]}\n  two: {" + inner + ", at: [0 mm, 0 mm, 0 mm]}\n"
	}
	r := trial.Reckoning(t, files)
	e, failed := formula.Parse("sum(p, a0.parts, p.count)")
	if failed != nil {
		t.Fatal(failed)
	}
	v, failed := e.Value(r.Scope())
	if failed != nil || v.SI != math.Pow(2, float64(len(names))) || v.Dim != quantity.Pure {
		t.Errorf("got %+v, %v", v, failed)
	}
}
