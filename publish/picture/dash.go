package picture

import "math"

// fitDashes stretches a dash pattern so that a stroke of a length begins and
// ends with a whole first dash. For chain patterns, the middle too falls on a
// long dash, so that centre lines cross in dashes. A closed stroke gets a whole
// number of periods and begins in the middle of a dash. Lengths are millimetres;
// nil means too short to dash: drawn continuous.
func fitDashes(pattern []float64, width, length float64, closed bool) (dashes []float64, phase float64) {
	if len(pattern) == 0 || width <= 0 || length <= 0 {
		return nil, 0
	}
	period := 0.0
	for _, d := range pattern {
		period += d * width
	}
	first := pattern[0] * width
	chain := len(pattern) > 2
	var periods float64
	if closed {
		periods = math.Max(math.Round(length/period), 2)
		first = 0
	} else {
		periods = math.Round((length - first) / period)
		if chain {
			periods = 2 * math.Round((length-first)/period/2)
		}
		periods = max(periods, 1)
		if chain {
			periods = max(periods, 2)
		}
	}
	stretch := length / (periods*period + first)
	for stretch < shortestStretch && periods > 1 { // a short chain line: one dot rather than crowded dashes
		periods--
		stretch = length / (periods*period + first)
	}
	if stretch < shortestStretch {
		return nil, 0
	}
	dashes = make([]float64, len(pattern))
	for i, d := range pattern {
		dashes[i] = d * width * stretch
	}
	if closed {
		phase = dashes[0] / 2
	}
	return dashes, phase
}

// shortestStretch is how far a dash pattern may be squeezed before a line is
// drawn continuous instead: below it the gaps close up in print.
const shortestStretch = 0.4

// Runs splits curves into runs that follow each other end to start.
func Runs(curves []Curve) [][]Curve {
	var list [][]Curve
	from := 0
	for i := 1; i <= len(curves); i++ {
		if i < len(curves) && joins(curves[i-1], curves[i]) {
			continue
		}
		if i > from {
			list = append(list, curves[from:i])
		}
		from = i
	}
	return list
}

// sameSpot is how far two ends may lie apart and still be one point: a
// thousandth of a millimetre, the resolution of the SVG writer.
const sameSpot = 1e-3

func joins(a, b Curve) bool {
	_, end := a.Ends()
	start, _ := b.Ends()
	return end.Distance(start) < sameSpot
}

// closes reports whether a run ends where it began.
func closes(run []Curve) bool {
	start, _ := run[0].Ends()
	_, end := run[len(run)-1].Ends()
	return start.Distance(end) < sameSpot
}

// A stroke is a stretch that is dashed as one.
type stroke struct {
	curves []Curve
	dashes []float64
	phase  float64
}

// strokes splits a dashed path's curves into stretches without a corner, each of
// which begins and ends with a dash, so that corners are always drawn.
func strokes(curves []Curve, pattern []float64, width float64) []stroke {
	var list []stroke
	for _, run := range Runs(curves) {
		from := 0
		for i := 1; i <= len(run); i++ {
			if i < len(run) && smooth(run[i-1], run[i]) {
				continue
			}
			part := run[from:i]
			length := 0.0
			for _, c := range part {
				length += c.Length()
			}
			closed := closes(part) && smooth(part[len(part)-1], part[0])
			dashes, phase := fitDashes(pattern, width, length, closed)
			list = append(list, stroke{part, dashes, phase})
			from = i
		}
	}
	return list
}

// smooth reports whether b leaves in the direction in which a arrives.
func smooth(a, b Curve) bool {
	_, out := directions(a)
	in, _ := directions(b)
	return out.X*in.X+out.Y*in.Y > 0.9999
}

// directions are the unit directions in which a curve leaves and arrives.
func directions(c Curve) (leave, arrive Point) {
	unit := func(p Point) Point {
		if d := math.Hypot(p.X, p.Y); d > 0 {
			return p.Times(1 / d)
		}
		return p
	}
	switch c := c.(type) {
	case Line:
		d := unit(c.B.Minus(c.A))
		return d, d
	case Arc:
		tangent := func(t float64) Point {
			d := turned(Point{-c.RX * math.Sin(t), c.RY * math.Cos(t)}, c.Tilt)
			if c.Sweep < 0 {
				d = d.Times(-1)
			}
			return unit(d)
		}
		return tangent(c.Start), tangent(c.Start + c.Sweep)
	case Bezier:
		return unit(c.C1.Minus(c.A)), unit(c.B.Minus(c.C2))
	}
	return Point{}, Point{}
}
