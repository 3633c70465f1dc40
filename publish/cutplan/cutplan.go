package cutplan

import (
	"fmt"
	"math"

	"plansheaf/design/bill"
	"plansheaf/design/quantity"
	"plansheaf/publish/picture"
)

const (
	width       = 170.0 // mm of paper: the column of a binder's page
	margin      = 12.0  // mm at the left, for counts
	edge        = 1.0   // mm at the right, so that lines stay within the picture
	strip       = 9.0   // mm, a bar's height on paper
	heading     = 4.0   // mm over a bar or sheet, for its number and size
	rowGap      = 5.5   // mm between bars, for the sizes of pieces
	letters     = 1.8   // mm, capital height of labels
	sheetHigh   = 80.0  // mm, the largest height of a sheet on paper
	small       = 1.8   // mm, capital height of sizes under the bar
	gap         = 0.9   // mm, the least width of a kerf on paper, so that it is seen
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
func Draw(c *bill.CutPlan, system quantity.System, words Words) Drawing {
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
		high := heading + strip + rowGap
		if !c.Bars() {
			high = heading + c.Size(g.stick)[1]*scale + rowGap
		}
		if d == nil || y+high > pictureHigh {
			d = &drawer{pic: titled(c, words, len(out.Pictures)), plan: c, system: system, words: words, scale: scale}
			out.Pictures = append(out.Pictures, d.pic)
			y, from = 1, i
		}
		d.head(g, y)
		if c.Bars() {
			y = d.bar(g, y+heading)
		} else {
			y = d.sheet(g, y+heading)
		}
		d.pic.Height = math.Max(y, strip)
		d.pic.Description = describe(c, words, groups[from:i+1])
	}
	return out
}

// titled is a cut plan's picture after as many others, still empty.
func titled(c *bill.CutPlan, words Words, others int) *picture.Picture {
	pic := &picture.Picture{Name: "cutting/" + c.Stock.ID.Text, Title: fmt.Sprintf(words.Title, c.Stock.Title.Value), Width: width}
	if others > 0 {
		pic.Name += fmt.Sprintf(".%d", others+1)
		pic.Title = fmt.Sprintf(words.Another, pic.Title, others+1)
	}
	return pic
}

// describe says in words what a picture shows.
func describe(c *bill.CutPlan, words Words, shown []group) string {
	pattern := words.Sheets
	if c.Bars() {
		pattern = words.Bars
	}
	count, pieces := 0, 0
	for _, g := range shown {
		count += g.count
		pieces += g.count * len(g.stick.Cuts)
	}
	return fmt.Sprintf(pattern, count, c.Stock.Title.Value, pieces)
}

// A group is bars or sheets that are cut alike.
type group struct {
	stick bill.Stick
	first int // number of the first in the plan, from 0
	count int
}

// grouped joins neighbours that are cut alike.
func grouped(sticks []bill.Stick) []group {
	var groups []group
	for i, s := range sticks {
		if n := len(groups); n > 0 && bill.Alike(groups[n-1].stick, s) {
			groups[n-1].count++
			continue
		}
		groups = append(groups, group{s, i, 1})
	}
	return groups
}

// A drawer draws one picture of a plan.
type drawer struct {
	pic    *picture.Picture
	plan   *bill.CutPlan
	system quantity.System
	words  Words
	scale  float64
}

// head says over a bar or sheet which it is, its size, and whether it is on hand.
func (d *drawer) head(g group, y float64) {
	which := fmt.Sprint(g.first + 1)
	if g.count > 1 {
		which = fmt.Sprintf("%d–%d", g.first+1, g.first+g.count)
	}
	size := d.plan.Size(g.stick)
	words := which + ": " + d.size(size[0])
	if !d.plan.Bars() {
		words = which + ": " + d.sides(size[0], size[1]).words
	}
	if d.plan.Ways[g.stick.Way].Sold == nil {
		words += ", " + d.words.OnHand
	}
	d.pic.Add(picture.Text{At: picture.Point{X: margin, Y: y + heading - 1.2}, Words: picture.Shortened(words, width-margin-edge, letters, picture.Sans), Height: letters})
}

func (d *drawer) area(x, y, w, h float64, fill picture.Colour, line picture.LineType) {
	d.pic.Add(picture.Path{Curves: picture.Rectangle(picture.Point{X: x, Y: y}, w, h), Fill: fill, Line: line})
}

// inset is by how much a piece is drawn smaller along either side, so that a kerf
// too narrow for the picture's scale is seen as a gap.
func (d *drawer) inset(side float64) float64 {
	if d.plan.Kerf == 0 {
		return 0
	}
	return math.Max(0, math.Min((gap-d.plan.Kerf*d.scale)/2, side/6))
}

// piece draws a piece or what is left over, and returns where its words go.
func (d *drawer) piece(x, y, w, h float64, line picture.LineType) picture.Box {
	dx, dy := d.inset(w), d.inset(h)
	if d.plan.Bars() {
		dy = 0
	}
	d.area(x+dx, y+dy, w-2*dx, h-2*dy, picture.Paper, line)
	return picture.Box{Min: picture.Point{X: x + dx, Y: y + dy}, Max: picture.Point{X: x + w - dx, Y: y + h - dy}}
}

// count says how many are cut alike, smaller where the figures need it.
func (d *drawer) count(n int, y float64) {
	const most, room = 2.5, margin - 3 // mm: capital height, width
	words := fmt.Sprintf("%d ×", n)
	height := math.Min(most, most*room/picture.TextWidth(words, most, picture.Sans))
	d.pic.Add(picture.Text{At: picture.Point{X: margin - 2, Y: y}, Words: words, Height: height, Anchor: picture.End, Rise: picture.MidCapital})
}

// size is a length in words.
func (d *drawer) size(mm float64) string { return quantity.Text(quantity.MM(mm), d.system) }
