package calc_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/calc"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// run runs the calculation of a plan that has only that one.
func run(t *testing.T, text string, more trial.Files) (*calc.Report, *reckon.Reckoning) {
	t.Helper()
	r := trial.Reckoning(t, trial.Files{"calcs/it.yaml": "title: It\n" + text}.With(more))
	return calc.Run(r, r.Plan.Calc("it"), quantity.Metric), r
}

// Worked examples of handbooks, through the text of a plan. The tolerance is half a
// unit of the printed answer's last digit, unless the note says otherwise.
func TestHandbooks(t *testing.T) {
	type answer struct {
		name, unit   string
		want, within float64
	}
	cases := []struct {
		name, text string
		want       []answer
	}{
		{
			name: "Shigley, 9th ed., example 8-1: square-thread power screw with two starts",
			text: `given:
  major:    {is: 32 mm}
  pitch:    {is: 4 mm}
  load:     {is: 6.4 kN}
  friction: {is: 0.08}
  collar:   {is: 40 mm}
find:
  mean:     major - pitch / 2
  lead:     2 * pitch
  thread:   load * mean / 2 * (lead + pi * friction * mean) / (pi * mean - friction * lead)
  ring:     load * friction * collar / 2
  raise:    thread + ring
  lower:    load * mean / 2 * (pi * friction * mean - lead) / (pi * mean + friction * lead) + ring
  efficiency: load * lead / (2 * pi * raise)
  shear:    16 * raise / (pi * (major - pitch)^3)
  axial:    -4 * load / (pi * (major - pitch)^2)
`,
			want: []answer{{"mean", "mm", 30, 1e-9}, {"thread", "N*m", 15.94, 0.005}, {"ring", "N*m", 10.24, 0.005}, {"raise", "N*m", 26.18, 0.005}, {"lower", "N*m", 9.77, 0.005}, {"efficiency", "", 0.311, 0.0005}, {"shear", "MPa", 6.07, 0.005}, {"axial", "MPa", -10.39, 0.005}},
		},
		{
			name: "Bhandari, Design of Machine Elements, example 6.1: three starts, ring collar",
			text: `given:
  friction: {is: 0.15}
  load:     {is: 15 kN}
find:
  mean:     50 mm - 8 mm / 2
  slope:    atan(3 * 8 mm / (pi * mean))
  rubs:     atan(friction)
  ring:     friction * load * (100 mm + 65 mm) / 4
  raise:    load * mean / 2 * tan(rubs + slope) + ring
  lower:    load * mean / 2 * tan(rubs - slope) + ring
  force:    raise / 500 mm
`,
			want: []answer{{"raise", "N*m", 204.644, 0.0005}, {"lower", "N*m", 87.402, 0.0005}, {"force", "N", 409.29, 0.005}},
		},
		{
			name: "Shigley, 9th ed., example 8-3: preload, load share and torque of a 3/4-16 screw",
			text: `given:
  area:    {is: 0.373 in^2}
  preload: {is: 25000 lbf}
  load:    {is: 6000 lbf}
  bolt:    {is: 6.5e6 lbf/in}
  members: {is: 13.8e6 lbf/in}
find:
  stress:  preload / area
  share:   bolt / (bolt + members)
  loaded:  share * load / area + stress
  torque:  0.2 * preload * 0.75 in
`,
			want: []answer{{"stress", "psi", 67020, 5}, {"share", "", 0.320, 0.0005}, {"loaded", "psi", 72170, 5}, {"torque", "lbf*in", 3750, 0.5}},
		},
		{
			name: "Pytel and Kiusalaas, Mechanics of Materials, example 6.1: cantilever under uniform load",
			text: `given:
  spread:  {is: 400 lbf/ft}
  long:    {is: 8 ft}
  modulus: {is: 29e6 psi}
  inertia: {is: 285 in^4}
  section: {is: 45.6 in^3}
find:
  sag:     spread * long^4 / (8 * modulus * inertia)
  stress:  spread * long^2 / 2 / section
`,
			want: []answer{{"sag", "in", 0.0428, 0.00005}, {"stress", "psi", 3368, 0.5}},
		},
		{
			name: "Wentzell, Machine Design, example 3.2: beam with a load in the middle",
			text: `given: {load: {is: 3000 lbf}, span: {is: 36 in}, side: {is: 2 in}, modulus: {is: 30e6 psi}}
find:
  inertia: side^4 / 12
  stress:  load * span / 4 * side / 2 / inertia
  sag:     load * span^3 / (48 * modulus * inertia)
`,
			want: []answer{{"stress", "psi", 20250, 0.5}, {"sag", "in", 0.0729, 0.00005}},
		},
		{
			name: "Shigley, 9th ed., example 4-17: round column with pinned ends",
			text: `given: {long: {is: 1.5 m}, load: {is: 22 kN}, factor: {is: 4}, modulus: {is: 207 GPa}, yield: {is: 500 MPa}}
find:
  diameter: "(64 * factor * load * long^2 / (pi^3 * modulus))^(1/4)"
  slender:  long / (40 mm / 4)
  limit:    sqrt(2 * pi^2 * modulus / yield)
`,
			want: []answer{{"diameter", "mm", 37.48, 0.006}, {"slender", "", 150, 0.5}, {"limit", "", 90.4, 0.05}},
		},
		{
			name: "Wentzell, Machine Design, example 14.2: open belt",
			text: `given: {small: {is: 4 in}, large: {is: 6 in}, apart: {is: 19 in}}
find:
  long: 2 * apart + 1.57 * (large + small) + (large - small)^2 / (4 * apart)
  wrap: 180 deg - 2 * asin((large - small) / (2 * 19.1239 in))
`,
			want: []answer{{"long", "in", 53.75, 0.005}, {"wrap", "deg", 174.01, 0.0055}},
		},
		{
			name: "Khurmi and Gupta, Theory of Machines, example 11.6: crossed belt",
			text: `given: {large: {is: 225 mm}, small: {is: 100 mm}, apart: {is: 1.95 m}, speed: {is: 200 rpm}, tight: {is: 1 kN}, friction: {is: 0.25}}
find:
  long:  pi * (large + small) + 2 * apart + (large + small)^2 / apart
  wrap:  pi + 2 * asin((large + small) / apart)
  slack: tight / 2.718281828^(friction * wrap)
  power: (tight - slack) * speed * large
`,
			want: []answer{{"long", "m", 4.975, 0.0005}, {"wrap", "rad", 3.477, 0.001}, {"power", "kW", 2.74, 0.005}},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			report, r := run(t, c.text, nil)
			r.All()
			trial.Clean(t, r.Findings())
			for _, a := range c.want {
				result := find(report.Finds, a.name)
				if result == nil || !result.Known {
					t.Errorf("%s has no value", a.name)
					continue
				}
				got := result.Value.SI
				if a.unit != "" {
					var err error
					if got, err = result.Value.In(a.unit); err != nil {
						t.Errorf("%s: %v", a.name, err)
						continue
					}
				}
				if math.Abs(got-a.want) > a.within {
					t.Errorf("%s = %.6g %s, want %g", a.name, got, a.unit, a.want)
				}
			}
		})
	}
}

