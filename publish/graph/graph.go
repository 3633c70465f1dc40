package graph

import (
	"math"
	"slices"

	"plansheaf/publish/notation"
	"plansheaf/publish/picture"
)

// An Axis names what it measures.
type Axis struct {
	Name *notation.Node
	Unit string // as printed: "N·m"; empty for a plain number
}

// A Point is a point of the curve.
type Point struct {
	X, Y  float64
	Known bool // false: the curve is open there
}

// A Limit is what the quantity must keep to, at each point of the curve.
type Limit struct {
	Name *notation.Node
	Sign string    // how the quantity must lie to it: < ≤ > ≥ =
	Y    []float64 // one a point; NaN where it has none
}

// above reports whether the forbidden side is above.
func (l Limit) above() bool { return l.Sign == "<" || l.Sign == "≤" }

// A Request is what a graph shows. Numbers are in the units of their axes.
type Request struct {
	Name        string // of the picture
	Title       string
	Description string
	X, Y        Axis
	Points      []Point // X rises
	At          Point   // where the machine is
	Low, High   float64 // ends of the spread of At.Y; equal for none
	Label       string  // what is written at the point
	Limits      []Limit
}

// Measures of a graph, in millimetres.
const (
	width    = 116.0
	height   = 76.0
	letters  = 2.4 // height of capitals
	em       = letters * 1.372
	topRoom  = 9.0
	lowRoom  = 11.5
	endRoom  = 4.0
	tickLong = 1.3
	gap      = 1.2
)

// A plotter holds a graph while it is drawn.
type plotter struct {
	Request
	x, y    scale
	picture *picture.Picture
	taken   []picture.Box // labels that stand already
	traces  []picture.Point
	unnamed []func() // write the names of limits
}

// Draw draws a graph; nil where there is no range to draw over.
func Draw(r Request) *picture.Picture {
	p := &plotter{Request: r, picture: &picture.Picture{Name: r.Name, Title: r.Title, Description: r.Description, Width: width, Height: height, Group: 0.4}}
	if !p.ranges() {
		return nil
	}
	p.grid()
	p.limits()
	p.curve()
	p.design()
	for _, name := range p.unnamed {
		name()
	}
	p.names()
	return p.picture
}

// ranges settles the axes.
func (p *plotter) ranges() bool {
	var ys []float64
	for _, point := range p.Points {
		if point.Known && finite(point.X, point.Y) {
			ys = append(ys, point.Y)
		}
	}
	if len(ys) < 2 || !finite(p.At.X, p.At.Y) {
		return false
	}
	low, high := p.Points[0].X, p.Points[len(p.Points)-1].X
	if !finite(low, high) || !(high > low) {
		return false
	}
	p.x = scale{low: low, high: high, step: nice((high - low) / 6)}
	p.y = verticalScale(p.heights(ys))
	label := 0.0
	for _, v := range p.y.ticks() {
		label = math.Max(label, picture.TextWidth(p.y.label(v), letters, picture.Sans))
	}
	p.x.from, p.x.to = label+tickLong+2*gap, width-endRoom
	p.y.from, p.y.to = height-lowRoom, topRoom
	return true
}

// heights is what the vertical axis must hold: the curve without the part of it that
// runs away, the point with its spread, and limits that are not far off.
func (p *plotter) heights(ys []float64) (low, high float64) {
	slices.Sort(ys)
	share := func(q float64) float64 { return ys[int(q*float64(len(ys)-1))] }
	reach := 1.5 * (share(0.85) - share(0.15))
	low, high = math.Max(ys[0], share(0.15)-reach), math.Min(ys[len(ys)-1], share(0.85)+reach)
	low, high = math.Min(low, math.Min(p.At.Y, p.Low)), math.Max(high, math.Max(p.At.Y, p.High))
	span := math.Max(high-low, math.Abs(p.At.Y)*0.1)
	for _, l := range p.Limits {
		for _, y := range l.Y {
			if finite(y) && y > low-1.2*span && y < high+1.2*span {
				low, high = math.Min(low, y), math.Max(high, y)
			}
		}
	}
	if low > 0 && low < 0.45*high {
		low = 0
	}
	if high < 0 && high > 0.45*low {
		high = 0
	}
	return low, high
}

