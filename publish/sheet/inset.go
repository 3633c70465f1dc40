package sheet

import (
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// insetStep is how finely free places are looked for, mm.
const insetStep = 4.0

// freePlace finds room for a block of a size, nearest the upper right corner.
func (l *layout) freePlace(width, height float64) (picture.Box, bool) {
	space := l.paper.space().Grow(-centringRun - 1)
	best, found, nearest := picture.Box{}, false, math.Inf(1)
	for y := space.Min.Y; y+height <= space.Max.Y; y += insetStep {
		for x := space.Max.X - width; x >= space.Min.X; x -= insetStep {
			box := picture.Box{Min: point{X: x, Y: y}, Max: point{X: x + width, Y: y + height}}
			away := (space.Max.X - box.Max.X) + 0.7*(box.Min.Y-space.Min.Y)
			if away < nearest && !l.overViews(box) && l.board.free(box.Grow(2)) {
				best, found, nearest = box, true, away
			}
		}
	}
	return best, found
}

// overViews reports whether a box lies over a view, where a second picture would
// read as part of it.
func (l *layout) overViews(box picture.Box) bool {
	return slices.ContainsFunc(l.panes, func(q pane) bool { return q.outline().Grow(3).Overlaps(box) })
}

// pictorialSizes are the widths and heights that a pictorial view is tried at.
var pictorialSizes = [][2]float64{{64, 56}, {52, 44}, {42, 36}, {32, 26}}

// pictorialLeast is the width below which a pictorial view shows nothing, mm.
const pictorialLeast = 10.0

// pictorial adds a small pictorial view where there is room: not to scale, to
// show at a glance what the part is. It reports whether there was room.
func (l *layout) pictorial() bool {
	if l.part.pictured.empty() {
		return false
	}
	bounds := l.part.pictured.bounds()
	for _, size := range pictorialSizes {
		factor := min(size[0]/bounds.Width(), size[1]/bounds.Height(), 1.1*l.scale.factor)
		if min(bounds.Width(), bounds.Height())*factor < pictorialLeast {
			return false
		}
		box, ok := l.freePlace(bounds.Width()*factor, bounds.Height()*factor)
		if !ok {
			continue
		}
		at := box.Centre().Minus(bounds.Centre().Times(factor))
		g := picture.Group{ID: "pictorial", Class: "view", Title: "Pictorial view, not to scale"}
		g.Marks = l.part.pictured.small(factor, at, picture.Thin)
		l.board.take(box)
		l.add(g)
		return true
	}
	return false
}
