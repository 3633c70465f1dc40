package notation

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"plansheaf/publish/picture"
	"plansheaf/themes"
)

// unitsPerEm of the embedded faces.
const unitsPerEm = 2048

// parsedFaces are the faces that formulas are set in.
var parsedFaces = map[picture.Face]func() *sfnt.Font{
	picture.Sans:        sync.OnceValue(func() *sfnt.Font { return parsed(themes.Sans) }),
	picture.SansOblique: sync.OnceValue(func() *sfnt.Font { return parsed(themes.SansOblique) }),
}

func parsed(data []byte) *sfnt.Font {
	f, err := sfnt.Parse(data)
	if err != nil {
		panic("notation: embedded font does not parse: " + err.Error())
	}
	return f
}

// An extent is how far ink reaches from the start of a baseline, in ems; Up above it,
// Down below.
type extent struct{ left, right, up, down float64 }

// inks are the extents of glyphs that were asked for, by inkOf: working one out walks the
// glyph's outline.
var inks sync.Map

type inkOf struct {
	face picture.Face
	char rune
}

// ink is the extent of a glyph of a face; zero where the face has none.
func ink(face picture.Face, r rune) (extent, bool) {
	if known, ok := inks.Load(inkOf{face, r}); ok {
		return known.(extent), true
	}
	f := parsedFaces[face]()
	var buf sfnt.Buffer
	glyph, err := f.GlyphIndex(&buf, r)
	if err != nil || glyph == 0 {
		return extent{}, false
	}
	bounds, _, err := f.GlyphBounds(&buf, glyph, fixed.I(unitsPerEm), font.HintingNone)
	if err != nil {
		return extent{}, false
	}
	em := func(v fixed.Int26_6) float64 { return float64(v) / 64 / unitsPerEm }
	e := extent{em(bounds.Min.X), em(bounds.Max.X), -em(bounds.Min.Y), em(bounds.Max.Y)}
	inks.Store(inkOf{face, r}, e)
	return e, true
}

// outline is a glyph's outline as curves of a picture, one em being one millimetre,
// from the start of its baseline.
func outline(face picture.Face, r rune) []picture.Curve {
	f := parsedFaces[face]()
	var buf sfnt.Buffer
	glyph, err := f.GlyphIndex(&buf, r)
	if err != nil || glyph == 0 {
		return nil
	}
	segments, err := f.LoadGlyph(&buf, glyph, fixed.I(unitsPerEm), nil)
	if err != nil {
		return nil
	}
	at := func(p fixed.Point26_6) picture.Point {
		return picture.Point{X: float64(p.X) / 64 / unitsPerEm, Y: float64(p.Y) / 64 / unitsPerEm}
	}
	var curves []picture.Curve
	var start, here picture.Point
	home := func() {
		if here != start {
			curves = append(curves, picture.Line{A: here, B: start})
		}
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			home()
			start = at(s.Args[0])
			here = start
		case sfnt.SegmentOpLineTo:
			curves = append(curves, picture.Line{A: here, B: at(s.Args[0])})
			here = at(s.Args[0])
		case sfnt.SegmentOpQuadTo:
			control, end := at(s.Args[0]), at(s.Args[1])
			third := func(from picture.Point) picture.Point {
				return from.Plus(control.Minus(from).Times(2.0 / 3))
			}
			curves = append(curves, picture.Bezier{A: here, C1: third(here), C2: third(end), B: end})
			here = end
		case sfnt.SegmentOpCubeTo:
			end := at(s.Args[2])
			curves = append(curves, picture.Bezier{A: here, C1: at(s.Args[0]), C2: at(s.Args[1]), B: end})
			here = end
		}
	}
	home()
	return curves
}
