package graph

import (
	"math"

	"plansheaf/publish/notation"
	"plansheaf/publish/picture"
)

// strokes on the forbidden side of a limit, in millimetres.
const (
	strokeEvery = 3.2
	strokeLong  = 1.8
)

// limits draws each limit as a chain line with strokes on the side that is forbidden;
// those that lie within the graph are to be named once all else stands.
func (p *plotter) limits() {
	for _, l := range p.Limits {
		var marks []picture.Mark
		shown := false
		runs := p.runs(func(i int) (float64, bool) {
			if i >= len(l.Y) {
				return 0, false
			}
			return l.Y[i], finite(l.Y[i])
		})
		for _, run := range runs {
			marks = append(marks, picture.Path{Curves: through(run), Line: picture.Phantom, Ink: picture.Accent, Class: "limit"})
			if l.Sign != "=" {
				marks = append(marks, p.strokes(run, l.above())...)
			}
			for _, at := range run {
				shown = shown || at.Y <= p.y.from && at.Y >= p.y.to
			}
			p.traces = append(p.traces, run...)
		}
		if !shown {
			continue
		}
		p.picture.Add(picture.Clip{Outline: p.frame(), Marks: marks})
		p.unnamed = append(p.unnamed, func() { p.limitName(l, runs) })
	}
}

// strokes are short slanted lines along a run.
func (p *plotter) strokes(run []picture.Point, above bool) []picture.Mark {
	side := 1.0
	if above {
		side = -1
	}
	var marks []picture.Mark
	left := strokeEvery / 2
	for i := 1; i < len(run); i++ {
		a, b := run[i-1], run[i]
		long := a.Distance(b)
		for ; left <= long && len(marks) < 200; left += strokeEvery {
			at := a.Plus(b.Minus(a).Times(left / long))
			end := picture.Point{X: at.X - strokeLong*0.7, Y: at.Y + side*strokeLong}
			marks = append(marks, picture.Path{Curves: []picture.Curve{picture.Line{A: at, B: end}}, Line: picture.Thin, Ink: picture.Accent})
		}
		left -= long
	}
	return marks
}

// limitName writes a limit's name at the end where it stands freest, on the side that
// is allowed.
func (p *plotter) limitName(l Limit, runs [][]picture.Point) {
	box := notation.Layout(l.Name, em*0.92)
	var places []picture.Point
	for _, run := range runs {
		for _, share := range []float64{0.02, 0.98, 0.25, 0.75, 0.5} {
			at := run[int(share*float64(len(run)-1))]
			x := at.X - share*box.Width
			for _, lift := range []float64{1.1, 2.6} {
				if l.above() {
					places = append(places, picture.Point{X: x, Y: at.Y + box.Up + lift})
				} else {
					places = append(places, picture.Point{X: x, Y: at.Y - box.Down - lift})
				}
			}
		}
	}
	p.label(box, places)
}

// leadSteps is at how many places a label asks whether it would cover a lead.
const leadSteps = 40

// design marks where the machine is: with lines to both axes, the spread of the
// result, and its value.
func (p *plotter) design() {
	at := p.point(p.At.X, p.At.Y)
	lead := func(to picture.Point) {
		p.picture.Add(picture.Path{Curves: []picture.Curve{picture.Line{A: at, B: to}}, Line: picture.Hidden, Class: "lead"})
		for share := range leadSteps {
			p.traces = append(p.traces, at.Plus(to.Minus(at).Times(float64(share)/leadSteps)))
		}
	}
	lead(picture.Point{X: at.X, Y: p.y.from})
	lead(picture.Point{X: p.x.from, Y: at.Y})
	if p.High > p.Low && finite(p.Low, p.High) {
		low, high := p.point(p.At.X, p.Low), p.point(p.At.X, p.High)
		bar := func(a, b picture.Point) {
			p.picture.Add(picture.Path{Curves: []picture.Curve{picture.Line{A: a, B: b}}, Line: picture.Visible})
		}
		bar(low, high)
		for _, end := range []picture.Point{low, high} {
			bar(picture.Point{X: end.X - 1.2, Y: end.Y}, picture.Point{X: end.X + 1.2, Y: end.Y})
		}
	}
	const radius = 1.25
	p.picture.Add(picture.Path{Curves: []picture.Curve{picture.Arc{Centre: at, RX: radius, RY: radius, Sweep: 2 * math.Pi}}, Line: picture.Visible, Fill: picture.Paper})
	p.picture.Add(picture.Path{Curves: []picture.Curve{picture.Arc{Centre: at, RX: radius / 2.2, RY: radius / 2.2, Sweep: 2 * math.Pi}}, Fill: picture.Ink})
	p.taken = append(p.taken, picture.BoxAround(at).Grow(radius+0.5))
	text := picture.Text{Words: p.Label, Height: letters, Face: picture.SansBold}
	box := notation.Box{Width: text.Width(), Up: letters, Down: text.Descent(), Marks: []picture.Mark{text}}
	var places []picture.Point
	for _, out := range []float64{2.4, 4.5, 7} {
		for _, side := range []float64{1, -1} {
			x := at.X + out
			if side < 0 {
				x = at.X - out - box.Width
			}
			places = append(places, picture.Point{X: x, Y: at.Y - out*0.8}, picture.Point{X: x, Y: at.Y + out*0.8 + letters})
		}
		places = append(places, picture.Point{X: at.X - box.Width/2, Y: at.Y - out - 1}, picture.Point{X: at.X - box.Width/2, Y: at.Y + out + letters + 1})
	}
	p.label(box, places)
}

// label puts words at the first of the places where they cover least, on a ground of
// their own.
func (p *plotter) label(box notation.Box, places []picture.Point) {
	best, least := picture.Point{}, math.Inf(1)
	for i, at := range places {
		at.X = math.Max(p.x.from+0.8, math.Min(at.X, p.x.to-box.Width-0.8))
		at.Y = math.Max(p.y.to+box.Up+0.5, math.Min(at.Y, p.y.from-box.Down-0.6))
		if bad := p.covered(area(box, at)) + 0.01*float64(i); bad < least {
			best, least = at, bad
		}
	}
	if math.IsInf(least, 1) {
		return
	}
	ground := area(box, best)
	p.taken = append(p.taken, ground)
	p.picture.Add(picture.Path{Curves: picture.Polygon(ground.Min, picture.Point{X: ground.Max.X, Y: ground.Min.Y}, ground.Max, picture.Point{X: ground.Min.X, Y: ground.Max.Y}), Fill: picture.Paper, Class: "ground"})
	p.picture.Add(box.Moved(best)...)
}

func area(box notation.Box, at picture.Point) picture.Box {
	const room = 0.5
	return picture.BoxAround(picture.Point{X: at.X, Y: at.Y - box.Up}, picture.Point{X: at.X + box.Width, Y: at.Y + box.Down}).Grow(room)
}

// covered is how much a label's ground would cover.
func (p *plotter) covered(ground picture.Box) float64 {
	bad := 0.0
	for _, other := range p.taken {
		if ground.Overlaps(other) {
			bad += 1000
		}
	}
	for i := 1; i < len(p.traces); i++ {
		a, b := p.traces[i-1], p.traces[i]
		for _, t := range []float64{0, 0.5} {
			if at := a.Plus(b.Minus(a).Times(t)); ground.Contains(picture.Box{Min: at, Max: at}) {
				bad++
			}
		}
	}
	return bad
}
