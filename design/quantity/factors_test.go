package quantity

import (
	"math"
	"testing"
)

// The factors are those of NIST SP 811 (2008), appendix B.8 and B.9, printed
// there to seven digits or, in bold, as exact. Rows marked restated were
// checked against a public restatement of appendix B.9; rows marked E380 against
// one of ASTM E380-82, Standard for Metric Practice, which prints the same
// factors; rows marked memory are written down from memory of SP 811; rows marked
// derived follow from exact rows by arithmetic; rows marked SI are coherent units
// and those in use with them, SP 811 tables 3, 6 and 7, and 1 or exact by
// definition.
func TestFactors(t *testing.T) {
	rows := []struct {
		unit   string
		si     float64
		exact  bool
		source string
	}{
		{unit: "in", si: 2.54e-2, exact: true, source: "restated"},
		{unit: "ft", si: 3.048e-1, exact: true, source: "restated"},
		{unit: "yd", si: 9.144e-1, exact: true, source: "restated"},
		{unit: "mi", si: 1.609344e3, exact: true, source: "restated"},
		{unit: "mil", si: 2.54e-5, exact: true, source: "restated"},
		{unit: "lb", si: 4.535924e-1, source: "restated"},
		{unit: "lb", si: 0.45359237, exact: true, source: "SP 811 B.8 footnote, memory"},
		{unit: "oz", si: 2.834952e-2, source: "restated"},
		{unit: "t", si: 1e3, exact: true, source: "restated"},
		{unit: "lbf", si: 4.448222, source: "restated"},
		{unit: "lbf", si: 4.4482216152605, exact: true, source: "SP 811 B.8 footnote, memory"},
		{unit: "ozf", si: 2.780139e-1, source: "restated"},
		{unit: "kip", si: 4.448222e3, source: "restated"},
		{unit: "kgf", si: 9.80665, exact: true, source: "E380"},
		{unit: "psi", si: 6.894757e3, source: "E380"},
		{unit: "ksi", si: 6.894757e6, source: "E380"},
		{unit: "bar", si: 1e5, exact: true, source: "restated"},
		{unit: "atm", si: 101325, exact: true, source: "restated"},
		{unit: "hp", si: 7.456999e2, source: "restated"},
		{unit: "Btu", si: 1.055056e3, source: "restated"},
		{unit: "kWh", si: 3.6e6, exact: true, source: "E380"},
		{unit: "lbf*ft", si: 1.355818, source: "E380"},
		{unit: "lbf*in", si: 1.129848e-1, source: "E380"},
		{unit: "ozf*in", si: 7.061552e-3, source: "E380"},
		{unit: "kgf*m", si: 9.80665, exact: true, source: "E380"},
		{unit: "lb/in^3", si: 2.767990e4, source: "E380"},
		{unit: "lb/ft", si: 1.488164, source: "E380"},
		{unit: "lbf/in", si: 1.751268e2, source: "memory"},
		{unit: "in^2", si: 6.4516e-4, exact: true, source: "derived"},
		{unit: "in^3", si: 1.6387064e-5, exact: true, source: "derived"},
		{unit: "in^4", si: 4.162314256e-7, exact: true, source: "derived"},
		{unit: "gal", si: 3.785412e-3, source: "E380"},
		{unit: "l", si: 1e-3, exact: true, source: "E380"},
		{unit: "deg", si: 1.745329e-2, source: "restated"},
		{unit: "'", si: 2.908882e-4, source: "restated"},
		{unit: "arcsec", si: 4.848137e-6, source: "restated"},
		{unit: "turn", si: 6.283185, source: "restated"},
		{unit: "rpm", si: 1.047198e-1, source: "memory"},
		{unit: "h", si: 3600, exact: true, source: "restated"},
		{unit: "d", si: 86400, exact: true, source: "restated"},
		{unit: "%", si: 0.01, exact: true, source: "SP 811 7.10.2"},
		{unit: "m", si: 1, exact: true, source: "SI"},
		{unit: "thou", si: 2.54e-5, exact: true, source: "derived"},
		{unit: "L", si: 1e-3, exact: true, source: "SI"},
		{unit: "g", si: 1e-3, exact: true, source: "SI"},
		{unit: "s", si: 1, exact: true, source: "SI"},
		{unit: "min", si: 60, exact: true, source: "SI"},
		{unit: "N", si: 1, exact: true, source: "SI"},
		{unit: "Pa", si: 1, exact: true, source: "SI"},
		{unit: "W", si: 1, exact: true, source: "SI"},
		{unit: "VA", si: 1, exact: true, source: "SI"},
		{unit: "J", si: 1, exact: true, source: "SI"},
		{unit: "Wh", si: 3600, exact: true, source: "E380"},
		{unit: "V", si: 1, exact: true, source: "SI"},
		{unit: "A", si: 1, exact: true, source: "SI"},
		{unit: "Ah", si: 3600, exact: true, source: "derived"},
		{unit: "C", si: 1, exact: true, source: "SI"},
		{unit: "Ohm", si: 1, exact: true, source: "SI"},
		{unit: "Ω", si: 1, exact: true, source: "SI"},
		{unit: "S", si: 1, exact: true, source: "SI"},
		{unit: "F", si: 1, exact: true, source: "SI"},
		{unit: "H", si: 1, exact: true, source: "SI"},
		{unit: "T", si: 1, exact: true, source: "SI"},
		{unit: "Wb", si: 1, exact: true, source: "SI"},
		{unit: "Hz", si: 1, exact: true, source: "SI"},
		{unit: "rad", si: 1, exact: true, source: "SI"},
		{unit: "°", si: 1.745329e-2, source: "restated"},
		{unit: "arcmin", si: 2.908882e-4, source: "restated"},
		{unit: "rev", si: 6.283185, source: "restated"},
		{unit: "K", si: 1, exact: true, source: "SI"},
		{unit: "Δ°F", si: 5.555556e-1, source: "memory"},
	}
	checked := map[string]bool{"degC": true, "°C": true, "degF": true, "°F": true} // see TestTemperatureScales
	for _, row := range rows {
		checked[row.unit] = true
		t.Run(row.unit, func(t *testing.T) {
			v, err := New(1, row.unit)
			if err != nil {
				t.Fatal(err)
			}
			tolerance := 5.1e-7 // half a unit of the seventh digit, at worst
			if row.exact {
				tolerance = 1e-14
			}
			if off := math.Abs(v.SI/row.si - 1); off > tolerance {
				t.Errorf("1 %s = %.12g, want %.12g (%s)", row.unit, v.SI, row.si, row.source)
			}
		})
	}
	for _, known := range Symbols() {
		if !checked[known.Text] {
			t.Errorf("no row for the unit %s", known.Text)
		}
	}
}

