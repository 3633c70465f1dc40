package picture

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

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
// face that is registered and then not used still costs some 8 kB. DrawPDF needs
// those that its picture uses: see Faces.
func RegisterFonts(pdf *gofpdf.Fpdf, use ...Face) {
	if len(use) == 0 {
		use = []Face{Sans, SansBold, SansOblique, SansBoldOblique, Mono, MonoBold}
	}
	for _, f := range use {
		// gofpdf writes into the slice it is given.
		pdf.AddUTF8FontFromBytes(pdfFonts[f].family, pdfFonts[f].style, slices.Clone(f.data()))
	}
}

// Faces lists the faces that the marks are lettered in, in order.
func Faces(marks []Mark) []Face {
	var used [MonoBold + 1]bool
	var walk func([]Mark)
	walk = func(marks []Mark) {
		for _, m := range marks {
			switch m := m.(type) {
			case Text:
				if m.Face >= Sans && m.Face <= MonoBold {
					used[m.Face] = true
				}
			case Group:
				walk(m.Marks)
			case Clip:
				walk(m.Marks)
			}
		}
	}
	walk(marks)
	var list []Face
	for f, u := range used {
		if u {
			list = append(list, Face(f))
		}
	}
	return list
}

// thinnest is the narrowest line that a picture drawn small keeps, in
// millimetres on paper; home printers lose anything finer.
const thinnest = 0.1

// DrawPDF draws the picture into the document's current page, its top-left
// corner at at (millimetres from the page's top-left corner), everything
// stretched by scale: 1 is true size. The document must measure in millimetres,
// hold a page, and know the fonts (RegisterFonts). Line width, dashes and
// colours are as before when it returns; the current font is not.
//
// Errors are those of Check, and the document's own.
func DrawPDF(pdf *gofpdf.Fpdf, p *Picture, at Point, scale float64) error {
	if err := Check(p); err != nil {
		return fmt.Errorf("draw into the PDF: %w", err)
	}
	var c checker
	c.point(at)
	c.finite(scale)
	if !(scale > 0) {
		c.fail("scale %v", scale)
	}
	if pdf.PageNo() == 0 {
		c.err = errNoPage
	}
	if c.err != nil {
		return fmt.Errorf("draw picture %q into the PDF: %w", p.Name, c.err)
	}
	_, height := pdf.GetPageSize()
	w := &pdfWriter{pdf: pdf, group: p.LineGroup(), k: pdf.GetConversionRatio(), height: height, at: at, scale: scale}
	pdf.TransformBegin()
	pdf.RawWriteStr("1 J 1 j [] 0 d")
	w.marks(p.Marks)
	w.flush()
	pdf.TransformEnd()
	if err := pdf.Error(); err != nil {
		return fmt.Errorf("draw picture %q into the PDF: %w", p.Name, err)
	}
	return nil
}

// pdfWriter writes page content itself: gofpdf's own circles are inaccurate and
// its lines are rounded more coarsely. Only text goes through gofpdf, which
// must know what letters to embed.
type pdfWriter struct {
	pdf    *gofpdf.Fpdf
	out    strings.Builder
	group  float64
	k      float64 // points in a millimetre
	height float64 // of the page, mm
	at     Point
	scale  float64
}

// flush hands on what was written, before gofpdf writes something itself.
func (w *pdfWriter) flush() {
	if w.out.Len() > 0 {
		w.pdf.RawWriteStr(strings.TrimSuffix(w.out.String(), "\n"))
		w.out.Reset()
	}
}

// page is a point of the picture in millimetres on the page.
func (w *pdfWriter) page(p Point) Point { return w.at.Plus(p.Times(w.scale)) }

// coordinates appends a point in the PDF's points, y up.
func (w *pdfWriter) coordinates(p Point) {
	p = w.page(p)
	w.number(p.X * w.k)
	w.number((w.height - p.Y) * w.k)
}

// number appends a number and a blank; four decimals of a point are 0.04 µm.
func (w *pdfWriter) number(v float64) {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	s = strings.TrimRight(s, "0")
	w.out.WriteString(strings.TrimSuffix(s, "."))
	w.out.WriteByte(' ')
}

