package solid

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"
)

// Sections of every kind, for mitres.
var mitreSections = []struct {
	name    string
	section Section
}{
	{"flat bar", Rectangle{W: 40, H: 20}},
	{"rounded bar", Rectangle{W: 40, H: 20, Corner: 3}},
	{"round bar", Round{D: 25}},
	{"tube", Tube{D: 25, Wall: 2}},
	{"box", BoxTube{W: 40, H: 20, Wall: 2, Corner: 3}},
	{"angle", Angle{W: 40, H: 30, Wall: 4, Corner: 3}},
	{"channel", Channel{W: 40, H: 20, Wall: 3}},
	{"slotted bar", Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}},
	{"profile", Profile{Outline: PolygonOutline([]Vec2{{0, 0}, {40, 0}, {10, 30}})}},
}

// A mitre turns about the section, so a bar's volume is the section's area times the
// length of the line through its centre (Pappus, the same as for any truncated
// prism), and a mitred face is the section's area over the angle's cosine.
func TestMitredBars(t *testing.T) {
	const length = 200.0
	rng := rand.New(rand.NewSource(1))
	for _, s := range mitreSections {
		m, err := SectionMoments(s.section)
		if err != nil {
			t.Fatal(err)
		}
		for _, lies := range []Axis{AxisX, AxisY, AxisZ} {
			var long []string
			for _, axis := range across(lies) {
				long = append(long, sideNames[axis][:]...)
			}
			for _, start := range []float64{0, 45, 10 + 40*rng.Float64()} {
				b := Bar{Section: s.section, Length: length, Lies: lies,
					Start: Mitre{start * degree, long[rng.Intn(4)]}, End: Mitre{60 * rng.Float64() * degree, long[rng.Intn(4)]}}
				t.Run(fmt.Sprintf("%s along %v, %s %.3g, %s %.3g", s.name, lies, b.Start.Long, start, b.End.Long, degrees(b.End.Angle)), func(t *testing.T) {
					mitredBar(t, b, m)
				})
			}
		}
	}
}

// mitredBar checks one bar with a section of the moments m.
func mitredBar(t *testing.T, b Bar, m AreaMoments) {
	solid, err := Build(Shape{Base: b})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, solid)
	axes, dir := across(b.Lies), b.Lies.Vec()
	// fromLong is the distance of the section's centre from a side along the bar.
	fromLong := func(side string) float64 {
		for k, axis := range axes {
			at, size := m.Centre.X-m.Low.X, m.High.X-m.Low.X
			if k == 1 {
				at, size = m.Centre.Y-m.Low.Y, m.High.Y-m.Low.Y
			}
			switch side {
			case sideNames[axis][0]:
				return at
			case sideNames[axis][1]:
				return size - at
			}
		}
		t.Fatalf("no side %q", side)
		return 0
	}
	want := m.Area * (b.Length - fromLong(b.Start.Long)*math.Tan(b.Start.Angle) - fromLong(b.End.Long)*math.Tan(b.End.Angle))
	if got := solid.Measure().Volume; math.Abs(got-want) > 1e-6*want {
		t.Errorf("volume %.9g, want %.9g", got, want)
	}
	size := axes[0].Vec().Mul(m.High.X - m.Low.X).Add(axes[1].Vec().Mul(m.High.Y - m.Low.Y)).Add(dir.Mul(b.Length))
	if solid.Box().Min.Len() > 1e-6 || solid.Box().Max.Dist(size) > 1e-6 {
		t.Errorf("box %v, want from 0 to %v", solid.Box(), size)
	}
	names := sideNames[b.Lies]
	switch b.Section.(type) {
	case Round, Tube:
		names = [2]string{"start", "end"}
	}
	for end, mitre := range [2]Mitre{b.Start, b.End} {
		f, ok := solid.Feature(names[end])
		if !ok || f.Kind != FlatFace || len(f.Faces) != 1 {
			t.Fatalf("no face %s: %v", names[end], f)
		}
		way := dir.Mul(float64(2*end - 1))
		if got := f.Dir.Dot(way); math.Abs(got-math.Cos(mitre.Angle)) > 1e-9 {
			t.Errorf("%s looks %v: %.9g along the bar, want %.9g", f.Name, f.Dir, got, math.Cos(mitre.Angle))
		}
		for _, d := range sideDirections {
			if d.name == mitre.Long && math.Abs(f.Dir.Dot(d.dir)+math.Sin(mitre.Angle)) > 1e-9 {
				t.Errorf("%s looks %v, which is not away from %s by %.3g°", f.Name, f.Dir, d.name, degrees(mitre.Angle))
			}
		}
		if got, want := solid.FaceArea(f.Faces[0]), m.Area/math.Cos(mitre.Angle); math.Abs(got-want) > 1e-6*want {
			t.Errorf("%s has %.9g mm², want %.9g", f.Name, got, want)
		}
		plane := solid.Faces[f.Faces[0]].Surface.(Plane)
		if off := f.At.Sub(plane.O).Dot(plane.Z); math.Abs(off) > 1e-6 {
			t.Errorf("the middle of %s lies %g mm off it", f.Name, off)
		}
		if solid.Faces[f.Faces[0]].Inward || plane.Z.Dot(f.Dir) < 1-1e-9 {
			t.Errorf("%s looks %v, its surface %v", f.Name, f.Dir, plane.Z)
		}
	}
}

