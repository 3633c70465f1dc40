package binder

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"plansheaf/publish/picture"
)

// Limits on vector images.
const (
	mostVectorBytes = 2 << 20
	mostShapes      = 20_000
	deepestShapes   = 48
)

// A vector is an SVG image read for printing: shapes and words in millimetres
// from its top-left corner.
type vector struct {
	width, height float64
	shapes        []shape
}

// A shape is outlines that are filled, stroked or both, or one line of words.
type shape struct {
	outlines     []outlinePath
	fill, stroke *colour
	width        float64   // of the stroke, mm
	dashes       []float64 // mm
	evenOdd      bool
	words        string
	at           picture.Point // of the words' baseline
	size         float64       // of the words, points
	bold         bool
	anchor       string // start, middle, end
}

// An outlinePath is curves that follow each other.
type outlinePath struct {
	curves []picture.Curve
	closed bool
}

// drawing properties as they are inherited.
type svgStyle struct {
	fill, stroke  string
	opacity       float64 // of all; the marks are laid on white
	fillOpacity   float64
	strokeOpacity float64
	width, size   float64 // user units
	dashes        string
	anchor        string
	weight        string
	rule          string
	scale         float64
	shift         picture.Point
}

// A svgReader reads the part of SVG that diagrams are drawn in: groups, basic
// shapes, paths and text; moved and evenly scaled; in plain colours. What else
// an image needs is an error, so that nothing is printed half.
type svgReader struct {
	decoder *xml.Decoder
	out     *vector
	styles  []svgStyle
	words   *shape // open text element
}

// readVector reads an SVG image.
func readVector(data []byte) (*vector, error) {
	if len(data) > mostVectorBytes {
		return nil, fmt.Errorf("has %d bytes; at most %d are read", len(data), mostVectorBytes)
	}
	r := &svgReader{decoder: xml.NewDecoder(bytes.NewReader(data)), out: &vector{}}
	for {
		token, err := r.decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("is not well-formed SVG: %w", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			err = r.open(t)
		case xml.EndElement:
			r.close(t)
		case xml.CharData:
			if r.words != nil {
				r.words.words += string(t)
			}
		}
		if err != nil {
			return nil, err
		}
	}
	if r.out.width <= 0 {
		return nil, errors.New("holds no svg element")
	}
	return r.out, nil
}

// style is the innermost open element's.
func (r *svgReader) style() svgStyle {
	if len(r.styles) == 0 {
		return svgStyle{fill: "black", stroke: "none", opacity: 1, fillOpacity: 1, strokeOpacity: 1, width: 1, size: 16, scale: 1}
	}
	return r.styles[len(r.styles)-1]
}

func (r *svgReader) open(e xml.StartElement) error {
	name := e.Name.Local
	switch name {
	case "title", "desc", "metadata", "defs": // never shown by themselves
		return r.decoder.Skip()
	}
	if len(r.styles) > deepestShapes || len(r.out.shapes) > mostShapes {
		return errors.New("is too large or too deeply nested to print")
	}
	if (r.out.width > 0) == (name == "svg") {
		return fmt.Errorf("has <%s> where the binder does not read it", name)
	}
	attr := map[string]string{}
	for _, a := range e.Attr {
		if a.Name.Local == "style" {
			for _, d := range strings.Split(a.Value, ";") {
				key, value, _ := strings.Cut(d, ":")
				attr[strings.TrimSpace(key)] = strings.TrimSpace(value)
			}
			continue
		}
		attr[a.Name.Local] = strings.TrimSpace(a.Value)
	}
	st, err := r.inherit(attr)
	if err != nil {
		return err
	}
	if name == "svg" {
		if err := r.paper(attr, &st); err != nil {
			return err
		}
	}
	r.styles = append(r.styles, st)
	switch name {
	case "svg", "g", "tspan":
		return nil
	case "text":
		at := st.place(picture.Point{X: number(attr["x"]), Y: number(attr["y"])})
		fill, err := st.colour(st.fill, st.fillOpacity)
		r.words = &shape{at: at, size: st.size * st.scale / mmPerPoint, anchor: st.anchor, bold: st.weight == "bold" || number(st.weight) >= 600, fill: fill}
		return err
	}
	outlines, err := readShape(name, attr)
	if err != nil {
		return err
	}
	return r.draw(outlines, st)
}

