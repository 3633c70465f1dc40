package binder

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"plansheaf/publish/picture"
)

// readShape reads a basic shape or a path of SVG.
func readShape(name string, attr map[string]string) ([]outlinePath, error) {
	n := func(key string) float64 { return number(attr[key]) }
	point := func(x, y string) picture.Point { return picture.Point{X: n(x), Y: n(y)} }
	one := func(curves []picture.Curve, closed bool) ([]outlinePath, error) {
		return []outlinePath{{curves, closed}}, nil
	}
	switch name {
	case "rect":
		radius := min(max(n("rx"), n("ry")), n("width")/2, n("height")/2)
		if radius > 0 {
			return one(picture.RoundRectangle(point("x", "y"), n("width"), n("height"), radius), true)
		}
		return one(picture.Rectangle(point("x", "y"), n("width"), n("height")), true)
	case "circle":
		return one(picture.Circle(point("cx", "cy"), math.Abs(n("r"))), true)
	case "ellipse":
		return one([]picture.Curve{picture.Arc{Centre: point("cx", "cy"), RX: math.Abs(n("rx")), RY: math.Abs(n("ry")), Sweep: 2 * math.Pi}}, true)
	case "line":
		return one([]picture.Curve{picture.Line{A: point("x1", "y1"), B: point("x2", "y2")}}, false)
	case "polyline", "polygon":
		v := numbers(attr["points"])
		var points []picture.Point
		for i := 0; i+1 < len(v); i += 2 {
			points = append(points, picture.Point{X: v[i], Y: v[i+1]})
		}
		if len(points) < 2 {
			return nil, errors.New("has a polygon without points")
		}
		return one(picture.Polyline(points...), name == "polygon")
	case "path":
		return readPath(attr["d"])
	}
	return nil, fmt.Errorf("holds <%s>, which the binder does not print", excerpt(line(name)))
}

// errPath means path data that cannot be read.
var errPath = errors.New("has path data that cannot be read")

// pathArguments is how many numbers a path command takes.
var pathArguments = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// A pathPen follows path data.
type pathPen struct {
	out       []outlinePath
	at, start picture.Point
	control   picture.Point // of the latest curve, for smooth ones
	latest    byte          // its command, upper case
}

// readPath reads SVG path data (SVG 1.1, chapter 8).
func readPath(d string) ([]outlinePath, error) {
	pen := &pathPen{}
	var command byte
	for d = skipBlanks(d); d != ""; d = skipBlanks(d) {
		if upper := d[0] &^ 0x20; pathArguments[upper] > 0 || upper == 'Z' {
			command, d = d[0], d[1:]
		} else if command == 0 || command|0x20 == 'z' {
			return nil, errPath
		}
		var v [7]float64
		for i := range pathArguments[command&^0x20] {
			flag := command&^0x20 == 'A' && (i == 3 || i == 4)
			var ok bool
			if v[i], d, ok = cutNumber(skipBlanks(d), flag); !ok {
				return nil, errPath
			}
		}
		if len(pen.out) == 0 && command&^0x20 != 'M' {
			return nil, errPath
		}
		pen.draw(command, v)
		// Further pairs after a move are lines.
		switch command {
		case 'M':
			command = 'L'
		case 'm':
			command = 'l'
		}
	}
	return pen.out, nil
}

func skipBlanks(s string) string { return strings.TrimLeft(s, " ,\t\r\n") }

