package sign

import (
	"math"

	"plansheaf/publish/picture"
)

const (
	span   = 100.0 // units of a symbol file across the sign
	wide   = 5.0   // the wider stroke of a symbol; the finer is half of it
	corner = 7.0   // radius of a warning triangle's outer corners
	edge   = 5.0   // width of a warning triangle's black edge
)

// A category is the first letter of a code: a shape, its colours and its name.
type category struct {
	name           string
	ground, symbol picture.Colour
	marks          func() []picture.Mark // painted under the symbol
	over           func() []picture.Mark // painted over it; may be nil
}

// categories after ISO 3864-1: shape and colour together carry the meaning.
var categories = map[byte]category{
	'W': {name: "Warning", ground: picture.Caution, symbol: picture.Black, marks: triangle},
	'M': {name: "Mandatory", ground: picture.Notice, symbol: picture.White, marks: disc},
	'P': {name: "Prohibition", ground: picture.White, symbol: picture.Black, marks: prohibitionGround, over: prohibitionRing},
	'E': {name: "Safe condition", ground: picture.Safe, symbol: picture.White, marks: square(picture.Safe)},
	'F': {name: "Fire equipment", ground: picture.Danger, symbol: picture.White, marks: square(picture.Danger)},
}

// triangle is the yellow triangle with a black edge, standing on its base.
func triangle() []picture.Mark {
	return []picture.Mark{
		picture.Path{Curves: roundTriangle(0, corner), Fill: picture.Black},
		picture.Path{Curves: roundTriangle(edge, corner-edge/2), Fill: picture.Caution},
	}
}

// roundTriangle is an equilateral triangle whose rounded corners reach the sides
// of the square, its sides moved inward by inset, its corners rounded by radius.
func roundTriangle(inset, radius float64) []picture.Curve {
	const inradius = 31.25 // of the sharp triangle within the outer sides
	centre := picture.Point{X: 50, Y: 62}
	reach := 2 * (inradius - inset - radius) // from the centre to each corner's own centre
	var curves []picture.Curve
	var last picture.Point
	for i := range 3 {
		out := -math.Pi/2 + float64(i)*2*math.Pi/3
		at := picture.Point{X: centre.X + reach*math.Cos(out), Y: centre.Y + reach*math.Sin(out)}
		arc := picture.Arc{Centre: at, RX: radius, RY: radius, Start: out - math.Pi/3, Sweep: 2 * math.Pi / 3}
		from, to := arc.Ends()
		if i > 0 {
			curves = append(curves, picture.Line{A: last, B: from})
		}
		curves = append(curves, arc)
		last = to
	}
	first, _ := curves[0].Ends()
	return append(curves, picture.Line{A: last, B: first})
}

func disc() []picture.Mark {
	return []picture.Mark{picture.Path{Curves: picture.Circle(picture.Point{X: 50, Y: 50}, 49), Fill: picture.Notice}}
}

// prohibitionGround is the white disc with the rim of the red ring.
func prohibitionGround() []picture.Mark {
	return []picture.Mark{picture.Path{Curves: picture.Circle(picture.Point{X: 50, Y: 50}, 49), Fill: picture.White}}
}

// prohibitionRing is the red ring with its bar from upper left to lower right at
// 45°, which crosses over the symbol. Ring and bar are 10 % and 8 % of the
// diameter (ISO 3864-1).
func prohibitionRing() []picture.Mark {
	centre := picture.Point{X: 50, Y: 50}
	const outer, inner, bar = 49.0, 39.2, 7.8
	reach := (outer + inner) / 2 / math.Sqrt2
	side := bar / 2 / math.Sqrt2
	// The inner rim runs the other way, so that it is a hole by either fill rule.
	rims := append(picture.Circle(centre, outer),
		picture.Arc{Centre: centre, RX: inner, RY: inner, Sweep: -2 * math.Pi})
	return []picture.Mark{
		picture.Path{Curves: rims, Fill: picture.Danger},
		picture.Path{Fill: picture.Danger, Curves: picture.Polygon(
			picture.Point{X: 50 - reach - side, Y: 50 - reach + side},
			picture.Point{X: 50 - reach + side, Y: 50 - reach - side},
			picture.Point{X: 50 + reach + side, Y: 50 + reach - side},
			picture.Point{X: 50 + reach - side, Y: 50 + reach + side},
		)},
	}
}

// square is a plain ground of one colour.
func square(ground picture.Colour) func() []picture.Mark {
	return func() []picture.Mark {
		return []picture.Mark{picture.Path{
			Curves: picture.RoundRectangle(picture.Point{X: 1, Y: 1}, 98, 98, 4), Fill: ground,
		}}
	}
}
