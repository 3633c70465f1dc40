package formula

import (
	"math"

	"plansheaf/design/quantity"
)

func (ev *evaluator) builtin(n *Node) (Result, *Error) {
	if n.Text == "has" {
		return ev.has(n)
	}
	args := make([]quantity.Value, len(n.Args))
	for i, argument := range n.Args {
		v, failed := ev.value(argument)
		if failed != nil {
			return Result{}, failed
		}
		args[i] = v
	}
	var v quantity.Value
	var failed *Error
	switch n.Text {
	case "min", "max":
		v, failed = ev.extreme(n, args)
	case "abs":
		v, failed = ev.magnitude(n, args[0])
	case "sqrt":
		root, err := args[0].Sqrt()
		if v = root; err != nil {
			failed = ev.refuse(n, err, err.Error(), n.Args[0])
		}
	case "round", "ceil", "floor":
		v, failed = ev.whole(n, args)
	case "atan2":
		v, failed = ev.direction(n, args[0], args[1])
	default:
		v, failed = ev.plain(n, args[0])
	}
	return Result{Value: v}, failed
}

// cases works out if(condition, value, ..., otherwise): the first value whose
// condition holds. All conditions and values are checked for dimensions.
func (ev *evaluator) cases(n *Node) (Result, *Error) {
	branches, otherwise := n.Branches()
	values := make([]*Node, 0, len(branches)+1)
	taken := otherwise
	decided := false
	for _, b := range branches {
		values = append(values, b.Then)
		if decided {
			if failed := ev.inspect(b.When, nil); failed != nil {
				return Result{}, failed
			}
			continue
		}
		holds, failed := ev.truth(b.When)
		if failed != nil {
			return Result{}, failed
		}
		if holds {
			taken, decided = b.Then, true
		}
	}
	result, failed := ev.eval(taken)
	if failed != nil {
		return Result{}, failed
	}
	for _, other := range append(values, otherwise) {
		if other == taken {
			continue
		}
		var agree *quantity.Value
		if !result.IsTruth {
			agree = &result.Value
		}
		if failed := ev.inspect(other, agree); failed != nil {
			return Result{}, failed
		}
	}
	return result, nil
}

func (ev *evaluator) extreme(n *Node, args []quantity.Value) (quantity.Value, *Error) {
	best := args[0]
	for _, next := range args[1:] {
		order, err := next.Compare(best)
		if err != nil {
			return best, ev.refuse(n, err, err.Error(), n.Args...)
		}
		if order < 0 && n.Text == "min" || order > 0 && n.Text == "max" {
			best = next
		}
	}
	return best, nil
}

func (ev *evaluator) magnitude(n *Node, v quantity.Value) (quantity.Value, *Error) {
	if v.SI >= 0 && !v.Absolute {
		return v, nil
	}
	positive, err := v.Neg()
	if err != nil {
		return v, ev.refuse(n, err, err.Error(), n.Args...)
	}
	return positive, nil
}

// whole rounds to a step, which a value with a dimension must name: round(x,
// 0.5 mm). What lies within a part in 10⁹ of a whole step counts as on it, so
// that ceil(1.1 * 10) is 11 in spite of binary fractions.
func (ev *evaluator) whole(n *Node, args []quantity.Value) (quantity.Value, *Error) {
	v := args[0]
	step := quantity.Number(1)
	if len(args) > 1 {
		step = args[1]
	} else if v.Dim != quantity.Pure {
		failed := ev.fail(n, quantity.ErrMismatch, "%s rounds %s to no step%s", ev.expr.text(n), v.Dim.Article(), ev.met(n.Args[0]))
		failed.Remedy = n.Text + "(value, step) rounds to whole steps, such as " + n.Text + "(x, 1 mm)"
		return v, failed
	}
	if v.Absolute {
		return v, ev.fail(n, quantity.ErrMismatch, "%s rounds a temperature on a scale", ev.expr.text(n))
	}
	if err := v.Agree(step); err != nil {
		return v, ev.refuse(n, err, err.Error(), n.Args...)
	}
	if !(step.SI > 0) {
		return v, ev.fail(n, quantity.ErrUndefined, "%s rounds to a step that is not above zero%s", ev.expr.text(n), ev.met(n.Args[1]))
	}
	const alike = 1e-9
	steps := v.SI / step.SI
	nearest := math.Round(steps)
	switch {
	case n.Text == "round" || math.Abs(steps-nearest) <= alike*math.Max(1, math.Abs(steps)):
		steps = nearest
	case n.Text == "ceil":
		steps = math.Ceil(steps)
	default:
		steps = math.Floor(steps)
	}
	if math.IsInf(steps, 0) {
		return v, ev.fail(n, quantity.ErrUndefined, "%s has too many steps%s", ev.expr.text(n), ev.met(n.Args...))
	}
	v.SI = steps * step.SI
	return v, nil
}

func (ev *evaluator) direction(n *Node, y, x quantity.Value) (quantity.Value, *Error) {
	if err := y.Agree(x); err != nil {
		return y, ev.refuse(n, err, err.Error(), n.Args...)
	}
	if y.SI == 0 && x.SI == 0 {
		return y, ev.fail(n, quantity.ErrUndefined, "%s has no direction: both are 0%s", ev.expr.text(n), ev.met(n.Args...))
	}
	return angle(math.Atan2(y.SI, x.SI)), nil
}

func angle(radians float64) quantity.Value {
	return quantity.Value{SI: radians, Dim: quantity.Angle, Unit: "deg"}
}

// plain works out the functions of a plain number or angle.
func (ev *evaluator) plain(n *Node, arg quantity.Value) (quantity.Value, *Error) {
	if !arg.Is(quantity.Pure) {
		return arg, ev.fail(n, quantity.ErrMismatch, "%s takes %s of %s, which must be a plain number or an angle%s", ev.expr.text(n), n.Text, arg.Dim.Article(), ev.met(n.Args[0]))
	}
	x := arg.SI
	undefined := func(why string) (quantity.Value, *Error) {
		return arg, ev.fail(n, quantity.ErrUndefined, "%s %s%s", ev.expr.text(n), why, ev.met(n.Args[0]))
	}
	const alike = 1e-12
	switch n.Text {
	case "sin":
		return quantity.Number(math.Sin(x)), nil
	case "cos":
		return quantity.Number(math.Cos(x)), nil
	case "tan":
		if math.Abs(math.Cos(x)) < alike {
			return undefined("has no value at a right angle")
		}
		return quantity.Number(math.Tan(x)), nil
	case "asin", "acos":
		if !(math.Abs(x) <= 1+alike) {
			return undefined("has no value beyond -1 to 1")
		}
		x = math.Max(-1, math.Min(1, x))
		if n.Text == "asin" {
			return angle(math.Asin(x)), nil
		}
		return angle(math.Acos(x)), nil
	case "atan":
		return angle(math.Atan(x)), nil
	case "exp":
		if power := math.Exp(x); !math.IsInf(power, 0) {
			return quantity.Number(power), nil
		}
		return undefined("is too large")
	}
	if !(x > 0) {
		return undefined("has no value at or below 0")
	}
	if n.Text == "ln" {
		return quantity.Number(math.Log(x)), nil
	}
	return quantity.Number(math.Log10(x)), nil
}
