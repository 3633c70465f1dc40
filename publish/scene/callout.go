package scene

import (
	"plansheaf/design/layout"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// Frame is the box on paper, at 1:1, around pieces seen as [Studio.Together] shows them;
// picture.Nothing for none.
func Frame(pieces []layout.Piece) picture.Box { return around(pieces, view.Isometric) }

// Seen are the lines of pieces as [Studio.Together] shows them, at 1:1, for a picture of
// a scale in mm on paper to the mm within a frame (see [Frame]): Body is the index of the
// piece, edges that come out too short or run together are left out. It is none where
// nothing is to be drawn. Errors are those of [view.Project].
func (s *Studio) Seen(pieces []layout.Piece, frame picture.Box, scale float64) ([]view.Line, error) {
	a, err := s.project(pieces, view.Isometric, frame, frame.Width()*scale+2*edge, frame.Height()*scale+2*edge, smallest)
	if err != nil || a == nil {
		return nil, err
	}
	return a.lines, nil
}

// Callouts are balloons around a frame whose leaders end on one of the spots that each of
// them may choose from, in mm on paper from the frame's corner. One without spots, or
// whose leaders would all be in the way, is not there.
type Callouts struct {
	Margin float64 // mm of paper that the balloons need around the frame
	list   []balloon
}

// Arranged finds places for balloons.
func Arranged(frame picture.Box, spots [][]picture.Point) Callouts {
	sighted := make([][]sighting, len(spots))
	for i, list := range spots {
		for _, at := range list[:min(len(list), mostSightings)] {
			sighted[i] = append(sighted[i], sighting{at: at, clear: roomy})
		}
	}
	list, margin := arrange(frame, sighted)
	return Callouts{Margin: margin + balloonRadius + edge, list: list}
}

// Shown are the indices of those that are there, ascending.
func (c Callouts) Shown() []int {
	var out []int
	for _, b := range c.list {
		out = append(out, b.item)
	}
	return out
}

// Draw adds the balloons to a picture on which the frame's corner lies at shift, each
// with its letters: two or three.
func (c Callouts) Draw(pic *picture.Picture, shift picture.Point, letters []string) {
	for _, b := range c.list {
		b.lettered(pic, shift, letters[b.item])
	}
}
