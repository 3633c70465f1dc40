package quantity

import (
	"math"
	"testing"
)

func TestText(t *testing.T) {
	rows := []struct {
		text, metric, inch string
	}{
		{text: "412 mm", metric: "412 mm", inch: "16.22 in"},
		{text: "3/8 in", metric: "9.525 mm", inch: "3/8 in"},
		{text: "1 9/16 in", metric: "39.69 mm", inch: "1 9/16 in"},
		{text: "-3/8 in", metric: "−9.525 mm", inch: "−3/8 in"},
		{text: "12 in", metric: "304.8 mm", inch: "12 in"},
		{text: "0.1 mm", metric: "0.1 mm", inch: "0.00394 in"},
		{text: "12.3456 mm", metric: "12.35 mm", inch: "0.486 in"},
		{text: "12345.678 mm", metric: "12\u202f345.68 mm", inch: "40.5 ft"},
		{text: "0.0001 mm", metric: "0.1 µm", inch: "3.937×10⁻⁶ in"},
		{text: "0 mm", metric: "0 mm", inch: "0 in"},
		{text: "0 N", metric: "0 N", inch: "0 lbf"},
		{text: "0.44 N*m", metric: "0.44 N·m", inch: "3.894 lbf·in"},
		{text: "1200 J", metric: "1200 J", inch: "885.1 lbf·ft"},
		{text: "7000 mm^4", metric: "7000 mm⁴", inch: "0.01682 in⁴"},
		{text: "2700 kg/m^3", metric: "2700 kg/m³", inch: "0.09754 lb/in³"},
		{text: "24133.1659 psi", metric: "166.4 MPa", inch: "24\u202f133 psi"},
		{text: "90 deg", metric: "90°", inch: "90°"},
		{text: "160 rpm", metric: "160 rpm", inch: "160 rpm"},
		{text: "40 degC", metric: "40 °C", inch: "104 °F"},
		{text: "30 K", metric: "30 K", inch: "54 Δ°F"},
		{text: "10 %", metric: "10 %", inch: "10 %"},
		{text: "12 EUR", metric: "12.00 EUR", inch: "12.00 EUR"},
		{text: "1234.567 EUR", metric: "1234.57 EUR", inch: "1234.57 EUR"},
		{text: "0.0064 EUR", metric: "0.0064 EUR", inch: "0.0064 EUR"},
		{text: "250 JPY", metric: "250 JPY", inch: "250 JPY"},
		{text: "14 EUR/m", metric: "14.00 EUR/m", inch: "4.27 EUR/ft"},
		{text: "0.30 ± 0.05", metric: "0.30 ± 0.05", inch: "0.30 ± 0.05"},
		{text: "12 mm ± 0.1 mm", metric: "12.0 ± 0.1 mm", inch: "0.4724 ± 0.0039 in"},
		{text: "12.35 mm ± 0.1 mm", metric: "12.35 ± 0.1 mm", inch: "0.4862 ± 0.0039 in"},
		{text: "12 mm ± 0.125 mm", metric: "12.000 ± 0.125 mm", inch: "0.4724 ± 0.0049 in"},
		{text: "0.39 mm ± 4 %", metric: "0.390 ± 0.016 mm", inch: "0.01535 ± 0.00061 in"},
		{text: "8 mm +0.015/-0 mm", metric: "8 +0.015/−0 mm", inch: "0.31496 +0.00059/−0 in"},
		{text: "3/8 in ± 1/32 in", metric: "9.525 ± 0.794 mm", inch: "3/8 in ± 1/32 in"},
		{text: "4.31 kN ± 1 %", metric: "4.310 ± 0.043 kN", inch: "968.9 ± 9.7 lbf"},
		{text: "12 mm H7", metric: "12 mm H7", inch: "0.4724 in H7"},
		{text: "237 W/(m*K)", metric: "237 W/(m·K)", inch: "237 W/(m·K)"},
		{text: "470 uF", metric: "470 µF", inch: "470 µF"},
		{text: "12 kOhm", metric: "12 kΩ", inch: "12 kΩ"},
	}
	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			v, err := Parse(row.text)
			if err != nil {
				t.Fatal(err)
			}
			if got := Text(v, Metric); got != row.metric {
				t.Errorf("metric %q, want %q", got, row.metric)
			}
			if got := Text(v, Inch); got != row.inch {
				t.Errorf("inch %q, want %q", got, row.inch)
			}
		})
	}
}

// Results of calculations have no unit of their own; the printer picks one.
func TestTextPicksUnits(t *testing.T) {
	rows := []struct {
		name string
		si   float64
		dim  Dimension
		want string
	}{
		{name: "small force", si: 0.05, dim: Force, want: "50 mN"},
		{name: "force", si: 950, dim: Force, want: "950 N"},
		{name: "large force", si: 4310, dim: Force, want: "4.31 kN"},
		{name: "noise below a kilogram", si: 0.9999999999999, dim: Mass, want: "1 kg"},
		{name: "torque", si: 0.44, dim: Torque, want: "0.44 N·m"},
		{name: "energy", si: 1200, dim: Energy, want: "1.2 kJ"},
		{name: "stress", si: 6.07316580577e6, dim: Pressure, want: "6.073 MPa"},
		{name: "length", si: 0.0374848951301, dim: Length, want: "37.48 mm"},
		{name: "angle", si: 3.39126341265 * math.Pi / 180, dim: Angle, want: "3.391°"},
		{name: "crooked", si: 12, dim: dim(1, 1, -1, 0, 0, 0, 0), want: "12 kg·m/s"},
		{name: "not a number", si: math.NaN(), dim: Length, want: "not a number"},
		{name: "infinite", si: math.Inf(1), dim: Length, want: "infinitely large"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			if got := Text(Value{SI: row.si, Dim: row.dim}, Metric); got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

func TestBoth(t *testing.T) {
	rows := []struct{ text, first, second string }{
		{text: "12 mm H7", first: "12 mm H7", second: "0.472 in"},
		{text: "60 W", first: "60 W"},
		{text: "12 V", first: "12 V"},
		{text: "90 deg", first: "90°"},
		{text: "12 EUR", first: "12.00 EUR"},
		{text: "0 mm", first: "0 mm"},
		{text: "3", first: "3"},
	}
	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			v, err := Parse(row.text)
			if err != nil {
				t.Fatal(err)
			}
			if first, second := Both(v, Metric); first != row.first || second != row.second {
				t.Errorf("got %q, %q, want %q, %q", first, second, row.first, row.second)
			}
		})
	}
}

func TestTextIn(t *testing.T) {
	v := MM(412)
	if got, err := TextIn(v, "cm"); got != "41.2 cm" || err != nil {
		t.Errorf("got %q, %v", got, err)
	}
	if _, err := TextIn(v, "kN"); err == nil {
		t.Error("a length was printed in kN")
	}
	if number, unit := Parts(v, Inch); number != "16.22" || unit != "in" {
		t.Errorf("parts %q, %q", number, unit)
	}
	tolerance, err := Parse("± 0.05 mm")
	if err != nil {
		t.Fatal(err)
	}
	if got := SpreadText(tolerance, Metric); got != "± 0.05 mm" {
		t.Errorf("spread %q", got)
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		x    float64
		n    int
		want float64
	}{{13.59, 2, 14}, {13.59, 3, 13.6}, {-0.004567, 2, -0.0046}, {9.96, 2, 10}, {0, 2, 0}, {1200, 1, 1000}} {
		if got := Figures(c.x, c.n); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g to %d figures is %g, want %g", c.x, c.n, got, c.want)
		}
	}
}