// Fixed points of the temperature scales. Source: SP 811 B.8, formulas for
// degree Celsius and degree Fahrenheit (restated): t/°C = T/K - 273.15, t/°F =
// 1.8 T/K - 459.67.
func TestTemperatureScales(t *testing.T) {
	rows := []struct {
		name string
		text string
		unit string
		want float64
	}{
		{name: "ice in kelvin", text: "0 degC", unit: "K", want: 273.15},
		{name: "ice in Fahrenheit", text: "0 degC", unit: "degF", want: 32},
		{name: "steam in Fahrenheit", text: "100 degC", unit: "degF", want: 212},
		{name: "scales meet", text: "-40 degF", unit: "degC", want: -40},
		{name: "absolute zero", text: "-459.67 degF", unit: "K", want: 0},
		{name: "difference", text: "9 Δ°F", unit: "K", want: 5},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			v, err := Parse(row.text)
			if err != nil {
				t.Fatal(err)
			}
			got, err := v.In(row.unit)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got-row.want) > 1e-9 {
				t.Errorf("%s is %g %s, want %g", row.text, got, row.unit, row.want)
			}
		})
	}
}

// Every prefix of SP 811 table 5 between pico and tera works on the metre.
func TestPrefixes(t *testing.T) {
	for prefix, want := range map[string]float64{
		"p": 1e-12, "n": 1e-9, "u": 1e-6, "µ": 1e-6, "μ": 1e-6, "m": 1e-3, "c": 1e-2, "d": 1e-1,
		"da": 10, "h": 100, "k": 1e3, "M": 1e6, "G": 1e9, "T": 1e12,
	} {
		if v, err := New(1, prefix+"m"); err != nil || v.SI != want || v.Dim != Length {
			t.Errorf("1 %sm = %g %v, %v; want %g m", prefix, v.SI, v.Dim, err, want)
		}
	}
}
