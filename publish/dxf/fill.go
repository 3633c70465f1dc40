package dxf

import "plansheaf/publish/picture"

// fill paints closed outlines, one inside another being a hole: arrow heads as
// triangles, which every reader has, all else as a filled hatch. Lines and arcs of
// circles bound it exactly, ellipses and Béziers as splines (see
// picture.ArcBeziers).
func (d *drawer) fill(p pen, curves []picture.Curve) {
	runs := picture.Runs(curves)
	if corners, ok := d.corners(runs); ok {
		d.triangle(p, corners[0], corners[1], corners[2])
		return
	}
	d.entity("HATCH", p, "AcDbHatch")
	d.point(10, point{})
	d.solidUp(210)
	d.text(2, "SOLID")
	d.integer(70, 1) // solid
	d.integer(71, 0) // not tied to its outlines
	d.integer(91, len(runs))
	for _, run := range runs {
		d.boundary(run)
	}
	d.integer(75, 0) // every second area is a hole
	d.integer(76, 1)
	d.integer(98, 1)
	d.number(10, 0)
	d.number(20, 0)
}

// corners are those of one triangle.
func (d *drawer) corners(runs [][]picture.Curve) (list []point, ok bool) {
	if len(runs) != 1 || len(runs[0]) != 3 {
		return nil, false
	}
	for _, c := range runs[0] {
		l, straight := c.(picture.Line)
		if !straight {
			return nil, false
		}
		list = append(list, d.up(l.A))
	}
	return list, true
}

// Flags of a hatch's boundary.
const (
	outerPath    = 1
	polylinePath = 2
)

// boundary writes one closed outline of a hatch.
func (d *drawer) boundary(run []picture.Curve) {
	if bends, ok := d.bends(run); ok {
		d.integer(92, outerPath|polylinePath)
		d.integer(72, 1) // has bulges
		d.integer(73, 1) // closed
		d.integer(93, len(bends))
		for _, b := range bends {
			d.number(10, b.at.x)
			d.number(20, b.at.y)
			d.number(42, b.bulge)
		}
	} else {
		edges := straightened(run)
		d.integer(92, outerPath)
		d.integer(93, len(edges))
		for _, e := range edges {
			d.edge(e)
		}
	}
	d.integer(97, 0)
}

// bends are the corners of an outline of lines and arcs of circles.
func (d *drawer) bends(run []picture.Curve) (list []bend, ok bool) {
	for _, c := range run {
		switch c := c.(type) {
		case picture.Line:
			list = append(list, bend{at: d.up(c.A)})
		case picture.Arc:
			if c.RX != c.RY {
				return nil, false
			}
			list = append(list, arcBends(d.up(c.Centre), c.RX, -c.Start-c.Tilt, -c.Sweep)...)
		default:
			return nil, false
		}
	}
	return list, true
}

// straightened is an outline of lines and Béziers only, closed by a line where it
// is open.
func straightened(run []picture.Curve) []picture.Curve {
	var list []picture.Curve
	for _, c := range run {
		if a, isArc := c.(picture.Arc); isArc {
			for _, b := range picture.ArcBeziers(a) {
				list = append(list, b)
			}
			continue
		}
		list = append(list, c)
	}
	from, _ := run[0].Ends()
	_, to := run[len(run)-1].Ends()
	if from.Distance(to) > closeEnough {
		list = append(list, picture.Line{A: to, B: from})
	}
	return list
}

// closeEnough is how far two ends may lie apart and still meet, mm.
const closeEnough = 1e-6

// edge writes a line or a Bézier of a hatch's boundary.
func (d *drawer) edge(c picture.Curve) {
	pair := func(code int, p picture.Point) {
		at := d.up(p)
		d.number(code, at.x)
		d.number(code+10, at.y)
	}
	const lineEdge, splineEdge = 1, 4
	switch c := c.(type) {
	case picture.Line:
		d.integer(72, lineEdge)
		pair(10, c.A)
		pair(11, c.B)
	case picture.Bezier:
		d.integer(72, splineEdge)
		d.integer(94, 3)
		d.integer(73, 0)
		d.integer(74, 0)
		knots := bezierKnots(4)
		d.integer(95, len(knots))
		d.integer(96, 4)
		for _, k := range knots {
			d.number(40, k)
		}
		for _, p := range []picture.Point{c.A, c.C1, c.C2, c.B} {
			pair(10, p)
		}
	}
}