// cutNumber reads a number at the start of s, or a flag of one digit.
func cutNumber(s string, flag bool) (float64, string, bool) {
	if flag {
		if s == "" || s[0] != '0' && s[0] != '1' {
			return 0, s, false
		}
		return float64(s[0] - '0'), s[1:], true
	}
	end, dot, exponent := 0, false, false
	for ; end < len(s); end++ {
		switch c := s[end]; {
		case c >= '0' && c <= '9':
		case c == '.' && !dot && !exponent:
			dot = true
		case (c == 'e' || c == 'E') && !exponent && end > 0:
			exponent = true
		case (c == '-' || c == '+') && (end == 0 || s[end-1]|0x20 == 'e'):
		default:
			v, err := strconv.ParseFloat(s[:end], 64)
			return v, s[end:], err == nil && finite(v)
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, "", err == nil && finite(v)
}

// draw follows one command.
func (p *pathPen) draw(command byte, v [7]float64) {
	base := picture.Point{}
	if command >= 'a' {
		base = p.at
	}
	point := func(i int) picture.Point { return base.Plus(picture.Point{X: v[i], Y: v[i+1]}) }
	upper := command &^ 0x20
	// A smooth curve goes on in the direction of the one before.
	smooth := p.at
	if strings.IndexByte("CS", p.latest) >= 0 && upper == 'S' || strings.IndexByte("QT", p.latest) >= 0 && upper == 'T' {
		smooth = p.at.Times(2).Minus(p.control)
	}
	switch upper {
	case 'M':
		p.out = append(p.out, outlinePath{})
		p.at = point(0)
		p.start = p.at
	case 'Z':
		p.out[len(p.out)-1].closed = true
		if p.at.Distance(p.start) > tolerance {
			p.add(picture.Line{A: p.at, B: p.start})
		}
		p.out, p.at = append(p.out, outlinePath{}), p.start
	case 'L':
		p.add(picture.Line{A: p.at, B: point(0)})
	case 'H':
		p.add(picture.Line{A: p.at, B: picture.Point{X: base.X + v[0], Y: p.at.Y}})
	case 'V':
		p.add(picture.Line{A: p.at, B: picture.Point{X: p.at.X, Y: base.Y + v[0]}})
	case 'C':
		p.control = point(2)
		p.add(picture.Bezier{A: p.at, C1: point(0), C2: point(2), B: point(4)})
	case 'S':
		p.control = point(0)
		p.add(picture.Bezier{A: p.at, C1: smooth, C2: point(0), B: point(2)})
	case 'Q':
		p.quadratic(point(0), point(2))
	case 'T':
		p.quadratic(smooth, point(0))
	case 'A':
		p.arc(v, point(5))
	}
	p.latest = upper
}

func (p *pathPen) add(c picture.Curve) {
	last := &p.out[len(p.out)-1]
	last.curves = append(last.curves, c)
	_, p.at = c.Ends()
}

// quadratic adds a quadratic curve as the cubic that it is.
func (p *pathPen) quadratic(control, to picture.Point) {
	p.control = control
	p.add(picture.Bezier{A: p.at, C1: p.at.Plus(control.Minus(p.at).Times(2.0 / 3)),
		C2: to.Plus(control.Minus(to).Times(2.0 / 3)), B: to})
}

// arc adds an elliptical arc given by its ends (SVG 1.1, appendix F.6).
func (p *pathPen) arc(v [7]float64, to picture.Point) {
	rx, ry, tilt := math.Abs(v[0]), math.Abs(v[1]), v[2]*math.Pi/180
	if rx < tolerance || ry < tolerance || p.at.Distance(to) < tolerance {
		p.add(picture.Line{A: p.at, B: to})
		return
	}
	sin, cos := math.Sincos(tilt)
	half := p.at.Minus(to).Times(0.5)
	x, y := cos*half.X+sin*half.Y, -sin*half.X+cos*half.Y
	if grow := x*x/(rx*rx) + y*y/(ry*ry); grow > 1 {
		rx, ry = rx*math.Sqrt(grow), ry*math.Sqrt(grow)
	}
	k := math.Sqrt(max(0, rx*rx*ry*ry-rx*rx*y*y-ry*ry*x*x) / (rx*rx*y*y + ry*ry*x*x))
	if v[3] == v[4] {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	middle := p.at.Plus(to).Times(0.5)
	centre := middle.Plus(picture.Point{X: cos*cx - sin*cy, Y: sin*cx + cos*cy})
	start := math.Atan2((y-cy)/ry, (x-cx)/rx)
	sweep := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - start
	switch {
	case v[4] == 0 && sweep > 0:
		sweep -= 2 * math.Pi
	case v[4] != 0 && sweep < 0:
		sweep += 2 * math.Pi
	}
	p.add(picture.Arc{Centre: centre, RX: rx, RY: ry, Tilt: tilt, Start: start, Sweep: sweep})
	p.at = to
}
