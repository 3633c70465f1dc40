package formula

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/quantity"
)

// bench is a scope like that of a plan: values, properties, a table and a
// distance between two things that have no value of their own.
type bench struct{ Values }

func (b bench) Lookup(name string) (quantity.Value, error) {
	switch name {
	case "loop_a":
		return quantity.Value{}, &CycleError{Path: []string{"loop_a", "loop_b", "loop_a"}}
	case "openning":
		return quantity.Value{}, &UnknownNameError{Name: name, Nearest: "opening"}
	}
	return b.Values.Lookup(name)
}

func (b bench) Call(name string, args []Arg) (quantity.Value, error) {
	switch name {
	case "diagonal":
		for _, arg := range args {
			if arg.Name == "" {
				return quantity.Value{}, errors.New("diagonal takes the names of two things")
			}
		}
		return quantity.MM(500), nil
	case "curve.torque":
		if len(args) != 1 {
			return quantity.Value{}, errors.New("curve.torque takes a speed")
		}
		speed, err := args[0].Value()
		if err != nil {
			return quantity.Value{}, err
		}
		rpm, err := speed.In("rpm")
		if err != nil {
			return quantity.Value{}, fmt.Errorf("curve.torque is asked for %s", speed.Dim.Article())
		}
		return quantity.New(2-rpm/100, "N*m")
	}
	return b.Values.Call(name, args)
}

func value(text string) quantity.Value {
	v, err := quantity.Parse(text)
	if err != nil {
		panic(err)
	}
	return v
}

func testScope() bench {
	return bench{Values: Values{
		"opening": value("180 mm"), "gap": value("2 mm ± 0.5 mm"), "friction": value("0.15 ± 0.03"), "zero": value("0 mm"),
		"screw.lead": value("4 mm"), "screw.mean_diameter": value("14 mm"), "motor.torque": value("1.2 N*m"), "speed": value("120 rpm"),
		"ratio": value("3"), "rods.1": value("12 mm"), "t": value("40 degC"), "e_modulus": value("210 GPa"), "in": value("3 mm"),
	}}
}

