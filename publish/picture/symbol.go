package picture

import "math"

// A symbol is a sign drawn as lines because a font lacks it, in units of the
// capitals' height: x from 0 to width, y up from the baseline.
type symbol struct {
	width  float64 // advance, gaps on both sides included
	curves func() []Curve
}

// symbols: proportions after ISO 1101 and ISO 7083 for geometrical tolerances,
// ASME Y14.5 for counterbore and countersink.
var symbols = map[rune]symbol{
	'⌴': {1.40, func() []Curve { // counterbore, spot face
		return upward(Polyline(Point{.15, .95}, Point{.15, .1}, Point{1.25, .1}, Point{1.25, .95}))
	}},
	'⌵': {1.36, func() []Curve { // countersink
		return upward(Polyline(Point{.12, .95}, Point{.68, .1}, Point{1.24, .95}))
	}},
	'⌖': {1.30, func() []Curve { // position
		return upward(append(Circle(Point{.65, .5}, .36),
			Line{Point{.1, .5}, Point{1.2, .5}}, Line{Point{.65, -.05}, Point{.65, 1.05}}))
	}},
	'⟂': {1.20, func() []Curve { // perpendicularity
		return upward([]Curve{Line{Point{.1, .02}, Point{1.1, .02}}, Line{Point{.6, .02}, Point{.6, .98}}})
	}},
	'⏥': {1.35, func() []Curve { // flatness
		return upward(Polygon(Point{.1, .1}, Point{.85, .1}, Point{1.25, .85}, Point{.5, .85}))
	}},
	'∥': {.95, func() []Curve { // parallelism
		return upward([]Curve{Line{Point{.12, 0}, Point{.52, 1}}, Line{Point{.43, 0}, Point{.83, 1}}})
	}},
	'⌓': {1.30, func() []Curve { // profile of a surface
		return upward([]Curve{
			Arc{Centre: Point{.65, .2}, RX: .52, RY: .52, Sweep: math.Pi},
			Line{Point{.13, .2}, Point{1.17, .2}}})
	}},
	'↗': {1.20, func() []Curve { // circular run-out
		return upward([]Curve{Line{Point{.12, .02}, Point{1.0, .98}},
			Line{Point{1.0, .98}, Point{.62, .78}}, Line{Point{1.0, .98}, Point{.86, .57}}})
	}},
}

// upward turns curves given with y up into the paper's y down.
func upward(curves []Curve) []Curve {
	for i, c := range curves {
		switch c := c.(type) {
		case Line:
			c.A.Y, c.B.Y = -c.A.Y, -c.B.Y
			curves[i] = c
		case Arc:
			c.Centre.Y, c.Start, c.Sweep, c.Tilt = -c.Centre.Y, -c.Start, -c.Sweep, -c.Tilt
			curves[i] = c
		}
	}
	return curves
}

// HasSymbol reports whether Text draws the rune as a path when its font has no
// glyph for it.
func HasSymbol(r rune) bool {
	_, known := symbols[r]
	return known
}

// symbolOf is the symbol that stands for a rune in a face: none where the face
// has the glyph itself.
func symbolOf(r rune, face Face) (symbol, bool) {
	if r < 0x2000 {
		return symbol{}, false
	}
	s, known := symbols[r]
	return s, known && face.metrics().of(r) < 0
}

// placed is the symbol's outline on the paper: its left end on the baseline at
// at, turned counter-clockwise about pivot.
func (s symbol) placed(at Point, height, turn float64, pivot Point) []Curve {
	curves := MoveCurves(s.curves(), height, at)
	if turn == 0 {
		return curves
	}
	for i, c := range curves {
		curves[i] = turnCurve(c, -turn, pivot)
	}
	return curves
}

// turnCurve turns a curve clockwise on the paper about a pivot.
func turnCurve(c Curve, angle float64, pivot Point) Curve {
	about := func(p Point) Point { return pivot.Plus(turned(p.Minus(pivot), angle)) }
	switch c := c.(type) {
	case Line:
		return Line{about(c.A), about(c.B)}
	case Arc:
		c.Centre, c.Tilt = about(c.Centre), c.Tilt+angle
		return c
	case Bezier:
		return Bezier{about(c.A), about(c.C1), about(c.C2), about(c.B)}
	}
	return c
}

// strokeOfText is the line width of symbols within text, in capital heights:
// that of DejaVu Sans's stems.
const strokeOfText = 0.11
const strokeOfBold = 0.19

// stroke is the width in millimetres with which symbols in the line are drawn.
func (t Text) stroke() float64 {
	switch t.Face {
	case SansBold, SansBoldOblique, MonoBold:
		return strokeOfBold * t.Height
	}
	return strokeOfText * t.Height
}
