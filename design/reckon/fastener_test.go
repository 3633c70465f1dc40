package reckon

import (
	"math"
	"testing"

	"plansheaf/design/standards"
)

// Sizes: ISO 4762:2004, ISO 4032:2012, ISO 7089:2000, ISO 4017; the head of a
// fastener stands above the plane it bears on, the shank below.
func TestFastenerSolids(t *testing.T) {
	cases := []struct {
		name, designation string
		low, high, wide   float64 // mm
	}{
		{name: "cap screw", designation: "ISO 4762 M8x25 - 8.8", low: -25, high: 8, wide: 13},
		{name: "hexagon screw, across flats 13", designation: "ISO 4017 M8x30 - 8.8", low: -30, high: 5.3, wide: 13},
		{name: "nut", designation: "ISO 4032 M8 - 8", low: 0, high: 6.8, wide: 13},
		{name: "washer", designation: "ISO 7089 8", low: 0, high: 1.6, wide: 16},
		{name: "countersunk screw", designation: "ISO 10642 M6x20 - 10.9", low: -20, high: 0, wide: 13.44},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f, err := standards.Parse(c.designation)
			if err != nil {
				t.Fatal(err)
			}
			body := FastenerSolid(f)
			if body == nil {
				t.Fatal("no solid")
			}
			box := body.Box()
			// The socket head's knurled or rounded edges and the head's tolerance
			// leave a tenth either way.
			const within = 0.15
			if math.Abs(box.Min.Z-c.low) > within || math.Abs(box.Max.Z-c.high) > within {
				t.Errorf("reaches from %.2f to %.2f, want %.2f to %.2f", box.Min.Z, box.Max.Z, c.low, c.high)
			}
			if wide := math.Min(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y); math.Abs(wide-c.wide) > 0.4 {
				t.Errorf("is %.2f wide, want %.2f", wide, c.wide)
			}
		})
	}
}
