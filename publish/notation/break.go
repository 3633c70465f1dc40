package notation

import "strings"

// Lines breaks a formula that is wider than its place: into lines no wider than width
// ems, broken at relations, else at plus and minus, else at products; what is still too
// wide is broken within its brackets and fractions. Each line but the first begins with
// the operator that it is broken at, and the lines from the second on are indent ems
// narrower. What cannot be broken stays as it is.
func Lines(n *Node, width, indent float64) []*Node {
	return breaker{}.lines(n, width, width-indent)
}

// shortSide is the share of a line up to which the left side of a relation is short.
const shortSide = 0.3

// deepestBreak bounds how deep brackets in brackets are broken.
const deepestBreak = 24

type breaker struct{ depth int }

func (b breaker) lines(n *Node, first, rest float64) []*Node {
	if Width(n) <= first || b.depth > deepestBreak {
		return []*Node{n}
	}
	if n.Kind != Row {
		return []*Node{b.fit(n, first)}
	}
	for _, class := range []Class{Conjunction, Relation, Comma, Addition, Multiplication, Division} {
		pieces := cutAt(n, func(c Class) bool { return c == class })
		// A short left side stays with the beginning of the right one.
		if class == Relation && len(pieces) == 2 && Width(pieces[0]) < shortSide*first {
			continue
		}
		if len(pieces) > 1 {
			return b.filled(pieces, first, rest, class)
		}
	}
	return []*Node{b.squeezed(n, first)}
}

// filled puts pieces into as few lines as they fill; a piece too wide for a line is
// broken itself. Relations each begin a line.
func (b breaker) filled(pieces []*Node, first, rest float64, class Class) []*Node {
	var out []*Node
	var now []*Node
	room := first
	flush := func() {
		if len(now) > 0 {
			out, now, room = append(out, row(looseOr, now...)), nil, rest
		}
	}
	for _, piece := range pieces {
		joined := row(looseOr, append(append([]*Node(nil), now...), piece)...)
		if len(now) > 0 && (Width(joined) > room || class == Relation && len(out) > 0) {
			flush()
		}
		if Width(piece) > room && len(now) == 0 {
			inner := b
			inner.depth++
			broken := inner.lines(piece, room, rest)
			out, room = append(out, broken[:len(broken)-1]...), rest
			now = []*Node{broken[len(broken)-1]}
			continue
		}
		now = append(now, piece)
	}
	flush()
	return out
}

// squeezed makes the widest things in a row narrower until it fits.
func (b breaker) squeezed(n *Node, width float64) *Node {
	b.depth++
	nodes := append([]*Node(nil), n.Args...)
	for range nodes {
		now := &Node{Kind: Row, Args: nodes, level: n.level}
		over := Width(now) - width
		if over <= 0 {
			return now
		}
		widest, most := -1, 0.0
		for i, arg := range nodes {
			if w := Width(arg); w > most && arg == n.Args[i] {
				widest, most = i, w
			}
		}
		if widest < 0 {
			return now
		}
		nodes[widest] = b.fit(nodes[widest], most-over)
		if nodes[widest] == n.Args[widest] {
			break
		}
	}
	return &Node{Kind: Row, Args: nodes, level: n.level}
}

// narrowestPlace is the least room that anything is broken into, in ems.
const narrowestPlace = 4

// fit is a node that is no wider than width ems, where that can be done.
func (b breaker) fit(n *Node, width float64) *Node {
	width = max(width, narrowestPlace)
	own := Width(n)
	if own <= width || b.depth > deepestBreak {
		return n
	}
	b.depth++
	inner := *n
	inner.Args = append([]*Node(nil), n.Args...)
	switch n.Kind {
	case Row:
		return stackOf(b.lines(n, width, width))
	case Fraction:
		for i, arg := range n.Args {
			inner.Args[i] = stackOf(b.lines(arg, width-2*overhang-0.2, width-2*overhang-0.2))
		}
	case Cases:
		return b.narrowCases(n, width)
	case Large:
		if most := 0.45 * width; n.Sub != nil && Width(n.Sub)*scriptScale > most {
			inner.Sub = stackOf(b.lines(n.Sub, most/scriptScale, most/scriptScale))
		}
		frame := Width(&inner) - Width(n.Args[0])
		inner.Args[0] = stackOf(b.lines(n.Args[0], max(width-frame-0.3, narrowestPlace), max(width-frame-0.3, narrowestPlace)))
	case Fence, Root, Script:
		frame := own - Width(n.Args[0])
		inner.Args[0] = stackOf(b.lines(n.Args[0], max(width-frame-0.3, narrowestPlace), max(width-frame-0.3, narrowestPlace)))
	case Symbol, Upright:
		return wrapped(n, width)
	default:
		return n
	}
	return &inner
}

// narrowCases puts each condition below its value.
func (b breaker) narrowCases(n *Node, width float64) *Node {
	inner := &Node{Kind: Cases, level: n.level}
	room := width - 1.6
	for i := 0; i+1 < len(n.Args); i += 2 {
		lines := b.lines(n.Args[i], room, room)
		lines = append(lines, b.lines(n.Args[i+1], room, room)...)
		inner.Args = append(inner.Args, stackOf(lines), &Node{Kind: Row})
	}
	return inner
}

// wrapped breaks a name of several words between them.
func wrapped(n *Node, width float64) *Node {
	var lines []*Node
	now := ""
	for _, word := range strings.Fields(n.Text) {
		joined := word
		if now != "" {
			joined = now + " " + word
		}
		if now != "" && Width(&Node{Kind: n.Kind, Text: joined}) > width {
			lines, joined = append(lines, &Node{Kind: n.Kind, Text: now}), word
		}
		now = joined
	}
	return stackOf(append(lines, &Node{Kind: n.Kind, Text: now}))
}

func stackOf(lines []*Node) *Node {
	if len(lines) == 1 {
		return lines[0]
	}
	return &Node{Kind: Stack, Args: lines}
}
