package quantity

import (
	"errors"
	"math"
	"math/rand"
	"testing"
)

// testUnits are units of every kind for property tests.
var testUnits = []string{
	"", "mm", "m", "in", "ft", "um", "g", "kg", "lb", "oz", "s", "min", "N", "kN", "lbf", "N*m", "lbf*ft", "J", "kWh", "MPa", "psi",
	"W", "hp", "V", "mA", "kOhm", "uF", "rpm", "deg", "turn", "degC", "degF", "K", "l/min", "%", "EUR", "USD/lb", "EUR/m", "m/s^2",
	"kg/m^3", "mm^4", "N/mm", "W/(m*K)", "1/K", "lb/in^3", "Hz", "kg*m/s",
}

// randomValue makes values over many orders of size, some of few digits, some
// with a spread, always from the same seed.
func randomValue(r *rand.Rand) Value {
	x := r.NormFloat64() * math.Pow(10, float64(r.Intn(9)-4))
	if r.Intn(2) == 0 {
		x = math.Round(x*100) / 100
	}
	v, err := New(x, testUnits[r.Intn(len(testUnits))])
	if err != nil {
		panic(err)
	}
	if r.Intn(3) == 0 && !v.Absolute {
		v.Minus = math.Abs(v.SI) * 0.2 * r.Float64()
		v.Plus = v.Minus
		if r.Intn(2) == 0 {
			v.Plus = math.Abs(v.SI) * 0.1 * r.Float64()
		}
	}
	return v
}

// What is printed reads back to what was meant, as far as the digits go.
func TestTextReadsBack(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 20000 {
		v := randomValue(r)
		if v.belowZero() {
			continue
		}
		for _, system := range []System{Metric, Inch} {
			text := Text(v, system)
			back, err := Parse(text)
			if err != nil {
				t.Fatalf("%+v prints as %q, which does not read: %v", v, text, err)
			}
			if !back.Is(v.Dim) || back.Currency != v.Currency || back.Absolute != v.Absolute {
				t.Fatalf("%+v prints as %q, which reads as %+v", v, text, back)
			}
			allowed := 6e-4*math.Abs(v.SI) + 0.1*math.Max(v.Minus, v.Plus)
			if v.Is(Length) {
				allowed += 1.28e-5 // lengths are printed to 0.01 mm and 0.001 in
			}
			if v.Absolute {
				allowed += 0.3 // four digits of a temperature may be whole degrees
			}
			if v.Currency != "" {
				u := choose(v, system).unit
				allowed += 0.0051 * u.Factor // whole cents
			}
			if math.Abs(back.SI-v.SI) > allowed {
				t.Fatalf("%+v prints as %q, which reads as %g, off by %g", v, text, back.SI, back.SI-v.SI)
			}
			if reach := math.Max(v.Minus, v.Plus); math.Abs(math.Max(back.Minus, back.Plus)-reach) > 0.1*reach+1e-300 {
				t.Fatalf("%+v prints as %q, whose spread reads as %g and %g", v, text, back.Minus, back.Plus)
			}
		}
	}
}

// In is the inverse of New.
func TestConversionsReturn(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range 5000 {
		unit := testUnits[r.Intn(len(testUnits))]
		x := r.NormFloat64() * 1000
		v, err := New(x, unit)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := v.In(unit); err != nil || math.Abs(back-x) > 1e-9*math.Max(1, math.Abs(x)) {
			t.Fatalf("%g %s comes back as %g, %v", x, unit, back, err)
		}
	}
}

// The spread of a result spans the results of all values within the spreads.
func TestSpreadsSpan(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	operations := map[string]struct {
		carry func(v, w Value) (Value, error)
		plain func(x, y float64) float64
	}{
		"sum":        {Value.Add, func(x, y float64) float64 { return x + y }},
		"difference": {Value.Sub, func(x, y float64) float64 { return x - y }},
		"product":    {Value.Mul, func(x, y float64) float64 { return x * y }},
		"quotient":   {Value.Div, func(x, y float64) float64 { return x / y }},
	}
	within := func(v Value) float64 { return v.Low() + r.Float64()*(v.High()-v.Low()) }
	for name, operation := range operations {
		for range 2000 {
			v, w := Number(r.NormFloat64()), Number(r.NormFloat64())
			v.Minus, v.Plus, w.Minus, w.Plus = r.Float64(), r.Float64(), r.Float64()/4, r.Float64()/4
			result, err := operation.carry(v, w)
			if errors.Is(err, ErrUndefined) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			x := operation.plain(within(v), within(w))
			if slack := 1e-9 * math.Max(1, math.Abs(x)); x < result.Low()-slack || x > result.High()+slack {
				t.Fatalf("%s of %v and %v: %g lies outside %g to %g", name, v, w, x, result.Low(), result.High())
			}
		}
	}
}

