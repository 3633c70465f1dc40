package binder

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// Sizes of pictures within the text, in millimetres.
const (
	smallFigure  = 52.0 // width of a thumbnail beside text
	figureShare  = 0.6  // greatest height, as a share of the text frame's
	besideMost   = 120.0
	screenPixels = 96.0 / 25.4 // pixels in a millimetre at an image's natural size
)

// A shown is a picture or an image, scaled and ready to be placed.
type shown struct {
	width, height float64
	at            func(x, y float64) mark
}

// fit scales a figure's picture or image into width by height millimetres, never
// above its natural size. It gives false, having said why, where there is
// nothing to show.
func (c *composer) fit(f page.Figure, width, height float64) (shown, bool) {
	switch {
	case f.Picture != nil:
		return c.fitPicture(f.Picture, width, height)
	case f.Image != nil:
		return c.fitImage(f.Image, width, height)
	}
	return shown{}, false
}

func (c *composer) fitPicture(p *picture.Picture, width, height float64) (shown, bool) {
	if !c.usable(p) {
		return shown{}, false
	}
	scale := min(1, width/p.Width, height/p.Height)
	return shown{p.Width * scale, p.Height * scale, func(x, y float64) mark {
		return pictureMark{x, y, scale, p, false}
	}}, true
}

// usable reports whether a picture can be drawn, and says why not. Letters that
// no font has are reported; the picture shows U+FFFD for them.
func (c *composer) usable(p *picture.Picture) bool {
	if good, known := c.checked[p]; known {
		return good
	}
	seen := memo.Sure(c.kept, "binder.look", func() look { return looked(p) }, c.keys.of(p))
	c.checked[p] = c.sound(seen)
	return c.checked[p]
}

// A look at a picture tells what is wrong with it.
type look struct {
	Fault   string // why it cannot be drawn; empty: it can
	Missing []unshown
}

// unshown is a letter that no font has, and the words that it stands in.
type unshown struct {
	Letter rune
	Words  string
}

func looked(p *picture.Picture) (out look) {
	err := picture.Check(p)
	if err == nil && (p.Width < 0.1 || p.Height < 0.1 || p.Width > farthest || p.Height > farthest) {
		err = fmt.Errorf("picture %q: %.4g by %.4g mm is no size for paper", p.Name, p.Width, p.Height)
	}
	if err != nil {
		out.Fault = err.Error()
		return out
	}
	out.letters(p.Marks)
	return out
}

// sound reports whether there is no fault, and says what there is.
func (c *composer) sound(l look) bool {
	if l.Fault != "" {
		c.problem(Problem{Kind: BadPicture, Text: l.Fault})
	}
	for _, m := range l.Missing {
		c.report(MissingGlyph, m.Letter, m.Words)
	}
	return l.Fault == ""
}

// farthest is the longest side of a page that PDF readers must accept (14,400
// points, PDF 1.7 annex C), in millimetres.
const farthest = 5080.0

// letters finds what a picture's words hold that no font has.
func (l *look) letters(marks []picture.Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case picture.Text:
			for _, r := range picture.MissingGlyphs(m.Words) {
				l.Missing = append(l.Missing, unshown{r, m.Words})
			}
		case picture.Group:
			l.letters(m.Marks)
		case picture.Clip:
			l.letters(m.Marks)
		}
	}
}

func (c *composer) fitImage(image *page.Image, width, height float64) (shown, bool) {
	if isVector(image) {
		return c.fitVector(image, width, height)
	}
	r, err := c.images.develop(image.Data)
	if err != nil {
		c.problem(Problem{Kind: BadImage, Text: fmt.Sprintf("image %q: %v", image.Path, err)})
		return shown{}, false
	}
	w, h := float64(r.Width)/screenPixels, float64(r.Height)/screenPixels
	scale := min(1, width/w, height/h)
	return shown{w * scale, h * scale, func(x, y float64) mark {
		return imageMark{rect{x, y, w * scale, h * scale}, r}
	}}, true
}

// isVector reports whether an image says that it is SVG.
func isVector(image *page.Image) bool {
	return strings.HasSuffix(strings.ToLower(image.Path), ".svg")
}

