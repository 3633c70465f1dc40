package formula

import (
	"math"
	"testing"

	"plansheaf/design/quantity"
)

// Published worked examples, worked out from their printed data with units as
// printed. The source stands beside each; "published" is the number as printed
// there, so it is checked to half a unit of its last digit.
func TestPublishedExamples(t *testing.T) {
	rows := []struct {
		name      string
		source    string
		given     map[string]string
		formula   string
		unit      string
		published float64
		half      float64 // half a unit of the last printed digit
	}{
		{
			name: "square thread, raising torque", source: "Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed., Example 8-1; answer from memory",
			given:   map[string]string{"load": "6.4 kN", "mean": "30 mm", "lead": "8 mm", "f": "0.08", "collar": "40 mm"},
			formula: "load * mean / 2 * (lead + pi * f * mean) / (pi * mean - f * lead) + load * f * collar / 2",
			unit:    "N*m", published: 26.18, half: 0.005,
		},
		{
			name: "square thread, efficiency", source: "the same",
			given:   map[string]string{"load": "6.4 kN", "lead": "8 mm", "torque": "26.176954745 N*m"},
			formula: "load * lead / (2 * pi * torque)",
			unit:    "", published: 0.311, half: 0.0005,
		},
		{
			name: "lead screw, drive torque", source: "practice problem on an engineering examination site, looked up there",
			given:   map[string]string{"force": "20 kN", "lead": "10 mm", "efficiency": "70 %"},
			formula: "force * lead / (2 * pi * efficiency)",
			unit:    "N*m", published: 45.5, half: 0.05,
		},
		{
			name: "bolt preload stress", source: "Shigley, 9th ed., Example 8-3, looked up in a scanned page",
			given:   map[string]string{"preload": "25 kip", "area": "0.373 in^2"},
			formula: "preload / area",
			unit:    "ksi", published: 67.02, half: 0.005,
		},
		{
			name: "bolt torque", source: "the same; answer from memory",
			given:   map[string]string{"preload": "25 kip", "d": "3/4 in"},
			formula: "0.2 * preload * d",
			unit:    "lbf*in", published: 3750, half: 0.5,
		},
		{
			name: "cantilever, end deflection", source: "Pytel and Kiusalaas, Mechanics of Materials, Example 6.1, looked up in an open notebook",
			given:   map[string]string{"w": "400 lbf/ft", "l": "8 ft", "e": "29e6 psi", "i": "285 in^4"},
			formula: "w * l^4 / (8 * e * i)",
			unit:    "in", published: 0.0428, half: 0.00005,
		},
		{
			name: "cantilever, bending stress", source: "the same",
			given:   map[string]string{"w": "400 lbf/ft", "l": "8 ft", "z": "45.6 in^3"},
			formula: "w * l^2 / 2 / z",
			unit:    "psi", published: 3368, half: 0.5,
		},
		{
			name: "Euler column, diameter", source: "Shigley, 9th ed., Example 4-17, looked up in a scanned page",
			given:   map[string]string{"load": "22 kN", "l": "1.5 m", "e": "207 GPa"},
			formula: "(64 * (4 * load) * l^2 / (pi^3 * e))^(1/4)",
			unit:    "mm", published: 37.48, half: 0.005,
		},
		{
			name: "slender rod, critical load", source: "Wentzell, Machine Design, Example 3.5, looked up in an open notebook",
			given:   map[string]string{"d": "5/8 in", "l": "30 in", "e": "30e6 psi"},
			formula: "pi^2 * e * (pi * d^4 / 64) / l^2",
			unit:    "lbf", published: 2464, half: 0.5,
		},
		{
			name: "open belt, wrap of the small pulley", source: "Wentzell, Machine Design, Example 14.2, looked up in an open notebook",
			given:   map[string]string{"large": "6 in", "small": "4 in", "centre": "19.1238546434 in"},
			formula: "180 deg - 2 * asin((large - small) / (2 * centre))",
			unit:    "deg", published: 174.01, half: 0.005,
		},
		{
			name: "roller chain, pitch", source: "Khurmi and Gupta, Theory of Machines, Example 11.23, looked up in an open notebook",
			given:   map[string]string{"radius": "0.3 m", "teeth": "40"},
			formula: "2 * radius * sin(180 deg / teeth)",
			unit:    "mm", published: 47.1, half: 0.05,
		},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			scope := Values{}
			for name, text := range row.given {
				scope[name] = value(text)
			}
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			v, failed := e.Value(scope)
			if failed != nil {
				t.Fatal(failed)
			}
			got, err := v.In(row.unit)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got-row.published) > row.half*1.0001 {
				t.Errorf("got %.6g %s, published %g (%s)", got, row.unit, row.published, row.source)
			}
		})
	}
}

// The same example in metric and in inches is the same quantity.
func TestUnitsDoNotMatter(t *testing.T) {
	e, failed := Parse("force * arm / (wide * thick^2 / 6)")
	if failed != nil {
		t.Fatal(failed)
	}
	metric := Values{"force": value("4 kN"), "arm": value("115 mm"), "wide": value("120 mm"), "thick": value("10 mm")}
	inch := Values{}
	for name, v := range metric {
		unit := "in"
		if v.Is(quantity.Force) {
			unit = "lbf"
		}
		x, err := v.In(unit)
		if err != nil {
			t.Fatal(err)
		}
		if inch[name], err = quantity.New(x, unit); err != nil {
			t.Fatal(err)
		}
	}
	a, failed := e.Value(metric)
	if failed != nil {
		t.Fatal(failed)
	}
	b, failed := e.Value(inch)
	if failed != nil {
		t.Fatal(failed)
	}
	if math.Abs(a.SI/b.SI-1) > 1e-12 {
		t.Errorf("%g Pa in metric, %g Pa in inches", a.SI, b.SI)
	}
}