func TestMitredFeatures(t *testing.T) {
	slotted := Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}
	s := build(t, Bar{Section: slotted, Length: 200, Start: Mitre{45 * degree, "bottom"}, End: Mitre{45 * degree, "bottom"}})
	for _, c := range []struct {
		slot     string
		from, to float64
	}{
		{"slot_bottom", 0, 200},
		{"slot_top", 30, 170},
		{"slot_front", 15, 185},
	} {
		f, ok := s.Feature(c.slot)
		if !ok || math.Abs(f.Box.Min.X-c.from) > 1e-9 || math.Abs(f.Box.Max.X-c.to) > 1e-9 {
			t.Errorf("%s runs from %g to %g, want %g to %g", c.slot, f.Box.Min.X, f.Box.Max.X, c.from, c.to)
		}
	}
	round := build(t, Bar{Section: Round{D: 20}, Length: 100, Lies: AxisZ, Start: Mitre{45 * degree, "left"}})
	axis, _ := round.Feature("axis")
	if axis.Depth != 90 || axis.At.Dist(Vec{10, 10, 55}) > 1e-9 {
		t.Errorf("axis is %g long about %v, want 90 about (10, 10, 55)", axis.Depth, axis.At)
	}
	if end, _ := round.Feature("end"); end.Dir != (Vec{Z: 1}) {
		t.Errorf("the square end looks %v", end.Dir)
	}
}

func TestMitreFaults(t *testing.T) {
	bar := Bar{Section: Rectangle{W: 40, H: 20}, Length: 60}
	for _, c := range []struct {
		name       string
		start, end Mitre
		want       string
	}{
		{"too steep", Mitre{85 * degree, "bottom"}, Mitre{}, "mitre.start: a mitre of 85° is out of range"},
		{"leaning outward", Mitre{}, Mitre{-10 * degree, "bottom"}, "mitre.end: a mitre of -10° is out of range"},
		{"not a number", Mitre{math.NaN(), "bottom"}, Mitre{}, "mitre.start: a mitre of NaN° is out of range"},
		{"no side", Mitre{45 * degree, ""}, Mitre{}, `mitre.long: is "", but the sides along the bar are front, back, bottom and top`},
		{"an end as side", Mitre{45 * degree, "left"}, Mitre{}, `mitre.long: is "left"`},
		{"mitres meet", Mitre{45 * degree, "front"}, Mitre{45 * degree, "front"}, "mitre.start: mitres take 80 mm of the bar's length at its short side, but it is 60 mm long"},
		{"across each other", Mitre{}, Mitre{60 * degree, "front"}, "mitre.end: mitres take 69.28"},
	} {
		b := bar
		b.Start, b.End = c.start, c.end
		_, err := Build(Shape{Base: b})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	// Leaning the same way the two ends pass each other.
	bar.Start, bar.End = Mitre{45 * degree, "front"}, Mitre{45 * degree, "back"}
	if _, err := Build(Shape{Base: bar}); err != nil {
		t.Errorf("a short brace: %v", err)
	}
}
