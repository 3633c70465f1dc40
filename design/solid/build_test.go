package solid

import (
	"errors"
	"math"
	"strings"
	"testing"
)

var (
	slotted30 = Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}
	slotted60 = Slotted{W: 30, H: 60, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}
)

// TestSections checks the volume of a length of 100 mm by closed forms, the box,
// and that the bar is the same however it lies.
func TestSections(t *testing.T) {
	corner := func(r float64) float64 { return (1 - math.Pi/4) * r * r }
	l, err := RectangleOutline(20, 30).Chamfered(2)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name    string
		section Section
		area    float64
		w, h    float64
	}{
		{"round", Round{12}, math.Pi * 36, 12, 12},
		{"rectangle", Rectangle{W: 20, H: 10}, 200, 20, 10},
		{"rounded square", Rectangle{20, 20, 3}, 400 - 4*corner(3), 20, 20},
		{"tube", Tube{30, 3}, math.Pi * (225 - 144), 30, 30},
		{"box tube", BoxTube{W: 40, H: 20, Wall: 2}, 800 - 36*16, 40, 20},
		{"rounded box tube", BoxTube{40, 20, 2, 3}, 800 - 4*corner(3) - (36*16 - 4*corner(1)), 40, 20},
		{"angle", Angle{W: 40, H: 30, Wall: 3}, 40*3 + 27*3, 40, 30},
		{"angle with root", Angle{40, 30, 3, 4}, 40*3 + 27*3 + corner(4), 40, 30},
		{"channel", Channel{W: 40, H: 30, Wall: 3}, 40*3 + 2*27*3, 40, 30},
		{"channel with roots", Channel{40, 30, 3, 4}, 40*3 + 2*27*3 + 2*corner(4), 40, 30},
		{"profile", Profile{l.moved(Vec2{5, -7})}, 600 - 4*2, 20, 30},
		// A slot takes mouth, straight pocket and tapered floor.
		{"slotted", slotted30, 900 - 4*(8*2+16*3.2+12*4) - math.Pi*3.4*3.4, 30, 30},
		{"slotted with rounded corners", Slotted{30, 30, 8, 2, 9.2, 16, 6.8, 0, 1.5}, 900 - 4*(8*2+16*3.2+12*4) - math.Pi*3.4*3.4 - 4*corner(1.5), 30, 30},
		{"double slotted", slotted60, 1800 - 6*(8*2+16*3.2+12*4) - 2*math.Pi*3.4*3.4, 30, 60},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for lies, size := range []Vec{{100, tt.w, tt.h}, {tt.w, 100, tt.h}, {tt.w, tt.h, 100}} {
				s := build(t, Bar{Section: tt.section, Length: 100, Lies: Axis(lies)})
				sound(t, s)
				if v := s.Measure().Volume; !near(v, 100*tt.area, 1e-9, 0) {
					t.Errorf("lies %v: volume %.10g, want %.10g", Axis(lies), v, 100*tt.area)
				}
				if b := s.Box(); b.Min.Len() > 1e-12 || b.Max.Sub(size).Len() > 1e-9 {
					t.Errorf("lies %v: box %v, want %v", Axis(lies), b, size)
				}
			}
		})
	}
}

// TestSectionAxes checks which way sections look that are not the same all round.
func TestSectionAxes(t *testing.T) {
	tests := []struct {
		lies     Axis
		in, free Vec // a point in the upright leg, one in the open quarter
	}{
		{AxisX, Vec{50, 1, 25}, Vec{50, 35, 25}},
		{AxisY, Vec{1, 50, 25}, Vec{35, 50, 25}},
		{AxisZ, Vec{1, 25, 50}, Vec{35, 25, 50}},
	}
	for _, tt := range tests {
		for _, section := range []Section{Angle{W: 40, H: 30, Wall: 3}, Channel{W: 80, H: 30, Wall: 3}} {
			s := build(t, Bar{Section: section, Length: 100, Lies: tt.lies})
			if !s.Contains(tt.in) || s.Contains(tt.free) {
				t.Errorf("%T lying along %v: leg %v, open side %v", section, tt.lies, s.Contains(tt.in), s.Contains(tt.free))
			}
		}
	}
}

