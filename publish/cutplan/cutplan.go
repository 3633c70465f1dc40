package cutplan

import (
	"fmt"
	"math"
	"unicode/utf8"

	"plansheaf/design/bill"
	"plansheaf/design/quantity"
	"plansheaf/publish/picture"
)

const (
	width       = 170.0 // mm of paper: the column of a binder's page
	margin      = 12.0  // mm at the left, for counts
	edge        = 1.0   // mm at the right, so that lines stay within the picture
	strip       = 9.0   // mm, a bar's height on paper
	rowGap      = 7.0   // mm between bars
	letters     = 1.8   // mm, capital height of labels
	sheetHigh   = 80.0  // mm, the largest height of a sheet on paper
	small       = 1.8   // mm, capital height of sizes under the bar
	pictureHigh = 150.0 // mm: what one leaf shows without making it smaller
	maxDrawn    = 240   // bars or sheets cut differently that are shown
)

// A Drawing is a cut plan as pictures, each low enough for a leaf.
type Drawing struct {
	Pictures []*picture.Picture
	More     int // bars or sheets that are not shown: too many are cut differently
}

// Draw draws a cut plan; there are no pictures when there is nothing to draw: stock
// bought cut to length, or not said how it is sold. system is that of the sizes
// printed.
func Draw(c *bill.CutPlan, system quantity.System) Drawing {
	var out Drawing
	if len(c.Pieced) == 0 {
		return out
	}
	largest := [2]float64{}
	for _, s := range c.Pieced {
		size := c.Size(s)
		largest[0], largest[1] = math.Max(largest[0], size[0]), math.Max(largest[1], size[1])
	}
	scale := (width - margin - edge) / largest[0]
	if !c.Bars() {
		scale = math.Min(scale, sheetHigh/largest[1])
	}
	groups := grouped(c.Pieced)
	for _, g := range groups[min(maxDrawn, len(groups)):] {
		out.More += g.count
	}
	var d *drawer
	y, from := 0.0, 0
	for i, g := range groups[:min(maxDrawn, len(groups))] {
		high := strip + rowGap
		if !c.Bars() {
			high = c.Size(g.stick)[1]*scale + rowGap
		}
		if d == nil || y+high > pictureHigh {
			d = &drawer{pic: titled(c, len(out.Pictures)), plan: c, system: system, scale: scale}
			out.Pictures = append(out.Pictures, d.pic)
			y, from = 1, i
		}
		if c.Bars() {
			y = d.bar(g, y)
		} else {
			y = d.sheet(g, y)
		}
		d.pic.Height = math.Max(y, strip)
		d.pic.Description = describe(c, groups[from:i+1])
	}
	return out
}

// titled is a cut plan's picture after as many others, still empty.
func titled(c *bill.CutPlan, others int) *picture.Picture {
	pic := &picture.Picture{Name: "cutting/" + c.Stock.ID.Text, Title: "How " + c.Stock.Title.Value + " is cut", Width: width}
	if others > 0 {
		pic.Name += fmt.Sprintf(".%d", others+1)
		pic.Title += fmt.Sprintf(", picture %d", others+1)
	}
	return pic
}

// describe says in words what a picture shows.
func describe(c *bill.CutPlan, shown []group) string {
	kind := "sheets"
	if c.Bars() {
		kind = "bars"
	}
	count, pieces := 0, 0
	for _, g := range shown {
		count += g.count
		pieces += g.count * len(g.stick.Cuts)
	}
	return fmt.Sprintf("%d %s of %s hold %d pieces; the list of pieces beside the picture gives their sizes.", count, kind, c.Stock.Title.Value, pieces)
}

// A group is a bar or sheet and how many are cut alike.
type group struct {
	stick bill.Stick
	count int
}

// grouped joins neighbours that are cut alike.
func grouped(sticks []bill.Stick) []group {
	var groups []group
	for _, s := range sticks {
		if n := len(groups); n > 0 && alike(groups[n-1].stick, s) {
			groups[n-1].count++
			continue
		}
		groups = append(groups, group{s, 1})
	}
	return groups
}

