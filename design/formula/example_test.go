package formula_test

import (
	"fmt"

	"plansheaf/design/formula"
	"plansheaf/design/quantity"
)

func ExampleExpr_Eval() {
	scope := formula.Values{}
	for name, text := range map[string]string{"torque": "1.2 N*m", "ratio": "3", "lead": "4 mm", "efficiency": "0.31 ± 0.03"} {
		v, err := quantity.Parse(text)
		if err != nil {
			fmt.Println(err)
			return
		}
		scope[name] = v
	}
	force, failed := formula.Parse("2 * pi * torque * ratio * efficiency / lead")
	if failed != nil {
		fmt.Println(failed)
		return
	}
	result, failed := force.Eval(scope)
	if failed != nil {
		fmt.Println(failed)
		return
	}
	fmt.Println(force.Worked(scope, quantity.Metric), "=", quantity.Text(result.Value, quantity.Metric))
	// Output:
	// 2 × π × 1.2 N·m × 3 × 0.31 / 4 mm = 1.75 ± 0.17 kN
}

func ExampleParse() {
	wrong, failed := formula.Parse("12 mm + 3 N")
	if failed == nil {
		_, failed = wrong.Eval(formula.Values{})
	}
	fmt.Println(failed)
	// Output:
	// 12 mm + 3 N adds a length to a force
}

// A function of a calculation, a root and cases: how far a beam's end sinks under a load
// until the stop beneath it carries.
func ExampleNewFunction() {
	body, failed := formula.Parse("3 * e * i / l^3")
	if failed != nil {
		fmt.Println(failed)
		return
	}
	scope := beam{stiffness: formula.NewFunction("stiffness", []string{"e", "i", "l"}, body)}
	sinks, failed := formula.Parse("if(force > 100 N, 2 mm, solve(x, 0 mm, 2 mm, stiffness(70 GPa, 1000 mm^4, 500 mm) * x = force))")
	if failed != nil {
		fmt.Println(failed)
		return
	}
	v, failed := sinks.Value(scope)
	if failed != nil {
		fmt.Println(failed)
		return
	}
	fmt.Println(scope.stiffness)
	fmt.Println(quantity.Text(v, quantity.Metric))
	// Output:
	// stiffness(e, i, l) = 3 * e * i / l^3
	// 1.19 mm
}

// beam knows a force and a function.
type beam struct {
	formula.Values
	stiffness *formula.Function
}

func (b beam) Lookup(string) (quantity.Value, error) { return quantity.New(2, "N") }

func (b beam) Function(name string) *formula.Function {
	if name == b.stiffness.Name {
		return b.stiffness
	}
	return nil
}
