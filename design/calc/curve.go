package calc

import (
	"math"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A Curve is a result against one of its inputs, all else as the plan has it.
type Curve struct {
	Graph  plan.Graph
	X, Y   quantity.Value // the design point, each with its worst-case spread
	Points []Point        // X rises from point to point
	Lines  []Line
	Known  bool // false: there is no design point, or nothing to draw
}

// A Point is one point of a curve in SI units.
type Point struct {
	X, Y  float64
	Known bool // false: the result cannot be worked out there
}

// A Line is what a requirement compares the result with, at each point of the curve;
// it need not be straight, since it may depend on the input as well.
type Line struct {
	Source string    // as written: "critical_load / 3"
	Op     string    // how the result must lie to it: < <= > >= =
	Y      []float64 // in SI units, one a point; NaN where it cannot be worked out
	Limit  bool      // of holds_while, not of require
}

// Level is the line's height where it is the same everywhere.
func (l Line) Level() (y float64, level bool) {
	for i, one := range l.Y {
		if i > 0 && one != l.Y[0] {
			return 0, false
		}
	}
	if len(l.Y) == 0 || math.IsNaN(l.Y[0]) {
		return 0, false
	}
	return l.Y[0], true
}

// around is how far a curve runs to either side of the design point where the plan
// does not say, as a share of the input.
const around = 0.5

// MaxPoints bounds how finely a curve is worked out.
const MaxPoints = 400

// CurveOf works a graph of a calculation out at so many points, at least two, evenly
// from one end to the other. What the input leads to is worked out anew at each, and
// what cannot be worked out, or lies outside of a table, is marked so and is no finding.
func CurveOf(r *reckon.Reckoning, c *plan.Calc, graph plan.Graph, points int) Curve {
	curve := Curve{Graph: graph}
	of, against := r.NameIn(c, graph.Of.Text), r.NameIn(c, graph.Against.Text)
	var errY, errX error
	curve.Y, errY = r.Show(of)
	curve.X, errX = r.Show(against)
	low, high, ok := curve.ends(r, c)
	if errY != nil || errX != nil || !ok {
		return curve
	}
	curve.Known = true
	lines := linesOf(r, c, graph.Of.Text)
	points = min(max(points, 2), MaxPoints)
	for i := range points {
		x := low + (high-low)*float64(i)/float64(points-1)
		at := curve.X.Nominal()
		at.SI = x
		there := r.Supposing(map[string]quantity.Value{against: at})
		y, err := there.Named(of)
		curve.Points = append(curve.Points, Point{X: x, Y: y.SI, Known: err == nil})
		for k := range lines {
			lines[k].add(there, c)
		}
	}
	for _, l := range lines {
		curve.Lines = append(curve.Lines, l.Line)
	}
	return curve
}

// ends are where a curve begins and ends, in SI units.
func (curve Curve) ends(r *reckon.Reckoning, c *plan.Calc) (low, high float64, ok bool) {
	x := curve.X
	reach := math.Max(around*math.Abs(x.SI), 2*math.Max(x.Minus, x.Plus))
	if reach == 0 {
		reach = 1
	}
	low, high = x.SI-reach, x.SI+reach
	for _, end := range []struct {
		said plan.Quantity
		at   *float64
	}{{curve.Graph.From, &low}, {curve.Graph.To, &high}} {
		if !end.said.Given() {
			continue
		}
		f, _ := end.said.Pick(r.Case.Options)
		if !f.Given() {
			return 0, 0, false
		}
		result, err := r.Evaluate(f, r.CalcScope(c))
		if err != nil || !result.Value.Is(x.Dim) {
			return 0, 0, false
		}
		*end.at = result.Value.SI
	}
	if low > high {
		low, high = high, low
	}
	return low, high, high > low
}

// A drawn line is one being worked out along the curve.
type drawn struct {
	Line
	side *formula.Expr
}

func (l *drawn) add(there *reckon.Reckoning, c *plan.Calc) {
	result, err := l.side.Eval(there.CalcScope(c))
	if err != nil || result.IsTruth {
		l.Y = append(l.Y, math.NaN())
		return
	}
	l.Y = append(l.Y, result.Value.SI)
}

// linesOf are the other sides of comparisons that have the bare result on one side.
func linesOf(r *reckon.Reckoning, c *plan.Calc, result string) []drawn {
	var lines []drawn
	from := func(list []plan.Require, limit bool) {
		for _, q := range list {
			f, ok := q.That.Pick(r.Case.Options)
			if !ok || !f.Given() {
				continue
			}
			for _, one := range f.Expr.Comparisons() {
				switch {
				case bare(one.Left, result):
					lines = append(lines, drawn{Line: Line{Source: text(one.Right), Op: one.Op, Limit: limit}, side: one.Right})
				case bare(one.Right, result):
					lines = append(lines, drawn{Line: Line{Source: text(one.Left), Op: turned(one.Op), Limit: limit}, side: one.Left})
				}
			}
		}
	}
	from(c.Requires, false)
	from(c.Limits, true)
	return lines
}

// bare reports whether an expression is the name and nothing else.
func bare(e *formula.Expr, name string) bool {
	root := e.Root()
	return root.Kind == formula.Name && root.Text == name
}

// text is how a side of a comparison is written; its source is the whole of it.
func text(side *formula.Expr) string {
	root := side.Root()
	return string([]rune(side.Source())[root.Offset : root.Offset+root.Length])
}

// turned is the comparison read from its right side.
func turned(op string) string {
	switch op {
	case "<":
		return ">"
	case "<=":
		return ">="
	case ">":
		return "<"
	case ">=":
		return "<="
	}
	return op
}