func find(list []calc.Result, name string) *calc.Result {
	for i := range list {
		if list[i].Name == name {
			return &list[i]
		}
	}
	return nil
}

// Records hold within their tolerance, to one part in a thousand without one.
func TestRecords(t *testing.T) {
	cases := []struct {
		recorded     string
		known, holds bool
	}{
		{"4 kN", true, true},
		{"4.003 kN", true, true},
		{"4.005 kN", true, false},
		{"3.9 kN ± 3 %", true, true},
		{"3.9 kN ± 1 %", true, false},
		{"4.1 kN +0/-200 N", true, true},
		{"4.1 kN +200/-0 N", true, false},
		{"4 mm", false, false},
	}
	for _, c := range cases {
		t.Run(c.recorded, func(t *testing.T) {
			report, _ := run(t, "given: {half: {is: 2 kN}}\nfind: {force: 2 * half}\nrecorded: {force: "+c.recorded+"}\n", nil)
			if got := report.Records[0]; got.Known != c.known || got.Holds != c.holds {
				t.Errorf("known %v, holds %v: want %v, %v", got.Known, got.Holds, c.known, c.holds)
			}
		})
	}
}

// A requirement's margin is a share of its limit.
func TestRequirements(t *testing.T) {
	cases := []struct {
		that         string
		known, holds bool
		margin       float64 // NaN: none
	}{
		{"force >= 4 kN", true, true, 0.25},
		{"force >= 5 kN", true, true, 0},
		{"force > 5 kN", true, false, 0},
		{"force < 10 kN", true, true, 0.5},
		{"force <= 4 kN", true, false, -0.25},
		{"4 kN < force", true, true, 0.2},
		{"force > -5 kN", true, true, 2},
		{"force > 0 N", true, true, math.NaN()},
		{"force > 4 kN and force < 6 kN", true, true, math.NaN()},
		{"not (force > 4 kN)", true, false, math.NaN()},
		{"force", false, false, math.NaN()},
		{"force > 4 mm", false, false, math.NaN()},
	}
	for _, c := range cases {
		t.Run(c.that, func(t *testing.T) {
			report, _ := run(t, "given: {half: {is: 2.5 kN}}\nfind: {force: 2 * half}\nrequire: [{that: "+c.that+", because: B}]\n", nil)
			got := report.Requires[0]
			same := got.Margin == c.margin || math.Abs(got.Margin-c.margin) < 1e-12 || math.IsNaN(got.Margin) && math.IsNaN(c.margin)
			if got.Known != c.known || got.Holds != c.holds || !same {
				t.Errorf("known %v, holds %v, margin %g: want %v, %v, %g", got.Known, got.Holds, got.Margin, c.known, c.holds, c.margin)
			}
		})
	}
}

