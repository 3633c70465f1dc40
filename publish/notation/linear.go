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
	case Large: // its limits become indices
		sign := &Node{Kind: Script, Args: []*Node{upright(n.Text)}, Sub: n.Sub, Sup: n.Sup}
		return row(looseProduct, sign, operator("", Conjunction), least(args[0], looseProduct))
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

// Segments are the pieces of a formula on one line between which a line of text may end:
// each but the first begins with the operator that it is cut at. A piece longer than
// most ems is cut at products, too, and within its brackets.
func Segments(n *Node, most float64) []*Node {
	if n.Kind != Row {
		n = &Node{Kind: Row, Args: []*Node{n}, level: levelOf(n)}
	}
	var out []*Node
	for _, piece := range cutAt(n, loose) {
		out = append(out, shortened(piece, most)...)
	}
	return out
}

func loose(c Class) bool {
	return c == Conjunction || c == Relation || c == Addition || c == Allowance || c == Comma
}

// shortened cuts a piece that is too long.
func shortened(piece *Node, most float64) []*Node {
	if Width(piece) <= most {
		return []*Node{piece}
	}
	open, changed := unrolled(piece)
	pieces := cutAt(open, func(c Class) bool { return loose(c) || c == Multiplication || c == Division })
	if len(pieces) == 1 && !changed {
		return pieces
	}
	var out []*Node
	for _, p := range pieces {
		out = append(out, shortened(p, most)...)
	}
	return out
}

// unrolled is a row whose outer brackets are signs like others, so that it can be cut
// between them; changed is false where it has none.
func unrolled(n *Node) (open *Node, changed bool) {
	open = &Node{Kind: Row, level: n.level}
	for _, arg := range n.Args {
		brackets, closed := arg, func(sign *Node) *Node { return sign }
		if arg.Kind == Script && (arg.Args[0].Kind == Fence || arg.Args[0].Kind == Root) {
			brackets, closed = arg.Args[0], func(sign *Node) *Node {
				return &Node{Kind: Script, Args: []*Node{sign}, Sub: arg.Sub, Sup: arg.Sup, level: arg.level}
			}
		}
		first := "("
		switch brackets.Kind {
		case Fence:
			first = brackets.Text
		case Root:
			open.Args = append(open.Args, operator("√", Bracket))
		default:
			open.Args = append(open.Args, arg)
			continue
		}
		changed = true
		open.Args = append(open.Args, operator(first, Bracket))
		open.Args = append(open.Args, row(whole, brackets.Args[0], closed(operator(closing[first], Bracket))).Args...)
	}
	return open, changed
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
		case n.Args[i-1].Kind == Operator && n.Args[i-1].Class == Bracket && arg.Class != Comma && closing[n.Args[i-1].Text] != "":
		case arg.Class == Comma:
			cut(i + 1)
		case arg.Text != "" || arg.Class == Conjunction:
			cut(i)
		}
	}
	cut(len(n.Args))
	return out
}