func (r *svgReader) close(e xml.EndElement) {
	if e.Name.Local == "text" && r.words != nil {
		r.words.words = strings.Join(strings.Fields(r.words.words), " ")
		if r.words.fill != nil && r.words.words != "" {
			r.out.shapes = append(r.out.shapes, *r.words)
		}
		r.words = nil
	}
	if len(r.styles) > 0 {
		r.styles = r.styles[:len(r.styles)-1]
	}
}

// paper settles the image's size and how its units become millimetres.
func (r *svgReader) paper(attr map[string]string, st *svgStyle) error {
	w, h := length(attr["width"]), length(attr["height"])
	box := numbers(attr["viewBox"])
	if len(box) != 4 {
		box = []float64{0, 0, w * screenPixels, h * screenPixels}
	}
	if !(box[2] > 0 && box[3] > 0) || !finite(box...) || !finite(w, h) {
		return errors.New("has no size")
	}
	if !(w > 0) {
		w = box[2] / screenPixels
	}
	st.scale = w / box[2]
	st.shift = picture.Point{X: -box[0] * st.scale, Y: -box[1] * st.scale}
	r.out.width, r.out.height = w, box[3]*st.scale
	if r.out.height > farthest || r.out.width > farthest {
		return errors.New("is larger than any paper")
	}
	return nil
}

// inherit takes over what an element does not say itself.
func (r *svgReader) inherit(attr map[string]string) (svgStyle, error) {
	st := r.style()
	for key, to := range map[string]*string{"fill": &st.fill, "stroke": &st.stroke, "stroke-dasharray": &st.dashes,
		"text-anchor": &st.anchor, "font-weight": &st.weight, "fill-rule": &st.rule} {
		if v, ok := attr[key]; ok {
			*to = v
		}
	}
	for key, to := range map[string]*float64{"stroke-width": &st.width, "font-size": &st.size} {
		if v, ok := attr[key]; ok {
			*to = number(strings.TrimSuffix(v, "px"))
		}
	}
	for key, to := range map[string]*float64{"fill-opacity": &st.fillOpacity, "stroke-opacity": &st.strokeOpacity} {
		if v, ok := attr[key]; ok {
			*to = min(max(0, number(v)), 1)
		}
	}
	if v, ok := attr["opacity"]; ok {
		st.opacity *= min(max(0, number(v)), 1)
	}
	for _, key := range []string{"clip-path", "mask", "filter", "marker-start", "marker-mid", "marker-end"} {
		if v := attr[key]; v != "" && v != "none" {
			return st, fmt.Errorf("uses %s, which the binder does not print", key)
		}
	}
	return st, st.transform(attr["transform"])
}

// transform applies moves and even scaling.
func (s *svgStyle) transform(list string) error {
	for list = strings.Trim(list, " ,\n\t"); list != ""; list = strings.Trim(list, " ,\n\t") {
		name, rest, ok := strings.Cut(list, "(")
		values, tail, closed := strings.Cut(rest, ")")
		v := numbers(values)
		switch {
		case !ok || !closed:
			return errors.New("has a transform that cannot be read")
		case strings.TrimSpace(name) == "translate" && (len(v) == 1 || len(v) == 2):
			v = append(v, 0)
			s.shift = s.place(picture.Point{X: v[0], Y: v[1]})
		case strings.TrimSpace(name) == "scale" && (len(v) == 1 || len(v) == 2 && v[0] == v[1]) && v[0] > 0:
			s.scale *= v[0]
		default:
			return fmt.Errorf("uses the transform %s, which the binder does not print", excerpt(line(name)))
		}
		list = tail
	}
	return nil
}

// place is a point of the element in millimetres.
func (s *svgStyle) place(p picture.Point) picture.Point { return p.Times(s.scale).Plus(s.shift) }

