package calc

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// An Outcome is a requirement and whether it holds.
type Outcome struct {
	Require plan.Require
	Source  string
	Worked  string
	Known   bool
	Holds   bool
	// Left and Right are the sides of a single comparison with Op between them;
	// Sides is false for other conditions.
	Sides       bool
	Left, Right quantity.Value
	Op          string
	Between     quantity.Value  // Left less Right, with its worst case, an input on both sides counted once
	Drivers     []reckon.Driver // of Between, the strongest first
	// Margin is how far the condition holds, as a share of the limit: 0.25 is a
	// quarter to spare, negative is missed by so much. NaN where it has no meaning.
	Margin float64
	// Certainty is how sure it is that the condition holds, 0 to 1, found as By says; NaN
	// where By is empty. 1 by sampling means that it failed in none of the draws.
	Certainty float64
	By        Basis
}

// A Basis is how a certainty was found.
type Basis string

// The bases of a certainty.
const (
	ByNothing    Basis = ""            // not known
	ByWorstCase  Basis = "worst case"  // it holds, or fails, wherever within the limits the inputs lie
	ByFirstOrder Basis = "first order" // the difference of the sides taken as normal
	BySampling   Basis = "sampled"     // the share of random draws in which it holds
)

func outcome(r *reckon.Reckoning, c *plan.Calc, q plan.Require, system quantity.System) Outcome {
	out := Outcome{Require: q, Margin: math.NaN(), Certainty: math.NaN()}
	f, ok := q.That.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return out
	}
	scope := r.CalcScope(c)
	out.Source = f.Expr.Source()
	result, err := r.Evaluate(f, scope)
	if err != nil {
		return out
	}
	out.Known, out.Holds = result.IsTruth, result.Truth
	out.Worked = f.Expr.Worked(scope, system)
	condition, ok := r.Condition(c, q)
	if !ok || !out.Known {
		return out
	}
	if len(condition.Gaps) == 1 {
		out.sides(condition.Gaps[0])
	}
	out.judge(r, c, f, condition)
	return out
}

// sides shows a single comparison.
func (o *Outcome) sides(gap reckon.Gap) {
	l, r := gap.Left.Value, gap.Right.Value
	o.Sides, o.Left, o.Op, o.Right = true, l, gap.Op, r
	o.Between, o.Drivers = gap.Between.Value, gap.Between.Drivers
	if r.SI == 0 {
		return
	}
	switch gap.Op {
	case ">", ">=":
		o.Margin = (l.SI - r.SI) / math.Abs(r.SI)
	case "<", "<=":
		o.Margin = (r.SI - l.SI) / math.Abs(r.SI)
	}
}

// judge finds how sure it is that the condition holds. What holds, or fails, in the
// worst case needs no statistics. Else a single comparison in question is judged to
// the first order, and, where effects do not add up, by random draws if these say
// otherwise; draws also judge several comparisons at once, which may hang together, and conditions of other forms.
func (o *Outcome) judge(r *reckon.Reckoning, c *plan.Calc, f plan.Formula, condition reckon.Condition) {
	if !condition.Spread {
		o.certain(condition.Holds)
		return
	}
	var open []reckon.Gap
	for _, gap := range condition.Gaps {
		switch always, never := worst(gap); {
		case never:
			o.certain(false)
			return
		case !always:
			open = append(open, gap)
		}
	}
	if len(condition.Gaps) > 0 && len(open) == 0 {
		o.certain(true)
		return
	}
	first, reckoned := math.NaN(), len(open) == 1
	if reckoned {
		first = firstOrder(open[0])
		o.Certainty, o.By = first, ByFirstOrder
		if !open[0].Between.Bent {
			return // the effects add up, so the difference is normal when the inputs are
		}
	}
	samples := r.Sample(c)
	if samples == nil {
		return
	}
	share, drawn := samples.Share(c, f)
	if drawn && (!reckoned || math.Abs(share-first) > chance(first)) {
		o.Certainty, o.By = share, BySampling
	}
}

// chance is how far the share of draws may lie off a certainty by chance alone: three
// standard deviations of so many draws, and half a percent.
func chance(certainty float64) float64 {
	return 0.005 + 3*math.Sqrt(certainty*(1-certainty)/reckon.Draws)
}

func (o *Outcome) certain(holds bool) {
	o.Certainty, o.By = 0, ByWorstCase
	if holds {
		o.Certainty = 1
	}
}

// worst tells whether a comparison holds, or fails, wherever within the worst case.
func worst(gap reckon.Gap) (always, never bool) {
	low, high, mid := gap.Between.Value.Low(), gap.Between.Value.High(), gap.Between.Value.SI
	holds := func(x float64) bool { return reckon.Holds(gap.Op, x, gap.Allowance) }
	switch gap.Op {
	case "=":
		return holds(low) && holds(high), low > gap.Allowance || high < -gap.Allowance
	case "!=":
		return low > gap.Allowance || high < -gap.Allowance, !holds(low) && !holds(mid) && !holds(high)
	}
	return holds(low) && holds(high), !holds(low) && !holds(high)
}

// firstOrder is the certainty of a comparison whose sides' difference is normal.
func firstOrder(gap reckon.Gap) float64 {
	v := gap.Between.Statistical
	middle, deviation := (v.Low()+v.High())/2, (v.Plus+v.Minus)/6
	if deviation == 0 {
		if reckon.Holds(gap.Op, middle, gap.Allowance) {
			return 1
		}
		return 0
	}
	above := math.Erfc(-middle/deviation/math.Sqrt2) / 2
	switch gap.Op {
	case ">", ">=":
		return above
	case "<", "<=":
		return 1 - above
	case "!=":
		return 1
	}
	return 0 // two values with a spread are never quite equal
}
