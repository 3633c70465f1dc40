package formula

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/quantity"
)

// Formulas that would take forever, or come to what no number expresses, end in an
// error, and take no more steps than they may.
func TestHostileFormulas(t *testing.T) {
	doubling := map[string]string{"f0(x)": "x + 1"}
	for i := 1; i < 31; i++ {
		doubling[fmt.Sprintf("f%d(x)", i)] = fmt.Sprintf("f%d(x) + f%d(x)", i-1, i-1)
	}
	chain := map[string]string{"g0(x)": "x"}
	for i := 1; i < 200; i++ {
		chain[fmt.Sprintf("g%d(x)", i)] = fmt.Sprintf("g%d(x)", i-1)
	}
	nested := "x0"
	for i := range 12 {
		nested = fmt.Sprintf("solve(x%d, 0, 1, %s = x%d / 2 + 0.1)", i, nested, i)
	}
	rounds := "1"
	for i := range 20 {
		rounds = fmt.Sprintf("sum(p%d, (1, 2, 3, 4, 5, 6, 7, 8), %s)", i, rounds)
	}
	rows := []struct {
		name, formula string
		defines       map[string]string
		message       string // how it begins
	}{
		{name: "huge powers", formula: "10^10^10", message: "10^10^10: the result is too large"},
		{name: "huge powers of a name", formula: "ratio^ratio^ratio^ratio", message: "ratio^ratio^ratio^ratio: the result is too large: ratio is 3; ratio^ratio^ratio is 7.626×10¹² with ratio = 3"},
		{name: "factors without end", formula: strings.Repeat("9e300 * ", 3) + "1", message: "9e300 * 9e300: the result is too large"},
		{name: "exponent of a unit", formula: "(1 mm)^1e9", message: "(1 mm)^1e9: the exponent of a unit exceeds 100"},
		{name: "tower of units", formula: "((((1 mm)^9)^9)^9)^9", message: "(((1 mm)^9)^9)^9: the exponent of a unit exceeds 100"},
		{name: "not finite in a round", formula: "sum(x, (1, 1000), exp(x))", message: "exp(x) is too large: x is 1000, for x = 1000"},
		{name: "functions that double", formula: "f30(1)", defines: doubling, message: "the formula takes more than 1000000 steps"},
		{name: "functions in a chain", formula: "g199(1)", defines: chain, message: "more than 32 functions call each other"},
		{name: "solve in solve", formula: nested, message: "the formula takes more than 1000000 steps"},
		{name: "sum in sum", formula: rounds, message: "the formula takes more than 1000000 steps"},
		{name: "function that calls itself", formula: "loop(1)", defines: testDefines, message: "the function calls itself: loop -> knot -> loop"},
		{name: "function that solves itself", formula: "s(1)", defines: map[string]string{"s(c)": "solve(x, 0, 1, s(x) = c)"}, message: "the function calls itself: s -> s"},
		{name: "too many spreads in a solve", formula: "solve(x, 0, 1, x = " + strings.Repeat("(0.1 ± 0.01) * ", 70) + "x + 0.1)", message: "the formula has more than 64 inputs with a spread"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			scope := testWorkshop(t, row.defines)
			_, failed = e.Eval(scope)
			if failed == nil || !strings.HasPrefix(failed.Message, row.message) {
				t.Errorf("got %v, want %q", failed, row.message)
			}
			e.Warnings(scope)
			e.Worked(scope, quantity.Metric)
			e.Leans(scope)
		})
	}
}

// Formulas that share a Work stop together.
func TestWorkIsShared(t *testing.T) {
	w := testWorkshop(t, nil)
	w.work = NewWork(100_000)
	e, failed := Parse("solve(x, 0, 1, x = cos(x))")
	if failed != nil {
		t.Fatal(failed)
	}
	for i := range 1000 {
		if _, failed = e.Eval(w); failed == nil {
			continue
		}
		var work *WorkError
		if !errors.As(failed, &work) || !work.Whole || i < 50 || failed.Message != "the formulas of the plan take more than 100000 steps together" {
			t.Errorf("after %d: %v", i, failed)
		}
		if done := w.work.Done(); done > 101_000 {
			t.Errorf("%d steps taken", done)
		}
		return
	}
	t.Error("no limit")
}

// What is plain may be worked out as often as one likes.
func TestPlainFormulasAreNotCounted(t *testing.T) {
	w := testWorkshop(t, nil)
	w.work = NewWork(1)
	e, failed := Parse("opening + 2 * gap")
	if failed != nil {
		t.Fatal(failed)
	}
	for range 1000 {
		if _, failed := e.Eval(w); failed != nil {
			t.Fatal(failed)
		}
	}
}

// Deep trees of every kind, at the limits of the reader, are worked out or refused.
func TestDeepest(t *testing.T) {
	deep := MaxDepth - 2
	rows := map[string]string{
		"brackets":  strings.Repeat("(", deep) + "1" + strings.Repeat(")", deep),
		"cases":     strings.Repeat("if(1 < 2, ", deep/2) + "1" + strings.Repeat(", 1)", deep/2),
		"powers":    strings.Repeat("1^", deep) + "1",
		"sums":      strings.Repeat("1+", MaxNodes/2-1) + "1",
		"functions": strings.Repeat("twice(", deep/2) + "1" + strings.Repeat(")", deep/2),
		"absolutes": strings.Repeat("abs(", deep) + "1" + strings.Repeat(")", deep),
	}
	for name, text := range rows {
		t.Run(name, func(t *testing.T) {
			e, failed := Parse(text)
			if failed != nil {
				t.Fatal(failed)
			}
			v, failed := e.Value(testWorkshop(t, testDefines))
			if failed != nil || math.IsNaN(v.SI) {
				t.Errorf("got %v, %v", v, failed)
			}
		})
	}
}

// Functions within functions, each at the far end of the longest formula, do not
// exhaust the stack.
func TestDeepestFunctions(t *testing.T) {
	long := strings.Repeat(" + 1", MaxNodes/2-3)
	defines := map[string]string{"f0(x)": "x" + long}
	for i := 1; i < maxCalled; i++ {
		defines[fmt.Sprintf("f%d(x)", i)] = fmt.Sprintf("f%d(x)", i-1) + long
	}
	e, failed := Parse(fmt.Sprintf("f%d(1)", maxCalled-1))
	if failed != nil {
		t.Fatal(failed)
	}
	v, failed := e.Value(testWorkshop(t, defines))
	if want := float64(maxCalled*(MaxNodes/2-3) + 1); failed != nil || v.SI != want {
		t.Errorf("got %v, %v; want %g", v.SI, failed, want)
	}
}
