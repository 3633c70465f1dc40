package formula

// A Comparison is one comparison of a requirement; its sides are formulas on
// the same source, so their offsets are those of the whole.
type Comparison struct {
	Left  *Expr
	Op    string // = != < <= > >=
	Right *Expr
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
		return []Comparison{{Left: &Expr{e.source, n.Args[0]}, Op: n.Text, Right: &Expr{e.source, n.Args[1]}}}
	}
	return nil
}
