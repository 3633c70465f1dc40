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
