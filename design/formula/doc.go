// Package formula reads and works out the formulas of a plan.
//
// In goes the text of a quantity field, "2 * pi * torque / lead_screw.lead";
// out comes a tree (Parse), and, with a Scope that knows the names, a value
// with dimension and spread (Eval), or an Error that marks the characters at
// fault. All offsets count characters of the formula's text from 0.
//
//	expr, failed := formula.Parse("12 mm + gap / 2")
//	result, failed := expr.Eval(scope)
//	expr.Worked(scope, quantity.Metric) // "12 mm + 3 mm / 2"
//
// From loosest to tightest the operators are: or; and; not; = == != < <= >
// >=; + -; * /; the sign -; ^, which groups from the right, so that -2^2 is
// -4; a spread or a fit after a value. Functions: min max abs sqrt sin cos tan
// asin acos atan atan2 round ceil floor if exp ln log10; the constant pi.
// Any other call, curve.torque(speed), goes to the scope.
//
// Spreads are carried to the first order: each input that has one is taken to
// its ends alone, the others staying put, and the effects are added up, as if
// all went wrong at once. An input that occurs twice counts once.
//
// The package reads no files, knows no plan and never panics; length, nesting
// and number of steps of a formula are bounded.
package formula
