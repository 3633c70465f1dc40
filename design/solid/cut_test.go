package solid

import (
	"math"
	"testing"
)

// wantMoments checks integrals over an area to a share of what is wanted.
func wantMoments(t *testing.T, got, want AreaMoments, share float64) {
	t.Helper()
	size := want.High.sub(want.Low).len()
	for _, row := range []struct {
		name      string
		got, want float64
		scale     float64
	}{
		{"area", got.Area, want.Area, want.Area},
		{"centre 1", got.Centre.X, want.Centre.X, size},
		{"centre 2", got.Centre.Y, want.Centre.Y, size},
		{"about the first axis", got.About1, want.About1, want.About1},
		{"about the second axis", got.About2, want.About2, want.About2},
		{"product", got.Product, want.Product, want.About1},
		{"low 1", got.Low.X, want.Low.X, size}, {"low 2", got.Low.Y, want.Low.Y, size},
		{"high 1", got.High.X, want.High.X, size}, {"high 2", got.High.Y, want.High.Y, size},
	} {
		if math.Abs(row.got-row.want) > share*row.scale {
			t.Errorf("%s is %.12g, want %.12g", row.name, row.got, row.want)
		}
	}
}

// Closed forms, and numbers of an independent geometry kernel: those recorded in
// testdata/kernel/kernel.csv for the slotted bar of 200 mm, whose inertia less that of
// its length is the section's.
func TestSectionMoments(t *testing.T) {
	const pi = math.Pi
	kernelAbout := (300377081.6 - 87840*200*200/12.0) / 200
	core := pi * 3.4 * 3.4
	rows := []struct {
		name    string
		section Section
		want    AreaMoments
	}{
		{"round", Round{20}, AreaMoments{pi * 100, Vec2{10, 10}, pi * 1e4 / 4, pi * 1e4 / 4, 0, Vec2{}, Vec2{20, 20}}},
		{"rectangle", Rectangle{W: 20, H: 30}, AreaMoments{600, Vec2{10, 15}, 45000, 20000, 0, Vec2{}, Vec2{20, 30}}},
		{"tube", Tube{20, 2}, AreaMoments{pi * 36, Vec2{10, 10}, pi * (1e4 - 4096) / 4, pi * (1e4 - 4096) / 4, 0, Vec2{}, Vec2{20, 20}}},
		{"box", BoxTube{W: 40, H: 60, Wall: 3}, AreaMoments{564, Vec2{20, 30}, (40*216000 - 34*157464) / 12.0, (60*64000 - 54*39304) / 12.0, 0, Vec2{}, Vec2{40, 60}}},
		{"slotted, kernel", Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16}, AreaMoments{439.2, Vec2{15, 15}, kernelAbout, kernelAbout, 0, Vec2{}, Vec2{30, 30}}},
		{"slotted with core", slotted30, AreaMoments{439.2 - core, Vec2{15, 15}, kernelAbout - core*3.4*3.4/4, kernelAbout - core*3.4*3.4/4, 0, Vec2{}, Vec2{30, 30}}},
		// Two of them beside each other, by parallel axes.
		{"slotted of two modules", slotted60, twoModules(t)},
		{"triangle", Profile{PolygonOutline([]Vec2{{0, 0}, {30, 0}, {0, 60}})}, AreaMoments{900, Vec2{10, 20}, 180000, 45000, -45000, Vec2{}, Vec2{30, 60}}},
		{"angle", Angle{W: 50, H: 30, Wall: 5}, parallelAxes(AreaMoments{Low: Vec2{}, High: Vec2{50, 30}}, [4]float64{0, 0, 50, 5}, [4]float64{0, 5, 5, 25})},
		{"channel", Channel{W: 50, H: 30, Wall: 4}, parallelAxes(AreaMoments{Low: Vec2{}, High: Vec2{50, 30}}, [4]float64{0, 0, 50, 4}, [4]float64{0, 4, 4, 26}, [4]float64{46, 4, 4, 26})},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			got, err := SectionMoments(row.section)
			if err != nil {
				t.Fatal(err)
			}
			share := 1e-12
			if row.section == Section(slotted60) {
				share = 1e-9 // its slots are added up by steps
			}
			wantMoments(t, got, row.want, share)
		})
	}
}

// twoModules is a slotted bar of two modules whose slots between them are not cut.
func twoModules(t *testing.T) AreaMoments {
	t.Helper()
	one, err := SectionMoments(slotted30)
	if err != nil {
		t.Fatal(err)
	}
	// What one slot takes away, below its mouth in the middle of the side: lip,
	// pocket and taper to the floor at 45 degrees.
	type piece struct{ low, high, from, to float64 } // depths, half widths there
	slot := AreaMoments{}
	first, square, wide := 0.0, 0.0, 0.0
	for _, p := range []piece{{0, 2, 4, 4}, {2, 5.2, 8, 8}, {5.2, 9.2, 8, 4}} {
		const steps = 20000
		for i := range steps {
			d := p.low + (p.high-p.low)*(float64(i)+0.5)/steps
			half := p.from + (p.to-p.from)*(float64(i)+0.5)/steps
			da := 2 * half * (p.high - p.low) / steps
			slot.Area += da
			first += d * da
			square += d * d * da
			wide += half * half / 3 * da
		}
	}
	// Both modules lie 15 from the middle; the two slots there are filled again.
	m := AreaMoments{Area: 2*one.Area + 2*slot.Area, Centre: Vec2{15, 30}, High: Vec2{30, 60}}
	m.About1 = 2*(one.About1+one.Area*15*15) + 2*square
	m.About2 = 2*one.About2 + 2*wide
	return m
}

