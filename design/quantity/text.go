package quantity

import (
	"fmt"
	"strconv"
)

// Text prints v in the units of a system, with sensible digits: "412 mm",
// "3/8 in", "3.35 ± 0.25 kN".
func Text(v Value, system System) string {
	return strconv.FormatFloat(v.SI, 'g', 4, 64) + " " + v.Dim.Units()
}

// Both prints v in a system and beside it in the other; second is empty when
// it would say the same or nothing useful (angles, volts, money).
func Both(v Value, system System) (first, second string) {
	return Text(v, system), ""
}

// TextIn prints v in a unit. The error is that of In.
func TextIn(v Value, unit string) (string, error) {
	x, err := v.In(unit)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%.4g %s", x, unit), nil
}
