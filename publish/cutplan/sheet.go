package cutplan

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/publish/picture"
)

const sliver = 2.0 // mm on paper: what is left over and narrower is waste

// sheet draws a sheet as a bar is drawn, with the numbers of its cuts.
func (d *drawer) sheet(g group, y float64) float64 {
	high := d.plan.Size(g.stick)[1] * d.scale
	d.count(g.count, y+high/2)
	d.area(margin, y, d.plan.Size(g.stick)[0]*d.scale, high, picture.Shade3, picture.Thin)
	box := func(x, up, length, width float64, line picture.LineType) picture.Box {
		return d.piece(margin+x*d.scale, y+high-(up+width)*d.scale, length*d.scale, width*d.scale, line)
	}
	var taken []picture.Box
	for _, r := range g.stick.Rests {
		if min(r.Length, r.Width)*d.scale < sliver {
			continue // shaded, as what the saw takes
		}
		in := box(r.X, r.Y, r.Length, r.Width, picture.Hidden)
		taken = append(taken, d.label([]line{d.sides(r.Length, r.Width), {words: d.words.Over}}, in))
	}
	for _, cut := range g.stick.Cuts {
		in := box(cut.X, cut.Y, cut.Length, cut.Width, picture.Visible)
		lines := named(cut)
		lines = slices.Insert(lines, 1, d.sides(cut.Length, cut.Width)) // it says more than the title
		taken = append(taken, d.label(lines, in))
	}
	for _, setting := range d.plan.Settings {
		for _, saw := range setting.Saws {
			if saw.Stick == g.first {
				taken = d.numbered(saw, y+high, taken)
			}
		}
	}
	return y + high + rowGap
}

// sides is a rectangle's size, with the unit once where it is one.
func (d *drawer) sides(length, width float64) line {
	first, second := d.size(length), d.size(width)
	if a, b := strings.LastIndex(first, " "), strings.LastIndex(second, " "); a > 0 && b > 0 && first[a:] == second[b:] {
		first = first[:a]
	}
	return line{words: first + " × " + second, whole: true}
}

// numbered writes a cut's number in a circle on its line, where no words stand yet,
// nearest to where the cut begins; none where there is no room.
func (d *drawer) numbered(saw bill.Saw, bottom float64, taken []picture.Box) []picture.Box {
	const capital = 1.5
	on := func(p [2]float64) picture.Point {
		return picture.Point{X: margin + p[0]*d.scale, Y: bottom - p[1]*d.scale}
	}
	words := fmt.Sprint(saw.Number)
	r := max(1.5, picture.TextWidth(words, capital, picture.Sans)/2+0.5)
	from, to := on(saw.From), on(saw.To)
	length := from.Distance(to)
	for at := r + 0.4; at <= length-r; at += 0.5 {
		p := from.Plus(to.Minus(from).Times(at / length))
		box := picture.Box{Min: picture.Point{X: p.X - r, Y: p.Y - r}, Max: picture.Point{X: p.X + r, Y: p.Y + r}}
		if slices.ContainsFunc(taken, func(b picture.Box) bool { return !b.Empty() && b.Overlaps(box) }) {
			continue
		}
		d.pic.Add(
			picture.Path{Curves: picture.Circle(p, r), Fill: picture.Paper, Line: picture.Thin},
			picture.Text{At: p, Words: words, Height: capital, Anchor: picture.Middle, Rise: picture.MidCapital},
		)
		return append(taken, box)
	}
	return taken
}