func (c *composer) fitVector(image *page.Image, width, height float64) (shown, bool) {
	v, err := readVector(image.Data)
	if err != nil {
		c.problem(Problem{Kind: BadImage, Text: fmt.Sprintf("image %q: %v", image.Path, err)})
		return shown{}, false
	}
	words := map[int]textLine{}
	for i, s := range v.shapes {
		if s.words == "" {
			continue
		}
		st := style{regular, s.size, *s.fill}
		if s.bold {
			st.face = bold
		}
		w := &writer{composer: c}
		w.text(s.words, st, destination{})
		l := textLine{runs: w.out}
		for n, r := range l.runs {
			l.runs[n].words = strings.ReplaceAll(r.words, string(breakHere), "")
			l.width += c.runWidth(&l.runs[n])
		}
		words[i] = l
	}
	scale := min(1, width/v.width, height/v.height)
	return shown{v.width * scale, v.height * scale, func(x, y float64) mark {
		return vectorMark{x, y, scale, v, words}
	}}, true
}

// figure composes a picture with its caption, never parted.
func (c *composer) figure(f page.Figure, col column) []atom {
	width := col.width
	if f.Small {
		width = min(width, smallFigure)
	}
	whole := c.captioned(f, column{col.x, width, col.size, col.depth}, c.paper.room()*figureShare)
	return spaced([]atom{whole}, 3.4)
}

// captioned is a picture with its caption below, as one atom of at most height
// millimetres for the picture. An image that cannot be shown leaves its words.
func (c *composer) captioned(f page.Figure, col column, height float64) atom {
	var atoms []atom
	if s, ok := c.fit(f, col.width, height); ok {
		marks := []mark{s.at(col.x, 0)}
		if to, _ := c.target(f.Link); to.anchorOrURL() {
			marks = append(marks, linkMark{rect{col.x, 0, s.width, s.height}, to})
		}
		atoms = append(atoms, atom{height: s.height, marks: marks, after: 1.6})
	} else if f.Image != nil {
		atoms = append(atoms, c.absent(f.Image, col)...)
	}
	caption := c.set(c.runs(f.Caption, style{italic, smallSize + 0.6, faintInk}, false),
		column{col.x, min(col.width, measure), smallSize + 0.6, col.depth})
	caption = c.shortened(caption, c.paper.room()-height-col.framePads()-10)
	return stacked(append(atoms, caption...))
}

// absent stands where an image cannot be printed: its alternative text and where
// to find it.
func (c *composer) absent(image *page.Image, col column) []atom {
	text := c.say("Picture not printed: %s", image.Path)
	if image.Alt != "" {
		text = image.Alt + " (" + text + ")"
	}
	const pad = 2.0
	w := &writer{composer: c}
	w.text(text, style{italic, smallSize, faintInk}, destination{})
	inner := column{col.x + pad, min(col.width, measure) - 2*pad, smallSize, col.depth}
	set := c.shortened(c.set(w.out, inner), c.paper.room()/3)
	edge := hairInk
	box := col
	box.width = inner.width + 2*pad
	return framed(closed(append([]atom{gap(pad)}, set...), pad), panel(box, ground, &edge))
}

// besideText sets a small figure to the right of the block that follows it, if
// that block is text that leaves room; nil otherwise.
func (c *composer) besideText(f page.Figure, next page.Block, col column) []atom {
	const between = 6.0
	switch next.(type) {
	case page.Paragraph, page.Facts, page.List:
	default:
		return nil
	}
	if !f.Only.Fits(c.choices) || col.width < 2*smallFigure+between {
		return nil
	}
	right := column{col.x + col.width - smallFigure, smallFigure, col.size, col.depth + 1}
	picture := c.captioned(f, right, besideMost)
	left := col
	left.width -= smallFigure + between
	left.depth++
	text := c.block(next, left)
	if len(text) == 0 || size(text) > besideMost || picture.height > besideMost {
		return nil
	}
	return spaced([]atom{beside(stacked(text), picture)}, 3)
}

// finite reports whether all values are numbers that paper can hold.
func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.Abs(v) > 2*farthest {
			return false
		}
	}
	return true
}
