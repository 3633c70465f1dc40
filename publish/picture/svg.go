package picture

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/ajstarks/svgo/float"
)

// SVG writes the picture as a file that stands alone: 1 unit is 1 mm, its paper
// is painted, its colours follow the reader's light or dark setting, and
// nothing outside is asked for. Errors are those of Check.
func SVG(p *Picture) ([]byte, error) { return writeSVG(p, true) }

// InlineSVG writes the picture as an <svg> element for the body of a page: no
// prolog, no style element, no paper. The page's style sheet must hold
// StyleSheet; ids are prefixed by the picture's name, so that several pictures
// share a page. Errors are those of SVG.
func InlineSVG(p *Picture) ([]byte, error) { return writeSVG(p, false) }

// prefix starts every class that the writers use.
const prefix = "pic-"

// StyleSheet is the CSS for the classes of InlineSVG. A theme sets the custom
// properties --pic-ink, --pic-paper, --pic-accent and so on, one for each
// Colour; what it leaves out keeps the light colours given here.
func StyleSheet() string {
	var b strings.Builder
	for _, c := range colours {
		value := swatches[c].light.hex()
		fmt.Fprintf(&b, ".%ss-%s{stroke:%s;stroke:var(--%s%s,%s)}", prefix, c, value, prefix, c, value)
		fmt.Fprintf(&b, ".%sf-%s{fill:%s;fill:var(--%s%s,%s)}\n", prefix, c, value, prefix, c, value)
	}
	b.WriteString("." + prefix + "none{fill:none}\n")
	b.WriteString("." + prefix + "text{stroke:none}\n")
	b.WriteString("." + prefix + "halo{paint-order:stroke;stroke-linejoin:round}\n")
	return b.String()
}

// darkSheet gives a lone file the dark colours where the reader prefers them; on
// paper it keeps the light ones.
func darkSheet() string {
	var b strings.Builder
	b.WriteString("@media screen and (prefers-color-scheme:dark){svg{")
	for _, c := range colours {
		if s := swatches[c]; s.light != s.dark {
			fmt.Fprintf(&b, "--%s%s:%s;", prefix, c, s.dark.hex())
		}
	}
	b.WriteString("}}\n")
	return b.String()
}

func (c rgb) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.r, c.g, c.b) }

// svgWriter holds one run over a picture that Check has passed.
type svgWriter struct {
	canvas  *svg.SVG
	out     bytes.Buffer
	picture *Picture
	ids     string // prefix of ids
	clips   int
}

func writeSVG(p *Picture, alone bool) ([]byte, error) {
	if err := Check(p); err != nil {
		return nil, fmt.Errorf("write SVG: %w", err)
	}
	w := &svgWriter{picture: p, ids: identifier(p.Name) + "-"}
	w.canvas = svg.New(&w.out)
	w.canvas.Decimals = 3
	w.head(alone)
	w.marks(p.Marks)
	w.canvas.End()
	return w.out.Bytes(), nil
}

// head opens the element. svgo's own opening tag has no room for the roles that
// a described picture needs, so the tag is written here, in svgo's manner.
func (w *svgWriter) head(alone bool) {
	p := w.picture
	if alone {
		w.out.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	}
	fmt.Fprintf(&w.out, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s"`,
		number(p.Width), number(p.Height), number(p.Width), number(p.Height))
	fmt.Fprintf(&w.out, ` role="img" class="%sroot" aria-labelledby="%stitle`, prefix, w.ids)
	if p.Description != "" {
		fmt.Fprintf(&w.out, ` %sdesc`, w.ids)
	}
	w.out.WriteString("\" stroke-linecap=\"round\" stroke-linejoin=\"round\" fill=\"none\" fill-rule=\"evenodd\">\n")
	fmt.Fprintf(&w.out, "<title id=\"%stitle\">%s</title>\n", w.ids, escape(cmp.Or(p.Title, p.Name)))
	if p.Description != "" {
		fmt.Fprintf(&w.out, "<desc id=\"%sdesc\">%s</desc>\n", w.ids, escape(p.Description))
	}
	if alone {
		w.canvas.Style("text/css", "\n"+StyleSheet()+darkSheet())
		w.canvas.Rect(0, 0, p.Width, p.Height, attribute("class", fillClass(Paper)))
	}
}

// identifier keeps of a name what an id may hold.
func identifier(name string) string {
	id := strings.Map(func(r rune) rune {
		if r < 0x80 && plainRune(r) {
			return r
		}
		return '-'
	}, name)
	if id == "" || id[0] >= '0' && id[0] <= '9' || id[0] == '-' || id[0] == '.' {
		id = "p" + id
	}
	return id
}

