package picture

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/jung-kurt/gofpdf"
)

// pdfFonts are the names under which RegisterFonts makes the faces known.
var pdfFonts = [...]struct{ family, style string }{
	Sans:            {SansFamily, ""},
	SansBold:        {SansFamily, "B"},
	SansOblique:     {SansFamily, "I"},
	SansBoldOblique: {SansFamily, "BI"},
	Mono:            {MonoFamily, ""},
	MonoBold:        {MonoFamily, "B"},
}

// The families that RegisterFonts makes known to a document.
const (
	SansFamily = "sans" // styles "", B, I, BI
	MonoFamily = "mono" // styles "", B
)

// RegisterFonts makes faces known to a document, all six when none is named. A
// face that is registered and then not used still costs some 8 kB.
func RegisterFonts(pdf *gofpdf.Fpdf, use ...Face) {
	if len(use) == 0 {
		use = []Face{Sans, SansBold, SansOblique, SansBoldOblique, Mono, MonoBold}
	}
	for _, f := range use {
		// gofpdf writes into the slice it is given.
		pdf.AddUTF8FontFromBytes(pdfFonts[f].family, pdfFonts[f].style, slices.Clone(f.data()))
	}
}

// thinnest is the narrowest line that a picture drawn small keeps, in
// millimetres on paper; home printers lose anything finer.
const thinnest = 0.1

// A PDFForm is a picture as the content of a PDF's form (ISO 32000-1, 8.10), which pages
// show wherever they want it.
type PDFForm struct {
	Width, Height float64 // points: the form's paper is from 0, 0 to there, y growing upward
	// Content is what draws the picture. It calls the fonts by Face.PDFName, and leaves
	// line settings and colours as it likes.
	Content []byte
	Letters Letters // what must be in the fonts
}

// pointsPerMM converts millimetres to the points of PDF.
const pointsPerMM = 72 / 25.4

// PDF is the picture as a form, everything stretched by scale: 1 is true size. Errors are
// those of Check, and that of a scale that is none.
func PDF(p *Picture, scale float64) (*PDFForm, error) {
	if err := Check(p); err != nil {
		return nil, fmt.Errorf("draw into the PDF: %w", err)
	}
	if !(scale > 0 && scale <= farthest) {
		return nil, fmt.Errorf("draw picture %q into the PDF: scale %v", p.Name, scale)
	}
	k := scale * pointsPerMM
	w := &pdfWriter{group: p.LineGroup(), k: k, scale: scale, height: p.Height}
	w.out = append(w.out, "1 J 1 j [] 0 d\n"...)
	w.marks(p.Marks)
	return &PDFForm{Width: p.Width * k, Height: p.Height * k, Content: w.out, Letters: w.letters}, nil
}

// pdfWriter writes a form's content.
type pdfWriter struct {
	out     []byte
	letters Letters
	group   float64
	k       float64 // points on paper in a millimetre of the picture
	scale   float64
	height  float64 // of the picture, mm
	shift   Point   // of the groups around, mm
}

func (w *pdfWriter) write(s string) { w.out = append(w.out, s...) }

// page is a point of the picture in points, y up.
func (w *pdfWriter) page(p Point) Point {
	return Point{(w.shift.X + p.X) * w.k, (w.height - w.shift.Y - p.Y) * w.k}
}

// coordinates appends a point.
func (w *pdfWriter) coordinates(p Point) {
	p = w.page(p)
	w.number(p.X)
	w.number(p.Y)
}

// number appends a number and a blank; four decimals of a point are 0.04 µm.
func (w *pdfWriter) number(v float64) { w.out = append(AppendPDFNumber(w.out, v, 4), ' ') }

// colour appends a colour with its operator: RG to stroke, rg to fill.
func (w *pdfWriter) colour(c Colour, operator string) {
	light := swatches[c].light
	for _, v := range []uint8{light.r, light.g, light.b} {
		w.out = append(strconv.AppendFloat(w.out, float64(v)/255, 'f', 3, 64), ' ')
	}
	w.write(operator)
	w.write("\n")
}

func (w *pdfWriter) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Path:
			w.path(m)
		case Text:
			w.text(m)
		case Group:
			before := w.shift
			w.shift = w.shift.Plus(m.Shift)
			w.marks(m.Marks)
			w.shift = before
		case Clip:
			w.write("q\n")
			w.curves(m.Outline)
			w.write("W n\n")
			w.marks(m.Marks)
			w.write("Q\n")
		}
	}
}

