package formula

import (
	"math"
	"strings"
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
		"if(ratio < 1, 1 mm, ratio < 2, 2 mm, 3 mm)", "solve(x, 0 mm, 40 mm, stiff * x = load)", "sum(p, press.parts, p.mass * p.count, has(p.power))", "sum(v, (gap, 1 mm, v), v)",
		"solve(x, 0, 1, solve(y, 0, 1, y = x / 2) = sum(z, (x, x), z / 3))", "four(opening) + weights(friction ± 0.1)", "sum(s, press.steps, s.time * s.people)", "root_of(2 ± 1)", "loop(1)", "r" + strings.Repeat("+", 34) + "w", "solve(x, 0, 10, if(x < 5, 1 / x, sqrt(x - 5)) = 0.5 ± 0.1)",
	} {
		f.Add(text)
	}
	shop := testWorkshop(f, testDefines)
	f.Fuzz(func(t *testing.T, text string) {
		scope := shop
		scope.work = NewWork(20_000)
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
		for _, w := range e.Warnings(scope) {
			inText(t, text, &Error{Offset: w.Offset, Length: w.Length, Message: w.Message})
		}
		e.Leans(scope)
		if _, bad := e.Margins(scope); bad != nil {
			inText(t, text, bad)
		}
		again, bad := Parse(e.String())
		if bad != nil {
			if e.fits(bad) {
				t.Fatalf("%q prints as %q, which does not read: %v", text, e, bad)
			}
			return
		}
		scope.work = NewWork(20_000)
		second, other := again.Eval(scope)
		if (failed == nil) != (other == nil) {
			t.Fatalf("%q prints as %q; errors %v and %v", text, e, failed, other)
		}
		if failed == nil && (result.Truth != second.Truth || !alike(result.Value.SI, second.Value.SI) || !alike(result.Value.Plus, second.Value.Plus)) {
			t.Fatalf("%q prints as %q; results %+v and %+v", text, e, result, second)
		}
	})
}

// FuzzFunction: a function of any formula, called by any other, comes to a value or
// to an error in the caller's text, within its steps.
func FuzzFunction(f *testing.F) {
	for _, seed := range [][2]string{
		{"3 * x / y^3", "fn(opening, gap) + 1 N/mm"}, {"fn(x, y)", "fn(1, 2)"}, {"sum(p, (x, y), p + x)", "fn(fn(1, 2), 3)"},
		{"solve(z, 0, 10, z * x = y)", "solve(x, 0, 4, fn(x + 1, 3) = 2)"}, {"solve(x, y, x, x = 1)", "fn(3, 0)"}, {"if(x > y, x, y) ± 1 %", "fn(gap, opening)"}, {"x.mass * y", "sum(p, press.parts, fn(p, p.count))"},
	} {
		f.Add(seed[0], seed[1])
	}
	shop := testWorkshop(f, nil)
	f.Fuzz(func(t *testing.T, body, text string) {
		is, failed := Parse(body)
		if failed != nil {
			return
		}
		e, failed := Parse(text)
		if failed != nil {
			return
		}
		scope := shop
		scope.functions = map[string]*Function{"fn": NewFunction("fn", []string{"x", "y"}, is)}
		scope.work = NewWork(20_000)
		result, failed := e.Eval(scope)
		if failed != nil {
			inText(t, text, failed)
		} else if !result.Value.Finite() {
			t.Fatalf("%q with %q comes to %v", text, body, result.Value)
		}
		e.Worked(scope, quantity.Metric)
		for _, w := range e.Warnings(scope) {
			inText(t, text, &Error{Offset: w.Offset, Length: w.Length, Message: w.Message})
		}
		e.Leans(scope)
		if done := scope.work.Done(); done > 3*MaxWork {
			t.Fatalf("%d steps", done)
		}
	})
}

// fits reports whether a printed form that does not read keeps the limits of a
// formula, which blanks and brackets that printing adds may exceed.
func (e *Expr) fits(bad *Error) bool {
	return len([]rune(e.String())) <= MaxLength && !strings.Contains(bad.Message, "nests deeper")
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
