package compose

import (
	"math"
	"strconv"
	"strings"

	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/graph"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

// curvePoints is how finely a curve is worked out.
const curvePoints = 61

// unaskedGraphs is how many graphs a calculation gets at most that asks for none.
const unaskedGraphs = 2

// unaskedReach is how many times the spread of its input such a graph goes to either
// side.
const unaskedReach = 3

// written is a value of the kind of another as a formula that stands at a place of the
// plan.
func written(like quantity.Value, si float64, at finding.Span) plan.Quantity {
	v := like.Nominal()
	v.SI = si
	x, err := v.In(v.Unit)
	if err != nil {
		return plan.Quantity{}
	}
	e, failed := formula.Parse(strings.TrimSpace(strconv.FormatFloat(x, 'f', -1, 64) + " " + v.Unit))
	if failed != nil {
		return plan.Quantity{}
	}
	return plan.Quantity{Plain: plan.Formula{Expr: e, At: at}, At: at}
}

// graphs are the graphs that a calculation asks for; without any, those of the results
// that something hangs on against the input that drives each most.
func (c *composer) graphs(k *plan.Calc, s *check.Situation, report *calc.Report) []page.Block {
	wanted := k.Graphs
	if len(wanted) == 0 {
		wanted = unasked(k, s, report)
	}
	var blocks []page.Block
	for _, g := range wanted {
		if f, drawn := c.graph(k, s, g); drawn {
			blocks = append(blocks, f)
		}
	}
	return blocks
}

// unasked are the graphs of a calculation that asks for none: of a result on record, or
// one that a requirement names by itself, against its strongest driver.
func unasked(k *plan.Calc, s *check.Situation, report *calc.Report) []plan.Graph {
	var list []plan.Graph
	for _, f := range report.Finds {
		if len(f.Drivers) > 0 && f.Known && f.Value.HasSpread() && hangsOn(k, report, f.Name) && len(list) < unaskedGraphs {
			against := strings.TrimPrefix(f.Drivers[0].Name, k.ID.Text+".")
			g := plan.Graph{Of: plan.Word{Text: f.Name, At: k.At}, Against: plan.Word{Text: against, At: k.At}, At: k.At}
			if v, err := s.Reckoning.Show(f.Drivers[0].Name); err == nil && v.HasSpread() {
				reach := unaskedReach * math.Max(v.Minus, v.Plus)
				g.From, g.To = written(v, v.SI-reach, k.At), written(v, v.SI+reach, k.At)
			}
			list = append(list, g)
		}
	}
	return list
}

// hangsOn reports whether a requirement names a result by itself, or it is on record.
func hangsOn(k *plan.Calc, report *calc.Report, name string) bool {
	for _, rec := range k.Recorded {
		if rec.Name.Text == name {
			return true
		}
	}
	for _, o := range report.Requires {
		for _, f := range o.Require.That.All() {
			if !f.Given() {
				continue
			}
			for _, one := range f.Expr.Comparisons() {
				if isName(one.Left, name) || isName(one.Right, name) {
					return true
				}
			}
		}
	}
	return false
}

func isName(e *formula.Expr, name string) bool {
	return e.Root().Kind == formula.Name && e.Root().Text == name
}

// graph draws one graph and tells it in words.
func (c *composer) graph(k *plan.Calc, s *check.Situation, g plan.Graph) (page.Figure, bool) {
	curve := calc.CurveOf(s.Reckoning, k, g, curvePoints)
	if !curve.Known {
		return page.Figure{}, false
	}
	x, y := c.axis(c.inputName(k, g.Against.Text), curve.X), c.axis(c.inputName(k, g.Of.Text), curve.Y)
	r := graph.Request{
		Name: "graphs/" + k.ID.Text + "-" + plainName(g.Of.Text) + "-" + plainName(g.Against.Text),
		X:    x.Axis, Y: y.Axis, Label: quantity.Text(curve.Y.Nominal(), c.system),
		At: graph.Point{X: x.of(curve.X.SI), Y: y.of(curve.Y.SI), Known: true}, Low: y.of(curve.Y.Low()), High: y.of(curve.Y.High()),
	}
	for _, p := range curve.Points {
		r.Points = append(r.Points, graph.Point{X: x.of(p.X), Y: y.of(p.Y), Known: p.Known})
	}
	for _, l := range curve.Lines {
		limit := graph.Limit{Name: c.limitName(k, s, l), Sign: sign(l.Op)}
		for _, v := range l.Y {
			limit.Y = append(limit.Y, y.of(v))
		}
		r.Limits = append(r.Limits, limit)
	}
	r.Title = c.say("%s against %s", notation.Words(y.Name), notation.Words(x.Name))
	r.Description = c.graphWords(r.Title, curve, r)
	drawn := graph.Draw(r)
	if drawn == nil {
		return page.Figure{}, false
	}
	caption := []page.Inline{page.Formula{Is: y.Name}, page.Text(" "), page.Text(c.say("against|one quantity against another")), page.Text(" "), page.Formula{Is: x.Name},
		page.Text(": "), c.measure(curve.Y.Nominal()), page.Text(" " + c.say("at|a point of a graph") + " "), c.measure(curve.X.Nominal())}
	if gap := open(curve.Points); gap {
		caption = append(caption, page.Text(". "+c.say("Where the curve is open it cannot be worked out.")))
	}
	return page.Figure{Picture: drawn, Caption: caption}, true
}

func open(points []calc.Point) bool {
	for _, p := range points {
		if !p.Known {
			return true
		}
	}
	return false
}

// plainName is a name as part of a file's.
func plainName(name string) string { return strings.ReplaceAll(name, ".", "-") }

// A unitAxis is an axis in the unit that its value is printed in.
type unitAxis struct {
	graph.Axis
	zero, one float64 // SI values of 0 and 1 of the unit
}

func (a unitAxis) of(si float64) float64 { return (si - a.zero) / (a.one - a.zero) }

// axis is an axis in the unit in which a value is printed.
func (c *composer) axis(name *notation.Node, v quantity.Value) unitAxis {
	a := unitAxis{Axis: graph.Axis{Name: name}, one: 1}
	_, unit := quantity.Parts(v.Nominal(), c.system)
	if u, err := quantity.ParseUnit(unit); unit != "" && err == nil {
		zero, err0 := quantity.New(0, u.Text)
		one, err1 := quantity.New(1, u.Text)
		if err0 == nil && err1 == nil && one.SI != zero.SI && v.Is(one.Dim) {
			a.zero, a.one, a.Unit = zero.SI, one.SI, unit
		}
	}
	return a
}

// limitName is a limit as the requirement has it: its sign, and its value where it is
// the same everywhere.
func (c *composer) limitName(k *plan.Calc, s *check.Situation, l calc.Line) *notation.Node {
	setting := c.setting(k)
	e, failed := formula.Parse(l.Source)
	if failed != nil {
		return notation.Beside(notation.Sign(sign(l.Op)), l.Source)
	}
	right := notation.Linear(setting.Of(e.Root()))
	if y, level := l.Level(); level {
		if _, literal := e.Literal(); !literal {
			if result, err := e.Eval(s.Reckoning.CalcScope(k)); err == nil && !result.IsTruth {
				v := result.Value.Nominal()
				v.SI = y
				right = notation.Equation(right, notation.Value(v, c.system))
			}
		}
	}
	return notation.Limit(sign(l.Op), right)
}

// graphWords tell a graph to those who cannot see it.
func (c *composer) graphWords(title string, curve calc.Curve, r graph.Request) string {
	said := []string{title + "."}
	value := func(v quantity.Value, si float64) string {
		v = v.Nominal()
		v.SI = si
		return quantity.Text(v, c.system)
	}
	var first, last *calc.Point
	low, high := math.Inf(1), math.Inf(-1)
	for i := range curve.Points {
		if p := &curve.Points[i]; p.Known {
			if first == nil {
				first = p
			}
			last = p
			low, high = math.Min(low, p.Y), math.Max(high, p.Y)
		}
	}
	if first != nil {
		said = append(said, c.say("From %s at %s to %s at %s.", value(curve.Y, first.Y), value(curve.X, first.X), value(curve.Y, last.Y), value(curve.X, last.X)))
		if low < math.Min(first.Y, last.Y) || high > math.Max(first.Y, last.Y) {
			said = append(said, c.say("Lowest %s, highest %s.", value(curve.Y, low), value(curve.Y, high)))
		}
	}
	said = append(said, c.say("The machine is at %s, %s.", value(curve.X, curve.X.SI), value(curve.Y, curve.Y.SI)))
	for _, l := range r.Limits {
		said = append(said, c.say("Limit: %s.", notation.Words(l.Name)))
	}
	return strings.Join(said, " ")
}
