package standards

import "sync"

// A ClearanceHole is the hole through which a screw passes freely.
type ClearanceHole struct {
	Diameter float64 // mm
	Text     string  // the drill as sold: "9 mm", "#18", "17/64"
}

// ClearanceFits returns the names of the fits for a metric or a unified thread,
// tightest first: fine, medium, coarse (ISO 273), or close, normal, loose
// (ASME B18.2.8).
func ClearanceFits(inch bool) []string {
	if inch {
		return []string{"close", "normal", "loose"}
	}
	return []string{"fine", "medium", "coarse"}
}

// Clearance returns the diameter in millimetres of the clearance hole for a
// thread. An empty fit means medium or normal. It reports false for a fit that
// does not belong to the thread's system and for a size that the table lacks.
func Clearance(thread Thread, fit string) (float64, bool) {
	hole, known := ClearanceDrill(thread, fit)
	return hole.Diameter, known
}

// ClearanceDrill returns the clearance hole for a thread with the drill that
// makes it, on the terms of [Clearance].
func ClearanceDrill(thread Thread, fit string) (ClearanceHole, bool) {
	if fit == "" {
		fit = ClearanceFits(thread.Inch)[1]
	}
	hole, known := clearanceHoles()[holeKey{thread.Size, fit}]
	return hole, known
}

type holeKey struct{ size, fit string }

var clearanceHoles = sync.OnceValue(func() map[holeKey]ClearanceHole {
	holes := make(map[holeKey]ClearanceHole)
	for _, r := range readTable("clearance-holes").rows {
		for _, fit := range ClearanceFits(false) {
			diameter := r.number(fit + "_mm")
			holes[holeKey{r.text("size"), fit}] = ClearanceHole{diameter, formatMillimetres(diameter) + " mm"}
		}
	}
	for _, r := range readTable("clearance-holes-inch").rows {
		for _, fit := range ClearanceFits(true) {
			holes[holeKey{r.text("size"), fit}] = ClearanceHole{r.inches(fit + "_in"), r.text(fit + "_drill")}
		}
	}
	return holes
})