// parallelAxes adds rectangles, each x, y, width and height, by parallel axes.
func parallelAxes(m AreaMoments, pieces ...[4]float64) AreaMoments {
	for _, p := range pieces {
		a := p[2] * p[3]
		m.Area += a
		m.Centre = m.Centre.add(Vec2{p[0] + p[2]/2, p[1] + p[3]/2}.mul(a))
	}
	m.Centre = m.Centre.mul(1 / m.Area)
	for _, p := range pieces {
		a, d := p[2]*p[3], Vec2{p[0] + p[2]/2, p[1] + p[3]/2}.sub(m.Centre)
		m.About1 += p[2]*p[3]*p[3]*p[3]/12 + a*d.Y*d.Y
		m.About2 += p[3]*p[2]*p[2]*p[2]/12 + a*d.X*d.X
		m.Product += a * d.X * d.Y
	}
	return m
}

// Published properties of structural sections, cm² and cm⁴ as printed; from memory.
func TestPublishedSections(t *testing.T) {
	rows := []struct {
		name, source         string
		section              Section
		area, about1, about2 float64
		half                 [2]float64 // half a unit of the last digit
	}{
		{"square tube 40 x 3", "EN 10219-2, outer corners of twice, inner of once the wall", BoxTube{W: 40, H: 40, Wall: 3, Corner: 6}, 4.21, 9.32, 9.32, [2]float64{0.005, 0.005}},
		{"tube 60 x 40 x 3", "EN 10219-2", BoxTube{W: 40, H: 60, Wall: 3, Corner: 6}, 5.41, 25.4, 13.4, [2]float64{0.005, 0.05}},
		{"round tube 33.7 x 2.6", "EN 10219-2", Tube{33.7, 2.6}, 2.54, 3.09, 3.09, [2]float64{0.005, 0.005}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			m, err := SectionMoments(row.section)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(m.Area/100-row.area) > row.half[0] || math.Abs(m.About1/1e4-row.about1) > row.half[1] || math.Abs(m.About2/1e4-row.about2) > row.half[1] {
				t.Errorf("%.4f cm², %.4f and %.4f cm⁴; printed %g, %g and %g (%s)", m.Area/100, m.About1/1e4, m.About2/1e4, row.area, row.about1, row.about2, row.source)
			}
		})
	}
}

// A bar cut across anywhere shows its section, whichever way it lies.
func TestCutIsTheSection(t *testing.T) {
	sections := []Section{
		Round{20}, Rectangle{W: 20, H: 30, Corner: 3}, Tube{20, 2}, BoxTube{W: 40, H: 60, Wall: 3, Corner: 6}, Angle{W: 40, H: 30, Wall: 5, Corner: 4},
		Channel{W: 50, H: 30, Wall: 4, Corner: 5}, slotted30, slotted60, Profile{PolygonOutline([]Vec2{{0, 0}, {30, 0}, {0, 60}})},
	}
	for _, section := range sections {
		want, err := SectionMoments(section)
		if err != nil {
			t.Fatal(err)
		}
		for _, lies := range []Axis{AxisX, AxisY, AxisZ} {
			got, err := build(t, Bar{Section: section, Length: 100, Lies: lies}).CutMoments(lies, 37)
			if err != nil {
				t.Fatal(err)
			}
			wantMoments(t, got, want, 1e-9)
		}
	}
}

func TestCutThroughHoles(t *testing.T) {
	drilled := build(t, plate(10), Hole{Name: "a", At: []Vec2{{50, 30}}, D: 12, Counterbore: &Counterbore{20, 4}})
	through, err := drilled.CutMoments(AxisX, 50)
	if err != nil {
		t.Fatal(err)
	}
	// 60 x 10 less 12 x 10 and, at the top, 4 on either side by 4.
	want := parallelAxes(AreaMoments{High: Vec2{60, 10}}, [4]float64{0, 0, 20, 10}, [4]float64{40, 0, 20, 10}, [4]float64{20, 0, 4, 6}, [4]float64{36, 0, 4, 6})
	wantMoments(t, through, want, 1e-9)
	level, err := drilled.CutMoments(AxisZ, 8)
	if err != nil {
		t.Fatal(err)
	}
	if want := 6000 - math.Pi*100; math.Abs(level.Area-want) > 1e-9*want {
		t.Errorf("a cut along the plate has %g mm², want %g", level.Area, want)
	}
	if _, err := drilled.CutMoments(AxisX, 100); err == nil {
		t.Error("a cut at the end of the part gives an area")
	}
}

func TestLeastMoment(t *testing.T) {
	m, err := SectionMoments(Angle{W: 50, H: 50, Wall: 5})
	if err != nil {
		t.Fatal(err)
	}
	// A leg 45 x 5 and a corner 50 x 5 bend most easily about the line through both toes.
	if want := m.About1 - math.Abs(m.Product); math.Abs(m.Least()-want) > 1e-9*want {
		t.Errorf("the least moment is %g, want %g", m.Least(), want)
	}
}
