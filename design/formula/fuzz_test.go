package formula

import (
	"math"
	"testing"

	"plansheaf/design/quantity"
)

// FuzzParse: nothing panics; an error marks characters of the text; what reads
// prints in a form that reads back and works out alike.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"412 mm", "2 * pi * motor.torque * ratio / screw.lead", "if(ratio > 2, 1 mm, 2 mm/0)", "8 mm +0.015/-0 mm",
		"opening ± 1 mm", "rods.1 H7", "curve.torque(speed / 2)", "diagonal(left_post, right_post)", "not (1<2) and 3 >= 2",
		"-2^2", "(-5 degC) - 3 K", "x ± (gap ± 1 %)", "round(12.3 mm, 0.5 mm)", "1 9/16 in + 2 ft 6 in", "12 W/(m*K)*(2)", "3/8 in/2",
		"1 ≤ 2 or 2 × 3 ≠ 6", "a.b.1.c", "2 +/- 0.1", "12 EUR/m * 3 m", "sqrt(gap - 1.8 mm)", "curve.torque()", "1 ≤ ≠",
	} {
		f.Add(text)
	}
	scope := testScope()
	f.Fuzz(func(t *testing.T, text string) {
		e, failed := Parse(text)
		if failed != nil {
			inText(t, text, failed)
			return
		}
		result, failed := e.Eval(scope)
		if failed != nil {
			inText(t, text, failed)
		}
		e.Worked(scope, quantity.Inch)
		e.Warnings(scope)
		if _, bad := e.Margins(scope); bad != nil {
			inText(t, text, bad)
		}
		again, bad := Parse(e.String())
		if bad != nil {
			if e.fits(t) {
				t.Fatalf("%q prints as %q, which does not read: %v", text, e, bad)
			}
			return
		}
		second, other := again.Eval(scope)
		if (failed == nil) != (other == nil) {
			t.Fatalf("%q prints as %q; errors %v and %v", text, e, failed, other)
		}
		if failed == nil && (result.Truth != second.Truth || !alike(result.Value.SI, second.Value.SI) || !alike(result.Value.Plus, second.Value.Plus)) {
			t.Fatalf("%q prints as %q; results %+v and %+v", text, e, result, second)
		}
	})
}

// fits reports whether the printed form keeps the limits of a formula: blanks
// and brackets that printing adds may exceed them.
func (e *Expr) fits(t *testing.T) bool {
	t.Helper()
	return len([]rune(e.String())) <= MaxLength
}

func alike(x, y float64) bool {
	return x == y || math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y))
}

func inText(t *testing.T, text string, failed *Error) {
	t.Helper()
	if failed.Offset < 0 || failed.Length < 0 || failed.Offset+failed.Length > len([]rune(text)) || failed.Message == "" {
		t.Fatalf("%q: error %+v marks nothing in the text", text, failed)
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, failed := Parse("2 * pi * motor.torque * ratio * (0.30 ± 0.05) / screw.lead"); failed != nil {
			b.Fatal(failed)
		}
	}
}

func BenchmarkEval(b *testing.B) {
	e, failed := Parse("2 * pi * motor.torque * ratio / screw.lead")
	if failed != nil {
		b.Fatal(failed)
	}
	scope := testScope()
	for b.Loop() {
		if _, failed := e.Eval(scope); failed != nil {
			b.Fatal(failed)
		}
	}
}

func BenchmarkEvalWithSpreads(b *testing.B) {
	e, failed := Parse("2 * pi * motor.torque * ratio * friction * gap / screw.lead")
	if failed != nil {
		b.Fatal(failed)
	}
	scope := testScope()
	for b.Loop() {
		if _, failed := e.Eval(scope); failed != nil {
			b.Fatal(failed)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	e, failed := Parse("solve(x, 0 mm, 40 mm, 2 N/mm * x + 0.1 N/mm^3 * x^3 = 30 N)")
	if failed != nil {
		b.Fatal(failed)
	}
	for b.Loop() {
		if _, failed := e.Eval(Values{}); failed != nil {
			b.Fatal(failed)
		}
	}
}

// BenchmarkWork is how long the most steps take that a formula may.
func BenchmarkWork(b *testing.B) {
	e, failed := Parse("solve(x, 0, 1, solve(y, 0, 1, solve(z, 0, 1, x = y + z^2) = y) = x)")
	if failed != nil {
		b.Fatal(failed)
	}
	for b.Loop() {
		if _, failed := e.Eval(Values{}); failed == nil {
			b.Fatal("no limit")
		}
	}
}
