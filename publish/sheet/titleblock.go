package sheet

import (
	"cmp"
	"strings"

	"plansheaf/publish/picture"
)

// Title block measures, mm: 180 wide as ISO 7200 has it, so that it spans an
// upright A4 sheet.
const (
	blockWide   = 180.0
	labelHeight = 1.8
	cellPad     = 1.6
)

// A cell of the title block: its label above its value.
type cell struct {
	x, y, w, h float64 // within the block
	label      string
	value      string
	height     float64 // of the value's letters
	face       picture.Face
	ink        picture.Colour
}

// blockHigh is the height of the title block.
const blockHigh = 42.0

// cells of the title block, from ISO 7200's fields and, beside them, what a
// workshop looks for first: material, scale, tolerances, units.
func (l *layout) cells() []cell {
	r := l.request
	units := "mm [in]"
	if r.System == Inch {
		units = "in [mm]"
	}
	credit := strings.Trim(strings.Join([]string{r.Owner, r.License}, " · "), " ·")
	material := r.Material
	if r.Stock != "" && !strings.EqualFold(r.Stock, r.Material) {
		material = strings.Trim(r.Stock+", "+r.Material, ", ")
	}
	title := cell{0, 0, 100, 14, "Title", r.Title, 5, picture.SansBold, picture.Ink}
	if r.Subtitle != "" {
		title.height = 3.5
	}
	return []cell{
		title,
		{100, 0, 52, 14, "Number", r.Number, 3.5, picture.Mono, picture.Ink},
		{152, 0, 14, 14, "Revision", r.Revision, 5, picture.SansBold, picture.Accent},
		{166, 0, 14, 14, "Sheet", cmp.Or(r.SheetNumber, "1/1"), 3.5, picture.Sans, picture.Ink},
		{0, 14, 100, 9.5, "Material", material, 2.5, picture.Sans, picture.Ink},
		{100, 14, 36, 9.5, "Mass", r.Mass, 2.5, picture.Sans, picture.Ink},
		{136, 14, 44, 9.5, "Finish", r.Finish, 2.5, picture.Sans, picture.Ink},
		{0, 23.5, 52, 9.5, "General tolerances", r.Tolerances, 2.5, picture.Sans, picture.Ink},
		{52, 23.5, 26, 9.5, "Units", units, 2.5, picture.Sans, picture.Ink},
		{78, 23.5, 22, 9.5, "Projection", "", 2.5, picture.Sans, picture.Ink},
		{100, 23.5, 28, 9.5, "Scale", l.scale.name, 3.5, picture.SansBold, picture.Ink},
		{128, 23.5, 30, 9.5, "Sheet size", l.paper.name, 2.5, picture.Sans, picture.Ink},
		{158, 23.5, 22, 9.5, "Language", cmp.Or(r.Language, "en"), 2.5, picture.Sans, picture.Ink},
		{0, 33, 42, 9, "Drawn by", r.Author, 2.5, picture.Sans, picture.Ink},
		{42, 33, 42, 9, "Approved by", r.Approved, 2.5, picture.Sans, picture.Ink},
		{84, 33, 22, 9, "Date of issue", r.Date, 2.5, picture.Sans, picture.Ink},
		{106, 33, 27, 9, "Document type", cmp.Or(r.Kind, "Part drawing"), 2.5, picture.Sans, picture.Ink},
		{133, 33, 47, 9, "Legal owner", credit, 2.5, picture.Sans, picture.Ink},
	}
}

