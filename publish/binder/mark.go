package binder

import "plansheaf/publish/picture"

// A rect is an upright rectangle in millimetres.
type rect struct{ x, y, w, h float64 }

// colour is red, green, blue, 0 to 255.
type colour struct{ r, g, b uint8 }

// A mark is one thing painted on a leaf. Its place is known exactly before
// anything is painted, so that tests can ask whether all of it lies on the leaf.
type mark interface {
	box(f *fonts) rect
	moved(dx, dy float64) mark
}

// style is how words look.
type style struct {
	face face
	size float64 // points
	ink  colour
}

// textMark is words from x on, standing on the baseline y.
type textMark struct {
	x, y  float64
	words string
	style style
}

// sideMark is words that run up the leaf: x is their baseline, y where they
// begin, at the bottom.
type sideMark textMark

// apartMark is a mark that changes with the count of leaves: it is written to a stream of its
// own, so that the rest of its leaf stays as it was.
type apartMark struct{ mark }

// watermark is large pale words across the middle of a leaf, turned by
// degrees.
type watermark struct {
	textMark
	turn float64 // degrees, counter-clockwise about the words' start
	over rect    // what the turned words cover
}

// symbolMark is a sign that no font has, drawn as a path.
type symbolMark struct {
	x, y   float64
	symbol rune
	style  style
}

// ruleMark is a straight line.
type ruleMark struct {
	x1, y1, x2, y2 float64
	width          float64
	ink            colour
	dashed         bool
}

// boxMark is a rectangle, filled, stroked or both.
type boxMark struct {
	rect
	fill   *colour
	ink    *colour // nil: no outline
	width  float64 // of the outline
	radius float64 // of the corners
}

// alertMark is the safety alert symbol of ANSI Z535.4: a triangle with an
// exclamation mark.
type alertMark struct {
	rect
	ink, ground colour
}

// pictureMark is a vector picture at a scale.
type pictureMark struct {
	x, y    float64
	scale   float64
	picture *picture.Picture
	own     bool // drawn into the leaf itself: a formula, which comes but once
}

// vectorMark is an SVG image of the plan at a scale; words holds its texts, safe
// to print, in the order of its shapes.
type vectorMark struct {
	x, y, scale float64
	vector      *vector
	words       map[int]textLine
}

// imageMark is a decoded image stretched over a rectangle.
type imageMark struct {
	rect
	image *raster
}

// linkMark makes a rectangle lead somewhere.
type linkMark struct {
	rect
	destination
}

// A destination is an anchor of the binder, or an outside address.
type destination struct{ anchor, url string }

// anchorMark is a place that links and bookmarks lead to.
type anchorMark struct {
	y    float64
	name string
}

// pageMark is the number of the leaf on which an anchor lies, written once all
// leaves are known. It ends at x.
type pageMark struct {
	x, y   float64
	width  float64 // room kept for it
	anchor string
	style  style
}

// lateLine is a line of text with page numbers in it, set anew once they are
// known. It keeps room for long numbers.
type lateLine struct {
	x, y float64
	line textLine
}

// Heights of letters above and below the baseline, in ems, for all faces: the
// greatest that DejaVu's Latin, Greek and Cyrillic letters reach, rounded up.
const (
	ascent  = 0.93
	descent = 0.24
)

func (m textMark) box(f *fonts) rect {
	em := m.style.size * mmPerPoint
	return rect{m.x, m.y - ascent*em, f.width(m.words, m.style.face, m.style.size), (ascent + descent) * em}
}

func (m sideMark) box(f *fonts) rect {
	em, long := m.style.size*mmPerPoint, f.width(m.words, m.style.face, m.style.size)
	return rect{m.x - ascent*em, m.y - long, (ascent + descent) * em, long}
}

func (m symbolMark) box(*fonts) rect {
	em := m.style.size * mmPerPoint
	return rect{m.x, m.y - ascent*em, symbolWidth(m.symbol, m.style.size), (ascent + descent) * em}
}

func (m ruleMark) box(*fonts) rect {
	x, y := min(m.x1, m.x2), min(m.y1, m.y2)
	return rect{x, y, max(m.x1, m.x2) - x, max(m.y1, m.y2) - y}
}

func (m pageMark) box(*fonts) rect {
	em := m.style.size * mmPerPoint
	return rect{m.x - m.width, m.y - ascent*em, m.width, (ascent + descent) * em}
}

func (m pictureMark) box(*fonts) rect {
	return rect{m.x, m.y, m.picture.Width * m.scale, m.picture.Height * m.scale}
}
func (m lateLine) box(*fonts) rect {
	em := 0.0
	for _, r := range m.line.runs {
		em = max(em, r.style.size*mmPerPoint)
	}
	return rect{m.x, m.y - ascent*em, m.line.width, (ascent + descent) * em}
}
func (m watermark) box(*fonts) rect { return m.over }
func (m vectorMark) box(*fonts) rect {
	return rect{m.x, m.y, m.vector.width * m.scale, m.vector.height * m.scale}
}
func (m boxMark) box(*fonts) rect    { return m.rect }
func (m alertMark) box(*fonts) rect  { return m.rect }
func (m imageMark) box(*fonts) rect  { return m.rect }
func (m linkMark) box(*fonts) rect   { return m.rect }
func (m anchorMark) box(*fonts) rect { return rect{0, m.y, 0, 0} }

func (r rect) shifted(dx, dy float64) rect { return rect{r.x + dx, r.y + dy, r.w, r.h} }

func (m textMark) moved(dx, dy float64) mark   { m.x, m.y = m.x+dx, m.y+dy; return m }
func (m sideMark) moved(dx, dy float64) mark   { m.x, m.y = m.x+dx, m.y+dy; return m }
func (m apartMark) moved(dx, dy float64) mark  { return apartMark{m.mark.moved(dx, dy)} }
func (m symbolMark) moved(dx, dy float64) mark { m.x, m.y = m.x+dx, m.y+dy; return m }
func (m ruleMark) moved(dx, dy float64) mark {
	m.x1, m.y1, m.x2, m.y2 = m.x1+dx, m.y1+dy, m.x2+dx, m.y2+dy
	return m
}
func (m boxMark) moved(dx, dy float64) mark     { m.rect = m.shifted(dx, dy); return m }
func (m alertMark) moved(dx, dy float64) mark   { m.rect = m.shifted(dx, dy); return m }
func (m vectorMark) moved(dx, dy float64) mark  { m.x, m.y = m.x+dx, m.y+dy; return m }
func (m imageMark) moved(dx, dy float64) mark   { m.rect = m.shifted(dx, dy); return m }
func (m linkMark) moved(dx, dy float64) mark    { m.rect = m.shifted(dx, dy); return m }
func (m anchorMark) moved(_, dy float64) mark   { m.y += dy; return m }
func (m pageMark) moved(dx, dy float64) mark    { m.x, m.y = m.x+dx, m.y+dy; return m }
func (m lateLine) moved(dx, dy float64) mark    { m.x, m.y = m.x+dx, m.y+dy; return m }
func (m pictureMark) moved(dx, dy float64) mark { m.x, m.y = m.x+dx, m.y+dy; return m }
func (m watermark) moved(dx, dy float64) mark {
	m.x, m.y, m.over = m.x+dx, m.y+dy, m.over.shifted(dx, dy)
	return m
}
