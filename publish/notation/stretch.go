package notation

import (
	"math"

	"plansheaf/publish/picture"
)

// fenced sets brackets as high as what they enclose.
func (s setter) fenced(n *Node) Box {
	inner := s.node(n.Args[0])
	left, right := s.bracket(n.Text, inner), s.bracket(closing[n.Text], inner)
	pad := 0.04 * s.size
	if n.Text == "|" {
		pad = 0.1 * s.size
	}
	var out Box
	out.put(left, 0, 0)
	out.put(inner, left.Width+pad, 0)
	out.put(right, left.Width+inner.Width+2*pad, 0)
	out.Width = left.Width + inner.Width + right.Width + 2*pad
	return out
}

// bracket is a bracket that encloses a box: the face's own where it is high enough,
// else its outline stretched upright, which leaves its strokes as thick as they are.
func (s setter) bracket(sign string, around Box) Box {
	if sign == "" {
		return Box{}
	}
	own := s.letters(sign, picture.Sans)
	middle := axis * s.size
	half := max(around.Up-middle, around.Down+middle)
	if half <= growth/2*s.size {
		return own
	}
	half += 0.06 * s.size
	if angular[sign] != (corner{}) {
		return s.angled(angular[sign], own.Width, middle, half)
	}
	reach, found := ink(picture.Sans, []rune(sign)[0])
	if !found {
		return own
	}
	stretch := 2 * half / ((reach.up + reach.down) * s.size)
	// A little wider when much higher, or a parenthesis becomes a bar.
	widen := math.Min(1+0.12*(stretch-1), 1.5)
	shape := picture.Path{Fill: picture.Ink}
	place := func(p picture.Point) picture.Point {
		return picture.Point{X: p.X * s.size * widen, Y: p.Y*s.size*stretch - middle - (reach.down-reach.up)/2*s.size*stretch}
	}
	for _, c := range outline(picture.Sans, []rune(sign)[0]) {
		switch c := c.(type) {
		case picture.Line:
			shape.Curves = append(shape.Curves, picture.Line{A: place(c.A), B: place(c.B)})
		case picture.Bezier:
			shape.Curves = append(shape.Curves, picture.Bezier{A: place(c.A), C1: place(c.C1), C2: place(c.C2), B: place(c.B)})
		}
	}
	return Box{Width: own.Width * widen, Up: middle + half, Down: half - middle, Marks: []picture.Mark{shape}}
}

// A corner is how a bracket of straight strokes is made: at which side its stem stands
// and where it has feet.
type corner struct{ right, top, foot, stem bool }

// angular are the brackets of straight strokes, which are drawn, since stretching would
// thicken their feet.
var angular = map[string]corner{
	"|": {stem: true}, "⌈": {stem: true, top: true}, "⌉": {stem: true, top: true, right: true}, "⌊": {stem: true, foot: true}, "⌋": {stem: true, foot: true, right: true},
	"[": {stem: true, top: true, foot: true}, "]": {stem: true, top: true, foot: true, right: true},
}

// angled draws a bracket of straight strokes about the axis.
func (s setter) angled(c corner, width, middle, half float64) Box {
	stroke, x := 1.5*thickness*s.size, width*0.4
	if c.right {
		x = width*0.6 - 1.5*thickness*s.size
	}
	b := Box{Width: width, Up: middle + half, Down: half - middle}
	b.Marks = append(b.Marks, bar(x, -middle-half, stroke, 2*half))
	long, from := width*0.5, x
	if c.right {
		from = x + stroke - long
	}
	if c.top {
		b.Marks = append(b.Marks, bar(from, -middle-half, long, stroke))
	}
	if c.foot {
		b.Marks = append(b.Marks, bar(from, -middle+half-stroke, long, stroke))
	}
	return b
}