// titleBlock paints the title block in the lower right corner of the space and
// takes its place.
func (l *layout) titleBlock() picture.Box {
	space := l.paper.space()
	at := point{X: space.Max.X - blockWide, Y: space.Max.Y - blockHigh}
	g := picture.Group{ID: "title-block", Class: "title-block", Title: "Title block"}
	var rules []picture.Curve
	for _, c := range l.cells() {
		corner := point{X: at.X + c.x, Y: at.Y + c.y}
		if c.x > 0 {
			rules = append(rules, picture.Line{A: corner, B: point{X: corner.X, Y: corner.Y + c.h}})
		}
		if c.x == 0 && c.y > 0 {
			rules = append(rules, picture.Line{A: corner, B: point{X: at.X + blockWide, Y: corner.Y}})
		}
		if c.label == "Title" && l.request.Subtitle != "" {
			c.h = 10.5 // the supplementary title stands in what is left of the cell
		}
		g.Marks = append(g.Marks, c.words(corner)...)
	}
	g.Marks = append(g.Marks, picture.Path{Curves: rules, Line: picture.Thin},
		picture.Path{Curves: picture.Polyline(point{X: at.X, Y: space.Max.Y}, at, point{X: space.Max.X, Y: at.Y}), Line: picture.Frame})
	g.Marks = append(g.Marks, projectionSymbol(l.request.Projection, point{X: at.X + 89, Y: at.Y + 29.9})...)
	if l.request.Subtitle != "" {
		g.Marks = append(g.Marks, fitted(l.request.Subtitle, point{X: at.X + cellPad, Y: at.Y + 12.6}, 100-2*cellPad, 2.5, picture.Sans, picture.Ink))
	}
	l.add(g)
	box := picture.Box{Min: at, Max: space.Max}
	l.board.take(box)
	return box
}

// words of a cell: a small label, the value on the baseline below.
func (c cell) words(corner point) []picture.Mark {
	marks := []picture.Mark{picture.Text{At: point{X: corner.X + cellPad, Y: corner.Y + 1.1}, Words: c.label, Height: labelHeight,
		Rise: picture.TopCapital, Ink: picture.Faint}}
	if c.value == "" {
		return marks
	}
	base := corner.Y + c.h - (c.h-1.1-labelHeight-c.height)/2 - 0.2
	return append(marks, fitted(c.value, point{X: corner.X + cellPad, Y: base}, c.w-2*cellPad, c.height, c.face, c.ink))
}

// heights of lettering, ISO 3098, largest first.
var heights = []float64{7, 5, 3.5, 2.5, 1.8}

// fitted sets words no higher than height so that they fit a width: smaller, and
// at last cut short.
func fitted(words string, at point, width, height float64, face picture.Face, ink picture.Colour) picture.Text {
	words = strings.Join(strings.Fields(words), " ")
	for _, h := range heights {
		if h <= height && picture.TextWidth(words, h, face) <= width {
			return picture.Text{At: at, Words: words, Height: h, Face: face, Ink: ink}
		}
	}
	smallest := heights[len(heights)-1]
	return picture.Text{At: at, Words: picture.Shortened(words, width, smallest, face), Height: smallest, Face: face, Ink: ink}
}

// projectionSymbol is the cut cone of ISO 5456-2 with its middle at a point: in
// third angle the circles stand at the left of the cone's profile, in first
// angle at its right.
func projectionSymbol(projection Projection, middle point) []picture.Mark {
	const large, small, long, over = 2.1, 1.05, 4.2, 0.7 // radii, length, overrun; ISO 5456-2 proportions
	rings, profile := middle.X-3.4, middle.X+1.2
	if projection == FirstAngle {
		rings, profile = middle.X+3.4, middle.X-1.2-long
	}
	// Both circles are seen, so the narrow end faces the eye, which is at the
	// left either way.
	y := middle.Y
	cone := picture.Polygon(
		point{X: profile, Y: y - small}, point{X: profile + long, Y: y - large},
		point{X: profile + long, Y: y + large}, point{X: profile, Y: y + small})
	return []picture.Mark{
		picture.Path{Curves: append(cone, append(picture.Circle(point{X: rings, Y: y}, large), picture.Circle(point{X: rings, Y: y}, small)...)...), Line: picture.Thin},
		picture.Path{Curves: []picture.Curve{
			picture.Line{A: point{X: profile - over, Y: y}, B: point{X: profile + long + over, Y: y}},
			picture.Line{A: point{X: rings - large - over, Y: y}, B: point{X: rings + large + over, Y: y}},
			picture.Line{A: point{X: rings, Y: y - large - over}, B: point{X: rings, Y: y + large + over}},
		}, Line: picture.Centre},
	}
}