// draw adds outlines in a style.
func (r *svgReader) draw(outlines []outlinePath, st svgStyle) error {
	fill, err := st.colour(st.fill, st.fillOpacity)
	if err != nil {
		return err
	}
	stroke, err := st.colour(st.stroke, st.strokeOpacity)
	if err != nil || fill == nil && stroke == nil {
		return err
	}
	s := shape{fill: fill, stroke: stroke, width: st.width * st.scale, evenOdd: st.rule == "evenodd"}
	for _, d := range numbers(st.dashes) {
		if d > 0 {
			s.dashes = append(s.dashes, d*st.scale)
		}
	}
	for _, o := range outlines {
		moved := outlinePath{picture.MoveCurves(o.curves, st.scale, st.shift), o.closed}
		for _, c := range moved.curves {
			box := c.Bounds()
			if !finite(box.Min.X, box.Min.Y, box.Max.X, box.Max.Y) {
				return errors.New("has a coordinate out of reach")
			}
		}
		if len(moved.curves) > 0 {
			s.outlines = append(s.outlines, moved)
		}
	}
	if !finite(s.width) || !finite(s.dashes...) {
		return errors.New("has a line width out of reach")
	}
	if len(s.outlines) > 0 {
		r.out.shapes = append(r.out.shapes, s)
	}
	return nil
}

// svgColours are the basic colour keywords of CSS.
var svgColours = map[string]colour{
	"black": {0, 0, 0}, "silver": {192, 192, 192}, "gray": {128, 128, 128}, "grey": {128, 128, 128}, "white": {255, 255, 255},
	"maroon": {128, 0, 0}, "red": {255, 0, 0}, "purple": {128, 0, 128}, "fuchsia": {255, 0, 255}, "green": {0, 128, 0},
	"lime": {0, 255, 0}, "olive": {128, 128, 0}, "yellow": {255, 255, 0}, "navy": {0, 0, 128}, "blue": {0, 0, 255},
	"teal": {0, 128, 128}, "aqua": {0, 255, 255}, "orange": {255, 165, 0}, "brown": {165, 42, 42}, "currentcolor": {0, 0, 0},
}

// colour reads a colour and lays it on white by its opacity; nil for none.
func (s *svgStyle) colour(text string, opacity float64) (*colour, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "none" || text == "transparent" || opacity*s.opacity == 0 {
		return nil, nil
	}
	c, known := svgColours[text]
	if hex, ok := strings.CutPrefix(text, "#"); ok {
		if len(hex) == 3 {
			hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
		}
		if v, err := strconv.ParseUint(hex, 16, 32); err == nil && len(hex) == 6 {
			c, known = colour{uint8(v >> 16), uint8(v >> 8), uint8(v)}, true
		}
	} else if inside, ok := strings.CutPrefix(text, "rgb("); ok {
		if v := numbers(strings.TrimSuffix(inside, ")")); len(v) == 3 {
			c, known = colour{level(v[0]), level(v[1]), level(v[2])}, true
		}
	}
	if !known {
		return nil, fmt.Errorf("has a colour that the binder does not print: %s", excerpt(line(text)))
	}
	pale := func(v uint8) uint8 { return level(255 - (255-float64(v))*opacity*s.opacity + 0.5) }
	return &colour{pale(c.r), pale(c.g), pale(c.b)}, nil
}

// level is a colour's part as a whole number, 0 to 255; 0 for what is no number.
func level(x float64) uint8 {
	if !(x > 0) {
		return 0
	}
	return uint8(min(x, 255))
}

// number reads a plain number; 0 for anything else.
func number(text string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !finite(v) {
		return 0
	}
	return v
}

// numbers reads numbers between blanks and commas; nil if one is none.
func numbers(text string) []float64 {
	var out []float64
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r <= ' ' }) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			return nil
		}
		out = append(out, v)
	}
	return out
}

// length reads a length in millimetres; CSS units, 96 pixels an inch.
func length(text string) float64 {
	units := []struct {
		name string
		mm   float64
	}{{"mm", 1}, {"cm", 10}, {"in", 25.4}, {"pt", mmPerPoint}, {"px", 1 / screenPixels}, {"", 1 / screenPixels}}
	for _, u := range units {
		if strings.HasSuffix(text, u.name) {
			return number(strings.TrimSuffix(text, u.name)) * u.mm
		}
	}
	return 0
}