func TestFeatures(t *testing.T) {
	type want struct {
		name       string
		at, dir    Vec
		d, depth   float64
		through    bool
		faces      int
		kind       FeatureKind
		threadName string
	}
	m8 := &Thread{Designation: "M8", Major: 8, Minor: 6.647, Pitch: 1.25}
	tests := []struct {
		name  string
		shape Shape
		want  []want
	}{
		{
			name: "upright slotted post with tapped core",
			shape: Shape{Base: Bar{Section: slotted30, Length: 440, Lies: AxisZ}, Holes: []Hole{
				{Name: "foot", Face: "bottom", At: []Vec2{{15, 15}}, Kind: Tapped, D: 6.8, Depth: 25, Thread: m8, Tip: 118 * degree},
				{Name: "lips", Face: "left", At: []Vec2{{15, 200}}, D: 9},
				{Name: "web", Face: "front", At: []Vec2{{15, 100}}, D: 7},
				{Name: "all", Face: "back", At: []Vec2{{15, 300}}, D: 7, ThroughAll: true},
			}},
			want: []want{
				{name: "top", at: Vec{15, 15, 440}, dir: Vec{Z: 1}, faces: 1, kind: FlatFace},
				{name: "front", at: Vec{15, 0, 220}, dir: Vec{Y: -1}, faces: 2, kind: FlatFace},
				{name: "slot_front", at: Vec{15, 0, 220}, dir: Vec{Y: -1}, d: 8, depth: 9.2, faces: 9, kind: SlotFeature},
				{name: "slot_right", at: Vec{30, 15, 220}, dir: Vec{X: 1}, d: 8, depth: 9.2, faces: 9, kind: SlotFeature},
				{name: "foot", at: Vec{15, 15, 0}, dir: Vec{Z: 1}, d: 6.8, depth: 25, faces: 1, kind: HoleFeature, threadName: "M8"},
				{name: "lips", at: Vec{0, 15, 200}, dir: Vec{X: 1}, d: 9, depth: 2, through: true, faces: 2, kind: HoleFeature},
				{name: "web", at: Vec{15, 9.2, 100}, dir: Vec{Y: 1}, d: 7, depth: 11.6, through: true, faces: 1, kind: HoleFeature},
				{name: "all", at: Vec{15, 20.8, 300}, dir: Vec{Y: -1}, d: 7, depth: 11.6, through: true, faces: 1, kind: HoleFeature},
			},
		},
		{
			name:  "double slotted bar lying",
			shape: Shape{Base: Bar{Section: slotted60, Length: 200}},
			want: []want{
				{name: "slot_front_2", at: Vec{100, 0, 45}, dir: Vec{Y: -1}, d: 8, depth: 9.2, faces: 9, kind: SlotFeature},
				{name: "slot_top", at: Vec{100, 15, 60}, dir: Vec{Z: 1}, d: 8, depth: 9.2, faces: 9, kind: SlotFeature},
			},
		},
		{
			name:  "threaded rod",
			shape: Shape{Base: Bar{Section: Round{8}, Length: 100, Lies: AxisY, Thread: m8}},
			want: []want{
				{name: "axis", at: Vec{4, 50, 4}, dir: Vec{Y: 1}, d: 8, depth: 100, kind: AxisFeature, threadName: "M8"},
				{name: "body", at: Vec{4, 50, 4}, dir: Vec{Y: 1}, d: 8, depth: 100, faces: 1, kind: BodyFeature, threadName: "M8"},
				{name: "end", at: Vec{4, 100, 4}, dir: Vec{Y: 1}, faces: 1, kind: FlatFace},
			},
		},
		{
			name: "tube with a hole through one wall and one through both",
			shape: Shape{Base: Bar{Section: Tube{30, 3}, Length: 100}, Holes: []Hole{
				{Name: "one", Face: "top", At: []Vec2{{20, 15}}, D: 8},
				{Name: "both", Face: "front", At: []Vec2{{60, 15}, {80, 15}}, D: 8, ThroughAll: true},
			}},
			want: []want{
				// The far side of the first wall ends where the bore is lowest under the rim.
				{name: "one", at: Vec{20, 15, 30}, dir: Vec{Z: -1}, d: 8, depth: 15 - math.Sqrt(144-16), through: true, faces: 1, kind: HoleFeature},
				{name: "both.2", at: Vec{80, 0, 15}, dir: Vec{Y: 1}, d: 8, depth: 30, through: true, faces: 2, kind: HoleFeature},
			},
		},
		{
			name: "motor with a named shaft",
			shape: Shape{Base: Group{
				{Shape: Block{Vec{42.3, 42.3, 60}}},
				{Shape: Rod{D: 22, L: 2}, At: Vec{10.15, 10.15, 60}, Along: AxisZ},
				{Shape: Rod{D: 5, L: 22}, At: Vec{18.65, 18.65, 62}, Along: AxisZ, Name: "shaft"},
			}, Holes: []Hole{{Name: "flange", Face: "top", At: Grid(Vec2{5.65, 5.65}, Vec2{31, 31}, [2]int{2, 2}), Kind: Tapped, D: 2.5, Depth: 4.5}}},
			want: []want{
				{name: "top", at: Vec{21.15, 21.15, 60}, dir: Vec{Z: 1}, faces: 1, kind: FlatFace},
				{name: "shaft", at: Vec{21.15, 21.15, 73}, dir: Vec{Z: 1}, d: 5, depth: 22, faces: 2, kind: NamedShape},
				{name: "flange.1", at: Vec{5.65, 5.65, 60}, dir: Vec{Z: -1}, d: 2.5, depth: 4.5, faces: 2, kind: HoleFeature},
				{name: "flange.4", at: Vec{36.65, 36.65, 60}, dir: Vec{Z: -1}, d: 2.5, depth: 4.5, faces: 2, kind: HoleFeature},
			},
		},
		{
			name:  "turned piece lying",
			shape: Shape{Base: Group{{Shape: Lathed{{D: 20, L: 10}, {D: 12, L: 30, Thread: m8}}}}},
			want: []want{
				{name: "axis", at: Vec{20, 10, 10}, dir: Vec{X: 1}, d: 20, depth: 40, kind: AxisFeature},
				{name: "step.2", at: Vec{25, 10, 10}, dir: Vec{X: 1}, d: 12, depth: 30, faces: 1, kind: BodyFeature, threadName: "M8"},
				{name: "right", at: Vec{40, 10, 10}, dir: Vec{X: 1}, faces: 1, kind: FlatFace},
			},
		},
		{
			name: "slot with round ends",
			shape: Shape{Base: plate(10), Holes: []Hole{
				{Name: "adjust", At: []Vec2{{50, 30}}, Kind: Obround, D: 8, Long: 28, Along: AxisY, Pattern: true},
			}},
			want: []want{{name: "adjust.1", at: Vec{50, 30, 10}, dir: Vec{Z: -1}, d: 8, depth: 10, through: true, faces: 4, kind: HoleFeature}},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := Build(tt.shape)
			made(t, s, err)
			sound(t, s)
			for _, w := range tt.want {
				f, ok := s.Feature(w.name)
				if !ok {
					t.Errorf("no feature %s", w.name)
					continue
				}
				if f.Kind != w.kind || f.At.Dist(w.at) > 1e-6 || f.Dir.Dist(w.dir) > 1e-9 || !near(f.D, w.d, 1e-9, 1) ||
					!near(f.Depth, w.depth, 1e-5, 1) || f.Through != w.through || len(f.Faces) != w.faces {
					t.Errorf("%s: kind %d at %v dir %v d %.6g depth %.9g through %v faces %d, want %+v", w.name, f.Kind, f.At, f.Dir, f.D, f.Depth, f.Through, len(f.Faces), w)
				}
				if w.threadName != "" && (f.Thread == nil || f.Thread.Designation != w.threadName) {
					t.Errorf("%s: thread %v, want %s", w.name, f.Thread, w.threadName)
				}
			}
		})
	}
}