func TestEval(t *testing.T) {
	rows := []struct{ formula, want string }{
		{formula: "412 mm", want: "412 mm"},
		{formula: "opening - 20 mm", want: "160 mm"},
		{formula: "opening-20 mm", want: "160 mm"},
		{formula: "3/8 in + 1 9/16 in", want: "1 15/16 in"},
		{formula: "2 ft 6 in - 6 in", want: "24 in"},
		{formula: "12 mm / rods.1", want: "1"},
		{formula: "-2^2", want: "−4"},
		{formula: "2^3^2", want: "512"},
		{formula: "2^-1", want: "0.5"},
		{formula: "8 mm^2", want: "8 mm²"},
		{formula: "(8 mm)^2", want: "64 mm²"},
		{formula: "1 - -2", want: "3"},
		{formula: "-opening", want: "−180 mm"},
		{formula: "2 + 3 * 4", want: "14"},
		{formula: "(2 + 3) * 4", want: "20"},
		{formula: "20 / 2 / 5", want: "2"},
		{formula: "20 − 2 · 5", want: "10"},
		{formula: "2 * pi * motor.torque * ratio / screw.lead", want: "5.655 kN"},
		{formula: "speed * screw.lead / 1 turn", want: "8 mm/s"},
		{formula: "opening / screw.lead * 1 turn", want: "45 turn"},
		{formula: "atan(screw.lead / (pi * screw.mean_diameter))", want: "5.197°"},
		{formula: "sin(90 deg)", want: "1"},
		{formula: "cos(pi)", want: "−1"},
		{formula: "tan(45 deg)", want: "1"},
		{formula: "asin(0.5)", want: "30°"},
		{formula: "acos(0.5)", want: "60°"},
		{formula: "atan2(1 mm, -1 mm)", want: "135°"},
		{formula: "sqrt(16 mm^2)", want: "4 mm"},
		{formula: "abs(-3 mm)", want: "3 mm"},
		{formula: "min(3/8 in, 12 mm)", want: "3/8 in"},
		{formula: "max(1, 2, 3)", want: "3"},
		{formula: "round(2.5)", want: "3"},
		{formula: "round(12.3 mm, 0.5 mm)", want: "12.5 mm"},
		{formula: "ceil(1.1 * 10)", want: "11"},
		{formula: "floor(0.3 / 0.1)", want: "3"},
		{formula: "ceil(opening / 25 mm)", want: "8"},
		{formula: "exp(1)", want: "2.718"},
		{formula: "ln(exp(2))", want: "2"},
		{formula: "log10(1000)", want: "3"},
		{formula: "if(ratio > 2, 1 mm, 2 mm)", want: "1 mm"},
		{formula: "if(ratio > 2, 1 mm, 2 mm / 0)", want: "1 mm"},
		{formula: "curve.torque(speed)", want: "0.8 N·m"},
		{formula: "curve.torque(speed / 2) * 2", want: "2.8 N·m"},
		{formula: "diagonal(left_post, right_post)", want: "500 mm"},
		{formula: "in", want: "3 mm"},
		{formula: "5 min", want: "5 min"},
		{formula: "min (5, 6)", want: "5"},
		{formula: "t - 20 degC", want: "20 K"},
		{formula: "t + 5 K", want: "45 °C"},
		{formula: "-5 degC", want: "−5 °C"},
		{formula: "3 - -5", want: "8"},
		{formula: "2 * 12.50 EUR", want: "25.00 EUR"},
		{formula: "12 mm H7", want: "12 mm H7"},
		{formula: "rods.1 H7", want: "12 mm H7"},
		{formula: "1 + 10 %", want: "1.1"},
		{formula: "e_modulus * 1 mm^2", want: "210 kN"},
		{formula: "2e3 N", want: "2000 N"},
		{formula: "(1 mm)", want: "1 mm"},
		{formula: "\n 1 mm\t+\n2 mm ", want: "3 mm"},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatalf("%d+%d: %v", failed.Offset, failed.Length, failed)
			}
			v, failed := e.Value(testScope())
			if failed != nil {
				t.Fatalf("%d+%d: %v", failed.Offset, failed.Length, failed)
			}
			system := quantity.Metric
			if strings.HasSuffix(row.want, "in") {
				system = quantity.Inch
			}
			if got := quantity.Text(v, system); got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

func TestTruths(t *testing.T) {
	rows := []struct {
		formula string
		want    bool
	}{
		{formula: "opening >= 100 mm", want: true},
		{formula: "opening ≥ 100 mm", want: true},
		{formula: "opening = 18 cm", want: true},
		{formula: "opening == 18 cm", want: true},
		{formula: "1 in = 25.4 mm", want: true},
		{formula: "opening != 18 cm", want: false},
		{formula: "1 < 2 and 3 < 2", want: false},
		{formula: "1 < 2 or 3 < 2", want: true},
		{formula: "not 1 < 2", want: false},
		{formula: "not 1 < 2 or 1 < 2", want: true},
		{formula: "1 > 2 and 2 > 1 or 1 = 1", want: true},
		{formula: "1 > 2 and (2 > 1 or 1 = 1)", want: false},
		{formula: "zero != 0 mm and 1 mm / zero > 2", want: false},
		{formula: "zero = 0 mm or 1 mm / zero > 2", want: true},
		{formula: "if(ratio > 2, 1 < 2, 2 < 1)", want: true},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed != nil {
				t.Fatal(failed)
			}
			result, failed := e.Eval(testScope())
			if failed != nil {
				t.Fatal(failed)
			}
			if !result.IsTruth || result.Truth != row.want {
				t.Errorf("got %+v, want %v", result, row.want)
			}
		})
	}
}

