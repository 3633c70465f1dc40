package standards

import (
	"math"
	"testing"
)

// TestProfiles checks what must hold of every shape: its steps follow on, add up
// to the overall length, and lie within head and thread.
func TestProfiles(t *testing.T) {
	for _, f := range everyFastener(t) {
		steps := f.Profile()
		total, threaded, widest := 0.0, 0.0, 0.0
		for _, step := range steps {
			if step.Length <= 0 || step.Diameter <= 0 || step.EndDiameter <= 0 || step.Bore >= step.Diameter {
				t.Errorf("%s: step %+v", f, step)
			}
			if (step.Shape == Hexagon) != (step.Flats > 0) {
				t.Errorf("%s: step %+v: a hexagon has flats, nothing else has", f, step)
			}
			total += step.Length
			widest = math.Max(widest, math.Max(step.Diameter, step.EndDiameter))
			if step.Threaded {
				threaded += step.Length
			}
		}
		want := map[Kind]float64{
			Screw: f.Head.Height + f.Length, SetScrew: f.Length, Nut: f.NutHeight, Washer: f.WasherThick, Pin: f.Length,
			SpringPin: f.Length, Rivet: f.Head.Height + f.Length, WoodScrew: f.Head.Height + f.Length, Ring: f.Groove.Thick, Collar: f.CollarWidth,
		}[f.Kind]
		if f.Head.Form == Countersunk {
			want = f.Length // its length counts the head
		}
		if math.Abs(total-want) > exact {
			t.Errorf("%s is %v mm overall, its steps %v", f, want, total)
		}
		if f.Kind == Screw && (math.Abs(widest-f.Head.Diameter) > exact || math.Abs(threaded-f.ThreadLength) > exact) {
			t.Errorf("%s: widest %v, head %v; threaded %v, want %v", f, widest, f.Head.Diameter, threaded, f.ThreadLength)
		}
	}
}

// A cylinder, a cone, a spherical segment and a hexagonal prism against the
// formulas of solid geometry.
func TestStepVolumes(t *testing.T) {
	for _, row := range []struct {
		name string
		step Step
		want float64
	}{
		{"cylinder", Step{Shape: Cylinder, Diameter: 2, EndDiameter: 2, Length: 3}, math.Pi * 3},
		{"tube", Step{Shape: Cylinder, Diameter: 4, EndDiameter: 4, Bore: 2, Length: 1}, math.Pi * 3},
		{"whole cone", Step{Shape: Cone, Diameter: 2, Length: 3}, math.Pi},
		{"half ball", Step{Shape: Dome, EndDiameter: 2, Length: 1}, 2 * math.Pi / 3},
		{"hexagon of side 1", Step{Shape: Hexagon, Flats: math.Sqrt(3), Length: 2}, 3 * math.Sqrt(3)},
	} {
		if got := row.step.volume(Thread{}); math.Abs(got-row.want) > exact {
			t.Errorf("%s: %v, want %v", row.name, got, row.want)
		}
	}
}

func TestThreadLengths(t *testing.T) {
	for _, row := range []struct {
		designation string
		want        float64
	}{
		{"ISO 4014 M8x60", 22},                    // 2d + 6
		{"ISO 4014 M16x130", 44},                  // 2d + 12 over 125 mm
		{"ISO 4014 M24x220", 73},                  // 2d + 25 over 200 mm
		{"ISO 4017 M8x60", 60},                    // threaded to the head
		{"ISO 4762 M8x50", 28},                    // 2d + 12
		{"ISO 10642 M8x40", 35.04},                // to the head, which is 4.96 high
		{"ISO 10642 M8x60", 28},                   // 2d + 12
		{"ISO 4028 M6x20", 17},                    // less the dog point of 3
		{"ASME B18.2.1 1/2-13 x 3", 1.25 * 25.4},  // 2d + 1/4 in
		{"ASME B18.2.1 1/4-20 x 1/2", 0.5 * 25.4}, // too short for that
		{"ASME B18.2.1 1/2-13 x 7", 1.5 * 25.4},   // 2d + 1/2 in over 6 in
		{"ASME B18.3 1/4-20 x 2", 25.4},           // ASME B18.3, table 1
	} {
		if f := mustParse(t, row.designation); math.Abs(f.ThreadLength-row.want) > exact {
			t.Errorf("%s: thread %v, want %v", f, f.ThreadLength, row.want)
		}
	}
	for _, r := range readTable("iso-4762").rows {
		thread, _ := ThreadByName(r.text("size"))
		// ISO 4762: b = 2d + 12, which the table rounds for M1.6 to whole mm.
		if b := r.number("thread_length_mm"); math.Abs(b-(2*thread.Major+12)) > 0.5 {
			t.Errorf("ISO 4762 %s: b %v", thread.Name, b)
		}
	}
}

