package formula

import (
	"testing"

	"plansheaf/design/quantity"
)

func TestString(t *testing.T) {
	rows := []struct{ formula, want string }{
		{formula: "2*(3+4)", want: "2 * (3 + 4)"},
		{formula: "(2*3)+4", want: "2 * 3 + 4"},
		{formula: "2-(3-4)", want: "2 - (3 - 4)"},
		{formula: "2/(3*4)", want: "2 / (3 * 4)"},
		{formula: "(2^3)^2", want: "(2 ^ 3) ^ 2"},
		{formula: "2^(3^2)", want: "2 ^ 3 ^ 2"},
		{formula: "-(3+4)", want: "-(3 + 4)"},
		{formula: "(-2)^2", want: "(-2) ^ 2"},
		{formula: "(8 mm)^2", want: "(8 mm) ^ 2"},
		{formula: "not(1<2)and 1<2", want: "not 1 < 2 and 1 < 2"},
		{formula: "not(1<2 and 1<2)", want: "not (1 < 2 and 1 < 2)"},
		{formula: "(1<2 or 2<3)and 1<2", want: "(1 < 2 or 2 < 3) and 1 < 2"},
		{formula: "2 * (0.3 ± 0.05)", want: "2 * (0.3 ± 0.05)"},
		{formula: "max( 1mm,2 mm )", want: "max(1mm, 2 mm)"},
		{formula: "x ± 1 mm", want: "x ± 1 mm"},
		{formula: "(x+y) +0.1/-0.2 mm", want: "(x + y) +0.1 mm/-0.2 mm"},
		{formula: "x / (3/8 in)", want: "x / (3/8 in)"},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			if got := e.String(); got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
			again, failed := Parse(e.String())
			if failed != nil {
				t.Fatalf("%q does not read: %v", e, failed)
			}
			if again.String() != e.String() {
				t.Errorf("%q reads back as %q", e, again)
			}
		})
	}
}

func TestWorked(t *testing.T) {
	rows := []struct{ formula, metric, inch string }{
		{
			formula: "2 * pi * motor.torque * ratio / screw.lead",
			metric:  "2 × π × 1.2 N·m × 3 / 4 mm", inch: "2 × π × 10.62 lbf·in × 3 / 0.157 in",
		},
		{formula: "(opening - 20 mm)^2", metric: "(180 mm − 20 mm) ^ 2", inch: "(7.087 in − 0.787 in) ^ 2"},
		{formula: "opening^2", metric: "(180 mm) ^ 2", inch: "(7.087 in) ^ 2"},
		{formula: "friction * 2", metric: "0.15 × 2", inch: "0.15 × 2"},
		{formula: "curve.torque(speed) * 2", metric: "0.8 N·m × 2", inch: "7.081 lbf·in × 2"},
		{formula: "sqrt(gap * gap)", metric: "sqrt(2 mm × 2 mm)", inch: "sqrt(0.0787 in × 0.0787 in)"},
		{formula: "opening >= 100 mm", metric: "180 mm ≥ 100 mm", inch: "7.087 in ≥ 3.937 in"},
		{formula: "unknown + 1 mm", metric: "unknown + 1 mm", inch: "unknown + 0.0394 in"},
		{formula: "2 * (12 mm H7)", metric: "2 × 12 mm", inch: "2 × 0.472 in"},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			if got := e.Worked(testScope(), quantity.Metric); got != row.metric {
				t.Errorf("metric %q, want %q", got, row.metric)
			}
			if got := e.Worked(testScope(), quantity.Inch); got != row.inch {
				t.Errorf("inch %q, want %q", got, row.inch)
			}
		})
	}
}

func TestWarnings(t *testing.T) {
	rows := []struct {
		formula string
		at      string // empty: no warning
	}{
		{formula: "speed * screw.lead", at: "speed * screw.lead"},
		{formula: "2 * (speed * ratio * screw.lead) + 1 mm/s", at: "2 * (speed * ratio * screw.lead)"},
		{formula: "speed * screw.lead / 1 turn"},
		{formula: "speed / 1 turn * screw.lead"},
		{formula: "speed * (screw.lead / 1 turn)"},
		{formula: "speed * screw.mean_diameter / 2"},
		{formula: "opening / screw.lead * 1 turn"},
		{formula: "motor.torque * speed"},
		{formula: "speed * nothing"},
		{formula: "sum(v, (1, 2), speed * screw.lead * v)", at: "speed * screw.lead * v"},
		{formula: "sum(v, (screw, screw), speed * v.lead)", at: "speed * v.lead"},
		{formula: "sum(v, (screw, screw), speed * v.lead / 1 turn)"},
		{formula: "solve(v, 0 mm/s, 1 m/s, v = 2 * speed * screw.lead)", at: "2 * speed * screw.lead"},
		{formula: "solve(n, 0 rpm, 100 rpm, n * screw.lead = 8 mm/s)", at: "n * screw.lead"},
		{formula: "2 * feed(speed) + 1 mm/s + feed(speed)", at: "feed(speed)"},
		{formula: "right(speed)"},
		{formula: "if(1 < 2, speed * screw.lead, 1 mm/s)", at: "speed * screw.lead"},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			scope := testWorkshop(t, map[string]string{"feed(n)": "n * screw.lead", "right(n)": "n * screw.lead / 1 turn"})
			list := e.Warnings(scope)
			if row.at == "" {
				if len(list) != 0 {
					t.Errorf("warns of %+v", list)
				}
				return
			}
			if len(list) != 1 {
				t.Fatalf("got %d warnings", len(list))
			}
			if got := string([]rune(row.formula)[list[0].Offset : list[0].Offset+list[0].Length]); got != row.at {
				t.Errorf("marks %q, want %q", got, row.at)
			}
		})
	}
}