func (w *pdfWriter) path(p Path) {
	if len(p.Curves) == 0 {
		return
	}
	style, line := lineStyles[p.Line]
	if p.Fill != "" {
		w.colour(p.Fill, "rg")
		w.curves(p.Curves)
		w.write("f*\n")
	}
	if !line {
		return
	}
	w.colour(cmp.Or(p.Ink, style.ink), "RG")
	width := p.Line.Width(w.group)
	w.lineWidth(width)
	if style.dashes == nil {
		w.curves(p.Curves)
		w.write("S\n")
		return
	}
	w.write("0 J\n") // round ends would lengthen every dash
	for _, s := range strokes(p.Curves, style.dashes, width) {
		w.write("[")
		for _, d := range s.dashes {
			w.number(d * w.k)
		}
		w.write("] ")
		w.number(s.phase * w.k)
		w.write("d\n")
		w.curves(s.curves)
		w.write("S\n")
	}
	w.write("1 J [] 0 d\n")
}

func (w *pdfWriter) lineWidth(width float64) {
	w.number(max(width*w.scale, thinnest) * pointsPerMM)
	w.write("w\n")
}

// curves appends path construction; closed runs are closed.
func (w *pdfWriter) curves(curves []Curve) {
	for _, run := range Runs(curves) {
		start, _ := run[0].Ends()
		w.coordinates(start)
		w.write("m\n")
		for _, c := range run {
			w.curve(c)
		}
		if closes(run) {
			w.write("h\n")
		}
	}
}

func (w *pdfWriter) curve(c Curve) {
	switch c := c.(type) {
	case Line:
		w.coordinates(c.B)
		w.write("l\n")
	case Bezier:
		w.bezier(c)
	case Arc:
		for _, b := range ArcBeziers(c) {
			w.bezier(b)
		}
	}
}

func (w *pdfWriter) bezier(b Bezier) {
	w.coordinates(b.C1)
	w.coordinates(b.C2)
	w.coordinates(b.B)
	w.write("c\n")
}

// ArcBeziers is an arc as cubic Béziers of at most 45 degrees each, which leave
// a circle by less than 5e-6 of its radius.
func ArcBeziers(a Arc) []Bezier {
	pieces := max(1, int(math.Ceil(math.Abs(a.Sweep)/(math.Pi/4)-1e-9)))
	step := a.Sweep / float64(pieces)
	handle := 4.0 / 3 * math.Tan(step/4)
	tangent := func(t float64) Point {
		return turned(Point{-a.RX * math.Sin(t), a.RY * math.Cos(t)}, a.Tilt).Times(handle)
	}
	list := make([]Bezier, pieces)
	for i := range list {
		from := a.Start + float64(i)*step
		to := from + step
		p, q := a.At(from), a.At(to)
		list[i] = Bezier{p, p.Plus(tangent(from)), q.Minus(tangent(to)), q}
	}
	return list
}

func (w *pdfWriter) text(t Text) {
	if t.Words == "" {
		return
	}
	ink := cmp.Or(t.Ink, Ink)
	from := t.baseline()
	pieces := t.pieces()
	w.write("q\n")
	if t.Turn != 0 {
		w.turn(t.At, t.Turn)
	}
	if t.Halo {
		w.colour(Paper, "RG")
		w.lineWidth(haloWidth * t.Height)
		for _, p := range pieces {
			if p.words != "" {
				w.words(p.words, Point{from.X + p.offset, from.Y}, t, Paper, strokeLetters)
			}
		}
	}
	for _, p := range pieces {
		at := Point{from.X + p.offset, from.Y}
		if p.words != "" {
			w.words(p.words, at, t, ink, fillLetters)
			continue
		}
		w.colour(ink, "RG")
		w.lineWidth(t.stroke())
		w.curves(p.symbol.placed(at, t.Height, 0, t.At))
		w.write("S\n")
	}
	w.write("Q\n")
}

// Text rendering modes of PDF.
const (
	fillLetters   = 0
	strokeLetters = 2 // fill, then stroke
)

// words sets letters in a colour and a rendering mode.
func (w *pdfWriter) words(words string, at Point, t Text, ink Colour, mode int) {
	w.colour(ink, "rg")
	place := w.page(at)
	w.out = append(strconv.AppendInt(w.out, int64(mode), 10), " Tr "...)
	w.out = w.letters.Show(w.out, t.Face, FontSize(t.Height)*w.k, place.X, place.Y, words)
}

// turn rotates what follows counter-clockwise about a point of the picture.
func (w *pdfWriter) turn(about Point, angle float64) {
	p := w.page(about)
	sin, cos := math.Sincos(angle)
	for _, v := range []float64{cos, sin, -sin, cos} {
		w.out = append(strconv.AppendFloat(w.out, v, 'f', 8, 64), ' ')
	}
	w.number(p.X - p.X*cos + p.Y*sin)
	w.number(p.Y - p.X*sin - p.Y*cos)
	w.write("cm\n")
}
