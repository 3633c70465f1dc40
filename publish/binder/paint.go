package binder

import (
	"bytes"
	"encoding/gob"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jung-kurt/gofpdf"

	"plansheaf/publish/picture"
)

// A painter writes leaves through gofpdf.
type painter struct {
	pdf    *gofpdf.Fpdf
	fonts  *fonts
	links  map[string]int // by anchor
	images map[string]bool
	set    style // the font that the page has now; zero: unknown
}

// errNumber means that a mark's place is no number; it is a fault of ours.
var errNumber = errors.New("a mark has no finite place")

// paint writes the leaves as a PDF without outline and metadata.
func (c *composer) paint(b *book) ([]byte, error) {
	pdf := gofpdf.New("P", "mm", "A4", "")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.SetCatalogSort(true)
	pdf.SetCompression(true)
	// gofpdf asks the clock for dates that are not set; the finishing pass writes
	// the plan's own.
	pdf.SetCreationDate(time.Unix(0, 0).UTC())
	pdf.SetModificationDate(time.Unix(0, 0).UTC())
	picture.RegisterFonts(pdf, facesOf(b)...)
	p := &painter{pdf: pdf, fonts: c.fonts, links: map[string]int{}, images: map[string]bool{}}
	p.anchors(b)
	for i := range b.leaves {
		if err := p.leaf(&b.leaves[i]); err != nil {
			return nil, fmt.Errorf("leaf %d: %w", i+1, err)
		}
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	return out.Bytes(), nil
}

// facesOf lists the faces that the leaves use: an unused one would still weigh
// several kilobytes.
func facesOf(b *book) []picture.Face {
	var used [faceCount]bool
	for _, l := range b.leaves {
		for _, m := range l.marks {
			switch m := m.(type) {
			case textMark:
				used[m.style.face] = true
			case sideMark:
				used[m.style.face] = true
			case watermark:
				used[m.style.face] = true
			case symbolMark:
				used[regular] = true
			case vectorMark:
				for _, l := range m.words {
					for _, r := range l.runs {
						used[r.style.face] = true
					}
				}
			case pictureMark:
				for _, f := range picture.Faces(m.picture.Marks) {
					used[f] = true
				}
			}
		}
	}
	var faces []picture.Face
	for i, u := range used {
		if u {
			faces = append(faces, faceSpecs[i].picture)
		}
	}
	if len(faces) == 0 {
		faces = []picture.Face{picture.Sans}
	}
	return faces
}

// anchors gives every place that a link leads to its link number. A link to a
// place that no leaf holds is not written: gofpdf would make it invalid.
func (p *painter) anchors(b *book) {
	for i, l := range b.leaves {
		for _, m := range l.marks {
			if a, ok := m.(anchorMark); ok {
				if _, known := p.links[a.name]; !known {
					id := p.pdf.AddLink()
					// A little above the place, so that readers show its top.
					p.pdf.SetLink(id, max(0, a.y-4), i+1)
					p.links[a.name] = id
				}
			}
		}
	}
}

func (p *painter) leaf(l *leaf) error {
	// gofpdf wants sizes portrait and turns them by the letter.
	if l.width > l.height {
		p.pdf.AddPageFormat("L", gofpdf.SizeType{Wd: l.height, Ht: l.width})
	} else {
		p.pdf.AddPageFormat("P", gofpdf.SizeType{Wd: l.width, Ht: l.height})
	}
	p.set = style{}
	for _, m := range l.marks {
		if box := m.box(p.fonts); !finite(box.x, box.y, box.w, box.h) {
			return fmt.Errorf("%T at %v: %w", m, box, errNumber)
		}
		if err := p.mark(m, l.height); err != nil {
			return err
		}
	}
	return p.pdf.Error()
}

func (p *painter) mark(m mark, height float64) error {
	pdf := p.pdf
	switch m := m.(type) {
	case textMark:
		p.words(m)
	case sideMark:
		p.turned(textMark(m), 90)
	case watermark:
		p.turned(m.textMark, m.turn)
	case ruleMark:
		p.rule(m)
	case boxMark:
		p.box(m)
	case alertMark:
		p.alert(m)
	case symbolMark:
		return p.symbol(m)
	case pictureMark:
		p.set = style{}
		return picture.DrawPDF(pdf, m.picture, picture.Point{X: m.x, Y: m.y}, m.scale)
	case imageMark:
		return p.image(m)
	case vectorMark:
		p.vector(m)
	case linkMark:
		if m.url != "" {
			pdf.LinkString(m.x, m.y, m.w, m.h, m.url)
		} else if id, known := p.links[m.anchor]; known {
			pdf.Link(m.x, m.y, m.w, m.h, id)
		}
	}
	return nil
}

func (p *painter) words(m textMark) {
	if m.words == "" {
		return
	}
	if p.set.face != m.style.face || p.set.size != m.style.size {
		spec := faceSpecs[m.style.face]
		p.pdf.SetFont(spec.family, spec.style, m.style.size)
	}
	if p.set != m.style {
		p.pdf.SetTextColor(m.style.ink.r, m.style.ink.g, m.style.ink.b)
		p.set = m.style
	}
	p.pdf.Text(m.x, m.y, m.words)
}

// turned writes words turned counter-clockwise about their start.
func (p *painter) turned(m textMark, degrees float64) {
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(degrees, m.x, m.y)
	p.set = style{}
	p.words(m)
	p.pdf.TransformEnd()
	p.set = style{}
}

func (p *painter) rule(m ruleMark) {
	p.pdf.SetDrawColor(m.ink.r, m.ink.g, m.ink.b)
	p.pdf.SetLineWidth(m.width)
	p.pdf.SetLineCapStyle("butt")
	if m.dashed {
		// Dots: dashes of no length with round ends.
		p.pdf.SetLineCapStyle("round")
		p.pdf.SetDashPattern([]float64{0.01, 1.89}, 0)
		defer p.pdf.SetDashPattern(nil, 0)
	}
	p.pdf.Line(m.x1, m.y1, m.x2, m.y2)
}

func (p *painter) box(m boxMark) {
	how := ""
	if m.fill != nil {
		p.pdf.SetFillColor(m.fill.r, m.fill.g, m.fill.b)
		how = "F"
	}
	if m.ink != nil {
		p.pdf.SetDrawColor(m.ink.r, m.ink.g, m.ink.b)
		p.pdf.SetLineWidth(m.width)
		p.pdf.SetLineCapStyle("butt")
		how += "D"
	}
	if how == "" {
		return
	}
	if m.radius > 0 {
		p.path(picture.RoundRectangle(picture.Point{X: m.x, Y: m.y}, m.w, m.h, m.radius), how)
		return
	}
	p.pdf.Rect(m.x, m.y, m.w, m.h, how)
}

// path draws a closed run of curves; gofpdf's own arcs are inaccurate and its
// rounded rectangles leave the graphics state open.
func (p *painter) path(curves []picture.Curve, how string) {
	p.follow(curves)
	p.pdf.ClosePath()
	p.pdf.DrawPath(how)
}

// follow adds curves to the current path.
func (p *painter) follow(curves []picture.Curve) {
	for i, c := range curves {
		from, to := c.Ends()
		if i == 0 {
			p.pdf.MoveTo(from.X, from.Y)
		}
		switch c := c.(type) {
		case picture.Arc:
			for _, b := range picture.ArcBeziers(c) {
				p.pdf.CurveBezierCubicTo(b.C1.X, b.C1.Y, b.C2.X, b.C2.Y, b.B.X, b.B.Y)
			}
		case picture.Bezier:
			p.pdf.CurveBezierCubicTo(c.C1.X, c.C1.Y, c.C2.X, c.C2.Y, c.B.X, c.B.Y)
		default:
			p.pdf.LineTo(to.X, to.Y)
		}
	}
}

// alert draws the safety alert symbol.
func (p *painter) alert(m alertMark) {
	ink, ground := m.ink, m.ground
	p.pdf.SetFillColor(ink.r, ink.g, ink.b)
	p.path(picture.Polygon(picture.Point{X: m.x + m.w/2, Y: m.y}, picture.Point{X: m.x + m.w, Y: m.y + m.h},
		picture.Point{X: m.x, Y: m.y + m.h}), "F")
	p.pdf.SetFillColor(ground.r, ground.g, ground.b)
	middle, bar := m.x+m.w/2, m.h*0.13
	p.pdf.Rect(middle-bar/2, m.y+m.h*0.36, bar, m.h*0.33, "F")
	p.pdf.Rect(middle-bar/2, m.y+m.h*0.77, bar, bar, "F")
}

// vector draws an SVG image, clipped to its own paper.
func (p *painter) vector(m vectorMark) {
	pdf := p.pdf
	pdf.ClipRect(m.x, m.y, m.vector.width*m.scale, m.vector.height*m.scale, false)
	shift := picture.Point{X: m.x, Y: m.y}
	for i, s := range m.vector.shapes {
		if s.words != "" {
			p.vectorWords(m, i, s)
			continue
		}
		how := ""
		if s.fill != nil {
			pdf.SetFillColor(s.fill.r, s.fill.g, s.fill.b)
			how = "F"
		}
		if s.stroke != nil && s.width > 0 {
			pdf.SetDrawColor(s.stroke.r, s.stroke.g, s.stroke.b)
			pdf.SetLineWidth(s.width * m.scale)
			dashes := make([]float64, len(s.dashes))
			for n, d := range s.dashes {
				dashes[n] = d * m.scale
			}
			pdf.SetDashPattern(dashes, 0)
			how += "D"
		}
		if how == "" {
			continue
		}
		if s.evenOdd && s.fill != nil {
			how += "*"
		}
		for _, o := range s.outlines {
			p.follow(picture.MoveCurves(o.curves, m.scale, shift))
			if o.closed {
				pdf.ClosePath()
			}
		}
		pdf.DrawPath(how)
		pdf.SetDashPattern(nil, 0)
	}
	pdf.ClipEnd()
	p.set = style{}
}

// vectorWords writes one text of an SVG image.
func (p *painter) vectorWords(m vectorMark, i int, s shape) {
	l := m.words[i]
	x := s.at.X
	switch s.anchor {
	case "middle":
		x -= l.width / 2
	case "end":
		x -= l.width
	}
	for _, r := range l.runs {
		look := r.style
		look.size *= m.scale
		if r.words != "" && look.size > 0.1 {
			p.set = style{}
			p.words(textMark{m.x + x*m.scale, m.y + s.at.Y*m.scale, strings.ReplaceAll(r.words, string(noBreak), " "), look})
		}
		x += p.fonts.width(r.words, r.style.face, r.style.size)
	}
}

// symbol draws a sign that no font has, as package picture draws it.
func (p *painter) symbol(m symbolMark) error {
	p.set = style{}
	capital := capitalHeight(m.style.size)
	drawn := &picture.Picture{Name: "symbol", Title: "symbol", Width: 2 * capital, Height: 2 * capital}
	drawn.Add(picture.Text{At: picture.Point{Y: 1.5 * capital}, Words: string(m.symbol), Height: capital})
	return picture.DrawPDF(p.pdf, drawn, picture.Point{X: m.x, Y: m.y - 1.5*capital}, 1)
}

// image places an image, registering it at first use. ImageOptions would open a
// file for a name that is not registered.
func (p *painter) image(m imageMark) error {
	options := gofpdf.ImageOptions{ImageType: m.image.kind}
	if !p.images[m.image.name] {
		info := p.pdf.RegisterImageOptionsReader(m.image.name, options, bytes.NewReader(m.image.data))
		if err := p.pdf.Error(); err != nil {
			return fmt.Errorf("register image: %w", err)
		}
		if err := distinct(info, len(p.images)); err != nil {
			return fmt.Errorf("register image: %w", err)
		}
		p.images[m.image.name] = true
	}
	p.pdf.ImageOptions(m.image.name, m.x, m.y, m.w, m.h, false, options, 0, "")
	return p.pdf.Error()
}

// distinct makes an image's width differ from all others' by a millionth of a
// pixel: gofpdf writes images of equal width in random order. The width that is
// written stays a whole number.
func distinct(info *gofpdf.ImageInfoType, number int) error {
	data, err := info.GobEncode()
	if err != nil {
		return err
	}
	var (
		pixels, mask, palette []byte
		n, bits               int
		width, height         float64
		space, filter, params string
		transparent           []int
		scale, dpi            float64
	)
	fields := []any{&pixels, &mask, &n, &width, &height, &space, &palette, &bits, &filter, &params, &transparent, &scale, &dpi}
	decoder := gob.NewDecoder(bytes.NewReader(data))
	for _, f := range fields {
		if err := decoder.Decode(f); err != nil {
			return err
		}
	}
	width += float64(number) * 1e-6
	var out bytes.Buffer
	encoder := gob.NewEncoder(&out)
	for _, f := range fields {
		if err := encoder.Encode(f); err != nil {
			return err
		}
	}
	return info.GobDecode(out.Bytes())
}
