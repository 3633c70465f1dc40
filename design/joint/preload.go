package joint

import (
	"math"

	"plansheaf/design/standards"
)

// The friction in thread and under head of steel screws as sold, zinc plated or lightly
// oiled. A torque is worked out for the least, so that no screw is drawn over its
// yield; what clamping is sure is that of the most. Source: VDI 2230 Part 1, friction
// class B is 0.08 to 0.16; below 0.10 screws are lubricated on purpose.
const (
	LeastFriction = 0.10
	MostFriction  = 0.16
)

const (
	// yieldUsed is the share of its yield strength that a screw is tightened to, pull
	// and twist taken together. Source: VDI 2230 Part 1.
	yieldUsed = 0.9
	// capBears is the diameter of the face under a cylindrical or button head over the
	// head's: 12.33 of 13 mm (ISO 4762, least dw of M8).
	capBears = 0.95
)

// AssemblyPreload is the clamping force in newtons at which a screw of a yield strength,
// in megapascals, reaches nine tenths of it while it is turned against a friction in
// its thread. Source: VDI 2230 Part 1 (2003), equation R7/1.
func AssemblyPreload(t standards.Thread, yield, friction float64) float64 {
	d0 := (t.PitchDiameter + t.Root) / 2
	twist := 1.5 * t.PitchDiameter / d0 * (t.Pitch/(math.Pi*t.PitchDiameter) + 1.155*friction)
	return math.Pi / 4 * d0 * d0 * yieldUsed * yield / math.Sqrt(1+3*twist*twist)
}

// TorquePerForce is the torque that draws a screw to a force, in newton metres per
// newton, against a friction in its thread and under a head that bears from one
// diameter to another, in millimetres. Source: VDI 2230 Part 1 (2003), equation R13/1.
func TorquePerForce(t standards.Thread, friction, hole, outside float64) float64 {
	mean := (hole + outside) / 2
	return (0.16*t.Pitch + 0.58*t.PitchDiameter*friction + mean/2*friction) / 1000
}

// bears is the diameter of the face under a head or nut, mm; 1.5 diameters where no
// head is known.
func bears(f standards.Fastener) float64 {
	switch {
	case f.Flats > 0:
		return f.Flats * flatsBear
	case f.Head.Diameter > 0:
		return f.Head.Diameter * capBears
	}
	return 1.5 * f.Thread.Major
}

// pressed is the force in newtons at which what lies under a face of a diameter, over a
// hole of another, in mm, gives way; known is false where no table has the material's
// strength, or where nothing lies under it.
func pressed(m standards.Material, hole, outside float64) (force float64, known bool) {
	limit, known := standards.BearingPressure(m)
	return limit * math.Pi / 4 * (outside*outside - hole*hole), known && outside > hole
}
