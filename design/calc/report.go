package calc

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A Report is one calculation run under one case.
type Report struct {
	Calc     *plan.Calc
	Givens   []Result
	Finds    []Result
	Records  []Record
	Requires []Outcome
	Limits   []Outcome // within what the method is valid
	Uses     []Use     // the tables that the calculation looks values up in
}

// A Use is a table with the columns that a calculation looks up and the results and
// givens, by name, that do so.
type Use struct {
	Table   plan.TableFile
	Columns []string
	By      []string
}

// A Result is a given or a result with its value.
type Result struct {
	Name    string
	Formula plan.Formula
	Source  string         // the formula as written
	Worked  string         // the formula with values put in; equal to Source for a plain value
	Value   quantity.Value // its spread is the worst case: all inputs at their worst ends at once
	Known   bool           // false: it cannot be worked out, and the reckoning says why
	// Statistical is the value with its statistical spread to the first order: the
	// root of the sum of the squares of the inputs' effects. Each input counts as
	// normal with its limits at three standard deviations, and so does the result.
	Statistical quantity.Value
	// Sampled is what drawing the inputs at random gives, where that and the first
	// order disagree; nil elsewhere.
	Sampled *Sample
	Drivers []reckon.Driver // the strongest first
	About   string
	Because string
}

// A Sample is a result as drawn at random: its mean, with three standard deviations
// as spread.
type Sample struct {
	Value quantity.Value
	Draws int // how many were drawn
	Lost  int // of them, how many had no value: outside of a table, a root of a negative number
}

// Run runs the calculation; nil when it does not belong to the reckoning's case.
func Run(r *reckon.Reckoning, c *plan.Calc, system quantity.System) *Report {
	if !c.Only.Fits(r.Case.Options) {
		return nil
	}
	report := &Report{Calc: c, Uses: uses(r, c)}
	for _, g := range c.Givens {
		result := one(r, c, g.Name, g.Is, system)
		result.About, result.Because = g.About.Value, g.Because.Value
		report.Givens = append(report.Givens, result)
	}
	for _, f := range c.Finds {
		result := one(r, c, f.Name, f.Is, system)
		result.About = f.About.Value
		report.Finds = append(report.Finds, result)
	}
	for _, rec := range c.Recorded {
		report.Records = append(report.Records, record(r, c, rec))
	}
	for _, q := range c.Requires {
		report.Requires = append(report.Requires, outcome(r, c, q, system))
	}
	for _, q := range c.Limits {
		report.Limits = append(report.Limits, outcome(r, c, q, system))
	}
	return report
}

func one(r *reckon.Reckoning, c *plan.Calc, name plan.Word, q plan.Quantity, system quantity.System) Result {
	result := Result{Name: name.Text}
	f, ok := q.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return result
	}
	result.Formula, result.Source = f, f.Expr.Source()
	spread, err := r.Spread(c.ID.Text + "." + name.Text)
	if err != nil {
		return result
	}
	result.Known = true
	result.Value, result.Statistical, result.Drivers = spread.Value, spread.Statistical, spread.Drivers
	if spread.Bent {
		result.Sampled = sampled(r, c, name.Text, spread)
	}
	result.Worked = f.Expr.Worked(r.CalcScope(c), system)
	return result
}

// Disagreement is the share of the statistical spread by which the mean of what was
// drawn at random may lie off the first order's middle, and by which the two spreads
// may differ, before a report says so.
const Disagreement = 0.1

// sampled is what drawing a result at random gives, where that is not what the first
// order says.
func sampled(r *reckon.Reckoning, c *plan.Calc, name string, first reckon.Spread) *Sample {
	samples := r.Sample(c)
	if samples == nil {
		return nil
	}
	drawn, found := samples.Of(name)
	if !found {
		return nil
	}
	v := first.Statistical
	reach, middle := (v.Plus+v.Minus)/2, (v.High()+v.Low())/2
	drawnReach := 3 * drawn.Deviation
	if drawn.Lost == 0 && math.Abs(drawn.Mean-middle) <= Disagreement*reach && math.Abs(drawnReach-reach) <= Disagreement*reach {
		return nil
	}
	v.SI, v.Minus, v.Plus = drawn.Mean, drawnReach, drawnReach
	return &Sample{Value: v, Draws: drawn.Draws, Lost: drawn.Lost}
}
