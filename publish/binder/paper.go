package binder

// Inks. The accent and the grounds are those of the drawings' light theme; the
// signal colours approximate ISO 3864-4 on paper (common practice, no source).
var (
	ink       = colour{0x16, 0x1a, 0x1f}
	faintInk  = colour{0x5d, 0x64, 0x6c}
	accentInk = colour{0xb4, 0x3a, 0x0e}
	linkInk   = colour{0x1d, 0x4f, 0x7c}
	hairInk   = colour{0xb9, 0xbd, 0xc1}
	ground    = colour{0xf4, 0xf3, 0xef}
	paleInk   = colour{0xf3, 0xd9, 0xcf} // DRAFT across a leaf
	white     = colour{0xff, 0xff, 0xff}
	black     = colour{0, 0, 0}
)

// Type sizes in points.
const (
	titleSize   = 17.0
	sectionSize = 13.0
	bodySize    = 9.5
	tableSize   = 8.2
	smallSize   = 7.2
	labelSize   = 5.8
)

// leading is the distance of baselines in ems; baseline the depth of the first
// one below a line's top.
const (
	leading  = 1.42
	baseline = 1.02
)

// lineHeight is the height of a line of text in millimetres.
func lineHeight(size float64) float64 { return size * mmPerPoint * leading }

// baselineOf is how far below its top a line's baseline lies, in millimetres.
func baselineOf(size float64) float64 { return size * mmPerPoint * baseline }

// measure is the longest line of prose in millimetres: about 85 letters.
const measure = 152.0

// A paper is the binder's own leaf, in millimetres.
type paper struct {
	width, height float64
	binding       float64 // margin at the punched edge
	edge          float64 // margin opposite
	stripTop      float64 // where the title strip begins
	stripHeight   float64
	top           float64 // where the text begins
	bottom        float64 // margin below the text
	holes         []float64
}

// papers: A4 is punched after ISO 838, two holes 80 mm apart and 12 mm from the
// edge; letter with three holes 108 mm apart: common practice, no source.
var papers = map[string]paper{
	"A4":     {width: 210, height: 297, holes: []float64{-40, 40}},
	"letter": {width: 215.9, height: 279.4, holes: []float64{-108, 0, 108}},
}

// paperFor is the paper that a document asks for; A4 unless it says letter.
func paperFor(sheet string) paper {
	p, known := papers[sheet]
	if !known {
		p = papers["A4"]
	}
	p.binding, p.edge = 24, 14
	p.stripTop, p.stripHeight = 10, 9.5
	p.top, p.bottom = 27, 17
	return p
}

// textWidth is the width of the text frame.
func (p paper) textWidth() float64 { return p.width - p.binding - p.edge }

// room is the height of the text frame.
func (p paper) room() float64 { return p.height - p.top - p.bottom }