// root sets what stands under a radical sign, which grows with it.
func (s setter) root(n *Node) Box {
	inner := s.node(n.Args[0])
	rule, gap := thickness*s.size, 0.14*s.size
	top := max(inner.Up, 0.72*s.size) + gap // of the bar's underside
	foot := max(inner.Down, 0.02*s.size) + 0.04*s.size
	hook, lead := 0.62*s.size, 0.08*s.size
	high := top + foot
	point := func(x, y float64) picture.Point { return picture.Point{X: x * s.size, Y: y} }
	knee := -top + high*0.5
	knee = max(knee, foot-0.75*s.size)
	line := []picture.Point{point(0.03, knee+0.06*s.size), point(0.13, knee), point(0.33, foot), point(0.6, -top-rule/2),
		{X: hook + lead + inner.Width + 0.1*s.size, Y: -top - rule/2}}
	out := Box{Width: hook + lead + inner.Width + 0.14*s.size}
	out.Marks = append(out.Marks, picture.Path{Curves: ribbon(line, []float64{rule * 0.8, rule * 1.7, rule * 0.9, rule}), Fill: picture.Ink})
	out.Up, out.Down = top+rule, foot+rule
	out.put(inner, hook+lead, 0)
	return out
}

// ribbon is the outline of a line whose pieces have widths of their own, mitred.
func ribbon(line []picture.Point, widths []float64) []picture.Curve {
	side := func(sign float64) []picture.Point {
		var out []picture.Point
		for i := range line {
			switch {
			case i == 0:
				out = append(out, line[0].Plus(normal(line[0], line[1]).Times(sign*widths[0]/2)))
			case i == len(line)-1:
				out = append(out, line[i].Plus(normal(line[i-1], line[i]).Times(sign*widths[i-1]/2)))
			default:
				out = append(out, mitre(line[i-1], line[i], line[i+1], sign*widths[i-1]/2, sign*widths[i]/2))
			}
		}
		return out
	}
	corners := side(1)
	back := side(-1)
	for i := len(back) - 1; i >= 0; i-- {
		corners = append(corners, back[i])
	}
	return picture.Polygon(corners...)
}

// normal is the unit vector to the left of the way from a to b, as y grows downward.
func normal(a, b picture.Point) picture.Point {
	d := b.Minus(a)
	l := math.Hypot(d.X, d.Y)
	return picture.Point{X: d.Y / l, Y: -d.X / l}
}

// mitre is where two lines, moved aside by their offsets, meet at b.
func mitre(a, b, c picture.Point, before, after float64) picture.Point {
	n1, n2 := normal(a, b), normal(b, c)
	// p·n1 = b·n1 + before and p·n2 = b·n2 + after.
	det := n1.X*n2.Y - n1.Y*n2.X
	if math.Abs(det) < 1e-9 {
		return b.Plus(n1.Times(before))
	}
	r1, r2 := b.X*n1.X+b.Y*n1.Y+before, b.X*n2.X+b.Y*n2.Y+after
	return picture.Point{X: (r1*n2.Y - r2*n1.Y) / det, Y: (n1.X*r2 - n2.X*r1) / det}
}

// cases sets branches with their conditions behind a brace.
func (s setter) cases(n *Node) Box {
	s.display = false
	var values, conditions []Box
	wide := 0.0
	for i := 0; i+1 < len(n.Args); i += 2 {
		v := s.node(n.Args[i])
		values, conditions = append(values, v), append(conditions, s.node(n.Args[i+1]))
		wide = max(wide, v.Width)
	}
	lines := make([]Box, len(values))
	for i, v := range values {
		l := v
		l.put(conditions[i], wide+0.9*s.size, 0)
		l.Width = wide + 0.9*s.size + conditions[i].Width
		lines[i] = l
	}
	inner := s.stacked(lines)
	brace := s.bracket("{", inner)
	var out Box
	out.put(brace, 0, 0)
	out.put(inner, brace.Width+0.12*s.size, 0)
	out.Width = brace.Width + 0.12*s.size + inner.Width
	return out
}
