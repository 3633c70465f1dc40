package cutplan

import "plansheaf/publish/picture"

// bar draws a bar: pieces white, what the saw takes and the trims shaded, what is
// left over dashed.
func (d *drawer) bar(g group, y float64) float64 {
	d.count(g.count, y+strip/2)
	d.area(margin, y, d.plan.Size(g.stick)[0]*d.scale, strip, picture.Shade3, picture.Thin)
	end := 0.0
	for _, cut := range g.stick.Cuts {
		x, w := margin+cut.X*d.scale, cut.Length*d.scale
		d.label(named(cut), d.piece(x, y, w, strip, picture.Visible))
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

// under writes a size below a bar where it fits.
func (d *drawer) under(words string, x, w, y float64) {
	if picture.TextWidth(words, small, picture.Sans) <= w {
		d.pic.Add(picture.Text{At: picture.Point{X: x + w/2, Y: y + strip + 1.2}, Words: words, Height: small, Anchor: picture.Middle, Rise: picture.TopCapital, Ink: picture.Faint})
	}
}