// TestTappedCore checks that tapping a core of the drill's own size takes
// nothing away and marks the thread as deep as asked.
func TestTappedCore(t *testing.T) {
	bar := Bar{Section: slotted30, Length: 100, Lies: AxisZ}
	plain := build(t, bar)
	s := build(t, bar, Hole{Name: "foot", Face: "bottom", At: []Vec2{{15, 15}}, Kind: Tapped, D: 6.8, Depth: 25, Thread: &Thread{Designation: "M8"}})
	if a, b := plain.Measure().Volume, s.Measure().Volume; !near(a, b, 1e-12, 0) {
		t.Errorf("volume went from %.12g to %.12g", a, b)
	}
	for i := range s.Faces {
		if f := &s.Faces[i]; f.Thread != nil {
			if z := f.Box().Size().Z; math.Abs(z-25) > 1e-9 || f.Name != "holes.foot" {
				t.Errorf("threaded face %s is %g long", f.Name, z)
			}
			return
		}
	}
	t.Error("no face has the thread")
}

func TestFaults(t *testing.T) {
	square := RectangleOutline(20, 20)
	hole := func(h Hole) Shape {
		if h.Name == "" {
			h.Name = "a"
		}
		if h.At == nil {
			h.At = []Vec2{{50, 30}}
		}
		return Shape{Base: plate(10), Holes: []Hole{h}}
	}
	bar := func(s Section) Shape { return Shape{Base: Bar{Section: s, Length: 100}} }
	group := func(m ...Member) Shape { return Shape{Base: Group(m)} }
	nan := math.NaN()
	tests := []struct {
		name, field, reason string
		shape               Shape
	}{
		{"nothing", "", "no shape", Shape{}},
		{"no section", "section", "no section", bar(nil)},
		{"no length", "length", "more than 0", Shape{Base: Bar{Section: Round{8}}}},
		{"endless", "length", "more than the", Shape{Base: Bar{Section: Round{8}, Length: math.Inf(1)}}},
		{"no number", "length", "more than 0", Shape{Base: Bar{Section: Round{8}, Length: nan}}},
		{"thick wall", "section.wall", "no bore", bar(Tube{20, 10})},
		{"thick box wall", "section.wall", "no room", bar(BoxTube{W: 20, H: 10, Wall: 5})},
		{"thick angle", "section.wall", "no leg", bar(Angle{W: 20, H: 10, Wall: 10})},
		{"root too large", "section.corner", "radius", bar(Channel{20, 20, 3, 9})},
		{"corner too large", "section.corners", "long", bar(Rectangle{20, 20, 11})},
		{"slot deeper than the section", "section.slotted.depth", "core leaves 11.6 mm", bar(Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 12, Pocket: 16, Core: 6.8})},
		{"lip deeper than the slot", "section.slotted.lip", "not less than", bar(Slotted{W: 30, H: 30, Slot: 8, Lip: 9, Depth: 9, Pocket: 16})},
		{"pocket narrower than the slot", "section.slotted.pocket", "narrower", bar(Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9, Pocket: 7})},
		{"pockets run into each other", "section.slotted.pocket", "run into each other", bar(Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 14, Pocket: 22})},
		{"no whole modules", "section.slotted.size.2", "whole number", bar(Slotted{W: 30, H: 50, Slot: 8, Lip: 2, Depth: 9, Pocket: 16})},
		{"thread on a square bar", "section.thread", "round", Shape{Base: Bar{Section: Rectangle{W: 8, H: 8}, Length: 9, Thread: &Thread{}}}},
		{"no thickness", "thickness", "more than 0", Shape{Base: Sheet{Outline: square}}},
		{"no outline", "outline.path", "no spans", Shape{Base: Sheet{Thickness: 5}}},
		{"crossing outline", "outline.path.3", "meets span 1", Shape{Base: Sheet{Outline: PolygonOutline([]Vec2{{0, 0}, {20, 20}, {20, 0}, {0, 20}}), Thickness: 5}}},
		{"unknown face", "holes.a.face", "no face", hole(Hole{D: 5, Face: "inside"})},
		{"hole beside the part", "holes.a.at", "does not meet", hole(Hole{D: 5, At: []Vec2{{150, 30}}})},
		{"one of a pattern beside the part", "holes.a.at.3", "does not meet", hole(Hole{D: 5, At: Row(Vec2{20, 30}, Vec2{50, 0}, 3)})},
		{"hole without size", "holes.a.d", "more than 0", hole(Hole{})},
		{"hole of no number", "holes.a.at.1", "outside", hole(Hole{D: 5, At: []Vec2{{nan, 1}}})},
		{"negative depth", "holes.a.depth", "more than 0", hole(Hole{D: 5, Depth: -1})},
		{"depth and through", "holes.a.depth", "not both", hole(Hole{D: 5, Depth: 5, ThroughAll: true})},
		{"empty pattern", "holes.a.at", "no holes", hole(Hole{D: 5, At: []Vec2{}})},
		{"narrow counterbore", "holes.a.counterbore.d", "not wider", hole(Hole{D: 5, Counterbore: &Counterbore{5, 2}})},
		{"counterbore deeper than the hole", "holes.a.counterbore.depth", "only", hole(Hole{D: 5, Depth: 4, Counterbore: &Counterbore{9, 5}})},
		{"both at the mouth", "holes.a.countersink", "not both", hole(Hole{D: 5, Counterbore: &Counterbore{9, 5}, Countersink: &Countersink{9, 1.5}})},
		{"countersink angle", "holes.a.countersink.angle", "out of range", hole(Hole{D: 5, Countersink: &Countersink{9, 4}})},
		{"short slot", "holes.a.slot.long", "less than its width", hole(Hole{D: 5, Kind: Obround, Long: 4})},
		{"hole takes the whole part", "holes", "whole part", Shape{Base: Bar{Section: Round{8}, Length: 5}, Holes: []Hole{{Name: "a", Face: "left", At: []Vec2{{4, 4}}, D: 6, Counterbore: &Counterbore{9, 6}}}}},
		{"empty group", "shape", "0 members", group()},
		{"member without shape", "shape.1", "no shape", group(Member{})},
		{"group begins with a cut", "shape.1.cut", "nothing before", group(Member{Shape: Block{Vec{1, 1, 1}}, Cut: true})},
		{"group cut to nothing", "shape.2.cut", "all that stands before", group(Member{Shape: Block{Vec{1, 1, 1}}}, Member{Shape: Block{Vec{1, 1, 1}}, Cut: true})},
		{"member of no size", "shape.2.box.2", "more than 0", group(Member{Shape: Block{Vec{1, 1, 1}}}, Member{Shape: Block{Vec{1, 0, 1}}})},
		{"member far off", "shape.1.at", "outside", group(Member{Shape: Block{Vec{1, 1, 1}}, At: Vec{X: 1e9}})},
		{"pipe without wall", "shape.1.tube.bore", "no wall", group(Member{Shape: Pipe{10, 10, 5}})},
		{"cone without size", "shape.1.cone.d", "no size", group(Member{Shape: Taper{0, 0, 5}})},
		{"step without length", "shape.1.turned.2.l", "more than 0", group(Member{Shape: Lathed{{D: 5, L: 5}, {D: 4}}})},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Build(tt.shape)
			var faults Faults
			if !errors.As(err, &faults) {
				t.Fatalf("got %v, want faults", err)
			}
			for _, f := range faults {
				if f.Field == tt.field && strings.Contains(f.Reason, tt.reason) {
					return
				}
			}
			t.Errorf("got %v, want %s: ... %s ...", err, tt.field, tt.reason)
		})
	}
}

