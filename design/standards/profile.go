package standards

import "math"

// A StepShape says how one step of a profile goes from its start to its end.
type StepShape string

// The shapes of a profile's steps.
const (
	Cylinder StepShape = "cylinder" // Diameter all along
	Cone     StepShape = "cone"     // straight from Diameter to EndDiameter
	Dome     StepShape = "dome"     // rounded from Diameter (top) to EndDiameter
	Hexagon  StepShape = "hexagon"  // prism with Flats; Diameter over corners
)

// A Step is one length of a fastener along its axis, all in millimetres. A
// fastener's steps follow each other from the top of the head, or from the top
// face of a nut or washer, downward.
type Step struct {
	Shape       StepShape
	Diameter    float64 // outer diameter at the start
	EndDiameter float64 // outer diameter at the end
	Flats       float64 // width across flats of a hexagon, otherwise 0
	Bore        float64 // hole along the axis, 0 when solid
	Length      float64
	Threaded    bool // outside for a screw, inside for a nut
}

// cornersPerFlats is the width across corners of a hexagon of unit flats.
var cornersPerFlats = 2 / math.Sqrt(3)

// collarPerFlats is the diameter of the collar around a nut's insert, as a part
// of the width across flats. Common practice, no source.
const collarPerFlats = 0.9

// panTop is how wide the flat top of a pan head is drawn, as a share of the head.
// Common practice, no source.
const panTop = 0.6

// Profile returns the shape of a fastener as steps along its axis, from the top
// of the head, or the top face of a nut or washer, downward. The socket is not
// in it; its size and depth are Drive. Chamfers and fillets are left out, except
// the point of a set screw.
func (f Fastener) Profile() []Step {
	switch f.Kind {
	case Screw:
		return f.screwProfile()
	case SetScrew:
		return f.setScrewProfile()
	case Nut:
		return f.nutProfile()
	case Washer:
		return []Step{{Shape: Cylinder, Diameter: f.WasherOutside, EndDiameter: f.WasherOutside, Bore: f.WasherInside, Length: f.WasherThick}}
	case Pin:
		return []Step{cylinder(f.PinDiameter, f.Length, false)}
	case SpringPin:
		return []Step{{Shape: Cylinder, Diameter: f.PinDiameter, EndDiameter: f.PinDiameter, Bore: f.PinBore, Length: f.Length}}
	case Collar:
		return []Step{{Shape: Cylinder, Diameter: f.CollarOutside, EndDiameter: f.CollarOutside, Bore: f.CollarBore, Length: f.CollarWidth}}
	case Rivet:
		if f.Head.Form == Countersunk {
			head := Step{Shape: Cone, Diameter: f.Head.Diameter, EndDiameter: f.PinDiameter, Length: f.Head.Height}
			return []Step{head, cylinder(f.PinDiameter, f.Length-f.Head.Height, false)}
		}
		head := Step{Shape: Cylinder, Diameter: f.Head.Diameter, EndDiameter: f.Head.Diameter, Length: f.Head.Height}
		return []Step{head, cylinder(f.PinDiameter, f.Length, false)}
	case WoodScrew:
		return f.woodProfile()
	case Ring:
		return []Step{f.ringStep()}
	}
	return nil
}

func (f Fastener) screwProfile() []Step {
	head := Step{Diameter: f.Head.Diameter, EndDiameter: f.Head.Diameter, Length: f.Head.Height}
	shank := f.Length
	switch f.Head.Form {
	case Cylindrical:
		head.Shape = Cylinder
	case Button:
		// The dome is cut off flat where the socket opens.
		head.Shape = Dome
		head.Diameter = f.Drive.Size * cornersPerFlats
	case Pan:
		head.Shape = Dome
		head.Diameter *= panTop
	case Countersunk:
		head.Shape = Cone
		head.EndDiameter = f.Thread.Major
		shank -= head.Length
	case Hexagonal:
		head.Shape = Hexagon
		head.Flats = f.Head.Flats
	}
	steps := []Step{head}
	if plain := shank - f.ThreadLength; plain > 0 {
		steps = append(steps, cylinder(f.Thread.Major, plain, false))
	}
	if f.ThreadLength > 0 {
		steps = append(steps, cylinder(f.Thread.Major, f.ThreadLength, true))
	}
	return steps
}

