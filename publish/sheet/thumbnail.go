package sheet

import (
	"fmt"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// Size of a thumbnail on paper, mm.
const (
	thumbWide = 48.0
	thumbHigh = 36.0
	thumbPad  = 2.0
)

// Thumbnail is a small pictorial line drawing of a part, 48 by 36 mm, for cards
// and lists. It returns ErrNoSolid when there is nothing to draw.
func Thumbnail(name, title string, s *solid.Solid) (*picture.Picture, error) {
	if s == nil || len(s.Faces) == 0 {
		return nil, fmt.Errorf("draw thumbnail %q: %w", name, ErrNoSolid)
	}
	d, err := pictureOf(s)
	if err != nil {
		return nil, fmt.Errorf("draw thumbnail %q: %w", name, err)
	}
	p := &picture.Picture{Name: name, Title: title, Description: "Pictorial view of " + title + " from the front, the right and above.",
		Width: thumbWide, Height: thumbHigh, Group: 0.35}
	bounds := d.bounds()
	factor := min((thumbWide-2*thumbPad)/bounds.Width(), (thumbHigh-2*thumbPad)/bounds.Height())
	shift := point{X: thumbWide / 2, Y: thumbHigh / 2}.Minus(bounds.Centre().Times(factor))
	p.Add(d.small(factor, shift, picture.Visible)...)
	return p, nil
}