// attribute is a name and an escaped value; svgo takes an argument that holds
// "=" as a raw attribute.
func attribute(name, value string) string { return name + `="` + escape(value) + `"` }

var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// escape makes text safe within XML: markup is escaped and characters that XML
// cannot hold are replaced.
func escape(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < ' ' || r == 0x7f || r == 0xFFFE || r == 0xFFFF:
			return '\uFFFD'
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
	return escapes.Replace(text)
}

// number prints a length with up to three decimals, 1 µm on paper.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(s, "0")
	s = strings.TrimSuffix(s, ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func (w *svgWriter) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Path:
			w.path(m)
		case Text:
			w.text(m)
		case Group:
			w.group(m)
		case Clip:
			w.clip(m)
		}
	}
}

func fillClass(c Colour) string   { return prefix + "f-" + string(c) }
func strokeClass(c Colour) string { return prefix + "s-" + string(c) }

func (w *svgWriter) path(p Path) {
	if len(p.Curves) == 0 {
		return
	}
	style, line := lineStyles[p.Line]
	var classes []string
	if p.Class != "" {
		classes = append(classes, prefix+p.Class)
	}
	if p.Fill != "" && (!line || style.dashes != nil) {
		w.curves(p.Curves, append(classes, fillClass(p.Fill)), 0, stroke{})
	}
	if !line {
		return
	}
	ink := strokeClass(cmp.Or(p.Ink, style.ink))
	width := p.Line.Width(w.picture.LineGroup())
	classes = append(classes, prefix+style.class, ink)
	if style.dashes == nil {
		if p.Fill != "" {
			classes = append(classes, fillClass(p.Fill))
		}
		w.curves(p.Curves, classes, width, stroke{})
		return
	}
	for _, s := range strokes(p.Curves, style.dashes, width) {
		w.curves(s.curves, classes, width, s)
	}
}

// curves writes one element: circle, line or path.
func (w *svgWriter) curves(curves []Curve, classes []string, width float64, s stroke) {
	attributes := []string{attribute("class", strings.Join(classes, " "))}
	if width > 0 {
		attributes = append(attributes, attribute("stroke-width", number(width)))
	}
	if s.dashes != nil {
		parts := make([]string, len(s.dashes))
		for i, d := range s.dashes {
			parts[i] = number(d)
		}
		attributes = append(attributes, attribute("stroke-dasharray", strings.Join(parts, " ")),
			// Round ends would lengthen every dash by a line width.
			attribute("stroke-linecap", "butt"))
		if s.phase != 0 {
			attributes = append(attributes, attribute("stroke-dashoffset", number(s.phase)))
		}
	}
	if len(curves) == 1 {
		if a, ok := curves[0].(Arc); ok && a.RX == a.RY && wholeTurn(a) {
			w.canvas.Circle(a.Centre.X, a.Centre.Y, a.RX, attributes...)
			return
		}
	}
	w.canvas.Path(w.data(curves), attributes...)
}

// wholeTurn reports whether an arc goes all the way round.
func wholeTurn(a Arc) bool { return math.Abs(a.Sweep) > 2*math.Pi-1e-9 }

// data is the path data of curves: exact arcs, closed runs closed.
func (w *svgWriter) data(curves []Curve) string {
	var b strings.Builder
	point := func(p Point) {
		b.WriteString(number(p.X))
		b.WriteByte(' ')
		b.WriteString(number(p.Y))
	}
	for _, run := range Runs(curves) {
		start, _ := run[0].Ends()
		b.WriteByte('M')
		point(start)
		closed := closes(run)
		for i, c := range run {
			_, isLine := c.(Line)
			if closed && isLine && i == len(run)-1 && i > 0 {
				break // Z draws it
			}
			w.curve(&b, c, point)
		}
		if closed {
			b.WriteByte('Z')
		}
	}
	return b.String()
}