// Each row quotes the text that the error must mark.
func TestErrors(t *testing.T) {
	rows := []struct{ formula, at, message, remedy string }{
		{formula: "", at: "", message: "the formula is empty"},
		{formula: "12 mm +", at: "", message: "a value is missing at the end"},
		{formula: "* 3", at: "*", message: "a value is missing before *"},
		{formula: "(1 + 2", at: "(", message: "the bracket is never closed"},
		{formula: "1 + 2)", at: ")", message: "the bracket was never opened"},
		{formula: "max(1, 2", at: "(", message: "the bracket is never closed"},
		{formula: "max(1,)", at: ")", message: "an argument is missing after the comma"},
		{formula: "max()", at: "max()", message: "max takes 1 to 32 arguments, not 0"},
		{formula: "sqrt(1, 2)", at: "sqrt(1, 2)", message: "sqrt takes one argument, not 2"},
		{formula: "sqrt", at: "sqrt", message: "the function sqrt has no arguments", remedy: "write sqrt(...)"},
		{formula: "opening ratio", at: "ratio", message: `"ratio" follows a value without an operator`, remedy: "put an operator such as * between them"},
		{formula: "2 (3)", at: "(", message: `"(" follows a value without an operator`, remedy: "put an operator such as * between them"},
		{formula: "1,5 mm", at: ",", message: "a comma stands outside a function's arguments", remedy: "write decimals with a point"},
		{formula: "12 mn + 1 mm", at: "mn", message: `unknown unit "mn"`, remedy: "write mN"},
		{formula: "1 < 2 < 3", at: "<", message: "a comparison is compared again with <", remedy: "join two comparisons by and: a < b and b < c"},
		{formula: `"text"`, at: `"`, message: "a text in quotes has no place in a formula"},
		{formula: "1 & 2", at: "&", message: `'&' has no meaning in a formula`},
		{formula: "12 mm + 3 N", at: "12 mm + 3 N", message: "12 mm + 3 N adds a length to a force"},
		{formula: "2 * (12 mm - 3 N)", at: "12 mm - 3 N", message: "12 mm - 3 N takes a force from a length"},
		{formula: "opening + motor.torque", at: "opening + motor.torque", message: "opening + motor.torque adds a length to a torque or energy: opening is 180 mm, motor.torque is 1.2 N·m"},
		{formula: "opening > 3 N", at: "opening > 3 N", message: "opening > 3 N compares a length with a force: opening is 180 mm"},
		{formula: "1 mm / zero", at: "1 mm / zero", message: "1 mm / zero: division by zero: zero is 0 mm"},
		{formula: "1 + sqrt(2 - 6)", at: "sqrt(2 - 6)", message: "sqrt(2 - 6): square root of a negative value: 2 - 6 is −4"},
		{formula: "asin(2)", at: "asin(2)", message: "asin(2) has no value beyond -1 to 1"},
		{formula: "tan(90 deg)", at: "tan(90 deg)", message: "tan(90 deg) has no value at a right angle"},
		{formula: "ln(0)", at: "ln(0)", message: "ln(0) has no value at or below 0"},
		{formula: "sin(3 mm)", at: "sin(3 mm)", message: "sin(3 mm) takes sin of a length, which must be a plain number or an angle"},
		{formula: "round(12.3 mm)", at: "round(12.3 mm)", message: "round(12.3 mm) rounds a length to no step", remedy: "round(value, step) rounds to whole steps, such as round(x, 1 mm)"},
		{formula: "(-8)^0.5", at: "(-8)^0.5", message: "(-8)^0.5: the result is not a number"},
		{formula: "if(ratio > 2, 1 mm, 2 N)", at: "2 N", message: "2 N gives a force where the other branch gives a length"},
		{formula: "if(ratio > 2, 1 mm, 2 mm + 3 N)", at: "2 mm + 3 N", message: "2 mm + 3 N adds a length to a force"},
		{formula: "1 > 2 and 1 mm > 2 N", at: "1 mm > 2 N", message: "1 mm > 2 N compares a length with a force"},
		{formula: "not ratio", at: "ratio", message: "ratio is a value where a comparison is needed", remedy: "compare it, such as ratio > 0"},
		{formula: "2 * (1 < 2)", at: "1 < 2", message: "1 < 2 is a comparison where a value is needed"},
		{formula: "t + t", at: "t + t", message: "t + t: two temperatures on a scale cannot be added; one must be a difference in K: t is 40 °C"},
		{formula: "10 EUR + 5 USD", at: "10 EUR + 5 USD", message: "10 EUR + 5 USD: EUR does not go with USD without a rate"},
		{formula: "2 * openning", at: "openning", message: `nothing is named "openning"`, remedy: `is "opening" meant?`},
		{formula: "2 * mm", at: "mm", message: `nothing is named "mm"`, remedy: "mm is a unit: write a number before it"},
		{formula: "1 + loop_a", at: "loop_a", message: "the value depends on itself: loop_a -> loop_b -> loop_a", remedy: "give one of these names a value of its own"},
		{formula: "atan2(0 mm, 0 mm)", at: "atan2(0 mm, 0 mm)", message: "atan2(0 mm, 0 mm) has no direction: both are 0"},
		{formula: "atan2(1 mm, 1 N)", at: "atan2(1 mm, 1 N)", message: "atan2(1 mm, 1 N): a length does not go with a force"},
		{formula: "round(3 mm, 0 mm)", at: "round(3 mm, 0 mm)", message: "round(3 mm, 0 mm) rounds to a step that is not above zero"},
		{formula: "abs(t)", at: "abs(t)", message: "abs(t): a temperature on a scale cannot be negated; take a difference first, such as t - 20 degC: t is 40 °C"},
		{formula: "max(1 mm, 1 N)", at: "max(1 mm, 1 N)", message: "max(1 mm, 1 N): a force does not go with a length"},
		{formula: "exp(1000)", at: "exp(1000)", message: "exp(1000) is too large"},
		{formula: "-t", at: "-t", message: "-t: a temperature on a scale cannot be negated; take a difference first, such as t - 20 degC: t is 40 °C"},
		{formula: "1 mm = 1 K and 1 < 2", at: "1 mm = 1 K", message: "1 mm = 1 K compares a length with a temperature"},
		{formula: "t < 30 K", at: "t < 30 K", message: "t < 30 K: a temperature on a scale cannot be compared with a difference: t is 40 °C"},
		{formula: ", 3", at: ",", message: "a value is missing before the comma"},
		{formula: "2 * )", at: ")", message: "a value is missing before the closing bracket"},
		{formula: "and 3", at: "and", message: "a value is missing before and"},
		{formula: "2 * curve.nothing(3)", at: "curve.nothing", message: `nothing is named "curve.nothing"`},
		{formula: "2 * sqr(3)", at: "sqr", message: `nothing is named "sqr"`, remedy: `is "sqrt" meant?`},
		{formula: "1 + curve.torque(3 mm)", at: "curve.torque", message: "curve.torque is asked for a length"},
		{formula: "curve.torque(speed / 0)", at: "speed / 0", message: "speed / 0: division by zero"},
		{formula: "3 N H7", at: "H7", message: "the fit H7 follows a force; a fit belongs to a diameter", remedy: "write a length before it, such as 12 mm H7"},
		{formula: "motor.torque H7", at: "motor.torque H7", message: "the fit H7 follows a torque or energy; a fit belongs to a diameter"},
		{formula: "1 / (friction ± 0.2)", at: "1 / (friction ± 0.2)", message: "1 / (friction ± 0.2): the divisor passes through zero within the spread: friction ± 0.2 is −0.05 with friction = 0.15, when friction ± 0.2 is at the lower end of its spread, −0.05"},
	}
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			e, failed := Parse(row.formula)
			if failed == nil {
				_, failed = e.Eval(testScope())
			}
			if failed == nil {
				t.Fatal("no error")
			}
			if got := string([]rune(row.formula)[failed.Offset : failed.Offset+failed.Length]); got != row.at {
				t.Errorf("marks %q, want %q", got, row.at)
			}
			if failed.Message != row.message || failed.Remedy != row.remedy {
				t.Errorf("got  %q, remedy %q\nwant %q, remedy %q", failed.Message, failed.Remedy, row.message, row.remedy)
			}
		})
	}
}

