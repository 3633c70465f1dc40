package solid

import (
	"math"
	"strings"
	"testing"
)

func TestOutlineCheck(t *testing.T) {
	square := RectangleOutline(20, 10)
	arc := func(from, by, to Vec2) Span { return ArcThrough(from, by, to) }
	tests := []struct {
		name    string
		outline Outline
		field   string // of the first fault, "" for a sound outline
		reason  string
	}{
		{"rectangle", square, "", ""},
		{"clockwise", square.turnedBack(), "", ""},
		{"circle", CircleOutline(8), "", ""},
		{"two half circles", Outline{arc(Vec2{0, 0}, Vec2{4, -4}, Vec2{8, 0}), arc(Vec2{8, 0}, Vec2{4, 4}, Vec2{0, 0})}, "", ""},
		{"half circle", Outline{arc(Vec2{0, 0}, Vec2{4, -4}, Vec2{8, 0}), {From: Vec2{8, 0}, To: Vec2{0, 0}}}, "", ""},
		{"bite into a side", Outline{{From: Vec2{0, 0}, To: Vec2{20, 0}}, {From: Vec2{20, 0}, To: Vec2{20, 10}}, {From: Vec2{20, 10}, To: Vec2{15, 10}}, arc(Vec2{15, 10}, Vec2{10, 5}, Vec2{5, 10}), {From: Vec2{5, 10}, To: Vec2{0, 10}}, {From: Vec2{0, 10}, To: Vec2{0, 0}}}, "", ""},
		{"bite through to the other side", Outline{{From: Vec2{0, 0}, To: Vec2{20, 0}}, {From: Vec2{20, 0}, To: Vec2{20, 10}}, {From: Vec2{20, 10}, To: Vec2{20, 10.5}}, arc(Vec2{20, 10.5}, Vec2{10, 0}, Vec2{0, 10.5}), {From: Vec2{0, 10.5}, To: Vec2{0, 0}}}, "path.4", "meets span 1"},
		{"none", nil, "path", "no spans"},
		{"open", square[:3], "path.3", "away from where the next one begins"},
		{"gap", Outline{square[0], {From: Vec2{20, 0}, To: Vec2{20, 9}}, square[2], square[3]}, "path.2", "1 mm away"},
		{"span without length", PolygonOutline([]Vec2{{0, 0}, {20, 0}, {20, 0}, {20, 10}}), "path.2", "no length"},
		{"figure of eight", PolygonOutline([]Vec2{{0, 0}, {20, 10}, {20, 0}, {0, 10}}), "path.3", "meets span 1"},
		{"spike", PolygonOutline([]Vec2{{0, 0}, {20, 0}, {20, 10}, {20, 30}, {20, 10}, {0, 10}}), "path.4", "meets span 2"},
		{"corner on a side", PolygonOutline([]Vec2{{0, 0}, {20, 0}, {20, 10}, {10, 0}, {0, 10}}), "path.3", "meets span 1"},
		{"there and back", PolygonOutline([]Vec2{{0, 0}, {20, 0}}), "path.2", "meets span 1"},
		{"arc there and back", Outline{arc(Vec2{0, 0}, Vec2{4, 4}, Vec2{8, 0}), arc(Vec2{8, 0}, Vec2{4, 4}, Vec2{0, 0})}, "path.2", "meets span 1"},
		{"no arc", Outline{{From: Vec2{0, 0}, To: Vec2{8, 0}, Arc: true, Centre: Vec2{3, 0}}, {From: Vec2{8, 0}, To: Vec2{0, 0}}}, "path.1", "is no arc"},
		{"arc without radius", Outline{{From: Vec2{0, 0}, To: Vec2{0, 0}, Arc: true}}, "path.1", "without radius"},
		{"no number", PolygonOutline([]Vec2{{0, 0}, {math.NaN(), 0}, {20, 10}}), "path.1", "outside"},
		{"endless", PolygonOutline([]Vec2{{0, 0}, {math.Inf(1), 0}, {20, 10}}), "path.1", "outside"},
		{"too many", make(Outline, MaxSpans+1), "path", "at most"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			err := tt.outline.Check()
			if tt.field == "" {
				if err != nil {
					t.Error(err)
				}
				return
			}
			f, ok := err.(Faults)
			if !ok || f[0].Field != tt.field || !strings.Contains(f[0].Reason, tt.reason) {
				t.Errorf("got %v, want %s: ... %s ...", err, tt.field, tt.reason)
			}
		})
	}
}

