package formula

import (
	"math"
	"testing"

	"plansheaf/design/quantity"
)

func TestSpreads(t *testing.T) {
	rows := []struct {
		formula string
		want    string
	}{
		{formula: "friction * 10", want: "1.5 ± 0.3"},
		{formula: "gap - gap", want: "0 mm"}, // one gap, not two
		{formula: "gap + gap", want: "4 ± 1 mm"},
		{formula: "2 * gap - gap", want: "2.0 ± 0.5 mm"},
		{formula: "opening ± 1 mm", want: "180 ± 1 mm"},
		{formula: "(gap ± 1 mm) * 2", want: "4 ± 3 mm"},
		{formula: "opening +0.2/-0.1 mm", want: "180 +0.2/−0.1 mm"},
		{formula: "-(5 mm +0.2/-0.1 mm)", want: "−5 +0.1/−0.2 mm"},
		{formula: "opening ± gap / 2", want: "90 ± 1 mm"}, // the spread binds first
		{formula: "friction ± 10 %", want: "0.150 ± 0.045"},
		{formula: "12 mm / gap", want: "6 +2/−1.2"},
		{formula: "round(gap, 1 mm)", want: "2 +1/−0 mm"}, // 1.5 mm rounds away from zero
		{formula: "if(gap > 1.8 mm, 10 mm, 20 mm)", want: "10 +10/−0 mm"},
		{formula: "curve.torque(120 rpm ± 10 rpm)", want: "0.8 ± 0.1 N·m"},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			v, failed := e.Value(testScope())
			if failed != nil {
				t.Fatal(failed)
			}
			if got := quantity.Text(v, quantity.Metric); got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

func TestContributions(t *testing.T) {
	e, failed := Parse("gap * 3 - friction * 1 mm + (1 mm ± 0.1 mm)")
	if failed != nil {
		t.Fatal(failed)
	}
	list, failed := e.Contributions(testScope())
	if failed != nil {
		t.Fatal(failed)
	}
	want := []struct {
		name string
		mm   float64
	}{{"gap", 1.5}, {"1 mm ± 0.1 mm", 0.1}, {"friction", 0.03}}
	if len(list) != len(want) {
		t.Fatalf("got %+v", list)
	}
	for i, w := range want {
		if list[i].Input.Name != w.name || math.Abs(list[i].Plus*1000-w.mm) > 1e-9 || math.Abs(list[i].Minus*1000-w.mm) > 1e-9 {
			t.Errorf("contribution %d: got %+v, want %s %g mm", i, list[i], w.name, w.mm)
		}
	}
}

// Vary counts an input once though it enters a result by two calcs.
func TestVaryThroughCalcs(t *testing.T) {
	friction := value("0.15 ± 0.03")
	inputs := []Input{{Name: "friction", Value: friction}}
	result := func(f float64) float64 { return (1 + f) - (2 - f) } // each calc leans on f
	list, err := Vary(result(friction.SI), inputs, func(_ int, si float64) (float64, error) { return result(si), nil })
	if err != nil {
		t.Fatal(err)
	}
	if minus, plus := Total(list); math.Abs(minus-0.06) > 1e-12 || math.Abs(plus-0.06) > 1e-12 {
		t.Errorf("got -%g +%g, want 0.06", minus, plus)
	}
}

// The first order agrees with the worst corner to the second order of small
// spreads.
func TestFirstOrderNearCorners(t *testing.T) {
	e, failed := Parse("force * arm / (wide * thick^2 / 6)")
	if failed != nil {
		t.Fatal(failed)
	}
	const part = 0.001
	scope := Values{"force": value("4 kN ± 0.1 %"), "arm": value("115 mm ± 0.1 %"), "wide": value("120 mm ± 0.1 %"), "thick": value("10 mm ± 0.1 %")}
	v, failed := e.Value(scope)
	if failed != nil {
		t.Fatal(failed)
	}
	corner := v.SI * (math.Pow(1+part, 2)/math.Pow(1-part, 3) - 1)
	if math.Abs(v.Plus/corner-1) > 10*part {
		t.Errorf("first order %g, corner %g", v.Plus, corner)
	}
}

func TestFailureAtAnEnd(t *testing.T) {
	e, failed := Parse("sqrt(gap - 1.8 mm)")
	if failed != nil {
		t.Fatal(failed)
	}
	_, failed = e.Eval(Values{"gap": value("2 mm ± 0.5 mm")})
	want := "sqrt(gap - 1.8 mm): square root of a negative value: gap - 1.8 mm is −0.3 mm with gap = 1.5 mm, when gap is at the lower end of its spread, 1.5 mm"
	if failed == nil || failed.Message != want {
		t.Errorf("got %v, want %q", failed, want)
	}
}

func TestMargins(t *testing.T) {
	e, failed := Parse("force >= 4 kN and load < force / 2 and force <= force")
	if failed != nil {
		t.Fatal(failed)
	}
	scope := Values{"force": value("4.2 kN ± 0.3 kN"), "load": value("1 kN")}
	margins, failed := e.Margins(scope)
	if failed != nil {
		t.Fatal(failed)
	}
	want := []struct {
		op                string
		holds, throughout bool
		gap               string
	}{
		{op: ">=", holds: true, throughout: false, gap: "0.2 ± 0.3 kN"},
		{op: "<", holds: true, throughout: true, gap: "−1.10 ± 0.15 kN"},
		{op: "<=", holds: true, throughout: true, gap: "0 N"}, // the same force on both sides
	}
	if len(margins) != len(want) {
		t.Fatalf("got %d margins", len(margins))
	}
	for i, w := range want {
		m := margins[i]
		if m.Comparison.Op != w.op || m.Holds != w.holds || m.Throughout != w.throughout {
			t.Errorf("margin %d: got %s %v %v, want %+v", i, m.Comparison.Op, m.Holds, m.Throughout, w)
		}
		if got := quantity.Text(m.Gap, quantity.Metric); got != w.gap && !(i == 2 && m.Gap.SI == 0) {
			t.Errorf("margin %d: gap %q, want %q", i, got, w.gap)
		}
	}
	if ratio, ok := margins[0].Ratio(); !ok || math.Abs(ratio-1.05) > 1e-9 {
		t.Errorf("ratio %g %v", ratio, ok)
	}
	for _, text := range []string{"force", "force > load or force < load", "not force > load"} {
		e, failed := Parse(text)
		if failed != nil {
			t.Fatal(failed)
		}
		if list := e.Comparisons(); list != nil {
			t.Errorf("%s has comparisons %v", text, list)
		}
	}
	one, failed := Parse("  load * 3 < force")
	if failed != nil {
		t.Fatal(failed)
	}
	left, op, right, ok := one.Comparison()
	if !ok || op != "<" || left.String() != "load * 3" || right.String() != "force" || left.Root().Offset != 2 {
		t.Errorf("got %v %s %v %v", left, op, right, ok)
	}
}

func TestHasSpread(t *testing.T) {
	for text, want := range map[string]bool{
		"0.15 ± 0.03": true, "2 * (0.15 ± 0.03)": true, "gap ± 1 mm": true, "8 mm +0.015/-0 mm": true,
		"gap": false, "8 mm": false, "gap - 3 mm": false,
	} {
		e, failed := Parse(text)
		if failed != nil {
			t.Fatal(failed)
		}
		if got := e.HasSpread(); got != want {
			t.Errorf("%s: got %v", text, got)
		}
	}
}

// throughout is judged at the ends of the spread, for each operator.
func TestThroughout(t *testing.T) {
	rows := []struct {
		formula           string
		holds, throughout bool
	}{
		{formula: "x > 1", holds: true, throughout: true},
		{formula: "x > 1.8", holds: true, throughout: false},
		{formula: "x >= 1.5", holds: true, throughout: true},
		{formula: "x < 2.2", holds: true, throughout: false},
		{formula: "x <= 2.5", holds: true, throughout: true},
		{formula: "x < 2.5", holds: true, throughout: false},
		{formula: "x > 3", holds: false, throughout: false},
		{formula: "x = 2", holds: true, throughout: false},
		{formula: "x = x", holds: true, throughout: true},
		{formula: "x != 2.2", holds: true, throughout: false},
		{formula: "x != 3", holds: true, throughout: true},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			margins, failed := e.Margins(Values{"x": value("2 ± 0.5")})
			if failed != nil {
				t.Fatal(failed)
			}
			if m := margins[0]; m.Holds != row.holds || m.Throughout != row.throughout {
				t.Errorf("holds %v, throughout %v", m.Holds, m.Throughout)
			}
		})
	}
}