// colour appends a colour with its operator: RG to stroke, rg to fill.
func (w *pdfWriter) colour(c Colour, operator string) {
	light := swatches[c].light
	for _, v := range []uint8{light.r, light.g, light.b} {
		w.out.WriteString(strconv.FormatFloat(float64(v)/255, 'f', 3, 64))
		w.out.WriteByte(' ')
	}
	w.out.WriteString(operator)
	w.out.WriteByte('\n')
}

func (w *pdfWriter) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Path:
			w.path(m)
		case Text:
			w.text(m)
		case Group:
			before := w.at
			w.at = w.page(m.Shift)
			w.marks(m.Marks)
			w.at = before
		case Clip:
			w.out.WriteString("q\n")
			w.curves(m.Outline)
			w.out.WriteString("W n\n")
			w.marks(m.Marks)
			w.out.WriteString("Q\n")
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
		w.out.WriteString("f*\n")
	}
	if !line {
		return
	}
	w.colour(cmp.Or(p.Ink, style.ink), "RG")
	width := p.Line.Width(w.group)
	w.lineWidth(width)
	if style.dashes == nil {
		w.curves(p.Curves)
		w.out.WriteString("S\n")
		return
	}
	w.out.WriteString("0 J\n") // round ends would lengthen every dash
	for _, s := range strokes(p.Curves, style.dashes, width) {
		w.out.WriteByte('[')
		for _, d := range s.dashes {
			w.number(d * w.scale * w.k)
		}
		w.out.WriteString("] ")
		w.number(s.phase * w.scale * w.k)
		w.out.WriteString("d\n")
		w.curves(s.curves)
		w.out.WriteString("S\n")
	}
	w.out.WriteString("1 J [] 0 d\n")
}

func (w *pdfWriter) lineWidth(width float64) {
	w.number(max(width*w.scale, thinnest) * w.k)
	w.out.WriteString("w\n")
}

// curves appends path construction; closed runs are closed.
func (w *pdfWriter) curves(curves []Curve) {
	for _, run := range Runs(curves) {
		start, _ := run[0].Ends()
		w.coordinates(start)
		w.out.WriteString("m\n")
		for _, c := range run {
			w.curve(c)
		}
		if closes(run) {
			w.out.WriteString("h\n")
		}
	}
}

func (w *pdfWriter) curve(c Curve) {
	switch c := c.(type) {
	case Line:
		w.coordinates(c.B)
		w.out.WriteString("l\n")
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
	w.out.WriteString("c\n")
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
	w.out.WriteString("q\n")
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
		w.out.WriteString("S\n")
	}
	w.out.WriteString("Q\n")
}

// Text rendering modes of PDF.
const (
	fillLetters   = 0
	strokeLetters = 2 // fill, then stroke
)

// words sets letters through gofpdf, which must know what to embed, in a colour
// and a rendering mode.
func (w *pdfWriter) words(words string, at Point, t Text, ink Colour, mode int) {
	// gofpdf leaves the colour out where it takes it for the fill colour, of which
	// it does not know what was written here.
	w.colour(ink, "rg")
	w.flush()
	font, place, c := pdfFonts[t.Face], w.page(at), swatches[ink].light
	r, g, b := w.pdf.GetTextColor()
	w.pdf.SetFont(font.family, font.style, FontSize(t.Height)*w.scale*w.k)
	w.pdf.SetTextRenderingMode(mode)
	w.pdf.SetTextColor(int(c.r), int(c.g), int(c.b))
	w.pdf.Text(place.X, place.Y, words)
	w.pdf.SetTextColor(r, g, b)
}

// turn rotates what follows counter-clockwise about a point of the picture.
func (w *pdfWriter) turn(about Point, angle float64) {
	p := w.page(about)
	x, y := p.X*w.k, (w.height-p.Y)*w.k
	sin, cos := math.Sincos(angle)
	for _, v := range []float64{cos, sin, -sin, cos} {
		w.out.WriteString(strconv.FormatFloat(v, 'f', 8, 64))
		w.out.WriteByte(' ')
	}
	w.number(x - x*cos + y*sin)
	w.number(y - x*sin - y*cos)
	w.out.WriteString("cm\n")
}
