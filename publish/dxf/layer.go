package dxf

import (
	"math"

	"plansheaf/publish/picture"
)

// A layer is a group of entities that a reader can show, hide or cut as one.
type layer struct {
	name     string
	colour   int    // index
	dashes   string // a line type's name
	widthMM  float64
	standard bool // its width is the reader's own
}

// Colour indices. byLayer leaves an entity in its layer's colour.
const (
	byLayer = 256
	ink     = 7 // black on white, white on black
)

// indices are the colours of the index nearest to what colours mean. Paper has none:
// nothing is painted with it.
var indices = map[picture.Colour]int{
	picture.Ink: ink, picture.Faint: 8, picture.Accent: 30, picture.Tint: 31,
	picture.Shade1: 255, picture.Shade2: 254, picture.Shade3: 253, picture.Watermark: 254,
	picture.Danger: 1, picture.Warning: 30, picture.Caution: 2, picture.Notice: 5, picture.Safe: 3,
	picture.Black: 250, picture.White: 255,
}

// textLayer and fillLayer hold letters and filled areas.
const (
	textLayer = "text"
	fillLayer = "fill"
)

// Line types besides the continuous one.
const (
	continuous  = "Continuous"
	dashed      = "dashed"
	chain       = "chain"
	doubleChain = "double-chain"
)

// lineLayers say on which layer a line type is drawn and with which dashes, in the
// order of the layer table.
var lineLayers = []struct {
	line   picture.LineType
	layer  string
	dashes string
}{
	{picture.Visible, "visible", continuous},
	{picture.Hidden, "hidden", dashed},
	{picture.Centre, "centre", chain},
	{picture.Thin, "dimension", continuous},
	{picture.Hatching, "hatching", continuous},
	{picture.Cutting, "cutting-plane", chain},
	{picture.Phantom, "neighbour", doubleChain},
	{picture.Break, "break", continuous},
	{picture.Accented, "new", continuous},
	{picture.Frame, "frame", continuous},
	{picture.Hair, "fine", continuous},
}

// layerOf is the layer of a line type; "" for NoLine.
func layerOf(t picture.LineType) string {
	for _, l := range lineLayers {
		if l.line == t {
			return l.layer
		}
	}
	return ""
}

// drawingLayers are the layers of a drawing of a line group, all of them whether
// used or not, so that a reader's settings for one drawing serve the next.
func drawingLayers(group float64) []layer {
	var list []layer
	for _, l := range lineLayers {
		list = append(list, layer{name: l.layer, colour: indices[l.line.Ink()], dashes: l.dashes, widthMM: l.line.Width(group)})
	}
	return append(list,
		layer{name: textLayer, colour: ink, dashes: continuous, standard: true},
		layer{name: fillLayer, colour: ink, dashes: continuous, standard: true})
}

// pattern is a line type with dashes.
type pattern struct {
	name, about string
	dashes      []float64 // mm, dash and gap in turn
}

// patterns are the dashed line types of a line group (ISO 128-2).
func patterns(group float64) []pattern {
	return []pattern{
		{dashed, "__ __ __ __ __", picture.Hidden.Dashes(group)},
		{chain, "____ _ ____ _ ____", picture.Centre.Dashes(group)},
		{doubleChain, "____ _ _ ____ _ _ ____", picture.Phantom.Dashes(group)},
	}
}

// widths are the line widths that the format knows, in hundredths of a millimetre.
var widths = []int{0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211}

// readersWidth leaves a layer's width to the reader.
const readersWidth = -3

// width is the nearest width that the format knows.
func (l layer) width() int {
	if l.standard {
		return readersWidth
	}
	best := widths[0]
	for _, w := range widths {
		if math.Abs(float64(w)-100*l.widthMM) < math.Abs(float64(best)-100*l.widthMM) {
			best = w
		}
	}
	return best
}
