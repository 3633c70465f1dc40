package picture

import (
	"math"
	"slices"
)

// Hatch fills closed outlines with parallel lines cut off at their edges; an
// outline inside another is a hole. angle is in radians, counter-clockwise on the
// paper, spacing in millimetres. The lines of two outlines with the same angle
// and spacing line up, as those of one part must.
func Hatch(outline []Curve, angle, spacing float64) []Curve {
	if !(spacing > 0) || len(outline) == 0 {
		return nil
	}
	sin, cos := math.Sincos(angle)
	along, across := Point{cos, -sin}, Point{sin, cos}
	low, high := math.Inf(1), math.Inf(-1)
	box := CurveBounds(outline)
	for _, corner := range []Point{box.Min, box.Max, {box.Min.X, box.Max.Y}, {box.Max.X, box.Min.Y}} {
		d := corner.X*across.X + corner.Y*across.Y
		low, high = min(low, d), max(high, d)
	}
	const most = 20000
	if !(high-low < most*spacing) {
		return nil
	}
	var lines []Curve
	for k := math.Ceil(low / spacing); k*spacing < high; k++ {
		// A hair off the round number, so that no line runs along an edge or
		// through a corner, where inside and outside cannot be told.
		offset := (k + 1e-5) * spacing
		var hits []float64
		for _, c := range outline {
			hits = append(hits, lineHits(c, along, across, offset)...)
		}
		slices.Sort(hits)
		for i := 0; i+1 < len(hits); i += 2 {
			if hits[i+1]-hits[i] > sameSpot {
				at := across.Times(offset)
				lines = append(lines, Line{at.Plus(along.Times(hits[i])), at.Plus(along.Times(hits[i+1]))})
			}
		}
	}
	return lines
}

// lineHits are the places along a hatching line at which it crosses a curve.
func lineHits(c Curve, along, across Point, offset float64) (hits []float64) {
	side := func(p Point) float64 { return p.X*across.X + p.Y*across.Y - offset }
	place := func(p Point) float64 { return p.X*along.X + p.Y*along.Y }
	switch c := c.(type) {
	case Line:
		a, b := side(c.A), side(c.B)
		if (a < 0) != (b < 0) {
			hits = append(hits, place(c.A.Plus(c.B.Minus(c.A).Times(a/(a-b)))))
		}
	case Arc:
		// side(At(t)) = side(Centre) + reach·cos(t - phase)
		x, y := turned(Point{c.RX, 0}, c.Tilt), turned(Point{0, c.RY}, c.Tilt)
		u, v := x.X*across.X+x.Y*across.Y, y.X*across.X+y.Y*across.Y
		reach, phase := math.Hypot(u, v), math.Atan2(v, u)
		if m := -side(c.Centre); math.Abs(m) < reach {
			turn := math.Acos(m / reach)
			for _, t := range []float64{phase + turn, phase - turn} {
				if c.passes(t) {
					hits = append(hits, place(c.At(t)))
				}
			}
		}
	case Bezier:
		const steps = 64
		from := c.A
		for i := range steps {
			to := c.At(float64(i+1) / steps)
			hits = append(hits, lineHits(Line{from, to}, along, across, offset)...)
			from = to
		}
	}
	return hits
}