func TestLiteral(t *testing.T) {
	rows := []struct {
		formula string
		mm      float64
		literal bool
	}{
		{formula: "12 mm", mm: 12, literal: true},
		{formula: "-12 mm", mm: -12, literal: true},
		{formula: "(12 mm)", mm: 12, literal: true},
		{formula: "12 mm + 1 mm"},
		{formula: "gap"},
	}
	for _, row := range rows {
		e, failed := Parse(row.formula)
		if failed != nil {
			t.Fatal(failed)
		}
		v, literal := e.Literal()
		if literal != row.literal || math.Abs(v.SI*1000-row.mm) > 1e-12 || e.Source() != row.formula {
			t.Errorf("%s: got %g mm, %v", row.formula, v.SI*1000, literal)
		}
	}
}

func TestCycleIsFound(t *testing.T) {
	e, failed := Parse("1 + loop_a")
	if failed != nil {
		t.Fatal(failed)
	}
	_, failed = e.Eval(testScope())
	var cycle *CycleError
	if !errors.As(failed, &cycle) || len(cycle.Path) != 3 {
		t.Errorf("the error %v holds no cycle", failed)
	}
}

func TestLimits(t *testing.T) {
	rows := []struct{ name, formula, message string }{
		{name: "length", formula: strings.Repeat("1+", MaxLength), message: "the formula has 8192 characters, more than 4096"},
		{name: "brackets", formula: strings.Repeat("(", 2000), message: "the formula nests deeper than 64"},
		{name: "signs", formula: strings.Repeat("-", 2000) + "1", message: "the formula nests deeper than 64"},
		{name: "powers", formula: strings.Repeat("2^", 2000) + "2", message: "the formula nests deeper than 64"},
		{name: "calls", formula: strings.Repeat("abs(", 1000), message: "the formula nests deeper than 64"},
		{name: "parts", formula: strings.Repeat("1+", 1500) + "1", message: "the formula has more than 1024 parts"},
		{name: "arguments", formula: "max(" + strings.Repeat("1,", 40) + "1)", message: "max has more than 32 arguments"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			if _, failed := Parse(row.formula); failed == nil || failed.Message != row.message {
				t.Errorf("got %v, want %q", failed, row.message)
			}
		})
	}
	many := "(1 ± 0.1)" + strings.Repeat(" + (1 ± 0.1)", MaxInputs)
	e, failed := Parse(many)
	if failed != nil {
		t.Fatal(failed)
	}
	if _, failed = e.Eval(Values{}); failed == nil {
		t.Error("more inputs with a spread than the limit are worked out")
	}
}

