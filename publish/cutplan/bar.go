package cutplan

import (
	"math"

	"plansheaf/design/bill"
	"plansheaf/publish/picture"
)

// bar draws a bar: pieces white, what the saw takes and the trims shaded, what is
// left over dashed.
func (d *drawer) bar(g group, y float64) float64 {
	d.count(g.count, y+strip/2)
	d.area(margin, y, d.plan.Size(g.stick)[0]*d.scale, strip, picture.Shade3, picture.Thin)
	end := 0.0
	for _, cut := range g.stick.Cuts {
		x, w := margin+cut.X*d.scale, cut.Length*d.scale
		d.label(named(cut), d.length(cut, x, y, w))
		d.under(d.size(cut.Length), x, w, y)
		end = cut.X + cut.Length
	}
	if left := d.plan.Size(g.stick)[0] - d.plan.Trim - end - d.plan.Kerf; left > 1 {
		x := margin + (end+d.plan.Kerf)*d.scale
		d.label([]line{{words: d.words.Over}}, d.piece(x, y, left*d.scale, strip, picture.Hidden))
		d.under(d.size(left), x, left*d.scale, y)
	}
	return y + strip + rowGap
}

// length draws a piece of a bar, its ends slanted as they are mitred, and returns where
// its words go. Along the bar a slant is to scale; across it the bar is as high as any.
func (d *drawer) length(cut bill.Cut, x, y, w float64) picture.Box {
	if cut.Slant == [2]float64{} {
		return d.piece(x, y, w, strip, picture.Visible)
	}
	inset := d.inset(w)
	var corners [4]picture.Point // lower left, upper left, upper right, lower right
	for end, in := range [2]float64{inset, -inset} {
		lower, upper := cut.Edge(end)
		corners[3*end] = picture.Point{X: margin + lower*d.scale + in, Y: y + strip}
		corners[1+end] = picture.Point{X: margin + upper*d.scale + in, Y: y}
	}
	d.pic.Add(picture.Path{Curves: picture.Polygon(corners[:]...), Fill: picture.Paper, Line: picture.Visible})
	// Two lines of words take the middle third of the height.
	within := func(a, b picture.Point, side float64) float64 { return (a.X+b.X)/2 + side*math.Abs(a.X-b.X)/6 }
	return picture.Box{
		Min: picture.Point{X: within(corners[0], corners[1], 1), Y: y},
		Max: picture.Point{X: within(corners[2], corners[3], -1), Y: y + strip},
	}
}

// under writes a size below a bar where it fits.
func (d *drawer) under(words string, x, w, y float64) {
	if picture.TextWidth(words, small, picture.Sans) <= w {
		d.pic.Add(picture.Text{At: picture.Point{X: x + w/2, Y: y + strip + 1.2}, Words: words, Height: small, Anchor: picture.Middle, Rise: picture.TopCapital, Ink: picture.Faint})
	}
}
