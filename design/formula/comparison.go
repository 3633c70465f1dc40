package formula

import (
	"math"

	"plansheaf/design/quantity"
)

// A Comparison is one comparison of a requirement; its sides are formulas on
// the same source, so their offsets are those of the whole.
type Comparison struct {
	Left  *Expr
	Op    string // = != < <= > >=
	Right *Expr
	node  *Node
}

// Comparison returns the sides of a formula that is one comparison.
func (e *Expr) Comparison() (left *Expr, op string, right *Expr, ok bool) {
	list := e.Comparisons()
	if len(list) != 1 {
		return nil, "", nil, false
	}
	return list[0].Left, list[0].Op, list[0].Right, true
}

// Comparisons returns the comparisons of a formula that is one, or several
// joined by "and"; nil for every other formula.
func (e *Expr) Comparisons() []Comparison {
	return e.comparisons(e.root)
}

func (e *Expr) comparisons(n *Node) []Comparison {
	if n.Kind != Binary {
		return nil
	}
	switch n.Text {
	case "and":
		left, right := e.comparisons(n.Args[0]), e.comparisons(n.Args[1])
		if left == nil || right == nil {
			return nil
		}
		return append(left, right...)
	case "=", "!=", "<", "<=", ">", ">=":
		return []Comparison{{Left: &Expr{e.source, n.Args[0]}, Op: n.Text, Right: &Expr{e.source, n.Args[1]}, node: n}}
	}
	return nil
}

// A Margin is a comparison with both sides worked out.
type Margin struct {
	Comparison  Comparison
	Left, Right quantity.Value
	Gap         quantity.Value // Left - Right, with the spread of the difference
	Holds       bool           // at the nominal values
	Throughout  bool           // wherever within the spreads, to the first order
}

// Ratio returns Left / Right at the nominal values, the safety factor of a
// requirement such as strength >= load; false where no number expresses it.
func (m Margin) Ratio() (float64, bool) {
	ratio := m.Left.SI / m.Right.SI
	if m.Left.Absolute || math.IsNaN(ratio-ratio) {
		return 0, false
	}
	return ratio, true
}

// Margins works out the comparisons of a formula (see Comparisons); none for
// a formula that is not made of comparisons joined by "and".
func (e *Expr) Margins(scope Scope) ([]Margin, *Error) {
	var margins []Margin
	for _, c := range e.Comparisons() {
		truth, failed := (&Expr{e.source, c.node}).Eval(scope)
		if failed != nil {
			return nil, failed
		}
		m := Margin{Comparison: c, Holds: truth.Truth}
		if m.Left, failed = c.Left.Value(scope); failed != nil {
			return nil, failed
		}
		if m.Right, failed = c.Right.Value(scope); failed != nil {
			return nil, failed
		}
		// One formula for the difference, so that an input on both sides
		// counts once.
		gap := *c.node
		gap.Text = "-"
		if m.Gap, failed = (&Expr{e.source, &gap}).Value(scope); failed != nil {
			return nil, failed
		}
		m.Throughout = m.Holds && throughout(c.Op, m)
		margins = append(margins, m)
	}
	return margins, nil
}

// throughout tells whether a comparison that holds does so at both ends of
// the gap. The allowance is that of Value.Compare.
func throughout(op string, m Margin) bool {
	allowance := 1e-12 * math.Max(math.Abs(m.Left.SI), math.Abs(m.Right.SI))
	low, high := m.Gap.Low(), m.Gap.High()
	switch op {
	case "<":
		return high < 0
	case "<=":
		return high <= allowance
	case ">":
		return low > 0
	case ">=":
		return low >= -allowance
	case "=":
		return low >= -allowance && high <= allowance
	}
	return low > 0 || high < 0
}
