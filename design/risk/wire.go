package risk

// wires are the currents in amperes that a copper conductor of a cross-section in
// square millimetres carries for long without becoming dangerously warm, as
// IEC 60335-1 asks of supply cords (from memory); the smallest two rows: common
// practice, no source. Bundles, coiled cables and warm places bear less.
var wires = []struct{ area, amperes float64 }{
	{0.14, 1}, {0.25, 2}, {0.5, 3}, {0.75, 6}, {1, 10}, {1.5, 16}, {2.5, 25}, {4, 32}, {6, 40}, {10, 63},
}

// WireCarries is the current in amperes that a conductor bears: that of the next
// smaller row of the table. ok is false below its smallest and above its largest
// cross-section.
func WireCarries(area float64) (amperes float64, ok bool) {
	const within = 1e-9
	for _, w := range wires {
		if area < w.area-within {
			break
		}
		amperes, ok = w.amperes, true
	}
	return amperes, ok && area <= wires[len(wires)-1].area+within
}

// WireFor is the smallest listed cross-section in square millimetres that bears a
// current in amperes; ok is false where none does.
func WireFor(amperes float64) (area float64, ok bool) {
	for _, w := range wires {
		if w.amperes >= amperes {
			return w.area, true
		}
	}
	return 0, false
}
