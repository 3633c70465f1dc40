package sheet

import (
	"plansheaf/publish/picture"
)

type point = picture.Point

// The frame within the sheet's margins (ISO 5457).
const (
	gridBand    = 5.0  // width of the band with zone references
	gridField   = 50.0 // length of a zone
	centringRun = 5.0  // how far centring marks reach into the space
)

// space is the drawing space within the frame.
func (p paper) space() picture.Box {
	left, other := p.sheet.MarginLeft, p.sheet.MarginOther
	return picture.Box{Min: point{X: left, Y: other}, Max: point{X: p.width - other, Y: p.height - other}}
}

// frame draws the border: frame, centring marks, zone references.
func (p paper) frame() picture.Group {
	space := p.space()
	band := space.Grow(gridBand)
	g := picture.Group{ID: "frame", Class: "border"}
	g.Marks = append(g.Marks,
		picture.Path{Curves: picture.Rectangle(band.Min, band.Width(), band.Height()), Line: picture.Thin},
		picture.Path{Curves: picture.Rectangle(space.Min, space.Width(), space.Height()), Line: picture.Frame})
	middle := point{X: p.width / 2, Y: p.height / 2}
	var marks []picture.Curve
	stroke := func(x1, y1, x2, y2 float64) {
		marks = append(marks, picture.Line{A: point{X: x1, Y: y1}, B: point{X: x2, Y: y2}})
	}
	stroke(middle.X, band.Min.Y, middle.X, space.Min.Y+centringRun)
	stroke(middle.X, band.Max.Y, middle.X, space.Max.Y) // the title block stands there
	stroke(band.Min.X, middle.Y, space.Min.X+centringRun, middle.Y)
	stroke(band.Max.X, middle.Y, space.Max.X-centringRun, middle.Y)
	g.Marks = append(g.Marks, picture.Path{Curves: marks, Line: picture.Frame})
	g.Marks = append(g.Marks, p.zones(space, band, middle)...)
	return g
}

// zones numbers the fields along the sheet: figures across, letters down,
// counted from the centring marks outward so that fields are 50 mm long; a rest
// at the ends goes to the last field.
func (p paper) zones(space, band picture.Box, middle point) []picture.Mark {
	var ticks []picture.Curve
	var marks []picture.Mark
	label := func(at point, words string) {
		marks = append(marks, picture.Text{At: at, Words: words, Height: 2.5, Anchor: picture.Middle, Rise: picture.MidCapital})
	}
	across := fields(space.Min.X, space.Max.X, middle.X)
	for i := 1; i < len(across); i++ {
		name := decimals(float64(i), 0)
		x := (across[i-1] + across[i]) / 2
		label(point{X: x, Y: (band.Min.Y + space.Min.Y) / 2}, name)
		label(point{X: x, Y: (band.Max.Y + space.Max.Y) / 2}, name)
		if i > 1 && across[i-1] != middle.X {
			ticks = append(ticks,
				picture.Line{A: point{X: across[i-1], Y: band.Min.Y}, B: point{X: across[i-1], Y: space.Min.Y}},
				picture.Line{A: point{X: across[i-1], Y: space.Max.Y}, B: point{X: across[i-1], Y: band.Max.Y}})
		}
	}
	down := fields(space.Min.Y, space.Max.Y, middle.Y)
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ" // I and O are left out: ISO 5457
	for i := 1; i < len(down) && i <= len(letters); i++ {
		name := letters[i-1 : i]
		y := (down[i-1] + down[i]) / 2
		label(point{X: (band.Min.X + space.Min.X) / 2, Y: y}, name)
		label(point{X: (band.Max.X + space.Max.X) / 2, Y: y}, name)
		if i > 1 && down[i-1] != middle.Y {
			ticks = append(ticks,
				picture.Line{A: point{X: band.Min.X, Y: down[i-1]}, B: point{X: space.Min.X, Y: down[i-1]}},
				picture.Line{A: point{X: space.Max.X, Y: down[i-1]}, B: point{X: band.Max.X, Y: down[i-1]}})
		}
	}
	return append(marks, picture.Path{Curves: ticks, Line: picture.Thin})
}

// fields are the bounds of zones between two ends, from the middle outward.
func fields(from, to, middle float64) []float64 {
	bounds := []float64{middle}
	const rest = 0.4 * gridField // a shorter one goes to the last field
	for x := middle - gridField; x > from+rest; x -= gridField {
		bounds = append([]float64{x}, bounds...)
	}
	for x := middle + gridField; x < to-rest; x += gridField {
		bounds = append(bounds, x)
	}
	return append(append([]float64{from}, bounds...), to)
}
