package standards

import "sync"

// A ParallelKey holds a hub on a shaft. Lengths are millimetres.
type ParallelKey struct {
	Width      float64
	Height     float64
	ShaftDepth float64 // of the keyway in the shaft
	HubDepth   float64 // of the keyway in the hub
}

// ParallelKeyFor returns the key for a shaft's diameter in millimetres, false
// outside 6 to 65 mm. Source: ISO/R 773.
func ParallelKeyFor(shaft float64) (ParallelKey, bool) {
	r, found := rangeOf(parallelKeys(), shaft)
	if !found {
		return ParallelKey{}, false
	}
	return ParallelKey{
		Width: r.number("width_mm"), Height: r.number("height_mm"),
		ShaftDepth: r.number("shaft_depth_mm"), HubDepth: r.number("hub_depth_mm"),
	}, true
}

var parallelKeys = sync.OnceValue(func() []row { return readTable("parallel-keys").rows })