func verticalScale(low, high float64) scale {
	if high-low <= 1e-12*math.Max(math.Abs(low), math.Abs(high)) {
		room := math.Max(math.Abs(low)*0.1, 1e-12)
		low, high = low-room, high+room
	}
	step := nice((high - low) / 5)
	s := scale{step: step, low: math.Floor(low/step+1e-9) * step, high: math.Ceil(high/step-1e-9) * step}
	// A curve that touches the frame would be lost in it.
	if high > s.high-0.04*(s.high-s.low) {
		s.high += step
	}
	if low != 0 && low < s.low+0.04*(s.high-s.low) {
		s.low -= step
	}
	return s
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

func (p *plotter) point(x, y float64) picture.Point {
	return picture.Point{X: p.x.at(x), Y: p.y.at(y)}
}

// frame is the area that the axes span.
func (p *plotter) frame() []picture.Curve {
	return picture.Polygon(picture.Point{X: p.x.from, Y: p.y.to}, picture.Point{X: p.x.to, Y: p.y.to},
		picture.Point{X: p.x.to, Y: p.y.from}, picture.Point{X: p.x.from, Y: p.y.from})
}

// grid draws hair lines at the ticks, their numbers, and the axes.
func (p *plotter) grid() {
	line := func(a, b picture.Point, kind picture.LineType) {
		p.picture.Add(picture.Path{Curves: []picture.Curve{picture.Line{A: a, B: b}}, Line: kind})
	}
	for _, v := range p.y.ticks() {
		y := p.y.at(v)
		line(picture.Point{X: p.x.from, Y: y}, picture.Point{X: p.x.to, Y: y}, picture.Hair)
		line(picture.Point{X: p.x.from - tickLong, Y: y}, picture.Point{X: p.x.from, Y: y}, picture.Thin)
		p.picture.Add(picture.Text{At: picture.Point{X: p.x.from - tickLong - gap, Y: y}, Words: p.y.label(v), Height: letters, Anchor: picture.End, Rise: picture.MidCapital})
	}
	last := math.Inf(-1)
	for _, v := range p.x.ticks() {
		x := p.x.at(v)
		line(picture.Point{X: x, Y: p.y.to}, picture.Point{X: x, Y: p.y.from}, picture.Hair)
		line(picture.Point{X: x, Y: p.y.from}, picture.Point{X: x, Y: p.y.from + tickLong}, picture.Thin)
		words := p.x.label(v)
		half := picture.TextWidth(words, letters, picture.Sans) / 2
		if x-half < last+gap || x+half > width {
			continue // no room beside its neighbour
		}
		last = x + half
		p.picture.Add(picture.Text{At: picture.Point{X: x, Y: p.y.from + tickLong + gap}, Words: words, Height: letters, Anchor: picture.Middle, Rise: picture.TopCapital})
	}
	line(picture.Point{X: p.x.from, Y: p.y.to}, picture.Point{X: p.x.from, Y: p.y.from}, picture.Thin)
	line(picture.Point{X: p.x.from, Y: p.y.from}, picture.Point{X: p.x.to, Y: p.y.from}, picture.Thin)
}

// names writes what the axes measure: at the top of the upright one, below the end of
// the level one.
func (p *plotter) names() {
	write := func(a Axis, right float64, baseline float64, end bool) {
		n := a.Name
		if a.Unit != "" {
			n = notation.Beside(n, "["+a.Unit+"]")
		}
		box := notation.Layout(n, em)
		if room := width - 2; box.Width > room {
			box = notation.Layout(n, em*room/box.Width)
		}
		x := right
		if end {
			x = right - box.Width
		}
		p.picture.Add(box.Moved(picture.Point{X: x, Y: baseline})...)
	}
	write(p.Y, 1, topRoom-3.6, false)
	write(p.X, p.x.to, height-1.8, true)
}

// runs are the pieces of a curve between places without a value.
func (p *plotter) runs(y func(i int) (float64, bool)) [][]picture.Point {
	var out [][]picture.Point
	var now []picture.Point
	end := func() {
		if len(now) > 1 {
			out = append(out, now)
		}
		now = nil
	}
	for i, point := range p.Points {
		v, known := y(i)
		if !known || !finite(v) {
			end()
			continue
		}
		span := p.y.high - p.y.low
		if i > 0 && len(now) > 0 {
			// From far above to far below in one step: a pole, not a line.
			if before, _ := y(i - 1); math.Abs(v-before) > span && (v > p.y.high && before < p.y.low || v < p.y.low && before > p.y.high) {
				end()
			}
		}
		// Far outside a point is brought near, so that paper stays in reach.
		v = math.Max(p.y.low-20*span, math.Min(p.y.high+20*span, v))
		now = append(now, p.point(point.X, v))
	}
	end()
	return out
}

func through(points []picture.Point) []picture.Curve {
	var out []picture.Curve
	for i := 1; i < len(points); i++ {
		out = append(out, picture.Line{A: points[i-1], B: points[i]})
	}
	return out
}

func (p *plotter) curve() {
	var marks []picture.Mark
	for _, run := range p.runs(func(i int) (float64, bool) { return p.Points[i].Y, p.Points[i].Known }) {
		marks = append(marks, picture.Path{Curves: through(run), Line: picture.Visible, Class: "curve"})
		p.traces = append(p.traces, run...)
	}
	p.picture.Add(picture.Clip{Outline: p.frame(), Marks: marks})
}