// TestPlainHoleIsTheBooleanHole compares the short way for plain holes with the
// general boolean.
func TestPlainHoleIsTheBooleanHole(t *testing.T) {
	for _, h := range []Hole{
		{Name: "a", At: []Vec2{{50, 30}}, D: 8},
		{Name: "a", At: []Vec2{{50, 30}}, D: 8, Depth: 5},
		{Name: "a", At: []Vec2{{50, 30}}, D: 8, Depth: 5, Tip: 2},
		{Name: "a", At: []Vec2{{50, 30}}, D: 8, Counterbore: &Counterbore{14, 4}},
		{Name: "a", At: []Vec2{{50, 30}}, D: 8, Depth: 8, Countersink: &Countersink{14, 1.6}},
		{Name: "a", Face: "left", At: []Vec2{{30, 5}}, D: 8, ThroughAll: true},
		{Name: "a", Face: "back", At: []Vec2{{30, 5}}, D: 8},
	} {
		short := build(t, plate(10), h)
		sound(t, short)
		body := build(t, plate(10))
		bores, faults := boreAll(body, &h, AxisX)
		if faults != nil {
			t.Fatal(faults)
		}
		long := cutFrom(t, body, bores[0].tool())
		a, b := short.Measure(), long.Measure()
		if !near(a.Volume, b.Volume, 1e-12, 0) || !near(a.Area, b.Area, 1e-12, 0) || a.Centre.Dist(b.Centre) > 1e-9 ||
			len(short.Faces) != len(long.Faces) || len(short.Edges) != len(long.Edges) {
			t.Errorf("%+v: short way %v faces %d, boolean %v faces %d", h, a, len(short.Faces), b, len(long.Faces))
		}
	}
}

// TestOrderOfHoles checks that holes that meet come out the same whichever is
// made first.
func TestOrderOfHoles(t *testing.T) {
	holes := []Hole{
		{Name: "a", At: []Vec2{{50, 30}}, D: 12},
		{Name: "b", At: []Vec2{{58, 30}}, D: 10, Countersink: &Countersink{14, 1.6}},
		{Name: "c", Face: "left", At: []Vec2{{30, 10}}, D: 8, ThroughAll: true},
		{Name: "d", Face: "front", At: []Vec2{{50, 10}}, D: 8, Depth: 40, Tip: 2},
	}
	first := build(t, plate(20), holes...).Measure()
	for i := range holes {
		turned := append(append([]Hole(nil), holes[i:]...), holes[:i]...)
		s := build(t, plate(20), turned...)
		sound(t, s)
		if m := s.Measure(); !near(m.Volume, first.Volume, 1e-10, 0) || !near(m.Area, first.Area, 1e-10, 0) {
			t.Errorf("beginning with %s: volume %.12g area %.12g, else %.12g %.12g", holes[i].Name, m.Volume, m.Area, first.Volume, first.Area)
		}
	}
}