func alike(a, b bill.Stick) bool {
	if a.Way != b.Way || len(a.Cuts) != len(b.Cuts) {
		return false
	}
	for i := range a.Cuts {
		if a.Cuts[i] != b.Cuts[i] {
			return false
		}
	}
	return true
}

type drawer struct {
	pic    *picture.Picture
	plan   *bill.CutPlan
	system quantity.System
	scale  float64
}

func (d *drawer) area(x, y, w, h float64, fill picture.Colour, line picture.LineType) {
	d.pic.Add(picture.Path{Curves: picture.Rectangle(picture.Point{X: x, Y: y}, w, h), Fill: fill, Line: line})
}

// count says how many are cut alike, smaller where the figures need it.
func (d *drawer) count(n int, y float64) {
	const most, room = 2.5, margin - 3 // mm: capital height, width
	words := fmt.Sprintf("%d ×", n)
	height := math.Min(most, most*room/picture.TextWidth(words, most, picture.Sans))
	d.pic.Add(picture.Text{At: picture.Point{X: margin - 2, Y: y}, Words: words, Height: height, Anchor: picture.End, Rise: picture.MidCapital})
}

// label writes a piece's name where it fits, shortened where it does not.
func (d *drawer) label(words string, x, y, room float64) {
	words = fitting(words, room-1)
	if words != "" {
		d.pic.Add(picture.Text{At: picture.Point{X: x, Y: y}, Words: words, Height: letters, Anchor: picture.Middle, Rise: picture.MidCapital})
	}
}

// fitting is words cut to a width, with a mark where something is left out; empty
// when not even three letters fit.
func fitting(words string, room float64) string {
	short := picture.Shortened(words, room, letters, picture.Sans)
	if short != words && utf8.RuneCountInString(short) < 4 {
		return ""
	}
	return short
}

// size is a length without its unit, which the caption under the picture's first
// strip gives.
func (d *drawer) size(mm float64) string { return quantity.Text(quantity.MM(mm), d.system) }

func (d *drawer) bar(g group, y float64) float64 {
	d.count(g.count, y+strip/2)
	d.area(margin, y, d.plan.Size(g.stick)[0]*d.scale, strip, picture.Shade3, picture.Thin)
	end := 0.0
	for _, cut := range g.stick.Cuts {
		x, w := margin+cut.X*d.scale, cut.Length*d.scale
		d.area(x, y, w, strip, picture.Paper, picture.Visible)
		d.label(bill.Title(cut.Part), x+w/2, y+strip/2, w)
		d.under(d.size(cut.Length), x, w, y)
		end = cut.X + cut.Length
	}
	if left := d.plan.Size(g.stick)[0] - d.plan.Trim - end - d.plan.Kerf; left > 1 {
		x := margin + (end+d.plan.Kerf)*d.scale
		d.label("left over", x+left*d.scale/2, y+strip/2, left*d.scale)
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

func (d *drawer) sheet(g group, y float64) float64 {
	high := d.plan.Size(g.stick)[1] * d.scale
	d.count(g.count, y+high/2)
	d.area(margin, y, d.plan.Size(g.stick)[0]*d.scale, high, picture.Shade3, picture.Thin)
	for _, cut := range g.stick.Cuts {
		x, w, h := margin+cut.X*d.scale, cut.Length*d.scale, cut.Width*d.scale
		top := y + high - (cut.Y+cut.Width)*d.scale
		d.area(x, top, w, h, picture.Paper, picture.Visible)
		if h > 2*letters+3 {
			d.label(bill.Title(cut.Part), x+w/2, top+h/2-letters, w)
			d.label(shared(d.size(cut.Length), d.size(cut.Width)), x+w/2, top+h/2+letters, w)
		} else if h > letters+1 {
			d.label(bill.Title(cut.Part), x+w/2, top+h/2, w)
		}
	}
	return y + high + rowGap
}

// shared is two sizes with a times sign.
func shared(a, b string) string { return a + " × " + b }
