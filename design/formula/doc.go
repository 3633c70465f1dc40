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
// asin acos atan atan2 round ceil floor exp ln log10; the constant pi. Any
// other call goes to the scope: curve.torque(speed), or a Function, which is
// itself written as a formula. Forms with their own nodes in the tree:
//
//	if(a < b, v1, a < c, v2, v3)                      Cases: the first that holds, or the last
//	solve(x, 0 mm, 40 mm, force * x = stiff * x^3)    Solve: the one x of the interval
//	sum(p, press.parts, p.mass * p.count)             Sum: over a group of the scope (Members)
//	sum(s, press.steps, s.time, s.people > 1)         Sum: where a condition holds
//	sum(p, (left_post, right_post), p.length)         Sum: over names, or values, written out
//	has(p.power)                                      whether a name has a value
//
// A Function that reaches into a parameter, heft(p) = p.mass * p.count, is called
// with a thing: heft(post), or heft(p) in a sum over parts.
//
// The x of a solve and the p of a sum are locals: they hold within it alone and
// go before the scope's names. In the tree they are Names that are Bound.
//
// An error shows what was written, the operands to blame and their values:
// "sqrt(a - b): square root of a negative value: a - b is -3 mm² with a = 2
// mm², b = 5 mm²". One within a Function marks the call and shows the
// definition.
//
// Spreads are carried to the first order: each input that has one is taken to
// its ends alone, the others staying put, and the effects are added up, as if
// all went wrong at once. An input that occurs twice counts once, and so does
// one literal in all rounds of a sum. A root moves as it moves with its inputs.
//
// The package reads no files, knows no plan and never panics. Length, nesting
// and parts of a formula are bounded (MaxLength, MaxDepth, MaxNodes), and so are
// the steps that it takes to work out with all that its solves, sums and
// functions repeat (MaxWork).
package formula