func (w *svgWriter) curve(b *strings.Builder, c Curve, point func(Point)) {
	switch c := c.(type) {
	case Line:
		b.WriteByte('L')
		point(c.B)
	case Bezier:
		b.WriteByte('C')
		point(c.C1)
		b.WriteByte(' ')
		point(c.C2)
		b.WriteByte(' ')
		point(c.B)
	case Arc:
		// One SVG arc cannot close on itself, and one near half a turn is badly
		// conditioned; two halves are exact.
		pieces := 1 + int(math.Abs(c.Sweep)/(math.Pi*0.99))
		for i := range pieces {
			sweep := 0
			if c.Sweep > 0 {
				sweep = 1
			}
			fmt.Fprintf(b, "A%s %s %s 0 %d ", number(c.RX), number(c.RY), number(c.Tilt*180/math.Pi), sweep)
			point(c.At(c.Start + c.Sweep*float64(i+1)/float64(pieces)))
		}
	}
}

// faces are how each face is asked for in CSS.
var faces = [...][]string{
	Sans:            {attribute("font-family", sansStack)},
	SansBold:        {attribute("font-family", sansStack), attribute("font-weight", "bold")},
	SansOblique:     {attribute("font-family", sansStack), attribute("font-style", "oblique")},
	SansBoldOblique: {attribute("font-family", sansStack), attribute("font-weight", "bold"), attribute("font-style", "oblique")},
	Mono:            {attribute("font-family", monoStack)},
	MonoBold:        {attribute("font-family", monoStack), attribute("font-weight", "bold")},
}

const (
	sansStack = "DejaVu Sans,Verdana,sans-serif"
	monoStack = "DejaVu Sans Mono,monospace"
)

// haloWidth is how far a halo reaches around letters, in capital heights.
const haloWidth = 0.6

func (w *svgWriter) text(t Text) {
	if t.Words == "" {
		return
	}
	ink := cmp.Or(t.Ink, Ink)
	pieces := t.pieces()
	if t.Halo { // under all pieces, lest one piece's halo clears its neighbour
		classes := strings.Join([]string{prefix + "halo", strokeClass(Paper)}, " ")
		for _, p := range pieces {
			if p.words != "" {
				w.words(p, t, attribute("stroke-width", number(haloWidth*t.Height)),
					attribute("class", classes), attribute("aria-hidden", "true"))
			}
		}
	}
	classes := []string{prefix + "text", fillClass(ink)}
	if t.Class != "" {
		classes = append(classes, prefix+t.Class)
	}
	from := t.baseline()
	for _, p := range pieces {
		if p.words != "" {
			w.words(p, t, attribute("class", strings.Join(classes, " ")))
			continue
		}
		curves := p.symbol.placed(Point{from.X + p.offset, from.Y}, t.Height, t.Turn, t.At)
		w.curves(curves, []string{prefix + "symbol", strokeClass(ink)}, t.stroke(), stroke{})
	}
}

// words writes one text element.
func (w *svgWriter) words(p piece, t Text, more ...string) {
	attributes := slices.Clone(faces[t.Face])
	attributes = append(attributes, attribute("font-size", number(FontSize(t.Height))))
	// With another font than ours the line still keeps to its place.
	if utf8.RuneCountInString(p.words) > 1 {
		attributes = append(attributes, attribute("textLength", number(TextWidth(p.words, t.Height, t.Face))),
			attribute("lengthAdjust", "spacingAndGlyphs"))
	}
	if t.Turn != 0 {
		attributes = append(attributes, attribute("transform",
			fmt.Sprintf("rotate(%s %s %s)", number(-t.Turn*180/math.Pi), number(t.At.X), number(t.At.Y))))
	}
	from := t.baseline()
	w.canvas.Text(from.X+p.offset, from.Y, p.words, append(attributes, more...)...)
}

func (w *svgWriter) group(g Group) {
	var attributes []string
	if g.ID != "" {
		attributes = append(attributes, attribute("id", w.ids+g.ID))
	}
	if g.Class != "" {
		attributes = append(attributes, attribute("class", prefix+g.Class))
	}
	if g.Shift != (Point{}) {
		attributes = append(attributes, attribute("transform", fmt.Sprintf("translate(%s %s)", number(g.Shift.X), number(g.Shift.Y))))
	}
	w.canvas.Group(attributes...)
	if g.Title != "" {
		w.canvas.Title(strings.ToValidUTF8(g.Title, "\uFFFD"))
	}
	w.marks(g.Marks)
	w.canvas.Gend()
}

func (w *svgWriter) clip(c Clip) {
	w.clips++
	id := fmt.Sprintf("%sclip%d", w.ids, w.clips)
	w.canvas.ClipPath(attribute("id", id))
	w.canvas.Path(w.data(c.Outline))
	w.canvas.ClipEnd()
	w.canvas.Group(attribute("clip-path", "url(#"+id+")"))
	w.marks(c.Marks)
	w.canvas.Gend()
}
