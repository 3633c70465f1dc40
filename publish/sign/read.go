package sign

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"plansheaf/publish/picture"
)

// A stroke is one shape of a symbol: filled when line is NoLine.
type stroke struct {
	curves []picture.Curve
	line   picture.LineType
	ground bool // in the colour of the ground rather than of the symbol
}

// readSymbol reads the part of SVG that symbols are drawn in.
func readSymbol(data []byte) ([]stroke, error) {
	var strokes []stroke
	decoder := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return strokes, nil
		}
		if err != nil {
			return nil, fmt.Errorf("read symbol: %w", err)
		}
		element, ok := token.(xml.StartElement)
		if !ok || element.Name.Local == "svg" {
			continue
		}
		s, err := readStroke(element)
		if err != nil {
			return nil, fmt.Errorf("read symbol: <%s>: %w", element.Name.Local, err)
		}
		strokes = append(strokes, s)
	}
}

func readStroke(element xml.StartElement) (stroke, error) {
	attr := map[string]string{}
	for _, a := range element.Attr {
		attr[a.Name.Local] = a.Value
	}
	s := stroke{ground: attr["fill"] == "white" || attr["stroke"] == "white"}
	switch attr["stroke-width"] {
	case "":
	case "5":
		s.line = picture.Visible
	case "2.5":
		s.line = picture.Thin
	default:
		return s, fmt.Errorf("stroke-width %q is neither 5 nor 2.5", attr["stroke-width"])
	}
	number := func(name string) float64 {
		v, err := strconv.ParseFloat(attr[name], 64)
		if err != nil {
			return 0
		}
		return v
	}
	var err error
	switch element.Name.Local {
	case "circle":
		s.curves = picture.Circle(picture.Point{X: number("cx"), Y: number("cy")}, number("r"))
	case "rect":
		s.curves = picture.RoundRectangle(picture.Point{X: number("x"), Y: number("y")}, number("width"), number("height"), number("rx"))
	case "path":
		s.curves, err = readPath(attr["d"])
	default:
		err = errors.New("not part of what symbols are drawn in")
	}
	return s, err
}

// arguments is how many numbers a path command takes.
var arguments = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'A': 7, 'Z': 0}

// readPath reads path data of absolute commands. A command may be repeated
// without its letter.
func readPath(d string) ([]picture.Curve, error) {
	pen := pen{}
	var command byte
	for rest := d; ; {
		rest = skipBlanks(rest)
		if rest == "" {
			return pen.curves, nil
		}
		if _, known := arguments[rest[0]]; known {
			command, rest = rest[0], rest[1:]
		} else if command == 0 || command == 'Z' {
			return nil, fmt.Errorf("path data: no command at %q", rest)
		}
		var v [7]float64
		for i := range arguments[command] {
			var err error
			if v[i], rest, err = readNumber(rest); err != nil {
				return nil, err
			}
		}
		pen.draw(command, v)
	}
}

func skipBlanks(s string) string {
	for s != "" && (s[0] == ' ' || s[0] == ',' || s[0] == '\n' || s[0] == '\t') {
		s = s[1:]
	}
	return s
}

// readNumber takes one number off the front of s.
func readNumber(s string) (float64, string, error) {
	s = skipBlanks(s)
	end := 0
	for end < len(s) && (s[end] >= '0' && s[end] <= '9' || s[end] == '.' || s[end] == '-' && end == 0) {
		end++
	}
	v, err := strconv.ParseFloat(s[:end], 64)
	if err != nil {
		return 0, s, fmt.Errorf("path data: no number at %q", s)
	}
	return v, s[end:], nil
}

// A pen follows path commands.
type pen struct {
	at, start picture.Point
	curves    []picture.Curve
}

func (p *pen) draw(command byte, v [7]float64) {
	switch command {
	case 'M':
		p.at = picture.Point{X: v[0], Y: v[1]}
		p.start = p.at
	case 'L':
		p.line(picture.Point{X: v[0], Y: v[1]})
	case 'H':
		p.line(picture.Point{X: v[0], Y: p.at.Y})
	case 'V':
		p.line(picture.Point{X: p.at.X, Y: v[0]})
	case 'C':
		to := picture.Point{X: v[4], Y: v[5]}
		p.curves = append(p.curves, picture.Bezier{
			A: p.at, C1: picture.Point{X: v[0], Y: v[1]}, C2: picture.Point{X: v[2], Y: v[3]}, B: to,
		})
		p.at = to
	case 'A':
		to := picture.Point{X: v[5], Y: v[6]}
		p.curves = append(p.curves, arcBetween(p.at, to, v[0], v[3] != 0, v[4] != 0))
		p.at = to
	case 'Z':
		if p.at != p.start {
			p.line(p.start)
		}
	}
}

func (p *pen) line(to picture.Point) {
	p.curves = append(p.curves, picture.Line{A: p.at, B: to})
	p.at = to
}

// arcBetween is the circular arc of that radius from a to b; large and clockwise
// are SVG's two flags. A radius too small for the distance grows to reach, as
// SVG 2 says (implementation notes, out-of-range radii).
func arcBetween(a, b picture.Point, radius float64, large, clockwise bool) picture.Curve {
	half := a.Distance(b) / 2
	radius = max(radius, half)
	middle := a.Plus(b).Times(0.5)
	height := math.Sqrt(max(0, radius*radius-half*half))
	if large == clockwise {
		height = -height
	}
	way := b.Minus(a).Times(1 / (2 * half))
	centre := picture.Point{X: middle.X - way.Y*height, Y: middle.Y + way.X*height}
	start := math.Atan2(a.Y-centre.Y, a.X-centre.X)
	sweep := math.Atan2(b.Y-centre.Y, b.X-centre.X) - start
	if clockwise && sweep < 0 {
		sweep += 2 * math.Pi
	} else if !clockwise && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	return picture.Arc{Centre: centre, RX: radius, RY: radius, Start: start, Sweep: sweep}
}
