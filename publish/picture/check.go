package picture

import (
	"errors"
	"fmt"
	"math"
)

// farthest is the largest coordinate that a picture may hold, in millimetres: a
// hundred metres, far beyond any paper.
const farthest = 1e5

// deepest is how many groups and clips may stand in each other.
const deepest = 64

// Check reports the first fault that would keep the picture from being written:
// no paper, a coordinate that is not finite or beyond a hundred metres, an id or
// class that is not a plain name, an id used twice, an unknown colour, line type
// or face, groups nested too deep.
func Check(p *Picture) error {
	c := checker{ids: map[string]bool{}}
	c.finite(p.Width, p.Height, p.Group)
	if !(p.Width > 0 && p.Height > 0) {
		c.fail("paper of %v by %v mm", p.Width, p.Height)
	}
	c.marks(p.Marks, 0)
	if c.err != nil {
		return fmt.Errorf("picture %q: %w", p.Name, c.err)
	}
	return nil
}

// checker keeps the first fault.
type checker struct {
	ids map[string]bool
	err error
}

func (c *checker) fail(format string, args ...any) {
	if c.err == nil {
		c.err = fmt.Errorf(format, args...)
	}
}

func (c *checker) finite(values ...float64) {
	for _, v := range values {
		if !(math.Abs(v) <= farthest) {
			c.fail("coordinate %v is out of reach", v)
		}
	}
}

func (c *checker) point(points ...Point) {
	for _, p := range points {
		c.finite(p.X, p.Y)
	}
}

// plain checks a name that goes into an id or a class.
func (c *checker) plain(name string) {
	for _, r := range name {
		if !plainRune(r) {
			c.fail("id or class %q: only letters, digits, hyphen, underscore and dot", name)
			return
		}
	}
}

func plainRune(r rune) bool {
	return r == '-' || r == '_' || r == '.' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
}

// colour checks a colour; none is fine.
func (c *checker) colour(name Colour) {
	if _, known := swatches[name]; !known && name != "" {
		c.fail("unknown colour %q", name)
	}
}

func (c *checker) marks(marks []Mark, depth int) {
	if depth > deepest {
		c.fail("more than %d groups within each other", deepest)
		return
	}
	for _, m := range marks {
		switch m := m.(type) {
		case Path:
			c.path(m)
		case Text:
			c.text(m)
		case Group:
			c.plain(m.ID)
			c.plain(m.Class)
			c.point(m.Shift)
			if m.ID != "" && c.ids[m.ID] {
				c.fail("id %q used twice", m.ID)
			}
			c.ids[m.ID] = true
			c.marks(m.Marks, depth+1)
		case Clip:
			if len(m.Outline) == 0 {
				c.fail("clip without an outline")
			}
			c.curves(m.Outline)
			c.marks(m.Marks, depth+1)
		default:
			c.fail("mark of unknown kind %T", m)
		}
	}
}

func (c *checker) path(p Path) {
	if _, known := lineStyles[p.Line]; !known && p.Line != NoLine {
		c.fail("unknown line type %d", p.Line)
	}
	c.colour(p.Ink)
	c.colour(p.Fill)
	c.plain(p.Class)
	c.curves(p.Curves)
}

func (c *checker) text(t Text) {
	c.point(t.At)
	c.finite(t.Height, t.Turn)
	c.colour(t.Ink)
	c.plain(t.Class)
	if t.Face < Sans || t.Face > MonoBold {
		c.fail("unknown face %d", t.Face)
	}
	if !(t.Height > 0) {
		c.fail("letters %v mm high", t.Height)
	}
}

func (c *checker) curves(curves []Curve) {
	for _, curve := range curves {
		switch v := curve.(type) {
		case Line:
			c.point(v.A, v.B)
		case Bezier:
			c.point(v.A, v.C1, v.C2, v.B)
		case Arc:
			c.point(v.Centre)
			c.finite(v.RX, v.RY, v.Tilt, v.Start)
			if !(v.RX >= 0 && v.RY >= 0) {
				c.fail("arc with radii %v and %v mm", v.RX, v.RY)
			}
			if !(math.Abs(v.Sweep) <= 2*math.Pi+1e-9) {
				c.fail("arc swept by %v radians", v.Sweep)
			}
		default:
			c.fail("curve of unknown kind %T", curve)
		}
	}
}

// errNoPage is what drawing into a document without a page gives: gofpdf would
// write ahead of the file's header.
var errNoPage = errors.New("the document has no page")
