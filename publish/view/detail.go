package view

import (
	"errors"
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// errDetail is what [Detail] gives for a circle that is none.
var errDetail = errors.New("view: a detail needs a circle of finite place and size")

// Detail returns what of a view, and of the regions cut in it, lies within a
// circle, to be drawn larger elsewhere (detail or enlarged view, ISO 128-3). Lines
// and arcs are cut exactly where they cross the circle, whose arcs close what is
// left of the regions. Coordinates stay those of the view.
func Detail(d *Drawing, regions []Region, centre picture.Point, radius float64) (*Drawing, []Region, error) {
	if !(radius > hair) || !(radius < furthest) || !(math.Hypot(centre.X, centre.Y) < furthest) {
		return nil, nil, errDetail
	}
	r := ring{centre, radius}
	out := &Drawing{Direction: d.Direction}
	for _, l := range d.Lines {
		for _, part := range r.chains(l.Curves) {
			piece := l
			piece.Curves = part
			out.Lines = append(out.Lines, piece)
		}
	}
	var cut []Region
	for _, g := range regions {
		if g.Outline = r.region(g.Outline); len(g.Outline) > 0 {
			cut = append(cut, g)
		}
	}
	return out, cut, nil
}

// ring is the circle of a detail.
type ring struct {
	centre picture.Point
	radius float64
}

// chains returns the parts of curves within the circle, joined where one follows
// the other.
func (r ring) chains(curves []picture.Curve) [][]picture.Curve {
	var out [][]picture.Curve
	for _, c := range curves {
		for _, p := range r.inside(c) {
			if n := len(out); n > 0 && follows(out[n-1][len(out[n-1])-1], p) {
				out[n-1] = append(out[n-1], p)
			} else {
				out = append(out, []picture.Curve{p})
			}
		}
	}
	return out
}

// follows tells that a curve begins where another ends.
func follows(a, b picture.Curve) bool {
	_, end := a.Ends()
	start, _ := b.Ends()
	return end.Distance(start) < onOne
}

// inside returns the parts of a curve that lie within the circle, in its order.
func (r ring) inside(c picture.Curve) []picture.Curve {
	cuts := append(r.crossings(c), 0, 1)
	slices.Sort(cuts)
	var kept []Range
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1], cuts[i]
		if to-from < 1e-12 || part(c, (from+to)/2, 1).startsBeyond(r) {
			continue
		}
		if n := len(kept); n > 0 && kept[n-1].To == from { // it only touches
			kept[n-1].To = to
		} else {
			kept = append(kept, Range{from, to})
		}
	}
	var out []picture.Curve
	for _, k := range kept {
		if p := part(c, k.From, k.To); p.Length() > hair {
			out = append(out, p.Curve)
		}
	}
	return out
}

// piece is part of a curve.
type piece struct{ picture.Curve }

// startsBeyond tells that the piece begins outside of the circle.
func (p piece) startsBeyond(r ring) bool {
	from, _ := p.Ends()
	return from.Distance(r.centre) > r.radius
}

// part returns a line or arc between two shares of its parameter.
func part(c picture.Curve, from, to float64) piece {
	if from == 0 && to == 1 {
		return piece{c}
	}
	switch c := c.(type) {
	case picture.Line:
		d := c.B.Minus(c.A)
		return piece{picture.Line{A: c.A.Plus(d.Times(from)), B: c.A.Plus(d.Times(to))}}
	case picture.Arc:
		c.Start, c.Sweep = c.Start+c.Sweep*from, c.Sweep*(to-from)
		return piece{c}
	}
	return piece{c}
}

