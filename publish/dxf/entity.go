package dxf

import (
	"math"

	"plansheaf/publish/picture"
)

// The entities. Angles are radians, counter-clockwise; lengths millimetres.

func (f *file) line(p pen, a, b point) {
	f.entity("LINE", p, "AcDbLine")
	f.point(10, a)
	f.point(11, b)
}

func (f *file) circle(p pen, centre point, radius float64) {
	f.entity("CIRCLE", p, "AcDbCircle")
	f.point(10, centre)
	f.number(40, radius)
}

// arc is part of a circle from an angle by a sweep, which may be negative: the
// format's arcs all run counter-clockwise.
func (f *file) arc(p pen, centre point, radius, start, sweep float64) {
	start, end := forward(start, sweep)
	f.entity("ARC", p, "AcDbCircle")
	f.point(10, centre)
	f.number(40, radius)
	f.text(100, "AcDbArc")
	f.number(50, degrees(start))
	f.number(51, degrees(end))
}

// ellipse is part of an ellipse: centre + long·cos t + short·sin t, where short is
// long turned by a quarter and shrunk by ratio, at most 1.
func (f *file) ellipse(p pen, centre, long point, ratio, start, sweep float64) {
	from, to := forward(start, sweep)
	if whole(sweep) {
		from, to = 0, 2*math.Pi
	}
	f.entity("ELLIPSE", p, "AcDbEllipse")
	f.point(10, centre)
	f.point(11, long)
	f.solidUp(210)
	f.number(40, ratio)
	f.number(41, from)
	f.number(42, to)
}

// solidUp writes the direction that the plane of an entity faces.
func (f *file) solidUp(code int) {
	f.number(code, 0)
	f.number(code+10, 0)
	f.number(code+20, 1)
}

// spline is a chain of cubic Béziers as one spline: each inner joint's knot stands
// three times, so that the curve is the Béziers themselves. control holds 3n+1
// points.
func (f *file) spline(p pen, control []point) {
	f.entity("SPLINE", p, "AcDbSpline")
	f.solidUp(210)
	const planar = 8
	f.integer(70, planar)
	f.integer(71, 3)
	knots := bezierKnots(len(control))
	f.integer(72, len(knots))
	f.integer(73, len(control))
	f.integer(74, 0)
	f.number(42, 1e-7)
	f.number(43, 1e-7)
	for _, k := range knots {
		f.number(40, k)
	}
	for _, c := range control {
		f.point(10, c)
	}
}

// bezierKnots are the knots of a cubic spline over a number of control points that
// is a chain of Béziers.
func bezierKnots(control int) []float64 {
	n := (control - 1) / 3
	knots := []float64{0}
	for i := 0; i <= n; i++ {
		for range 3 {
			knots = append(knots, float64(i))
		}
	}
	return append(knots, float64(n))
}

// A bend is a corner of a polyline; what leads on to the next one is an arc of four
// times the arc tangent of bulge, counter-clockwise when positive.
type bend struct {
	at    point
	bulge float64
}

// polyline joins bends, and the last to the first when closed.
func (f *file) polyline(p pen, bends []bend, closed bool) {
	f.entity("LWPOLYLINE", p, "AcDbPolyline")
	f.integer(90, len(bends))
	flag := 0
	if closed {
		flag = 1
	}
	f.integer(70, flag)
	f.number(43, 0)
	for _, b := range bends {
		f.number(10, b.at.x)
		f.number(20, b.at.y)
		if b.bulge != 0 {
			f.number(42, b.bulge)
		}
	}
}

// triangle is filled.
func (f *file) triangle(p pen, a, b, c point) {
	f.entity("SOLID", p, "AcDbTrace")
	f.point(10, a)
	f.point(11, b)
	f.point(12, c)
	f.point(13, c)
}

// arcBends are the corners of an arc without its end: two for more than half a
// turn, since a bulge grows without limit towards a whole one.
func arcBends(centre point, radius, start, sweep float64) []bend {
	pieces := 1
	if math.Abs(sweep) > math.Pi+1e-9 {
		pieces = 2
	}
	var list []bend
	step := sweep / float64(pieces)
	for i := range pieces {
		sin, cos := math.Sincos(start + step*float64(i))
		list = append(list, bend{point{centre.x + radius*cos, centre.y + radius*sin}, math.Tan(step / 4)})
	}
	return list
}

// forward is an arc's start and end, counter-clockwise, start within a turn from 0.
func forward(start, sweep float64) (from, to float64) {
	if sweep < 0 {
		start, sweep = start+sweep, -sweep
	}
	from = math.Mod(start, 2*math.Pi)
	if from < 0 {
		from += 2 * math.Pi
	}
	return from, from + sweep
}

// degrees is an angle as the format has it, less than a whole turn.
func degrees(angle float64) float64 {
	d := angle * 180 / math.Pi
	if d >= 360 {
		d -= 360
	}
	return d
}

// whole tells whether a sweep is a whole turn.
func whole(sweep float64) bool { return math.Abs(sweep) > 2*math.Pi-1e-9 }

// grow widens the box around the entities, which y down on paper bounds.
func (f *file) grow(b picture.Box) {
	if b.Empty() {
		return
	}
	f.box = f.box.Join(picture.BoxAround(
		picture.Point{X: b.Min.X, Y: f.paper.y - b.Max.Y}, picture.Point{X: b.Max.X, Y: f.paper.y - b.Min.Y}))
}
