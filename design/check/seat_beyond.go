package check

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// seatNotes say of overlapping bodies that one is seated by a face that is not its
// outermost on that side: the largest face that looks one way has the side's name, and
// what stands out beyond it reaches into what the part is seated on.
func seatNotes(bodies ...*clash.Body) (notes []finding.Related) {
	for _, b := range bodies {
		if b.Joint != nil || b.In.Use == nil || b.In.Use.Seat == nil || b.Part.Solid == nil {
			continue
		}
		mine := b.In.Use.Seat.Mine
		if beyond := standsBeyond(b.Part.Solid, mine); beyond > headWithin {
			notes = append(notes, finding.Related{At: mine.At, Say: fmt.Sprintf("it is seated by the largest of its faces that look to its %s; %s of it stand out beyond that face: where its outermost point is meant, write gap: %s", mine.Text, hundredths(beyond), hundredths(beyond))})
		}
	}
	return notes
}

// standsBeyond is how far a body reaches beyond its face of a side's name, mm; 0 for other
// features.
func standsBeyond(body *solid.Solid, face plan.Word) float64 {
	f, ok := body.Feature(face.Text)
	if !ok || f.Kind != solid.FlatFace || !slices.Contains(plan.Faces(), face.Text) {
		return 0
	}
	box := body.Box()
	return max(0, math.Max(box.Min.Sub(f.At).Dot(f.Dir), box.Max.Sub(f.At).Dot(f.Dir)))
}