func TestArcs(t *testing.T) {
	half := ArcThrough(Vec2{0, 0}, Vec2{1, 1}, Vec2{2, 0})
	if !half.Clockwise || half.Centre.dist(Vec2{1, 0}) > 1e-12 || !near(half.length(), math.Pi, 1e-12, 0) {
		t.Errorf("half circle over the top: %+v", half)
	}
	if s := ArcThrough(Vec2{0, 0}, Vec2{1, 0}, Vec2{2, 0}); s.Arc {
		t.Errorf("three points in line made an arc: %+v", s)
	}
	for _, tt := range []struct {
		clockwise, long bool
		length          float64 // of an arc of radius 5 over a chord of 6
		above           bool
	}{
		{false, false, 10 * math.Asin(0.6), false},
		{true, false, 10 * math.Asin(0.6), true},
		{false, true, 10 * (math.Pi - math.Asin(0.6)), false},
		{true, true, 10 * (math.Pi - math.Asin(0.6)), true},
	} {
		s, ok := ArcOfRadius(Vec2{0, 0}, Vec2{6, 0}, 5, tt.clockwise, tt.long)
		mid, _ := s.at(0.5)
		if !ok || !near(s.length(), tt.length, 1e-12, 0) || (mid.Y > 0) != tt.above {
			t.Errorf("%+v: %+v length %g middle %v", tt, s, s.length(), mid)
		}
	}
	if _, ok := ArcOfRadius(Vec2{0, 0}, Vec2{6, 0}, 2, false, false); ok {
		t.Error("an arc of radius 2 spans 6")
	}
}

func TestCorners(t *testing.T) {
	o, err := RectangleOutline(20, 10).Rounded(5)
	if err != nil || len(o) != 6 { // the short sides are used up
		t.Fatalf("rounded to half circles: %v, %d spans", err, len(o))
	}
	if err := o.Check(); err != nil {
		t.Error(err)
	}
	if a := o.area(); !near(a, 100+math.Pi*25, 1e-12, 0) {
		t.Errorf("area is %g", a)
	}
	notch := PolygonOutline([]Vec2{{0, 0}, {20, 0}, {20, 20}, {12, 20}, {12, 8}, {0, 8}})
	o, err = notch.Rounded(2)
	if err != nil {
		t.Fatal(err)
	}
	k := 4 * (1 - math.Pi/4)
	if a := o.area(); !near(a, notch.area()-4*k, 1e-12, 0) { // five corners off, one filled
		t.Errorf("notched area is %g, want %g", a, notch.area()-4*k)
	}
	if err := o.Check(); err != nil {
		t.Error(err)
	}
}

// FuzzOutline reads spans from bytes on a coarse raster, where they touch, cross
// and repeat often. What Check lets pass must make a sound solid.
func FuzzOutline(f *testing.F) {
	f.Add([]byte{0, 0, 9, 0, 9, 5, 0, 5})
	f.Add([]byte{0, 0, 9, 130, 9, 5, 0, 5})
	f.Add([]byte{0, 0, 8, 200, 8, 8, 128, 8})
	f.Add([]byte{1, 1, 14, 2, 13, 13, 7, 6, 2, 12})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 80 {
			return
		}
		var o Outline
		n := len(data) / 2
		point := func(i int) Vec2 { return Vec2{float64(data[2*i] & 15), float64(data[2*i+1] & 15)} }
		for i := 0; i < n; i++ {
			from, to := point(i), point((i+1)%n)
			s := Span{From: from, To: to}
			if b := data[2*i+1]; b > 127 { // an arc, bulging by the byte's upper half
				mid := from.add(to).mul(0.5)
				d := to.sub(from)
				s = ArcThrough(from, mid.add(Vec2{-d.Y, d.X}.mul(float64(int(b>>4)-11)/8)), to)
			}
			o = append(o, s)
		}
		s, err := Build(Shape{Base: Sheet{Outline: o, Thickness: 3}})
		if err != nil {
			if _, ok := err.(Faults); !ok {
				t.Fatalf("%T is no fault: %v", err, err)
			}
			return
		}
		if err := s.Check(); err != nil {
			t.Fatal(err)
		}
		if want := 3 * math.Abs(o.area()); !near(s.Measure().Volume, want, 1e-7, 1) {
			t.Fatalf("volume %g, want %g", s.Measure().Volume, want)
		}
		if at, open := openAt(s.Mesh(0.1)); open {
			t.Fatalf("mesh is open at %v", at)
		}
	})
}
