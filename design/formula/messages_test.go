package formula

import (
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/golden"
)

// Formulas that cannot be read or worked out, each with what is said of it, kept in
// testdata/messages.txt: the formula, the characters marked, message and remedy.
func TestMessages(t *testing.T) {
	scope := testWorkshop(t, testDefines)
	for name, text := range map[string]string{
		"a": "2 mm^2", "b": "5 mm^2", "r": "12 mm", "l": "10 mm", "force": "5 N", "slow": "3 rpm ± 4 rpm", "cold": "-300 K", "money": "3 EUR",
	} {
		scope.Values[name] = value(text)
	}
	var out strings.Builder
	for _, group := range messages {
		fmt.Fprintf(&out, "# %s\n\n", group.about)
		for _, text := range group.formulas {
			e, failed := Parse(text)
			if failed == nil {
				_, failed = e.Eval(scope)
			}
			if failed == nil {
				t.Errorf("%s is worked out", text)
				continue
			}
			inText(t, text, failed)
			marks := strings.Repeat(" ", failed.Offset) + strings.Repeat("^", failed.Length)
			fmt.Fprintf(&out, "%s\n%s\n%s\n", text, strings.TrimRight(marks, " "), failed.Message)
			if failed.Remedy != "" {
				fmt.Fprintf(&out, "  %s\n", failed.Remedy)
			}
			out.WriteByte('\n')
		}
	}
	golden.Compare(t, "testdata/messages.txt", []byte(out.String()))
}

var messages = []struct {
	about    string
	formulas []string
}{
	{about: "dimensions", formulas: []string{
		"r + force", "r - a / l * r", "2 * (r - force)", "r > force", "sin(r)", "min(r, l, force)", "round(r)", "round(r, 1 s)", "atan2(r, force)", "2^r",
		"r^0.123", "money + r", "money * money^2", "if(ratio > 2, r, force)", "if(ratio > 4, r, ratio > 2, r, a)", "r and 1 < 2", "not r", "(r < l) + 1", "r ± force", "force H7", "t * 2", "-t",
	}},
	{about: "no value", formulas: []string{
		"sqrt(a - b)", "sqrt(a - b - 0 mm^2)", "force / (r - 12 mm)", "force / zero", "1 / 0", "1 / sin(0)", "zero^-1", "asin(r / l)", "acos(-2)", "tan(90 deg)", "ln(zero / r)", "log10(-1 * ratio)", "(-8)^(1/3)", "(zero - ratio * 1 mm)^0.5",
		"atan2(zero, 0 mm)", "round(r, zero)", "0 degC - 300 K + 1 K",
	}},
	{about: "too large", formulas: []string{"10^10^10", "exp(1000 * ratio)", "10^ratio^ratio^ratio", "(r / 1 mm)^opening^0 * 1e300 * 1e300", "r^200", "(1 mm)^60 * (1 mm)^60"}},
	{about: "at the end of a spread", formulas: []string{"1 / slow", "sqrt(gap - 1.8 mm)", "ln(gap / 1 mm - 1.6)", "curve.torque(speed / (gap - 1.5 mm) * 1 mm)"}},
	{about: "roots", formulas: []string{
		"solve(x, 0 mm, 40 mm, stiff * x = 200 N)", "solve(x, -5 mm, 5 mm, x^2 = 4 mm^2)", "solve(x, 0 mm, 40 mm, x = x)", "solve(x, 0 mm, 40 mm, max(x, r) = r)", "solve(x, 0 mm, 40 mm, sin(x * 1 rad / 1 mm) = 0)",
		"solve(x, 0, 3, 1 / (x - 1) = 0.1 * x - 0.1 - 0.05)", "solve(x, 0 mm, 40 mm, x = force)", "solve(x, 0 mm, 40 N, x = r)", "solve(x, 40 mm, 0 mm, x = r)", "solve(x, r, r, x = r)", "solve(x, 0, 10, sqrt(x - 20) = 1)",
		"solve(x, 0, 10, if(x < 5, -1, 1) = 0)", "solve(x, 0, 10, x)", "solve(x, 0, x = 1)", "solve(x.y, 0, 1, x = 1)", "solve(3, 0, 1, x = 1)", "solve(pi, 0, 1, pi = 1)", "solve(x, 0, 1, solve(x, 0, 1, x = 0.5) = x)", "solve(x, 0, 1, unknown = x)", "solve(x, 0, 1, x.y = x)",
		"solve(n, 0 rpm, 200 rpm, curve.torque(n) = 3 N*m)",
	}},
	{about: "sums", formulas: []string{
		"sum(p, pres.parts, p.mass)", "sum(p, press.parts, p)", "sum(p, press.parts, p.power)", "sum(p, empty.parts, p.mass)", "sum(p, press.parts, p.nothing, 1 < 0)", "sum(v, (r, force), v)", "sum(v, (zero, r), force / v)", "sum(p, press.parts)", "sum(p)", "sum(p, 3, p)", "sum(p, (), p)",
		"sum(p, press.parts, p.mass, p.count)", "sum(p, press.parts, p.mass) + r", "sum(p, press.parts, p.mass + p.length)", "has(2 * r)", "sum(p, press.parts, p.mass, has(p.powr))",
	}},
	{about: "functions", formulas: []string{
		"stiffness(210 GPa, 8 mm^4)", "stiffness(210 GPa, 8 mm^4, zero)", "stiffness(210 GPa, 8 mm^4, l) + r", "stiffness(210 GPa, force / zero, l)", "twice(t)", "four(t)", "loop(1)", "stifness(1, 2, 3)", "root_of(-1)", "heft(2 kg, 1)", "heft(posd, 1)", "twice(openning)", "four(posd + 1)", "both(posd, 1)", "sum(p, press.parts, twice(p))", "heft(motor.power, 1)",
	}},
	{about: "scope", formulas: []string{"openning + 1 mm", "2 * mm", "1 + loop_a", "2 * curve.nothing(3)", "2 * sqr(3)", "curve.torque(3 mm)", "diagonal(1, 2)"}},
	{about: "reading", formulas: []string{"if(1 < 2, 3)", "if(1 < 2, 3, 4 < 5, 6)", "max(1, 2", "sum(p, (a, b, p.mass)", "1 < 2 < 3", "solve(x, 0, 1, x = 1 = 2)", "sqrt", "sum + 1"}},
}
