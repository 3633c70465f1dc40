package reckon

import (
	"math"

	"plansheaf/design/formula"
)

// Drawing inputs at random works formulas out by the million. Their dimensions were
// found sound at the nominal values, so what is left is arithmetic in SI units, for
// which a formula is put together once. What goes beyond arithmetic (tables, sums,
// roots of equations, the plan's own functions) is left to package formula.

// quick is a formula as arithmetic: its value with the web's nodes standing at vals, a
// truth as 1 or 0; NaN where it has none.
type quick func(vals []float64) float64

// quickly puts a formula together; nil where it is not plain arithmetic. local gives
// the nodes of its names.
func quickly(e *formula.Expr, local map[string]int, vals []float64) quick {
	q := compiler{local: local, vals: vals}
	f := q.compile(e.Root())
	if q.other {
		return nil
	}
	return f
}

type compiler struct {
	local map[string]int
	vals  []float64 // at the nominal values
	other bool      // met something beyond arithmetic
}

func (q *compiler) beyond() quick {
	q.other = true
	return func([]float64) float64 { return math.NaN() }
}

func (q *compiler) compile(n *formula.Node) quick {
	switch n.Kind {
	case formula.Number, formula.Constant:
		if n.Value.HasSpread() {
			return q.beyond()
		}
		x := n.Value.SI
		return func([]float64) float64 { return x }
	case formula.Name:
		at, held := q.local[n.Text]
		if !held || n.Bound {
			return q.beyond()
		}
		return func(vals []float64) float64 { return vals[at] }
	case formula.Unary:
		return q.unary(n)
	case formula.Binary:
		return q.binary(n)
	case formula.Call:
		return q.call(n)
	case formula.Cases:
		return q.cases(q.all(n.Args))
	}
	return q.beyond()
}

func (q *compiler) unary(n *formula.Node) quick {
	a := q.compile(n.Args[0])
	switch n.Text {
	case "-":
		return func(v []float64) float64 { return -a(v) }
	case "not":
		return func(v []float64) float64 { return 1 - a(v) }
	}
	return a
}

func (q *compiler) binary(n *formula.Node) quick {
	a, b := q.compile(n.Args[0]), q.compile(n.Args[1])
	switch n.Text {
	case "+":
		return func(v []float64) float64 { return a(v) + b(v) }
	case "-":
		return func(v []float64) float64 { return a(v) - b(v) }
	case "*":
		return func(v []float64) float64 { return a(v) * b(v) }
	case "/":
		return q.quotient(a, b)
	case "^":
		return func(v []float64) float64 { return math.Pow(a(v), b(v)) }
	case "and":
		return func(v []float64) float64 {
			if x := a(v); x != 1 {
				return x
			}
			return b(v)
		}
	case "or":
		return func(v []float64) float64 {
			if x := a(v); x != 0 {
				return x
			}
			return b(v)
		}
	}
	op := n.Text
	return func(v []float64) float64 {
		x, y := a(v), b(v)
		if math.IsNaN(x - y) {
			return math.NaN()
		}
		if Holds(op, x-y, alike(x, y)) {
			return 1
		}
		return 0
	}
}

// quotient has no value where the divisor has passed through zero since the nominal
// values: on the far side of a pole the result says nothing about the near one.
func (q *compiler) quotient(a, b quick) quick {
	if q.other {
		return a
	}
	below := b(q.vals) < 0
	return func(v []float64) float64 {
		divisor := b(v)
		if divisor == 0 || divisor < 0 != below {
			return math.NaN()
		}
		return a(v) / divisor
	}
}

// alike is how far two values may lie apart and still be equal, for rounding.
func alike(x, y float64) float64 { return 1e-12 * math.Max(math.Abs(x), math.Abs(y)) }

// plainFunctions are functions of one number that give NaN where they have no value.
var plainFunctions = map[string]func(float64) float64{
	"abs": math.Abs, "sqrt": math.Sqrt, "exp": math.Exp, "ln": math.Log, "log10": math.Log10,
	"sin": math.Sin, "cos": math.Cos, "tan": math.Tan, "asin": math.Asin, "acos": math.Acos, "atan": math.Atan,
}

func (q *compiler) call(n *formula.Node) quick {
	args := q.all(n.Args)
	if f, plain := plainFunctions[n.Text]; plain && len(args) == 1 {
		a := args[0]
		return func(v []float64) float64 { return f(a(v)) }
	}
	switch n.Text {
	case "atan2":
		return func(v []float64) float64 { return math.Atan2(args[0](v), args[1](v)) }
	case "min", "max":
		return q.extreme(args, n.Text == "min")
	}
	return q.beyond()
}

func (q *compiler) all(nodes []*formula.Node) []quick {
	list := make([]quick, len(nodes))
	for i, n := range nodes {
		list[i] = q.compile(n)
	}
	return list
}

func (q *compiler) extreme(args []quick, least bool) quick {
	return func(v []float64) float64 {
		best := args[0](v)
		for _, arg := range args[1:] {
			x := arg(v)
			if least {
				best = math.Min(best, x)
			} else {
				best = math.Max(best, x)
			}
		}
		return best
	}
}

// cases is if(condition, value, ..., otherwise).
func (q *compiler) cases(args []quick) quick {
	return func(v []float64) float64 {
		i := 0
		for ; i+1 < len(args); i += 2 {
			if x := args[i](v); x != 0 {
				if x == 1 {
					return args[i+1](v)
				}
				return x
			}
		}
		return args[i](v)
	}
}
