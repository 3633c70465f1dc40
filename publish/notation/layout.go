package notation

import (
	"plansheaf/publish/picture"
)

// A Box is a formula set in letters and rules, in millimetres: its marks stand about
// the start of its baseline, y growing downward.
type Box struct {
	Width    float64
	Up, Down float64 // how far its ink reaches above and below the baseline
	Marks    []picture.Mark
}

// Moved is the box's marks with the start of the baseline at a place.
func (b Box) Moved(to picture.Point) []picture.Mark {
	return moved(b.Marks, to)
}

func moved(marks []picture.Mark, by picture.Point) []picture.Mark {
	out := make([]picture.Mark, len(marks))
	for i, m := range marks {
		switch m := m.(type) {
		case picture.Text:
			m.At = m.At.Plus(by)
			out[i] = m
		case picture.Path:
			m.Curves = picture.MoveCurves(m.Curves, 1, by)
			out[i] = m
		default:
			out[i] = m
		}
	}
	return out
}

// Measures of setting, in ems. Heights are those of DejaVu Sans: the bar of its minus
// stands at axis.
const (
	axis        = 0.314 // of fraction rules and of the middle of brackets
	xHeight     = 0.547 // of a letter without ascender
	thickness   = 0.05  // of rules
	scriptScale = 0.72  // of an index against what it stands at
	nestedScale = 0.82  // of a fraction within a fraction
	leastScale  = 0.55  // no letters are set smaller
	fallback    = 0.6   // ink of a character that no face has
	growth      = 1.2   // ems that a bracket of the face's own height encloses
	lineGap     = 0.42  // between the ink of stacked lines
	overhang    = 0.1   // of a fraction's rule beyond what it parts
)

// Layout sets a formula in type of a size in millimetres an em, on its own line.
func Layout(n *Node, size float64) Box {
	return setter{em: size, size: size, display: true}.node(n)
}

// Width is how long a formula is on one line, in ems.
func Width(n *Node) float64 { return Layout(n, 1).Width }

// A setter is the size and the manner in which nodes are set.
type setter struct {
	em      float64 // of the formula
	size    float64 // of the letters here
	display bool    // fractions stand at full size
	script  bool    // an index or a power
}

// smaller is the setter of an index.
func (s setter) smaller() setter {
	s.size, s.display, s.script = max(s.size*scriptScale, s.em*leastScale), false, true
	return s
}

// within is the setter of what a fraction parts.
func (s setter) within() setter {
	if s.display {
		s.display = false
		return s
	}
	s.size = max(s.size*nestedScale, s.em*leastScale)
	return s
}

func (s setter) node(n *Node) Box {
	switch n.Kind {
	case Row:
		return s.row(n.Args)
	case Symbol:
		return s.letters(n.Text, picture.SansOblique)
	case Upright, Number, Unit, Operator:
		return s.letters(n.Text, picture.Sans)
	case Fraction:
		return s.fraction(n)
	case Root:
		return s.root(n)
	case Script:
		return s.scripted(n)
	case Fence:
		return s.fenced(n)
	case Cases:
		return s.cases(n)
	case Large:
		return s.large(n)
	case Stack:
		return s.stack(n)
	}
	return Box{}
}

// letters are words on the baseline.
func (s setter) letters(words string, face picture.Face) Box {
	if words == "" {
		return Box{}
	}
	words = picture.Shown(words, face)
	height := s.size / picture.FontSize(1)
	b := Box{Width: picture.TextWidth(words, height, face)}
	for _, r := range words {
		reach, found := ink(face, r)
		if !found && r != ' ' && r != '\u00a0' && r != '\u202f' {
			reach = extent{up: fallback, down: 0.1}
		}
		b.Up, b.Down = max(b.Up, reach.up*s.size), max(b.Down, reach.down*s.size)
	}
	b.Marks = []picture.Mark{picture.Text{Words: words, Height: height, Face: face}}
	if face == picture.SansOblique { // a slanted letter leans over its end
		runes := []rune(words)
		last := runes[len(runes)-1]
		if reach, found := ink(face, last); found {
			advance := picture.TextWidth(string(last), height, face)
			b.Width += max(0, reach.right*s.size-advance)
		}
	}
	return b
}

// put sets a box at a place within another.
func (b *Box) put(inner Box, x, y float64) {
	b.Marks = append(b.Marks, inner.Moved(picture.Point{X: x, Y: y})...)
	b.Up, b.Down = max(b.Up, inner.Up-y), max(b.Down, inner.Down+y)
}

func (s setter) row(nodes []*Node) Box {
	var out Box
	for i, n := range nodes {
		if i > 0 {
			out.Width += s.space(nodes, i)
		}
		inner := s.node(n)
		out.put(inner, out.Width, 0)
		out.Width += inner.Width
	}
	return out
}

// blanks around operators of a class, in ems: before and after.
var blanks = map[Class][2]float64{
	Conjunction: {0.4, 0.4}, Relation: {0.3, 0.3}, Addition: {0.24, 0.24}, Allowance: {0.24, 0.24},
	Multiplication: {0.18, 0.18}, Division: {0.06, 0.06}, Comma: {0, 0.32}, Prefix: {0, 0.06},
}

