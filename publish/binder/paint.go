package binder

import (
	"bytes"
	"encoding/gob"
	"errors"
	"fmt"
	"strings"

	"github.com/jung-kurt/gofpdf"

	"plansheaf/design/memo"
	"plansheaf/publish/picture"
)

// A painter writes leaves: links, lines and images through gofpdf, words itself, since
// gofpdf's fonts are costly and the same from one run to the next, and pictures as forms.
type painter struct {
	pdf      *gofpdf.Fpdf
	kept     *memo.Store
	deflater *deflater
	fonts    *fonts
	links    map[string]int // by anchor
	images   map[string]bool
	letters  picture.Letters // that leaves and forms set
	drawn    map[shownAt]*form
	forms    []*form         // each once
	named    map[string]bool // the forms' names
	height   float64         // of the leaf, mm
	set      inkSet
}

// shownAt is a picture at a scale.
type shownAt struct {
	picture *picture.Picture
	scale   float64
}

// An inkSet is the ink that the page fills with now, where that is known.
type inkSet struct {
	known bool
	ink   colour
}

// painted are the leaves and all that they show.
type painted struct {
	raw      []byte              // what gofpdf wrote
	fonts    [faceCount]*cutFont // nil: not used
	forms    []*form
	deflater *deflater
}

// errNumber means that a mark's place is no number; it is a fault of ours.
var errNumber = errors.New("a mark has no finite place")

// paint paints the leaves, without outline and metadata.
func (c *composer) paint(b *book) (*painted, error) {
	p := &painter{pdf: newPDF(), kept: c.kept, deflater: &deflater{}, fonts: c.fonts,
		links: map[string]int{}, images: map[string]bool{}, drawn: map[shownAt]*form{}, named: map[string]bool{}}
	p.anchors(b)
	for i := range b.leaves {
		if err := p.leaf(&b.leaves[i]); err != nil {
			return nil, fmt.Errorf("leaf %d: %w", i+1, err)
		}
	}
	var raw bytes.Buffer
	if err := p.pdf.Output(&raw); err != nil {
		return nil, fmt.Errorf("write the PDF: %w", err)
	}
	out := &painted{raw: raw.Bytes(), forms: p.forms, deflater: p.deflater}
	for which, spec := range faceSpecs {
		if letters := p.letters[spec.picture]; letters != "" {
			font, err := cut(c.kept, face(which), letters)
			if err != nil {
				return nil, err
			}
			out.fonts[which] = &font
		}
	}
	return out, nil
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
	p.height, p.set = l.height, inkSet{}
	for _, m := range l.marks {
		if box := m.box(p.fonts); !finite(box.x, box.y, box.w, box.h) {
			return fmt.Errorf("%T at %v: %w", m, box, errNumber)
		}
		if err := p.mark(m); err != nil {
			return err
		}
	}
	return p.pdf.Error()
}

func (p *painter) mark(m mark) error {
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
		return p.picture(m)
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

// picture shows a picture, which is drawn at first use.
func (p *painter) picture(m pictureMark) error {
	f := p.drawn[shownAt{m.picture, m.scale}]
	if f == nil {
		var err error
		if f, err = p.form(m.picture, m.scale); err != nil {
			return err
		}
		p.drawn[shownAt{m.picture, m.scale}] = f
		if !p.named[f.Name] {
			p.named[f.Name] = true
			p.forms = append(p.forms, f)
		}
		p.letters.Join(f.Letters)
	}
	p.pdf.RawWriteStr("q " + p.standing(m.x, m.y+m.picture.Height*m.scale) + "/" + f.Name + " Do Q")
	return nil
}

// standing moves what follows so that its zero comes to x, y on the leaf.
func (p *painter) standing(x, y float64) string {
	out := picture.AppendPDFNumber([]byte("1 0 0 1 "), x/mmPerPoint, 4)
	out = picture.AppendPDFNumber(append(out, ' '), (p.height-y)/mmPerPoint, 4)
	return string(append(out, " cm "...))
}

func (p *painter) words(m textMark) {
	if m.words == "" {
		return
	}
	var out []byte
	if want := (inkSet{true, m.style.ink}); p.set != want {
		for _, v := range []int{want.ink.r, want.ink.g, want.ink.b} {
			out = append(picture.AppendPDFNumber(out, float64(v)/255, 3), ' ')
		}
		out, p.set = append(out, "rg "...), want
	}
	out = p.letters.Show(out, faceSpecs[m.style.face].picture, m.style.size, m.x/mmPerPoint, (p.height-m.y)/mmPerPoint, m.words)
	p.pdf.RawWriteStr(string(bytes.TrimSuffix(out, []byte("\n"))))
}

// turned writes words turned counter-clockwise about their start.
func (p *painter) turned(m textMark, degrees float64) {
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(degrees, m.x, m.y)
	p.words(m)
	p.pdf.TransformEnd()
	p.set = inkSet{}
}

// fill sets the ink that areas are filled with.
func (p *painter) fill(c colour) {
	p.pdf.SetFillColor(c.r, c.g, c.b)
	p.set = inkSet{true, c}
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
		p.fill(*m.fill)
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
	p.fill(m.ink)
	p.path(picture.Polygon(picture.Point{X: m.x + m.w/2, Y: m.y}, picture.Point{X: m.x + m.w, Y: m.y + m.h},
		picture.Point{X: m.x, Y: m.y + m.h}), "F")
	p.fill(m.ground)
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
			p.fill(*s.fill)
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
	p.set = inkSet{}
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
			p.words(textMark{m.x + x*m.scale, m.y + s.at.Y*m.scale, strings.ReplaceAll(r.words, string(noBreak), " "), look})
		}
		x += p.fonts.width(r.words, r.style.face, r.style.size)
	}
}

// symbol draws a sign that no font has, as package picture draws it.
func (p *painter) symbol(m symbolMark) error {
	capital := capitalHeight(m.style.size)
	drawn := &picture.Picture{Name: "symbol", Title: "symbol", Width: 2 * capital, Height: 2 * capital}
	drawn.Add(picture.Text{At: picture.Point{Y: 1.5 * capital}, Words: string(m.symbol), Height: capital})
	f, err := picture.PDF(drawn, 1)
	if err != nil {
		return err
	}
	p.letters.Join(f.Letters)
	p.pdf.RawWriteStr("q " + p.standing(m.x, m.y+0.5*capital) + string(f.Content) + "Q")
	return nil
}

// image places an image, registering it at first use. ImageOptions would open a
// file for a name that is not registered.
func (p *painter) image(m imageMark) error {
	options := gofpdf.ImageOptions{ImageType: m.image.Kind}
	if !p.images[m.image.Name] {
		info := p.pdf.RegisterImageOptionsReader(m.image.Name, options, bytes.NewReader(m.image.Data))
		if err := p.pdf.Error(); err != nil {
			return fmt.Errorf("register image: %w", err)
		}
		if err := distinct(info, len(p.images)); err != nil {
			return fmt.Errorf("register image: %w", err)
		}
		p.images[m.image.Name] = true
	}
	p.pdf.ImageOptions(m.image.Name, m.x, m.y, m.w, m.h, false, options, 0, "")
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
