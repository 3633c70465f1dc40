package formula

import (
	"fmt"
	"math"
	"sort"

	"plansheaf/design/quantity"
)

// MaxInputs bounds how many inputs with a spread one formula may have.
const MaxInputs = 64

// An Input is something with a spread that a result depends on.
type Input struct {
	Name           string         // as written: a name, a literal, a call
	Offset, Length int            // of a literal, spread or call in the formula; -1 and 0 for a name
	Value          quantity.Value // nominal value and spread
}

// A Contribution is how far one input takes a result, in the result's SI
// units: Minus below and Plus above its nominal value, neither negative.
type Contribution struct {
	Input       Input
	Minus, Plus float64
}

// Total adds contributions up: the worst case, all inputs at their worst ends
// at once, to the first order.
func Total(list []Contribution) (minus, plus float64) {
	for _, c := range list {
		minus += c.Minus
		plus += c.Plus
	}
	return minus, plus
}

// Vary returns what each input contributes to the spread of a result, in the
// order of inputs. It takes one input at a time to the low and the high end of
// its spread, calling eval with the input's index and its value in SI units,
// the others staying nominal. An input that enters by several ways (calcs that
// lean on one another) counts once, as long as eval works all of them out
// anew. A result that turns round between the ends, such as x² about 0, is
// seen at the ends only. The first error of eval is returned.
func Vary(nominal float64, inputs []Input, eval func(input int, si float64) (float64, error)) ([]Contribution, error) {
	list := make([]Contribution, 0, len(inputs))
	for i, input := range inputs {
		c := Contribution{Input: input}
		for _, end := range []float64{input.Value.Low(), input.Value.High()} {
			if end == input.Value.SI {
				continue
			}
			moved, err := eval(i, end)
			if err != nil {
				return nil, err
			}
			c.Minus = math.Max(c.Minus, nominal-moved)
			c.Plus = math.Max(c.Plus, moved-nominal)
		}
		list = append(list, c)
	}
	return list, nil
}

// Sort puts the contribution that drives the spread most first; equals keep
// their order.
func Sort(list []Contribution) {
	reach := func(c Contribution) float64 { return math.Max(c.Minus, c.Plus) }
	sort.SliceStable(list, func(i, j int) bool { return reach(list[i]) > reach(list[j]) })
}

// Contributions returns what each name, literal or call with a spread in this
// formula contributes to the spread of its result, the greatest first. Names
// are taken as the scope gives them: for what lies behind them use Vary.
func (e *Expr) Contributions(scope Scope) ([]Contribution, *Error) {
	_, list, failed := e.vary(scope)
	Sort(list)
	return list, failed
}

// vary works the formula out and the contribution of each input.
func (e *Expr) vary(scope Scope) (Result, []Contribution, *Error) {
	watch := &inputs{}
	base := newEvaluator(e, scope)
	base.watch = watch
	result, failed := base.eval(e.root)
	if failed != nil || result.IsTruth || len(watch.list) == 0 {
		return result, nil, failed
	}
	if len(watch.list) > MaxInputs {
		return Result{}, nil, fault(e.root, fmt.Sprintf("the formula has more than %d inputs with a spread", MaxInputs), nil)
	}
	list, err := Vary(result.Value.SI, watch.list, func(input int, si float64) (float64, error) {
		at := watch.list[input].Value
		moved := &evaluator{expr: e, scope: scope, pass: &pass{
			names: base.names, lists: base.lists, steps: base.steps, below: base.below, roots: base.roots,
			moved: watch.leaves[input], to: si, high: si > at.SI,
		}}
		again, failed := moved.eval(e.root)
		if failed != nil {
			return 0, e.atEnd(failed, watch.list[input], si)
		}
		return again.Value.SI, nil
	})
	if err != nil {
		located, _ := err.(*Error) // vary's own closure returns nothing else
		return Result{}, nil, located
	}
	return result, list, nil
}

// atEnd says within which spread a formula fails.
func (e *Expr) atEnd(failed *Error, input Input, si float64) *Error {
	end := "upper"
	if si < input.Value.SI {
		end = "lower"
	}
	at := input.Value.Nominal()
	at.SI = si
	located := *failed
	located.Message = fmt.Sprintf("%s, when %s is at the %s end of its spread, %s", failed.Message, input.Name, end, quantity.Text(at, quantity.Metric))
	return &located
}