func TestArithmetic(t *testing.T) {
	value := func(text string) Value {
		v, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	rows := []struct {
		name string
		got  func() (Value, error)
		want string // in Text; or
		err  error
	}{
		{name: "metric and inch", got: func() (Value, error) { return value("1 in").Add(value("0.6 mm")) }, want: "26 mm"},
		{name: "length and force", got: func() (Value, error) { return value("12 mm").Add(value("3 N")) }, err: ErrMismatch},
		{name: "two currencies", got: func() (Value, error) { return value("12 EUR").Add(value("3 USD")) }, err: ErrMismatch},
		{name: "ratio of currencies", got: func() (Value, error) { return value("12 EUR").Div(value("3 USD")) }, err: ErrMismatch},
		{name: "price times length", got: func() (Value, error) { return value("14 EUR/m").Mul(value("500 mm")) }, want: "7.00 EUR"},
		{name: "two temperatures", got: func() (Value, error) { return value("40 degC").Add(value("3 degC")) }, err: ErrMismatch},
		{name: "temperature and difference", got: func() (Value, error) { return value("40 degC").Add(value("3 K")) }, want: "43 °C"},
		{name: "difference of temperatures", got: func() (Value, error) { return value("104 degF").Sub(value("20 degC")) }, want: "20 K"},
		{name: "scaled temperature", got: func() (Value, error) { return value("40 degC").Mul(Number(2)) }, err: ErrMismatch},
		{name: "angle and number", got: func() (Value, error) { return value("1 rad").Add(Number(1)) }, want: "2 rad"},
		{name: "feed", got: func() (Value, error) {
			v, err := value("120 rpm").Mul(value("4 mm"))
			if err != nil {
				return v, err
			}
			return v.Div(value("1 turn"))
		}, want: "8 mm/s"},
		{name: "division by zero", got: func() (Value, error) { return Number(1).Div(value("0 mm")) }, err: ErrUndefined},
		{name: "spread reaches zero", got: func() (Value, error) { return Number(1).Div(value("0.1 ± 0.2")) }, err: ErrUndefined},
		{name: "root", got: func() (Value, error) { return value("64 mm^2").Sqrt() }, want: "8 mm"},
		{name: "root of a negative", got: func() (Value, error) { return value("-4").Sqrt() }, err: ErrUndefined},
		{name: "cube root", got: func() (Value, error) { return value("27 mm^3").Pow(Number(1.0 / 3)) }, want: "3 mm"},
		{name: "crooked power", got: func() (Value, error) { return value("27 mm").Pow(Number(0.123)) }, err: ErrMismatch},
		{name: "power of zero", got: func() (Value, error) { return Number(0).Pow(Number(-1)) }, err: ErrUndefined},
		{name: "negated", got: func() (Value, error) { return value("5 mm +0.2/-0.1 mm").Neg() }, want: "−5 +0.1/−0.2 mm"},
		{name: "negated temperature", got: func() (Value, error) { return value("5 degC").Neg() }, err: ErrMismatch},
		{name: "difference less temperature", got: func() (Value, error) { return value("5 K").Sub(value("5 degC")) }, err: ErrMismatch},
		{name: "below absolute zero", got: func() (Value, error) { return value("5 degC").Sub(value("300 K")) }, err: ErrUndefined},
		{name: "spread exponent of a length", got: func() (Value, error) { return value("5 mm").Pow(value("2 ± 0.1")) }, err: ErrMismatch},
		{name: "length as exponent", got: func() (Value, error) { return Number(2).Pow(MM(2)) }, err: ErrMismatch},
		{name: "square about zero", got: func() (Value, error) { return value("1 ± 2").Pow(Number(2)) }, want: "1 +8/−1"},
		{name: "root of a spread below zero", got: func() (Value, error) { return value("1 ± 2").Sqrt() }, err: ErrUndefined},
		{name: "squared money", got: func() (Value, error) { return value("2 EUR").Pow(Number(2)) }, err: ErrMismatch},
		{name: "overflow", got: func() (Value, error) { return Number(1e300).Mul(Number(1e300)) }, err: ErrUndefined},
		{name: "exponent overflow", got: func() (Value, error) { return value("2 mm").Pow(Number(1000)) }, err: ErrMismatch},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			v, err := row.got()
			if !errors.Is(err, row.err) || (err == nil) != (row.err == nil) {
				t.Fatalf("error %v, want %v", err, row.err)
			}
			if got := Text(v, Metric); err == nil && got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
	if order, err := value("1 in").Compare(value("25.4 mm")); order != 0 || err != nil {
		t.Errorf("1 in against 25.4 mm: %d, %v", order, err)
	}
}

func TestDimensionNames(t *testing.T) {
	rows := []struct {
		dim  Dimension
		want string
		with string
	}{
		{dim: Length, want: "length", with: "a length"},
		{dim: Area, want: "area", with: "an area"},
		{dim: Pure, want: "plain number", with: "a plain number"},
		{dim: Torque, want: "torque or energy", with: "a torque or energy"},
		{dim: dim(1, 1, -1, 0, 0, 0, 0), want: "kg·m/s", with: "a quantity in kg·m/s"},
		{dim: dim(2, 1, -3, 0, 0, 0, 1), want: "power", with: "a power"},
		{dim: dim(-1, 0, 0, 0, -1, 1, 0), want: "¤/(m·K)", with: "a quantity in ¤/(m·K)"},
	}
	for _, row := range rows {
		if got := row.dim.String(); got != row.want {
			t.Errorf("got %q, want %q", got, row.want)
		}
		if got := row.dim.Article(); got != row.with {
			t.Errorf("got %q, want %q", got, row.with)
		}
	}
}

func TestSmallAnswers(t *testing.T) {
	if mm, ok := MM(12.5).Millimetres(); !ok || mm != 12.5 {
		t.Errorf("12.5 mm gives %g, %v", mm, ok)
	}
	if _, ok := Number(3).Millimetres(); ok {
		t.Error("a plain number has millimetres")
	}
	if AngularSpeed.Angular() != 1 || Force.Angular() != 0 {
		t.Error("the exponent of angle is wrong")
	}
	for _, system := range []System{Metric, Inch} {
		if back, err := ParseSystem(system.String()); back != system || err != nil || system.Other() == system {
			t.Errorf("%v reads back as %v, %v", system, back, err)
		}
	}
	if _, err := ParseSystem("imperial"); err == nil {
		t.Error("an unknown system is read")
	}
	for _, symbol := range Symbols() {
		unit, err := ParseUnit(symbol.Text)
		if err != nil || unit.Dim != symbol.Dim {
			t.Errorf("the listed unit %q reads as %v, %v", symbol.Text, unit.Dim, err)
		}
	}
	spread, n, err := ScanSpread([]rune("± 0.1 mm * 2"))
	if n != len("± 0.1 mm")-1 || err != nil || spread.Plus.Unit != "mm" {
		t.Errorf("spread %+v of %d characters, %v", spread, n, err)
	}
}

// Units in which nothing is usual still print, money included.
func TestMakeshiftUnits(t *testing.T) {
	v, err := Parse("3 EUR/W")
	if err != nil {
		t.Fatal(err)
	}
	v.Unit = ""
	if got := Text(v, Metric); got != "3.00 EUR·s³/(kg·m²)" {
		t.Errorf("got %q", got)
	}
}

// FuzzParse: whatever is read prints, and what is printed reads back.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"412 mm", "3/8 in", "1 9/16 in", "2 ft 6 in", "0.44 N*m", "8 mm +0.015/-0 mm", "0.30 ± 0.05", "4 kN ± 1 %", "12 mm H7",
		"-5 degC", "1.2×10⁻⁵ 1/K", "237 W/(m*K)", "14 EUR/m", "± 1/32 in", "12\u202f000 N", "20 deg 30 '", "1e-9 pF", "3 mm^-2",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := Parse(text)
		if err != nil {
			var syntax *SyntaxError
			if !errors.As(err, &syntax) || syntax.Offset < 0 || syntax.Length < 0 || syntax.Offset+syntax.Length > len([]rune(text)) {
				t.Fatalf("%q: error %#v marks nothing in the text", text, err)
			}
			return
		}
		for _, system := range []System{Metric, Inch} {
			Both(v, system)
			Parts(v, system)
			printed := Text(v, system)
			back, err := Parse(printed)
			if err != nil {
				t.Fatalf("%q prints as %q: %v", text, printed, err)
			}
			if !back.Is(v.Dim) {
				t.Fatalf("%q prints as %q, which measures %v", text, printed, back.Dim)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("1 9/16 in ± 1/32 in"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkText(b *testing.B) {
	v, err := Parse("4.31 kN ± 1 %")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Both(v, Metric)
	}
}