// space is the room between a node of a row and the one before it.
func (s setter) space(nodes []*Node, i int) float64 {
	n, last := nodes[i], nodes[i-1]
	gap := 0.0
	switch {
	case n.Kind == Operator && last.Kind == Operator:
		gap = max(blanks[n.Class][0], blanks[last.Class][1])
	case n.Kind == Operator && n.Class == Multiplication && n.Text == "":
		gap = 0.18
	case last.Kind == Operator && last.Class == Multiplication && last.Text == "":
	case n.Kind == Operator:
		gap = blanks[n.Class][0]
	case last.Kind == Operator && last.Class == Prefix && len([]rune(last.Text)) > 1:
		gap = 0.35
	case last.Kind == Operator:
		gap = blanks[last.Class][1]
	case n.Kind == Unit && !close(n.Text):
		gap = 0.2
	case n.Kind != Fence && (last.Kind == Upright || last.Kind == Script && last.Args[0].Kind == Upright):
		gap = 0.2
	}
	if s.script && n.Kind != Unit {
		gap *= 0.5
	}
	return gap * s.size
}

// bar is a rule as a filled rectangle.
func bar(x, y, width, height float64) picture.Mark {
	corners := picture.Polygon(picture.Point{X: x, Y: y}, picture.Point{X: x + width, Y: y},
		picture.Point{X: x + width, Y: y + height}, picture.Point{X: x, Y: y + height})
	return picture.Path{Curves: corners, Fill: picture.Ink}
}

func (s setter) fraction(n *Node) Box {
	inner := s.within()
	above, below := inner.node(n.Args[0]), inner.node(n.Args[1])
	rule, gap := thickness*s.size, 0.13*s.size
	if s.display {
		gap = 0.2 * s.size
	}
	middle, side := axis*s.size, 0.06*s.size
	long := max(above.Width, below.Width) + 2*overhang*s.size
	out := Box{Width: long + 2*side}
	out.put(above, side+(long-above.Width)/2, -(middle + rule/2 + gap + above.Down))
	out.put(below, side+(long-below.Width)/2, -middle+rule/2+gap+below.Up)
	out.Marks = append(out.Marks, bar(side, -middle-rule/2, long, rule))
	return out
}

// scripted sets an index and a power at their base, apart from each other.
func (s setter) scripted(n *Node) Box {
	base, small := s.node(n.Args[0]), s.smaller()
	var sub, sup Box
	rise, drop := 0.0, 0.0
	tall := n.Args[0].Kind != Symbol && base.Up > s.size
	if n.Sup != nil {
		sup = small.node(n.Sup)
		rise = max(0.38*s.size, sup.Down+xHeight*s.size/3)
		if tall {
			rise = max(rise, base.Up-0.4*small.size)
		}
	}
	if n.Sub != nil {
		sub = small.node(n.Sub)
		drop = max(0.17*s.size, sub.Up-xHeight*0.8*s.size)
		if tall {
			drop = max(drop, base.Down+0.1*s.size)
		}
	}
	if n.Sup != nil && n.Sub != nil {
		if clash := 0.16*s.size - (rise - sup.Down - (sub.Up - drop)); clash > 0 {
			rise, drop = rise+clash/2, drop+clash/2
		}
	}
	out := base
	at := base.Width + 0.04*s.size
	lean := 0.0
	if n.Args[0].Kind == Symbol {
		lean = 0.06 * s.size
	}
	if n.Sup != nil {
		out.put(sup, at+lean, -rise)
		out.Width = max(out.Width, at+lean+sup.Width)
	}
	if n.Sub != nil {
		out.put(sub, at, drop)
		out.Width = max(out.Width, at+sub.Width)
	}
	return out
}

// large is an operator such as ∑ with its limits, before what it works on.
func (s setter) large(n *Node) Box {
	scale := 1.2
	if s.display {
		scale = 1.7
	}
	big := s
	big.size *= scale
	sign := big.letters(n.Text, picture.Sans)
	lift := axis*s.size - (sign.Up-sign.Down)/2 // its middle on the axis
	var below, above Box
	if n.Sub != nil {
		below = s.smaller().node(n.Sub)
	}
	if n.Sup != nil {
		above = s.smaller().node(n.Sup)
	}
	wide := max(sign.Width, below.Width, above.Width)
	var out Box
	out.put(sign, (wide-sign.Width)/2, -lift)
	gap := 0.16 * s.size
	if n.Sub != nil {
		out.put(below, (wide-below.Width)/2, sign.Down-lift+gap+below.Up)
	}
	if n.Sup != nil {
		out.put(above, (wide-above.Width)/2, -(sign.Up + lift + gap + above.Down))
	}
	body := s.node(least(n.Args[0], looseProduct))
	out.Width = wide + 0.18*s.size
	out.put(body, out.Width, 0)
	out.Width += body.Width
	return out
}

// stack sets lines below each other, its middle on the axis.
func (s setter) stack(n *Node) Box {
	lines := make([]Box, len(n.Args))
	for i, arg := range n.Args {
		lines[i] = s.node(arg)
	}
	return s.stacked(lines)
}

func (s setter) stacked(lines []Box) Box {
	height := lineGap * s.size * float64(len(lines)-1)
	for _, l := range lines {
		height += l.Up + l.Down
	}
	var out Box
	y := -axis*s.size - height/2
	for _, l := range lines {
		y += l.Up
		out.put(l, 0, y)
		out.Width = max(out.Width, l.Width)
		y += l.Down + lineGap*s.size
	}
	return out
}