// A 90 degree head is as high as half of what it is wider than the screw. The
// published heads of ISO 10642 must agree, since the cone is built from both.
func TestCountersunkHeads(t *testing.T) {
	for _, r := range readTable("iso-10642").rows {
		thread, _ := ThreadByName(r.text("size"))
		want := (r.number("head_diameter_mm") - thread.Major) / 2
		if height := r.number("head_height_mm"); math.Abs(height-want) > 0.01 {
			t.Errorf("ISO 10642 %s: head %v high, a 90 degree cone is %v", thread.Name, height, want)
		}
	}
}

// Every drive fits inside its head and every bore over its screw.
func TestSizesAgree(t *testing.T) {
	for _, f := range everyFastener(t) {
		corners := f.Drive.Size * cornersPerFlats
		switch {
		case f.Drive.Kind == HexSocket && f.Kind == Screw && (corners >= f.Head.Diameter || f.Drive.Depth <= 0):
			t.Errorf("%s: socket %+v in head %+v", f, f.Drive, f.Head)
		case f.Kind == SetScrew && (corners >= f.Thread.Major || f.Drive.Depth <= 0 || f.PointDiameter >= f.Thread.Major):
			t.Errorf("%s: socket %+v, point %v", f, f.Drive, f.PointDiameter)
		case f.Kind == Washer && (f.WasherInside <= f.Thread.Major || f.WasherOutside <= f.WasherInside):
			t.Errorf("%s: inside %v, outside %v, thread %s", f, f.WasherInside, f.WasherOutside, f.Thread.Name)
		case f.Kind == Nut && f.Flats <= f.Thread.Major:
			t.Errorf("%s: flats %v", f, f.Flats)
		case f.Kind == SpringPin && (f.PinFree.Least <= f.PinDiameter || f.PinBore >= f.PinDiameter):
			t.Errorf("%s: free %v, bore %v", f, f.PinFree, f.PinBore)
		case f.Kind == Rivet && (f.Hole.Least <= f.PinDiameter || f.Grip.Most >= f.Length || f.Grip.Least >= f.Grip.Most):
			t.Errorf("%s: hole %v, grip %v", f, f.Hole, f.Grip)
		case f.Kind == Ring && (f.Groove.Width <= f.Groove.Thick || f.Groove.Lug < f.Groove.Beam || (f.Groove.Diameter > f.Groove.Seat) != f.Groove.Inside):
			t.Errorf("%s: %+v", f, f.Groove)
		case f.Kind == WoodScrew && (f.Thread.Minor >= f.Thread.Major || f.Head.Diameter <= f.Thread.Major):
			t.Errorf("%s: core %v, head %v", f, f.Thread.Minor, f.Head.Diameter)
		case f.Head.Form == Hexagonal && f.Head.Flats <= f.Thread.Major:
			t.Errorf("%s: head %+v", f, f.Head)
		}
	}
}

// What turns a metric hexagon must be a spanner that is sold.
func TestSpannersAreSold(t *testing.T) {
	sold := make(map[string]bool)
	for _, spanner := range Spanners() {
		sold[spanner.Text] = true
	}
	for _, f := range everyFastener(t) {
		if spanner, needed := SpannerFor(f); needed && !sold[spanner.Text] {
			t.Errorf("%s needs a spanner of %s", f, spanner.Text)
		}
	}
}
