package dxf

import (
	"math"

	"plansheaf/publish/picture"
)

// Picture writes a picture as a DXF file: millimetres on paper, y up from the
// sheet's bottom-left corner. A drawing at 1:2 is half as large in the file as the
// part; Cutting is what machines are fed with.
//
// Each line type has its layer: visible, hidden, centre, dimension, hatching,
// cutting-plane, neighbour, break, new, frame, fine. Letters are text on the layer
// text, filled areas lie on fill. What a Clip cuts off is not in the file; text and
// filled areas in a clip stay or go as a whole, by their middle. What is painted in
// the paper's colour, to clear what is under it, is left out, and so are halos.
//
// Errors are those of picture.Check.
func Picture(p *picture.Picture) ([]byte, error) {
	if err := picture.Check(p); err != nil {
		return nil, wrap(p.Name, err)
	}
	group := p.LineGroup()
	f := newFile(drawingLayers(group), patterns(group), styles)
	f.paper = point{p.Width, p.Height}
	d := drawer{file: f}
	d.marks(p.Marks)
	data, err := f.bytes()
	return data, wrap(p.Name, err)
}

// A drawer writes marks into a file. shift moves them on the paper; windows are the
// clips that they stand in, on the paper.
type drawer struct {
	*file
	shift   picture.Point
	windows []window
}

func (d *drawer) marks(marks []picture.Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case picture.Path:
			d.path(m)
		case picture.Text:
			d.words(m)
		case picture.Group:
			within := *d
			within.shift = d.shift.Plus(m.Shift)
			within.marks(m.Marks)
		case picture.Clip:
			within := *d
			outline := picture.MoveCurves(m.Outline, 1, d.shift)
			within.windows = append(d.windows[:len(d.windows):len(d.windows)], newWindow(outline))
			within.marks(m.Marks)
		}
	}
}

// up is a place on the paper in the file.
func (d *drawer) up(p picture.Point) point { return point{p.X, d.paper.y - p.Y} }

func (d *drawer) shows(p picture.Point) bool {
	for _, w := range d.windows {
		if !w.holds(p) {
			return false
		}
	}
	return true
}

func (d *drawer) path(p picture.Path) {
	curves := picture.MoveCurves(p.Curves, 1, d.shift)
	if p.Fill != "" && p.Fill != picture.Paper && len(curves) > 0 && d.shows(picture.CurveBounds(curves).Centre()) {
		d.fill(pen{fillLayer, indexOf(p.Fill, picture.Ink)}, curves)
		d.grow(picture.CurveBounds(curves))
	}
	if p.Line == picture.NoLine || p.Ink == picture.Paper {
		return
	}
	for _, w := range d.windows {
		curves = w.within(curves)
	}
	d.curves(pen{layerOf(p.Line), indexOf(p.Ink, p.Line.Ink())}, curves)
}

// indexOf is the colour of what is painted in a colour, where its layer has another.
func indexOf(c, own picture.Colour) int {
	if c == "" || c == own {
		return byLayer
	}
	return indices[c]
}

// curves writes each curve, Béziers that follow each other as one.
func (d *drawer) curves(p pen, curves []picture.Curve) {
	d.grow(picture.CurveBounds(curves))
	var control []point
	flush := func() {
		if len(control) > 0 {
			d.spline(p, control)
		}
		control = nil
	}
	for _, c := range curves {
		b, isBezier := c.(picture.Bezier)
		if !isBezier || len(control) > 0 && control[len(control)-1] != d.up(b.A) {
			flush()
		}
		switch c := c.(type) {
		case picture.Line:
			if c.A != c.B {
				d.line(p, d.up(c.A), d.up(c.B))
			}
		case picture.Arc:
			d.turn(p, c)
		case picture.Bezier:
			if len(control) == 0 {
				control = []point{d.up(c.A)}
			}
			control = append(control, d.up(c.C1), d.up(c.C2), d.up(c.B))
		}
	}
	flush()
}

// flattest is the ratio of radii below which an ellipse counts as seen edge-on.
const flattest = 1e-6

// turn writes an arc. Seen with y up, angles on the paper run the other way.
func (d *drawer) turn(p pen, a picture.Arc) {
	long, short := max(a.RX, a.RY), min(a.RX, a.RY)
	start, sweep := -a.Start, -a.Sweep
	switch {
	case a.Sweep == 0 || long == 0:
	case a.RX == a.RY && whole(a.Sweep):
		d.circle(p, d.up(a.Centre), a.RX)
	case a.RX == a.RY:
		d.arc(p, d.up(a.Centre), a.RX, start-a.Tilt, sweep)
	case short < flattest*long:
		d.edgeOn(p, a)
	default:
		tilt := -a.Tilt
		if a.RY > a.RX { // the long axis is a quarter turn further
			tilt, start = tilt+math.Pi/2, start-math.Pi/2
		}
		sin, cos := math.Sincos(tilt)
		d.ellipse(p, d.up(a.Centre), point{long * cos, long * sin}, short/long, start, sweep)
	}
}

// edgeOn writes an ellipse without width as the lines that it runs along.
func (d *drawer) edgeOn(p pen, a picture.Arc) {
	ends := []float64{0}
	for k := math.Ceil(min(a.Start, a.Start+a.Sweep) / (math.Pi / 2)); k*math.Pi/2 < max(a.Start, a.Start+a.Sweep); k++ {
		ends = append(ends, math.Abs(k*math.Pi/2-a.Start))
	}
	ends = append(ends, math.Abs(a.Sweep))
	var bends []bend
	for _, t := range ends {
		bends = append(bends, bend{at: d.up(a.At(a.Start + math.Copysign(t, a.Sweep)))})
	}
	d.polyline(p, bends, false)
}

// words writes a line of text: as it is, or in pieces where symbols that no font has
// stand in it.
func (d *drawer) words(t picture.Text) {
	t.At = t.At.Plus(d.shift)
	if t.Words == "" || t.Ink == picture.Paper || !d.shows(t.Bounds().Centre()) {
		return
	}
	d.grow(t.Bounds())
	p := pen{textLayer, indexOf(t.Ink, picture.Ink)}
	pieces := t.Pieces()
	for _, piece := range pieces {
		if piece.Drawn != nil {
			d.curves(p, piece.Drawn)
			continue
		}
		l := label{words: piece.Words, left: d.up(piece.At), height: t.Height, turn: t.Turn, style: styleOf(t.Face)}
		if len(pieces) == 1 {
			l.at, l.anchor, l.rise = d.up(t.At), t.Anchor, t.Rise
		}
		d.label(p, l)
	}
}
