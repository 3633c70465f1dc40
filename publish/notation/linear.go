package notation

// Linear is a formula on one line: fractions with a slash, cases one after the other.
func Linear(n *Node) *Node {
	args := make([]*Node, len(n.Args))
	for i, arg := range n.Args {
		args[i] = Linear(arg)
	}
	switch n.Kind {
	case Fraction:
		return row(looseProduct, least(args[0], looseProduct), operator("/", Division), least(args[1], loosePower))
	case Cases:
		var nodes []*Node
		for i := 0; i+1 < len(args); i += 2 {
			if i > 0 {
				nodes = append(nodes, operator(";", Comma))
			}
			nodes = append(nodes, args[i], operator("", Conjunction), args[i+1])
		}
		return row(looseOr, nodes...)
	case Row:
		return row(levelOf(n), args...)
	case Stack:
		var nodes []*Node
		for i, arg := range args {
			if i > 0 && !operatorFirst(arg) {
				nodes = append(nodes, operator("", Conjunction))
			}
			nodes = append(nodes, arg)
		}
		return row(looseOr, nodes...)
	}
	flat := *n
	flat.Args = args
	return &flat
}

// operatorFirst reports whether a node begins with an operator.
func operatorFirst(n *Node) bool { return head(n).Kind == Operator }

// Segments are the pieces of a formula between which a line of text may end: each but
// the first begins with the operator that it is cut at. A piece longer than most ems
// is cut at products too.
func Segments(n *Node, most float64) []*Node {
	if n.Kind != Row {
		return []*Node{n}
	}
	var out []*Node
	for _, piece := range cutAt(n, func(c Class) bool { return c == Conjunction || c == Relation || c == Addition || c == Comma }) {
		if piece.Kind == Row && Width(piece) > most {
			out = append(out, cutAt(piece, func(c Class) bool { return c == Multiplication || c == Division })...)
			continue
		}
		out = append(out, piece)
	}
	return out
}

// cutAt cuts a row before the operators whose class is meant, after commas. An
// operator at the very start ends nothing, and a product's empty sign cannot begin a
// line.
func cutAt(n *Node, meant func(Class) bool) []*Node {
	var out []*Node
	from := 0
	cut := func(to int) {
		if to > from {
			out = append(out, &Node{Kind: Row, Args: n.Args[from:to], level: n.level})
			from = to
		}
	}
	for i, arg := range n.Args {
		switch {
		case arg.Kind != Operator || arg.Class == Prefix || !meant(arg.Class) || i == 0:
		case arg.Class == Comma:
			cut(i + 1)
		case arg.Text != "" || arg.Class == Conjunction:
			cut(i)
		}
	}
	cut(len(n.Args))
	return out
}