func TestNamesAndCalls(t *testing.T) {
	e, failed := Parse("2 * screw.lead + max(rods.1, diagonal(left_post, opening + gap)) / curve.torque(speed)")
	if failed != nil {
		t.Fatal(failed)
	}
	want := []NameUse{
		{Text: "screw.lead", Offset: 4, Length: 10},
		{Text: "rods.1", Offset: 21, Length: 6},
		{Text: "left_post", Offset: 38, Length: 9, In: "diagonal"},
		{Text: "opening", Offset: 49, Length: 7},
		{Text: "gap", Offset: 59, Length: 3},
		{Text: "speed", Offset: 80, Length: 5, In: "curve.torque"},
	}
	got := e.Names()
	if len(got) != len(want) {
		t.Fatalf("got %+v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("name %d: got %+v, want %+v", i, got[i], want[i])
		}
	}
	calls := e.Calls()
	if len(calls) != 2 || calls[0] != (CallUse{Text: "diagonal", Offset: 29, Length: 8, Args: 2}) || calls[1].Text != "curve.torque" {
		t.Errorf("calls %+v", calls)
	}
}

// A scope that asks for each argument twice must not double the work with
// every nesting.
type greedy struct {
	Values
	asked *int
}

func (g greedy) Lookup(string) (quantity.Value, error) { *g.asked++; return quantity.Number(1), nil }
func (g greedy) Call(_ string, args []Arg) (quantity.Value, error) {
	*g.asked++
	if _, err := args[0].Value(); err != nil {
		return quantity.Value{}, err
	}
	v, err := args[0].Value()
	return v, err
}

func TestArgumentsAreWorkedOutOnce(t *testing.T) {
	asked := 0
	e, failed := Parse(strings.Repeat("f(", 50) + "x" + strings.Repeat(")", 50))
	if failed != nil {
		t.Fatal(failed)
	}
	if _, failed := e.Eval(greedy{asked: &asked}); failed != nil {
		t.Fatal(failed)
	}
	if asked != 51 {
		t.Errorf("the scope was asked %d times, want 51", asked)
	}
}

// What is not finite never leaves the scope.
type broken struct{ Values }

func (broken) Lookup(string) (quantity.Value, error)      { return quantity.Number(math.NaN()), nil }
func (broken) Call(string, []Arg) (quantity.Value, error) { return quantity.Number(math.Inf(1)), nil }

func TestNotFinite(t *testing.T) {
	for _, text := range []string{"x + 1", "f(1) + 1"} {
		e, failed := Parse(text)
		if failed != nil {
			t.Fatal(failed)
		}
		if _, failed := e.Eval(broken{}); failed == nil {
			t.Errorf("%s is worked out with what is no finite number", text)
		}
	}
}
