package quantity

import (
	"errors"
	"math"
	"testing"
)

func TestParse(t *testing.T) {
	rows := []struct {
		text        string
		unit        string
		want        float64
		minus, plus float64 // in unit
		fit         string
	}{
		{text: "412 mm", unit: "mm", want: 412},
		{text: "  412 mm  ", unit: "mm", want: 412},
		{text: "412mm", unit: "mm", want: 412},
		{text: "1 in", unit: "mm", want: 25.4},
		{text: "3/8 in", unit: "mm", want: 9.525},
		{text: "1 9/16 in", unit: "mm", want: 39.6875},
		{text: "2 ft 6 in", unit: "mm", want: 762},
		{text: "2 ft 6 1/2 in", unit: "mm", want: 774.7},
		{text: "-2 ft 6 in", unit: "mm", want: -762},
		{text: "1 lb 8 oz", unit: "lb", want: 1.5},
		{text: "1 h 30 min", unit: "h", want: 1.5},
		{text: "20 deg 30 '", unit: "deg", want: 20.5},
		{text: "1/2 turn", unit: "deg", want: 180},
		{text: "0.44 N*m", unit: "N*mm", want: 440},
		{text: "0.44 N·m", unit: "N*mm", want: 440},
		{text: "9.81 m/s^2", unit: "m/s²", want: 9.81},
		{text: "7000 mm^4", unit: "mm⁴", want: 7000},
		{text: "2700 kg/m^3", unit: "g/cm^3", want: 2.7},
		{text: "160 rpm", unit: "turn/min", want: 160},
		{text: "5 l/min", unit: "ml/s", want: 5000.0 / 60},
		{text: "237 W/(m*K)", unit: "W/m/K", want: 237},
		{text: "12e-6 1/K", unit: "1/K", want: 12e-6},
		{text: "1.2×10⁻⁵ 1/K", unit: "K^-1", want: 1.2e-5},
		{text: ".250 in", unit: "mm", want: 6.35},
		{text: "10 %", unit: "", want: 0.1},
		{text: "12 EUR", unit: "EUR", want: 12},
		{text: "14 EUR/m", unit: "EUR/mm", want: 0.014},
		{text: "−5 °C", unit: "degC", want: -5},
		{text: "12\u202f000 N", unit: "kN", want: 12},
		{text: "0.30 ± 0.05", unit: "", want: 0.3, minus: 0.05, plus: 0.05},
		{text: "0.30 +/- 0.05", unit: "", want: 0.3, minus: 0.05, plus: 0.05},
		{text: "12 mm ± 0.1 mm", unit: "mm", want: 12, minus: 0.1, plus: 0.1},
		{text: "12 ± 0.1 mm", unit: "mm", want: 12, minus: 0.1, plus: 0.1},
		{text: "12 mm ± 0.1", unit: "mm", want: 12, minus: 0.1, plus: 0.1},
		{text: "8 mm +0.015/-0 mm", unit: "mm", want: 8, plus: 0.015},
		{text: "8 mm -0.01/+0.02 mm", unit: "mm", want: 8, minus: 0.01, plus: 0.02},
		{text: "8 +0.015/−0 mm", unit: "mm", want: 8, plus: 0.015},
		{text: "-5 mm +0.2/-0.1 mm", unit: "mm", want: -5, minus: 0.1, plus: 0.2},
		{text: "4.31 kN ± 1 %", unit: "N", want: 4310, minus: 43.1, plus: 43.1},
		{text: "30 % ± 2 %", unit: "%", want: 30, minus: 2, plus: 2},
		{text: "30 % ± 2", unit: "%", want: 30, minus: 2, plus: 2},
		{text: "30 ± 5 %", unit: "", want: 30, minus: 1.5, plus: 1.5},
		{text: "20 degC ± 2 degC", unit: "degC", want: 20},
		{text: "± 1/32 in", unit: "in", want: 0, minus: 0.03125, plus: 0.03125},
		{text: "+0.1/-0 mm", unit: "mm", want: 0, plus: 0.1},
		{text: "12 mm H7", unit: "mm", want: 12, fit: "H7"},
		{text: "12 mm js6", unit: "mm", want: 12, fit: "js6"},
		{text: "12 mm H7 ± 0.1 mm", unit: "mm", want: 12, minus: 0.1, plus: 0.1, fit: "H7"},
	}
	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			v, err := Parse(row.text)
			if err != nil {
				t.Fatal(err)
			}
			got, err := v.In(row.unit)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "value", got, row.want)
			if v.Absolute {
				near(t, "spread in K", v.Minus, map[string]float64{"20 degC ± 2 degC": 2}[row.text])
			} else {
				u, _ := ParseUnit(row.unit)
				near(t, "minus", v.Minus/u.Factor, row.minus)
				near(t, "plus", v.Plus/u.Factor, row.plus)
			}
			if v.Fit != row.fit {
				t.Errorf("fit %q, want %q", v.Fit, row.fit)
			}
		})
	}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

