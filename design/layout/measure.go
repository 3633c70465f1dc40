package layout

import (
	"math"
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// Diagonal is what a builder measures across two parts of assembly a, named as the
// assembly calls them, to see whether they stand square: from an outer corner of
// one to the opposite outer corner of the other, in millimetres, over the two
// longest sides of the box around both. ok is false where one has no shape or no
// place.
func (l *Layout) Diagonal(a *plan.Assembly, first, second string) (mm float64, ok bool) {
	around := solid.EmptyBox()
	for _, name := range []string{first, second} {
		t, why := l.reach(a, plan.Word{Text: name}.Path())
		if why != nil {
			return 0, false
		}
		body := l.body(t.use)
		if body == nil {
			return 0, false
		}
		box := body.BoxUnder(t.at)
		around = around.Join(box)
	}
	size := around.Size()
	sides := []float64{size.X, size.Y, size.Z}
	slices.Sort(sides)
	return math.Hypot(sides[1], sides[2]), true
}
