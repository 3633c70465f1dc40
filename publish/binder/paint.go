package binder

import (
	"bytes"
	"encoding/gob"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/jung-kurt/gofpdf"

	"plansheaf/design/memo"
	"plansheaf/publish/picture"
)

// A painter writes leaves: through gofpdf only where it knows what the file needs, links and
// images.
type painter struct {
	pen
	pdf      *gofpdf.Fpdf
	kept     *memo.Store
	keys     keyring
	deflater *deflater
	fonts    *fonts
	links    map[string]int // by anchor
	images   map[string]bool
	drawn    map[shownAt]*form
	forms    []*form         // each once
	named    map[string]bool // the forms' names
	contents []content       // of the leaves
}

// content is what a leaf shows, behind what gofpdf writes of it, in order: all up to its
// number, its number, and what stands behind, which is the same on many leaves. Each sets all
// that it needs.
type content [3][]byte

// The pieces of a content.
const (
	bodyPiece = iota
	numberPiece
	tailPiece
)

// shownAt is a picture at a scale.
type shownAt struct {
	picture *picture.Picture
	scale   float64
}

// painted are the leaves and all that they show.
type painted struct {
	raw      []byte // what gofpdf wrote
	contents []content
	fonts    [faceCount]*cutFont // nil: not used
	forms    []*form
	kept     *memo.Store
	deflater *deflater
}

// errNumber means that a mark's place is no number; it is a fault of ours.
var errNumber = errors.New("a mark has no finite place")

// paint paints the leaves, without outline and metadata.
func (c *composer) paint(b *book) (*painted, error) {
	p := &painter{pdf: newPDF(), kept: c.kept, keys: c.keys, deflater: &deflater{}, fonts: c.fonts,
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
	out := &painted{raw: raw.Bytes(), contents: p.contents, forms: p.forms, kept: p.kept, deflater: p.deflater}
	for which, spec := range faceSpecs {
		if letters := p.letters[spec.picture]; letters != "" {
			font, err := cutDown(c.kept, face(which), letters)
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
	p.begin(l.height)
	var all content
	piece := bodyPiece
	for _, m := range l.marks {
		apart, is := m.(apartMark)
		if is {
			m = apart.mark
		}
		if is && piece == bodyPiece || !is && piece == numberPiece {
			all[piece] = p.pieceTaken()
			piece++
		}
		if err := p.checked(m); err != nil {
			return err
		}
		if err := p.mark(m); err != nil {
			return err
		}
	}
	all[piece] = p.pieceTaken()
	p.contents = append(p.contents, all)
	return p.pdf.Error()
}

// checked tells of a mark without a place.
func (p *painter) checked(m mark) error {
	if t, words := m.(textMark); words { // most marks are words, and their length need not be known
		if finite(t.x, t.y, t.style.size) {
			return nil
		}
	}
	if box := m.box(p.fonts); !finite(box.x, box.y, box.w, box.h) {
		return fmt.Errorf("%T at %v: %w", m, box, errNumber)
	}
	return nil
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
	corner := picture.Point{X: m.x, Y: m.y + m.picture.Height*m.scale}
	if m.own {
		return p.inline(m.picture, m.scale, corner)
	}
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
	p.stand(corner)
	p.write("/" + f.Name + " Do Q\n")
	return nil
}

// inline draws a picture into the leaf itself, its lower left corner at a place.
func (p *painter) inline(drawing *picture.Picture, scale float64, corner picture.Point) error {
	f, err := picture.PDF(drawing, scale)
	if err != nil {
		return err
	}
	p.letters.Join(f.Letters)
	p.stand(corner)
	p.out = append(p.out, f.Content...)
	p.write("Q\n")
	return nil
}

func (p *painter) words(m textMark) {
	if m.words != "" {
		p.fill(m.style.ink)
		p.show(m)
	}
}

// turned writes words turned counter-clockwise about their start.
func (p *painter) turned(m textMark, degrees float64) {
	p.turn(picture.Point{X: m.x, Y: m.y}, degrees*math.Pi/180)
	m.x, m.y = 0, p.height
	p.words(m)
	p.restore()
}

func (p *painter) rule(m ruleMark) {
	p.stroke(m.ink, m.width)
	if m.dashed {
		// Dots: dashes of no length with round ends.
		p.write("1 J ")
		p.dash(0.01, 1.89)
	}
	p.move(picture.Point{X: m.x1, Y: m.y1})
	p.lineTo(picture.Point{X: m.x2, Y: m.y2})
	p.write("S\n")
	if m.dashed {
		p.write("0 J ")
		p.dash()
	}
}

func (p *painter) box(m boxMark) {
	how := ""
	if m.fill != nil {
		p.fill(*m.fill)
		how = "f"
	}
	if m.ink != nil {
		p.stroke(*m.ink, m.width)
		how += "S"
	}
	if how == "" {
		return
	}
	if m.radius > 0 {
		p.follow(picture.RoundRectangle(picture.Point{X: m.x, Y: m.y}, m.w, m.h, m.radius))
		p.write("h ")
	} else {
		p.rectangle(m.rect)
	}
	p.write(paths[how] + "\n")
}

// paths are the operators that fill a path, stroke it, or both.
var paths = map[string]string{"f": "f", "S": "S", "fS": "B", "f*": "f*", "fS*": "B*"}

// alert draws the safety alert symbol.
func (p *painter) alert(m alertMark) {
	p.fill(m.ink)
	p.follow(picture.Polygon(picture.Point{X: m.x + m.w/2, Y: m.y}, picture.Point{X: m.x + m.w, Y: m.y + m.h},
		picture.Point{X: m.x, Y: m.y + m.h}))
	p.write("h f\n")
	p.fill(m.ground)
	middle, bar := m.x+m.w/2, m.h*0.13
	p.rectangle(rect{middle - bar/2, m.y + m.h*0.36, bar, m.h * 0.33})
	p.rectangle(rect{middle - bar/2, m.y + m.h*0.77, bar, bar})
	p.write("f\n")
}

// vector draws an SVG image, clipped to its own paper.
func (p *painter) vector(m vectorMark) {
	p.save()
	p.rectangle(rect{m.x, m.y, m.vector.width * m.scale, m.vector.height * m.scale})
	p.write("W n\n")
	shift := picture.Point{X: m.x, Y: m.y}
	for i, s := range m.vector.shapes {
		if s.words != "" {
			p.vectorWords(m, i, s)
			continue
		}
		how := ""
		if s.fill != nil {
			p.fill(*s.fill)
			how = "f"
		}
		if s.stroke != nil && s.width > 0 {
			p.stroke(*s.stroke, s.width*m.scale)
			dashes := make([]float64, len(s.dashes))
			for n, d := range s.dashes {
				dashes[n] = d * m.scale
			}
			p.dash(dashes...)
			how += "S"
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
				p.write("h ")
			}
		}
		p.write(paths[how] + "\n")
		p.dash()
	}
	p.restore()
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
	return p.inline(drawn, 1, picture.Point{X: m.x, Y: m.y + 0.5*capital})
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
	p.pdf.RawWriteStr(string(p.taken()))
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
