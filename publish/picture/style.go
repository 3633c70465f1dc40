package picture

// LineType says what a line means (ISO 128-2 types); its width, dashes and
// colour follow.
type LineType int

// The line types. Wide and narrow are the two widths of the picture's line
// group, ratio 2:1.
const (
	NoLine   LineType = iota
	Visible           // 01.2 wide continuous: visible edges and outlines
	Hidden            // 02.1 narrow dashed: hidden edges
	Centre            // 04.1 narrow chain: centre lines, symmetry, pitch circles
	Thin              // 01.1 narrow continuous: dimension, extension and leader lines, thread roots
	Hatching          // 01.1 narrow continuous: cut faces
	Cutting           // 04.1 narrow chain, its ends drawn wide by the sheet: cutting planes
	Phantom           // 05.1 narrow chain with double dots: neighbours, end positions
	Break             // 01.1 narrow continuous freehand: broken views
	Accented          // wide continuous in the accent colour: what is new
	Frame             // 0.7 mm or the wide line, whichever is wider: sheet frame
	Hair              // half the narrow line: edges between smooth faces, grids
)

// Colour is a meaning; the theme gives it a colour. PDF and lone SVG files use
// the light theme.
type Colour string

// The colours.
const (
	Ink       Colour = "ink"       // lines and letters
	Faint     Colour = "faint"     // what stands back: grids, watermarks' neighbours, old parts
	Accent    Colour = "accent"    // the one accent: what is new, what is meant
	Tint      Colour = "tint"      // a pale accent for areas
	Paper     Colour = "paper"     // the ground
	Shade1    Colour = "shade-1"   // lit faces of pictorial views
	Shade2    Colour = "shade-2"   // faces turned away
	Shade3    Colour = "shade-3"   // faces in the shade; offcuts
	Watermark Colour = "watermark" // DRAFT across a sheet
	Danger    Colour = "danger"    // ISO 3864 red; prohibition, fire
	Warning   Colour = "warning"   // ANSI Z535 orange
	Caution   Colour = "caution"   // ISO 3864 yellow
	Notice    Colour = "notice"    // ISO 3864 blue; mandatory action
	Safe      Colour = "safe"      // ISO 3864 green; safe condition
	Black     Colour = "black"     // safety signs keep their colours in every theme
	White     Colour = "white"
)

type rgb struct{ r, g, b uint8 }

// swatch is a colour's value in both themes.
type swatch struct{ light, dark rgb }

// swatches: the safety colours are the same in both themes, as signs must be.
// Their values approximate the colours of ISO 3864-4 on screen: common practice,
// no source.
var swatches = map[Colour]swatch{
	Ink:       {rgb{0x16, 0x1a, 0x1f}, rgb{0xe9, 0xe6, 0xdf}},
	Faint:     {rgb{0x7b, 0x82, 0x8a}, rgb{0x8f, 0x95, 0x9c}},
	Accent:    {rgb{0xb4, 0x3a, 0x0e}, rgb{0xff, 0x9a, 0x62}},
	Tint:      {rgb{0xf7, 0xdf, 0xd0}, rgb{0x54, 0x31, 0x20}},
	Paper:     {rgb{0xff, 0xff, 0xff}, rgb{0x1a, 0x1d, 0x21}},
	Shade1:    {rgb{0xf6, 0xf5, 0xf1}, rgb{0x2b, 0x30, 0x36}},
	Shade2:    {rgb{0xe4, 0xe4, 0xe0}, rgb{0x37, 0x3d, 0x44}},
	Shade3:    {rgb{0xcf, 0xd0, 0xcd}, rgb{0x46, 0x4d, 0x55}},
	Watermark: {rgb{0xf3, 0xd9, 0xcf}, rgb{0x4a, 0x2c, 0x22}},
	Danger:    {rgb{0xb8, 0x12, 0x1b}, rgb{0xb8, 0x12, 0x1b}},
	Warning:   {rgb{0xf0, 0x7d, 0x00}, rgb{0xf0, 0x7d, 0x00}},
	Caution:   {rgb{0xf9, 0xc8, 0x00}, rgb{0xf9, 0xc8, 0x00}},
	Notice:    {rgb{0x00, 0x4f, 0x9f}, rgb{0x00, 0x4f, 0x9f}},
	Safe:      {rgb{0x00, 0x7a, 0x4d}, rgb{0x00, 0x7a, 0x4d}},
	Black:     {rgb{0, 0, 0}, rgb{0, 0, 0}},
	White:     {rgb{0xff, 0xff, 0xff}, rgb{0xff, 0xff, 0xff}},
}

// colours in the order in which style sheets list them.
var colours = []Colour{Ink, Faint, Accent, Tint, Paper, Shade1, Shade2, Shade3, Watermark,
	Danger, Warning, Caution, Notice, Safe, Black, White}

// frameWidth is the width of a sheet's frame in millimetres (ISO 5457).
const frameWidth = 0.7

// lineStyle is what a line type looks like.
type lineStyle struct {
	class  string
	narrow bool
	ink    Colour
	dashes []float64 // dash, gap, dash, gap ... in line widths; nil: continuous
}

// lineStyles: dash lengths follow ISO 128-2 in ratio (dash 12d, gap 3d; chain
// 24d, dot 0.5d, gap 3d); they are shortened a little, as is usual, because a
// narrow line's full lengths outrun the small features of workshop parts.
var lineStyles = map[LineType]lineStyle{
	Visible:  {class: "visible", ink: Ink},
	Hidden:   {class: "hidden", narrow: true, ink: Ink, dashes: []float64{10, 3.5}},
	Centre:   {class: "centre", narrow: true, ink: Ink, dashes: []float64{24, 3, 2, 3}},
	Thin:     {class: "thin", narrow: true, ink: Ink},
	Hatching: {class: "hatching", narrow: true, ink: Ink},
	Cutting:  {class: "cutting", narrow: true, ink: Ink, dashes: []float64{24, 3, 2, 3}},
	Phantom:  {class: "phantom", narrow: true, ink: Ink, dashes: []float64{24, 3, 2, 3, 2, 3}},
	Break:    {class: "break", narrow: true, ink: Ink},
	Accented: {class: "accented", ink: Accent},
	Frame:    {class: "frame", ink: Ink},
	Hair:     {class: "hair", narrow: true, ink: Faint},
}

// Width is the line's width in millimetres for a line group.
func (t LineType) Width(group float64) float64 {
	style, known := lineStyles[t]
	switch {
	case !known:
		return 0
	case t == Frame:
		return max(frameWidth, group)
	case t == Hair:
		return group / 4
	case style.narrow:
		return group / 2
	}
	return group
}
