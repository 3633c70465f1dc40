package binder

import (
	"bytes"
	"math"

	"plansheaf/publish/picture"
)

// A pen writes the content of a leaf: operators of PDF (ISO 32000-1, annex A). It is given
// millimetres from the leaf's upper left corner.
type pen struct {
	out     []byte
	letters picture.Letters // that were set
	height  float64         // of the leaf, mm
	now     pens
}

// pens are the settings that the leaf has now, where they are known.
type pens struct {
	fills, strokes bool // whether the inks are known
	fill, stroke   colour
	width          float64 // mm; 0: not known
}

// begin begins a leaf.
func (p *pen) begin(height float64) {
	p.out, p.height, p.now = p.out[:0], height, pens{}
	p.write("0 J 0 j\n")
}

// taken is what was written since it was last asked; settings hold on.
func (p *pen) taken() []byte {
	out := bytes.Clone(p.out)
	p.out = p.out[:0]
	return out
}

// pieceTaken is what was written since it was last asked; what follows sets anew what it
// needs.
func (p *pen) pieceTaken() []byte {
	p.now = pens{}
	return p.taken()
}

func (p *pen) write(s string) { p.out = append(p.out, s...) }

// length writes millimetres as points, and a blank.
func (p *pen) length(mm float64) {
	p.out = append(picture.AppendPDFNumber(p.out, mm/mmPerPoint, 3), ' ')
}

func (p *pen) point(at picture.Point) {
	p.length(at.X)
	p.length(p.height - at.Y)
}

func (p *pen) move(to picture.Point) {
	p.point(to)
	p.write("m ")
}

func (p *pen) lineTo(to picture.Point) {
	p.point(to)
	p.write("l ")
}

func (p *pen) rectangle(r rect) {
	p.point(picture.Point{X: r.x, Y: r.y + r.h})
	p.length(r.w)
	p.length(r.h)
	p.write("re ")
}

func (p *pen) colour(c colour) {
	for _, v := range [...]uint8{c.r, c.g, c.b} {
		p.out = append(picture.AppendPDFNumber(p.out, float64(v)/255, 3), ' ')
	}
}

// fill sets the ink of areas and words.
func (p *pen) fill(c colour) {
	if !p.now.fills || p.now.fill != c {
		p.colour(c)
		p.write("rg ")
		p.now.fills, p.now.fill = true, c
	}
}

// stroke sets the ink and the width of lines.
func (p *pen) stroke(c colour, width float64) {
	if !p.now.strokes || p.now.stroke != c {
		p.colour(c)
		p.write("RG ")
		p.now.strokes, p.now.stroke = true, c
	}
	if p.now.width != width {
		p.length(width)
		p.write("w ")
		p.now.width = width
	}
}

// dash sets the lengths of dashes and gaps in turn; none: lines without gaps.
func (p *pen) dash(lengths ...float64) {
	p.write("[")
	for _, l := range lengths {
		p.length(l)
	}
	p.write("] 0 d\n")
}

// follow adds curves to the path.
func (p *pen) follow(curves []picture.Curve) {
	for i, c := range curves {
		from, to := c.Ends()
		if i == 0 {
			p.move(from)
		}
		switch c := c.(type) {
		case picture.Arc:
			for _, b := range picture.ArcBeziers(c) {
				p.bezier(b)
			}
		case picture.Bezier:
			p.bezier(c)
		default:
			p.lineTo(to)
		}
	}
}

func (p *pen) bezier(b picture.Bezier) {
	p.point(b.C1)
	p.point(b.C2)
	p.point(b.B)
	p.write("c ")
}

// show sets words in the ink of areas.
func (p *pen) show(m textMark) {
	p.out = p.letters.Show(p.out, faceSpecs[m.style.face].picture, m.style.size, m.x/mmPerPoint, (p.height-m.y)/mmPerPoint, m.words)
}

// save keeps the settings until restore.
func (p *pen) save() { p.write("q ") }

func (p *pen) restore() {
	p.write("Q\n")
	p.now = pens{}
}

// stand keeps the settings, and moves what follows up to the next Q so that the zero of its
// points comes to a place. What follows sets all that it needs.
func (p *pen) stand(at picture.Point) {
	p.write("q 1 0 0 1 ")
	p.point(at)
	p.write("cm\n")
}

// turn keeps the settings, and makes a place the leaf's lower left corner, turned
// counter-clockwise by radians.
func (p *pen) turn(about picture.Point, angle float64) {
	p.save()
	sin, cos := math.Sincos(angle)
	for _, v := range []float64{cos, sin, -sin, cos} {
		p.out = append(picture.AppendPDFNumber(p.out, v, 8), ' ')
	}
	p.point(about)
	p.write("cm\n")
}