// woodProfile is a screw with a point as long as its core is thick.
func (f Fastener) woodProfile() []Step {
	steps := f.screwProfile()
	last := &steps[len(steps)-1]
	point := math.Min(f.Thread.Minor, last.Length/2)
	last.Length -= point
	return append(steps, Step{Shape: Cone, Diameter: last.Diameter, EndDiameter: last.Diameter * pointShare, Length: point})
}

// pointShare is how wide the tip of a wood screw is drawn, as a share of its diameter.
const pointShare = 0.1

// ringStep is a retaining ring in its groove, closed all round and as wide everywhere
// as opposite to its gap: lugs and gap are left out.
func (f Fastener) ringStep() Step {
	g := f.Groove
	inside, outside := g.Diameter, g.Diameter+2*g.Beam
	if g.Inside {
		inside, outside = g.Diameter-2*g.Beam, g.Diameter
	}
	return Step{Shape: Cylinder, Diameter: outside, EndDiameter: outside, Bore: inside, Length: g.Thick}
}

func (f Fastener) setScrewProfile() []Step {
	major := f.Thread.Major
	if f.PointLength > 0 {
		return []Step{cylinder(major, f.Length-f.PointLength, true), cylinder(f.PointDiameter, f.PointLength, false)}
	}
	// A 45 degree flank leads from the thread to the point.
	flank := math.Min((major-f.PointDiameter)/2, f.Length/2)
	return []Step{
		cylinder(major, f.Length-flank, true),
		{Shape: Cone, Diameter: major, EndDiameter: f.PointDiameter, Length: flank},
	}
}

func (f Fastener) nutProfile() []Step {
	var steps []Step
	if collar := f.NutHeight - f.NutHexagon; collar > 0 {
		outside := f.Flats * collarPerFlats
		steps = append(steps, Step{Shape: Cylinder, Diameter: outside, EndDiameter: outside, Bore: f.Thread.Minor, Length: collar})
	}
	corners := f.Flats * cornersPerFlats
	return append(steps, Step{
		Shape: Hexagon, Diameter: corners, EndDiameter: corners, Flats: f.Flats,
		Bore: f.Thread.Minor, Length: f.NutHexagon, Threaded: true,
	})
}

func cylinder(diameter, length float64, threaded bool) Step {
	return Step{Shape: Cylinder, Diameter: diameter, EndDiameter: diameter, Length: length, Threaded: threaded}
}

// volume returns the material of a step in cubic millimetres, with an outer
// thread counted at its pitch diameter, where as much stands out as is cut in.
func (s Step) volume(thread Thread) float64 {
	top, bottom := s.Diameter/2, s.EndDiameter/2
	if s.Threaded && s.Bore == 0 {
		top, bottom = thread.PitchDiameter/2, thread.PitchDiameter/2
	}
	bore := s.Bore / 2
	if s.Threaded && s.Bore > 0 {
		bore = thread.PitchDiameter / 2
	}
	hole := math.Pi * bore * bore * s.Length
	switch s.Shape {
	case Hexagon:
		return math.Sqrt(3)/2*s.Flats*s.Flats*s.Length - hole
	case Dome:
		// Spherical segment between parallel circles.
		return math.Pi*s.Length/6*(3*top*top+3*bottom*bottom+s.Length*s.Length) - hole
	}
	return math.Pi*s.Length/3*(top*top+top*bottom+bottom*bottom) - hole
}

// mass works out what one fastener weighs, in kilograms.
func (f Fastener) mass() float64 {
	volume := 0.0
	for _, step := range f.Profile() {
		volume += step.volume(f.Thread)
	}
	if f.Drive.Kind == HexSocket && f.Kind != Collar {
		volume -= math.Sqrt(3) / 2 * f.Drive.Size * f.Drive.Size * f.Drive.Depth
	}
	material, _ := MaterialByID(f.Material)
	const cubicMetre = 1e9 // in cubic millimetres
	return volume / cubicMetre * material.Density
}
