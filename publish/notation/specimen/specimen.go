// Package specimen is test support: formulas to try setting with, one of every kind and
// any number at random, the same for the same seed.
//
// It is imported by tests only.
package specimen

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"plansheaf/design/formula"
)

// Kinds are formulas that between them have every kind of node and every operator.
var Kinds = []string{
	"asin((large - small) / (2 * belt_centre))",
	"lead_screw.mean_diameter / 2 * tan(lead_angle + friction_angle) + bearing_friction * thrust_bearing.mean_diameter / 2",
	"if(slenderness > limit, euler_load, johnson_load)",
	"if(a < 1, x, a < 2, 2 * x, x ^ 2) * force",
	"sqrt((idle_torque ^ 2 * fast_time + motor_drive.torque_at_motor ^ 2 / 3 * press_time) / cycle)",
	"section * lead_screw.material.yield * (1 - lead_screw.material.yield * slenderness ^ 2 / (4 * pi ^ 2 * lead_screw.material.modulus))",
	"side_force * low ^ 2 * (post.length - low) ^ 2 / (3 * guide_rod.material.modulus * inertia * post.length)",
	"sin(phi) ^ 2 + cos(alpha_1) ^ 2 + exp(-mu * beta) + abs(x - y) + ceil(a / b) + floor(2.5) + round(x, 2)",
	"max(a, b + 1 mm) * min(2, 3 N / F) + log10(x) + ln(x) + atan2(y, x) - (a - b) + -c",
	"(a + b / c) ^ (1/3) / (sqrt(a / b) + d_root ^ 2) + exp(a / (b + c))",
	"12 mm ± 0.1 mm + 8 mm +0.015/-0 mm + (x ± (y / 10)) + 30 deg + 20 mm H7",
	"a <= b and b < 2 or not c != 3 and (x >= y or x > 1) and a = b",
	"sum(p, press.parts, p.mass * p.count, has(p.power)) * g + sum(q, (left, right), q.length)",
	"solve(x, 0, 10 mm, x ^ 2 = 2 * k * x)",
	"curve.torque(speed) * diagonal(left_post, right_post) + helper(a, b_max)",
	"2 * 3 mm * 4 N * (2 + 3) * F * r * (tan(lambda_1) + mu_0) * d2 / force_max / 2 * B",
	"a ^ b ^ c + (-2) ^ 2 + (5 mm) ^ 2 + sqrt(x) ^ 3 + (a / b) ^ 2",
}

// Parsed is a formula's tree; the text must be one.
func Parsed(text string) *formula.Node {
	e, failed := formula.Parse(text)
	if failed != nil {
		panic(fmt.Sprintf("specimen %q: %v", text, failed))
	}
	return e.Root()
}

// names are what random formulas name, with values for which most of them work out.
var names = map[string]float64{
	"x": 1.7, "y": 0.4, "a": 2.3, "phi": 0.6, "mu_0": 0.15, "d2": 3.1, "lead_angle": 0.3, "head_plate.thick": 1.2, "force_max": 4.5, "press_force.force": 2.9,
}

// ordered are the names in a fixed order.
var ordered = []string{"x", "y", "a", "phi", "mu_0", "d2", "lead_angle", "head_plate.thick", "force_max", "press_force.force"}

// Values are the values of the names in random formulas.
func Values() map[string]float64 { return names }

// Random is a formula of random parts, nested as deep as told.
func Random(seed uint64, deep int) string {
	g := generator{rand.New(rand.NewPCG(seed, 7))}
	return g.number(deep)
}

type generator struct{ *rand.Rand }

func (g generator) pick(list ...string) string { return list[g.IntN(len(list))] }

func (g generator) number(deep int) string {
	if deep <= 0 {
		if g.IntN(3) == 0 {
			return g.pick("1", "2", "3.5", "0.75", "pi", "12")
		}
		return g.pick(ordered...)
	}
	sub := func() string { return g.number(deep - 1 - g.IntN(2)) }
	switch g.IntN(14) {
	case 0, 1:
		return "(" + sub() + ") + (" + sub() + ")"
	case 2, 3:
		return "(" + sub() + ") - (" + sub() + ")"
	case 4, 5:
		return "(" + sub() + ") * (" + sub() + ")"
	case 6, 7, 8:
		return "(" + sub() + ") / (" + sub() + ")"
	case 9:
		return "(" + sub() + ") ^ " + g.pick("2", "3", "(1/2)", "(y / 2)", "(-1)")
	case 10:
		return g.pick("sqrt", "abs", "sin", "cos", "tan", "atan", "exp", "ln", "ceil", "floor") + "(" + sub() + ")"
	case 11:
		return "-(" + sub() + ")"
	case 12:
		return g.pick("min", "max") + "(" + strings.Join([]string{sub(), sub()}, ", ") + ")"
	}
	return "if((" + sub() + ") " + g.pick("<", "<=", ">", ">=") + " (" + sub() + "), " + sub() + ", " + sub() + ")"
}
