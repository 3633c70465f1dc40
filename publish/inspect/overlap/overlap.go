// Package overlap is test support: it audits a finished drawing sheet for words that
// lie on words or on lines, and for what leaves the frame.
//
// In goes a picture; out come its faults in words. It knows nothing of how the sheet
// was laid out. It is imported by tests only.
package overlap

import (
	"fmt"
	"math"

	"plansheaf/publish/picture"
)

type point = picture.Point

// words are a text of the sheet with the box that it fills.
type words struct {
	text   string
	box    picture.Box
	border bool // part of the sheet's border: zone references
}

// A stroke is a straight piece of a line.
type stroke struct {
	a, b   point
	border bool
}

// sheet is what a picture holds.
type sheet struct {
	words   []words
	strokes []stroke
	insets  []picture.Box // where another picture is cut off at an outline
	frame   picture.Box
}

// read walks the marks; a watermark is left out, since it lies under everything and
// is meant to be written over.
func (s *sheet) read(marks []picture.Mark, shift point, border bool) {
	for _, m := range marks {
		switch m := m.(type) {
		case picture.Path:
			curves := picture.MoveCurves(m.Curves, 1, shift)
			s.draw(curves, border)
			if border && m.Line == picture.Frame && closed(curves) {
				s.frame = picture.CurveBounds(curves)
			}
		case picture.Text:
			if m.Class == "watermark" {
				continue
			}
			m.At = m.At.Plus(shift)
			s.words = append(s.words, words{m.Words, m.Bounds(), border})
		case picture.Group:
			s.read(m.Marks, shift.Plus(m.Shift), border || m.Class == "border")
		case picture.Clip: // what it cuts off is not there: its outline stands for it
			outline := picture.MoveCurves(m.Outline, 1, shift)
			s.draw(outline, border)
			s.insets = append(s.insets, picture.CurveBounds(outline))
		}
	}
}

func closed(curves []picture.Curve) bool {
	if len(curves) < 3 {
		return false
	}
	from, _ := curves[0].Ends()
	_, to := curves[len(curves)-1].Ends()
	return from.Distance(to) < 1e-9
}

// draw records curves, round ones as chords of some degrees.
func (s *sheet) draw(curves []picture.Curve, border bool) {
	for _, c := range curves {
		steps, at := 1, func(float64) point { return point{} }
		switch c := c.(type) {
		case picture.Line:
			s.strokes = append(s.strokes, stroke{c.A, c.B, border})
			continue
		case picture.Arc:
			steps = max(2, int(math.Ceil(math.Abs(c.Sweep)/(math.Pi/36))))
			at = func(t float64) point { return c.At(c.Start + c.Sweep*t) }
		case picture.Bezier:
			steps, at = 16, c.At
		}
		for i := range steps {
			s.strokes = append(s.strokes, stroke{at(float64(i) / float64(steps)), at(float64(i+1) / float64(steps)), border})
		}
	}
}

// Faults lists words on words, words on lines, words on insets, and what leaves the
// sheet's frame; the border's own references stand outside of the frame and must stay
// on the paper. A picture without a frame may be used up to its edge.
func Faults(p *picture.Picture) (faults []string) {
	paper := picture.Box{Max: point{X: p.Width, Y: p.Height}}
	s := &sheet{frame: paper}
	s.read(p.Marks, point{}, false)
	const slack = 1e-6
	limit := func(border bool) (picture.Box, string) {
		if border {
			return paper, "paper"
		}
		return s.frame.Grow(slack), "frame"
	}
	words, strokes := grid{}, grid{}
	for i, w := range s.words {
		words.put(i, w.box)
	}
	for i, line := range s.strokes {
		strokes.putStroke(i, line)
	}
	for i, w := range s.words {
		if box, name := limit(w.border); !box.Contains(w.box) {
			faults = append(faults, fmt.Sprintf("%q leaves the %s", w.text, name))
		}
		for _, k := range words.near(w.box) {
			if o := s.words[k]; k > i && w.box.Overlaps(o.box) {
				faults = append(faults, fmt.Sprintf("%q lies on %q", w.text, o.text))
			}
		}
		for _, inset := range s.insets {
			if w.box.Overlaps(inset) {
				faults = append(faults, fmt.Sprintf("%q lies on the inset at %v", w.text, inset.Centre()))
			}
		}
		for _, k := range strokes.near(w.box) {
			if line := s.strokes[k]; line.meets(w.box) {
				faults = append(faults, fmt.Sprintf("%q lies on the line %v %v", w.text, line.a, line.b))
				break
			}
		}
	}
	for _, line := range s.strokes {
		if box, name := limit(line.border); !box.Contains(picture.BoxAround(line.a, line.b)) {
			faults = append(faults, fmt.Sprintf("the line %v %v leaves the %s", line.a, line.b, name))
		}
	}
	return faults
}

// meets reports whether the stroke passes through the inside of a box.
func (s stroke) meets(box picture.Box) bool {
	from, to := 0.0, 1.0
	for _, side := range [2][4]float64{{s.a.X, s.b.X - s.a.X, box.Min.X, box.Max.X}, {s.a.Y, s.b.Y - s.a.Y, box.Min.Y, box.Max.Y}} {
		start, way, low, high := side[0], side[1], side[2], side[3]
		if math.Abs(way) < 1e-12 {
			if start <= low || start >= high {
				return false
			}
			continue
		}
		t0, t1 := (low-start)/way, (high-start)/way
		from, to = max(from, min(t0, t1)), min(to, max(t0, t1))
	}
	return from < to-1e-9
}