func TestParseErrors(t *testing.T) {
	rows := []struct {
		text, at, message, remedy string
	}{
		{text: "", at: "", message: "a number is missing"},
		{text: "mm", at: "m", message: `"mm" is no number`},
		{text: "12 mn", at: "mn", message: `unknown unit "mn"`, remedy: "write mN"},
		{text: "12 MM", at: "MM", message: `unknown unit "MM"`, remedy: "write mm"},
		{text: "12 Nm", at: "Nm", message: `unknown unit "Nm"`, remedy: "write N*m"},
		{text: "12 kNmm", at: "kNmm", message: `unknown unit "kNmm"`, remedy: "write kN*mm"},
		{text: "12 ftlb", at: "ftlb", message: `unknown unit "ftlb"`, remedy: "write lbf*ft"},
		{text: "12 Mpa", at: "Mpa", message: `unknown unit "Mpa"`, remedy: "write MPa"},
		{text: "12 gramm", at: "gramm", message: `unknown unit "gramm"`},
		{text: "12 lbs/in", at: "lbs/in", message: `unknown unit "lbs" in "lbs/in"`, remedy: "write lb/in, or leave blanks around * and / between a value and a name"},
		{text: "12 inches", at: "inches", message: `unknown unit "inches"`, remedy: "write in"},
		{text: `12 "`, at: `"`, message: `unknown unit "\""`, remedy: "write in"},
		{text: "3 mm2", at: "mm2", message: `unknown unit "mm2"`, remedy: "write mm^2"},
		{text: "5 furlong", at: "furlong", message: `unknown unit "furlong"`},
		{text: "12 mm/gap", at: "mm/gap", message: `unknown unit "gap" in "mm/gap"`, remedy: "write mm/gal, or leave blanks around * and / between a value and a name"},
		{text: "1,5 mm", at: ",5 mm", message: "a comma stands in a number", remedy: "write decimals with a point, and thousands without a mark"},
		{text: "12 000 N", at: "000 N", message: `"000 N" follows the quantity "12"`, remedy: "write thousands without a blank"},
		{text: "3/0 in", at: "3/0", message: "a fraction has the denominator 0"},
		{text: "-300 degC", at: "-300 degC", message: "the temperature lies below absolute zero"},
		{text: "1e400 mm", at: "1e400", message: "the number is too large"},
		{text: "12 N H7", at: "H7", message: "the fit H7 follows a force; a fit belongs to a diameter", remedy: "write a length before it, such as 12 mm H7"},
		{text: "12 mm ± 1 N", at: "± 1 N", message: "a length has a spread that is a force"},
		{text: "20 degC ± 5 %", at: "± 5 %", message: "a temperature on a scale has no spread in %; write it in K"},
		{text: "12 mm 13 mm", at: "13 mm", message: `"13 mm" follows the quantity "12 mm"`, remedy: "write thousands without a blank"},
	}
	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			_, err := Parse(row.text)
			var syntax *SyntaxError
			if !errors.As(err, &syntax) {
				t.Fatalf("got error %v, want a SyntaxError", err)
			}
			if got := string([]rune(row.text)[syntax.Offset : syntax.Offset+syntax.Length]); got != row.at {
				t.Errorf("marks %q, want %q", got, row.at)
			}
			if syntax.Message != row.message || syntax.Remedy != row.remedy {
				t.Errorf("got %q, remedy %q\nwant %q, remedy %q", syntax.Message, syntax.Remedy, row.message, row.remedy)
			}
		})
	}
}

// A literal ends where a formula goes on.
func TestScanEnds(t *testing.T) {
	rows := []struct {
		text string
		want string
	}{
		{text: "12 mm + 3 mm", want: "12 mm"},
		{text: "12 mm*2", want: "12 mm"},
		{text: "12 mm*(2 + x)", want: "12 mm"},
		{text: "12 W/(m*K)*2", want: "12 W/(m*K)"},
		{text: "12 and x", want: "12"},
		{text: "3 mm)", want: "3 mm"},
		{text: "3 mm, 4 mm", want: "3 mm"},
		{text: "3 mm<=x", want: "3 mm"},
		{text: "3/8", want: "3"},
		{text: "3/8 in/2", want: "3/8 in"},
		{text: "2 ft 6", want: "2 ft"},
		{text: "5 min 3", want: "5 min"},
		{text: "2^3", want: "2"},
		{text: "12 mm ± gap", want: "12 mm"},
		{text: "12 mm +3 mm", want: "12 mm"},
		{text: "2e", want: ""},
	}
	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			literal, err := Scan([]rune(row.text))
			if row.want == "" {
				if err == nil {
					t.Fatalf("read %q, want an error", string([]rune(row.text)[:literal.Length]))
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if got := string([]rune(row.text)[:literal.Length]); got != row.want {
				t.Errorf("read %q, want %q", got, row.want)
			}
		})
	}
}
