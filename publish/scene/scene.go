package scene

import (
	"fmt"
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

const (
	wide = 150.0 // mm, the largest width of a picture
	high = 120.0 // mm, the largest height
	edge = 2.0   // mm of paper around what is drawn
	// smallest is the shortest edge that is drawn, mm on paper: below it, lines run
	// together at phone width. Taken apart, things stand alone, and small ones keep
	// their outline.
	smallest      = 0.8
	smallestApart = 0.3
	// group is the line group, mm: pictures of many parts need narrow lines, but a
	// picture as wide as a phone's screen, 320 px, still has 0.75 px for each.
	group = 0.35
)

// An art is what is seen of pieces, at 1:1, with the way on to the paper.
type art struct {
	lines []view.Line // Body is the index of the piece
	grid  *raster
	box   picture.Box // at 1:1
	scale float64
	shift picture.Point
}

// project draws pieces to fit into a width and a height in mm, without edges that
// come out shorter than least, or run together with others; nil when there is nothing
// to draw. With a least of 0 all lines are drawn. What is hidden
// altogether is left out before its lines are looked at.
func (s *Studio) project(pieces []layout.Piece, dir view.Direction, box picture.Box, width, height, least float64) (*art, error) {
	a := fitted(box, width, height)
	if a == nil {
		return nil, nil
	}
	a.grid = s.survey(pieces, dir, a)
	seen := a.grid.shown(len(pieces))
	if len(seen) == 0 {
		return nil, nil
	}
	return a, s.draw(a, pieces, seen, dir, least)
}

// fitted is an empty art of a box at 1:1 that fits into a width and a height in mm;
// nil where there is nothing to fit.
func fitted(box picture.Box, width, height float64) *art {
	a := &art{box: box}
	a.scale = math.Min((width-2*edge)/(a.box.Max.X-a.box.Min.X), (height-2*edge)/(a.box.Max.Y-a.box.Min.Y))
	if box.Empty() || math.IsInf(a.scale, 0) || math.IsNaN(a.scale) || a.scale <= 0 {
		return nil
	}
	return a
}

// draw finds the art's lines of those pieces that are seen, which are given by index.
func (s *Studio) draw(a *art, pieces []layout.Piece, seen []int, dir view.Direction, least float64) error {
	var bodies []view.Body
	for _, i := range seen {
		p := pieces[i]
		bodies = append(bodies, view.Body{Solid: p.Solid, At: p.At, Tag: p.Part.Part.ID.Text})
	}
	drawing, err := s.ready.Project(bodies, dir, view.Options{VisibleOnly: true, Smallest: least / a.scale, NoThreads: true})
	if err != nil {
		return fmt.Errorf("draw %d pieces: %w", len(bodies), err)
	}
	shown := a.box.Grow(solid.Tolerance) // lines along its border have no width
	for _, line := range drawing.Lines {
		if line.Body = seen[line.Body]; picture.CurveBounds(line.Curves).Overlaps(shown) {
			a.lines = append(a.lines, line)
		}
	}
	if least > 0 {
		a.lines = thinned(a.lines, a.scale)
	}
	return nil
}

// mostInk is the share of what bodies cover that their outlines may blacken before
// narrow lines draw them: judged by eye on the example, 320 px wide.
const mostInk = 0.3

// weight is the line that the art is drawn with: a narrow one where wide ones would
// run together, as in large assemblies taken apart.
func (a *art) weight() picture.LineType {
	length, covered := 0.0, 0
	for _, line := range a.lines {
		length += line.Length()
	}
	for _, b := range a.grid.body {
		if b >= 0 {
			covered++
		}
	}
	area := float64(covered) * a.grid.cell * a.grid.cell * a.scale * a.scale
	if length*a.scale*group > mostInk*area {
		return picture.Thin
	}
	return picture.Visible
}

// around is the box on paper, at 1:1, around all of some pieces.
func around(pieces []layout.Piece, dir view.Direction) picture.Box {
	box := picture.Nothing
	for _, p := range pieces {
		box = box.Join(drawnBox(p, dir))
	}
	return box
}

// paper sizes a picture for the art with a margin in mm around it.
func (a *art) paper(pic *picture.Picture, margin float64) {
	size := a.box.Max.Minus(a.box.Min).Times(a.scale)
	pic.Group, pic.Width, pic.Height = group, size.X+2*margin, size.Y+2*margin
	a.shift = picture.Point{X: margin, Y: margin}.Minus(a.box.Min.Times(a.scale))
}

// placed are curves of the art on the paper.
func (a *art) placed(curves []picture.Curve) []picture.Curve {
	return picture.MoveCurves(curves, a.scale, a.shift)
}

// point is a point of the art on the paper.
func (a *art) point(p picture.Point) picture.Point { return p.Times(a.scale).Plus(a.shift) }

// drawnBox is the box on paper, at 1:1, around a piece's bounding box.
func drawnBox(p layout.Piece, dir view.Direction) picture.Box {
	var corners []picture.Point
	for _, c := range p.Solid.Box().Corners() {
		corners = append(corners, dir.Flat(p.At.Point(c)))
	}
	return picture.BoxAround(corners...)
}

// curves are those of all lines, at 1:1.
func (a *art) curves() []picture.Curve {
	var out []picture.Curve
	for _, line := range a.lines {
		out = append(out, line.Curves...)
	}
	return out
}