// crossings returns the shares of a curve's parameter at which it crosses the
// circle.
func (r ring) crossings(c picture.Curve) []float64 {
	var out []float64
	switch c := c.(type) {
	case picture.Line:
		o, d := c.A.Minus(r.centre), c.B.Minus(c.A)
		a, b, e := d.X*d.X+d.Y*d.Y, o.X*d.X+o.Y*d.Y, o.X*o.X+o.Y*o.Y-r.radius*r.radius
		if a == 0 {
			return nil
		}
		if lo, hi, ok := quadratic(a, b, e); ok {
			out = append(out, lo, hi)
		}
	case picture.Arc:
		sin, cos := math.Sincos(c.Tilt)
		unit := func(x, y float64) [2]float64 { return [2]float64{x / r.radius, y / r.radius} }
		centre := c.Centre.Minus(r.centre)
		unitAngles(unit(centre.X, centre.Y), unit(c.RX*cos, c.RX*sin), unit(-c.RY*sin, c.RY*cos), func(t float64) {
			// All turns of t that lie within the arc.
			from, to := math.Min(c.Start, c.Start+c.Sweep), math.Max(c.Start, c.Start+c.Sweep)
			for s := t + 2*math.Pi*math.Ceil((from-t)/(2*math.Pi)); s <= to; s += 2 * math.Pi {
				out = append(out, (s-c.Start)/c.Sweep)
			}
		})
	}
	return slices.DeleteFunc(out, func(t float64) bool { return !(t > 0 && t < 1) })
}

// region clips closed runs that have what they bound on one side, as regions do.
func (r ring) region(outline []picture.Curve) []picture.Curve {
	var out []picture.Curve
	var open [][]picture.Curve
	around := false // the middle of the circle lies in the region
	for _, run := range picture.Runs(outline) {
		around = around != encloses(run, r.centre)
		chains := r.chains(run)
		if n := len(chains); n > 1 && follows(chains[n-1][len(chains[n-1])-1], chains[0][0]) {
			chains[0] = append(chains[n-1], chains[0]...)
			chains = chains[:n-1]
		}
		for _, c := range chains {
			if follows(c[len(c)-1], c[0]) {
				out = append(out, c...)
			} else {
				open = append(open, c)
			}
		}
	}
	if len(open) == 0 {
		if len(out) == 0 && around {
			return picture.Circle(r.centre, r.radius)
		}
		return out
	}
	angle := func(p picture.Point) float64 { return math.Atan2(p.Y-r.centre.Y, p.X-r.centre.X) }
	return append(out, stitch(open, func(end picture.Point, starts []picture.Point) (int, []picture.Curve) {
		// The region lies to the left of its outline as one looks at the view, so
		// the circle is followed anticlockwise: backwards on the paper.
		best, next := math.Inf(1), 0
		for i, s := range starts {
			if d := math.Mod(angle(end)-angle(s)+4*math.Pi, 2*math.Pi); d < best {
				best, next = d, i
			}
		}
		if best*r.radius < hair {
			return next, nil
		}
		return next, []picture.Curve{picture.Arc{Centre: r.centre, RX: r.radius, RY: r.radius, Start: angle(end), Sweep: -best}}
	})...)
}

// encloses tells whether a closed run goes round a point off it.
func encloses(run []picture.Curve, p picture.Point) bool {
	turn, last := 0.0, math.NaN()
	for _, c := range run {
		const steps = 64
		for i := range steps + 1 {
			q, _ := part(c, float64(i)/steps, 1).Ends()
			a := math.Atan2(q.Y-p.Y, q.X-p.X)
			if !math.IsNaN(last) {
				turn += math.Remainder(a-last, 2*math.Pi)
			}
			last = a
		}
	}
	return math.Abs(turn) > math.Pi
}

// stitch makes closed runs of open ones: next says which of the starts that are
// left follows an end, and what leads there.
func stitch(open [][]picture.Curve, next func(end picture.Point, starts []picture.Point) (int, []picture.Curve)) []picture.Curve {
	var out []picture.Curve
	for len(open) > 0 {
		run := open[0]
		home, _ := run[0].Ends()
		rest := open[1:]
		for {
			_, end := run[len(run)-1].Ends()
			starts := []picture.Point{home}
			for _, c := range rest {
				s, _ := c[0].Ends()
				starts = append(starts, s)
			}
			i, way := next(end, starts)
			run = append(slices.Clip(run), way...)
			if i == 0 {
				break
			}
			run = append(run, rest[i-1]...)
			rest = slices.Delete(slices.Clone(rest), i-1, i)
		}
		out, open = append(out, run...), rest
	}
	return out
}