const curve = "speed [rpm],torque [N*m],warm [degC]\n100,2.0,20\n200,1.0,40\n300,0.5,70\n"

// Tables are read along straight lines between their rows, in their units, and not
// beyond their ends.
func TestTables(t *testing.T) {
	cases := []struct {
		name, formula, table string
		want                 float64 // SI
		says                 string  // of the finding where there is no value
	}{
		{name: "at a row", formula: "curve.torque(200 rpm)", want: 1},
		{name: "between rows", formula: "curve.torque(150 rpm)", want: 1.5},
		{name: "first row", formula: "curve.torque(100 rpm)", want: 2},
		{name: "last row", formula: "curve.torque(300 rpm)", want: 0.5},
		{name: "in another unit", formula: "curve.torque(2.5 turn/s)", want: 1.5},
		{name: "of a temperature", formula: "curve.warm(250 rpm)", want: 273.15 + 55},
		{name: "below the table", formula: "curve.torque(99 rpm)", says: "runs from 100 rpm to 300 rpm"},
		{name: "beyond the table", formula: "curve.torque(301 rpm)", says: "curve.torque(301 rpm)"},
		{name: "by the wrong kind", formula: "curve.torque(3 mm)", says: "looked up by speed in rpm"},
		{name: "no such column", formula: "curve.torqe(200 rpm)", says: "curve.torqe"},
		{name: "no such table", formula: "curves.torque(200 rpm)", says: "curves.torque"},
		{name: "two arguments", formula: "curve.torque(200 rpm, 1)", says: "takes one value"},
		{name: "a first column that falls", formula: "curve.torque(200 rpm)", table: "speed [rpm],torque [N*m],warm [degC]\n300,2,3\n200,1,4\n", says: "must rise"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			table := curve
			if c.table != "" {
				table = c.table
			}
			report, r := run(t, "tables: {curve: files/curve.csv}\ngiven: {a: {is: 1}}\nfind: {y: \""+c.formula+"\"}\n", trial.Files{"files/curve.csv": table})
			got := report.Finds[0]
			if c.says == "" {
				trial.Clean(t, r.Findings())
				if !got.Known || math.Abs(got.Value.SI-c.want) > 1e-9 {
					t.Errorf("known %v, %g, want %g", got.Known, got.Value.SI, c.want)
				}
				return
			}
			found := r.Findings()
			if got.Known || len(found) != 1 || !strings.Contains(found[0].Message+found[0].Remedy, c.says) {
				t.Errorf("known %v, findings %v, want one that says %q", got.Known, found, c.says)
			}
		})
	}
}

// What a calculation shows: its formula, the formula with values put in, what
// drives its spread; nothing where it belongs to another choice.
func TestReport(t *testing.T) {
	report, r := run(t, `given: {friction: {is: 0.30 ± 0.05, because: common practice, about: steel on steel}, load: {is: 100 N}}
find: {drag: friction * load}
only: {drive: motor}
`, trial.Files{"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nchoices: {drive: {title: D, options: {crank: C, motor: M}, default: motor}}\n"})
	given, drag := report.Givens[0], report.Finds[0]
	if given.Because != "common practice" || given.About != "steel on steel" {
		t.Errorf("given %+v", given)
	}
	if drag.Source != "friction * load" || !strings.Contains(drag.Worked, "100 N") || !strings.Contains(drag.Worked, "0.3") {
		t.Errorf("shown as %q, worked %q", drag.Source, drag.Worked)
	}
	if math.Abs(drag.Value.SI-30) > 1e-9 || math.Abs(drag.Value.Plus-5) > 1e-9 || math.Abs(drag.Value.Minus-5) > 1e-9 {
		t.Errorf("drag %g +%g −%g, want 30 ± 5", drag.Value.SI, drag.Value.Plus, drag.Value.Minus)
	}
	if len(drag.Drivers) != 1 || drag.Drivers[0].Name != "it.friction" || math.Abs(drag.Drivers[0].Reach()-5) > 1e-9 {
		t.Errorf("driven by %+v, want it.friction by 5 N", drag.Drivers)
	}
	crank := reckon.New(r.Plan, reckon.Case{Options: map[string]string{"drive": "crank"}}, nil)
	if calc.Run(crank, r.Plan.Calc("it"), quantity.Metric) != nil {
		t.Error("a calculation of the motor runs with the crank")
	}
}
