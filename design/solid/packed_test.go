package solid

import (
	"reflect"
	"testing"

	"plansheaf/design/memo"
)

// packed takes a solid through a store.
func packed(t testing.TB, s *Solid) *Solid {
	t.Helper()
	data, err := Packed{s}.MarshalCBOR()
	if err != nil {
		t.Fatal(err)
	}
	var out Packed
	if err := out.UnmarshalCBOR(data); err != nil {
		t.Fatal(err)
	}
	for n := range data { // however short what is read is, it is no solid and no panic
		if n%7 == 0 || n > len(data)-20 {
			if (&Packed{}).UnmarshalCBOR(data[:n]) == nil {
				t.Fatalf("%d of %d bytes are a solid", n, len(data))
			}
		}
	}
	return out.Solid
}

// alike reports whether two solids are the same but for how their key is found.
func alike(a, b *Solid) bool {
	if a == nil || b == nil {
		return a == b
	}
	return reflect.DeepEqual(a.Faces, b.Faces) && reflect.DeepEqual(a.Edges, b.Edges) && reflect.DeepEqual(a.Vertices, b.Vertices) &&
		reflect.DeepEqual(a.features, b.features) && a.box == b.box && a.MemoKey() == b.MemoKey()
}

func TestPacked(t *testing.T) {
	thread := &Thread{Designation: "M8", Major: 8, Minor: 6.6, Pitch: 1.25, Length: 20, LeftHand: true}
	plate := Sheet{Outline: RectangleOutline(100, 60), Thickness: 10}
	shapes := map[string]Shape{
		"plate": {Base: plate},
		"holes": {Base: plate, Holes: []Hole{
			{Name: "rods", At: []Vec2{{10, 10}, {50, 10}}, Pattern: true, Kind: Tapped, D: 6.8, Thread: thread},
			{Name: "sunk", At: []Vec2{{20, 40}}, Kind: Clearance, D: 5, Countersink: &Countersink{D: 10, Angle: 1.5}},
			{Name: "bored", At: []Vec2{{40, 40}}, Kind: Clearance, D: 5, Counterbore: &Counterbore{D: 9, Depth: 4}},
			{Name: "long", At: []Vec2{{75, 30}}, Kind: Obround, D: 6, Long: 20, Along: AxisY},
			{Name: "side", Face: "front", At: []Vec2{{85, 5}}, D: 3, Depth: 12, Tip: 2},
		}},
		"cross bore": {Base: Bar{Section: Round{D: 20}, Length: 50, Thread: thread}, Holes: []Hole{{Name: "pin", At: []Vec2{{25, 10}}, D: 6}}},
		"cone":       {Base: Group{{Shape: Taper{D: 20, To: 8, L: 30}, Along: AxisZ}, {Shape: Rod{D: 4, L: 40}, At: Vec{X: -5, Y: 8, Z: 12}, Along: AxisX, Cut: true, Name: "through"}}},
		"mitred":     {Base: Bar{Section: BoxTube{W: 30, H: 20, Wall: 2, Corner: 3}, Length: 200, Start: Mitre{Angle: 0.7, Long: "top"}}},
	}
	for name, shape := range shapes {
		t.Run(name, func(t *testing.T) {
			s, err := Build(shape)
			if err != nil {
				t.Fatal(err)
			}
			for _, one := range []*Solid{s, s.Placed(Moved(Vec{1, 2, 3})), s.Mirrored()} {
				if got := packed(t, one); !alike(got, one) {
					t.Errorf("got %+v, want %+v", got, one)
				}
			}
		})
	}
	if packed(t, nil) != nil {
		t.Error("nothing became a solid")
	}
}

// Every field of what a solid is made of is packed: one that is added must be, too.
func TestPackedWhole(t *testing.T) {
	s := &Solid{
		Faces: make([]Face, 1), Edges: make([]Edge, 1), Vertices: make([]Vec, 1), features: make([]Feature, 1),
	}
	n := 0
	var fill func(v reflect.Value)
	fill = func(v reflect.Value) {
		if !v.CanSet() {
			v = reflect.NewAt(v.Type(), v.Addr().UnsafePointer()).Elem()
		}
		n++
		switch v.Kind() {
		case reflect.Bool:
			v.SetBool(true)
		case reflect.Int:
			v.SetInt(int64(n))
		case reflect.Float64:
			v.SetFloat(float64(n))
		case reflect.String:
			v.SetString(string(rune('a' + n)))
		case reflect.Struct:
			for i := range v.NumField() {
				fill(v.Field(i))
			}
		case reflect.Array:
			for i := range v.Len() {
				fill(v.Index(i))
			}
		case reflect.Slice:
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
			fill(v.Index(0))
		case reflect.Pointer:
			v.Set(reflect.New(v.Type().Elem()))
			fill(v.Elem())
		case reflect.Interface:
			var one reflect.Value
			if v.Type() == reflect.TypeFor[Surface]() {
				one = reflect.New(reflect.TypeFor[Cone]()).Elem()
			} else {
				one = reflect.New(reflect.TypeFor[Meet]()).Elem()
			}
			fill(one)
			v.Set(one)
		default:
			t.Fatalf("a %s is not packed", v.Type())
		}
	}
	fill(reflect.ValueOf(&s.Faces[0]).Elem())
	fill(reflect.ValueOf(&s.Edges[0]).Elem())
	fill(reflect.ValueOf(&s.features[0]).Elem())
	fill(reflect.ValueOf(&s.box).Elem())
	if got := packed(t, s); !alike(got, s) {
		t.Errorf("got %+v, want %+v", got, s)
	}
	for _, c := range []Curve{Line{O: Vec{X: 1}, D: Vec{Y: 1}}, Circle{World, 3}, Ellipse{World, 3, 4}} {
		s.Edges[0].Curve = c
		if got := packed(t, s); !alike(got, s) {
			t.Errorf("%T: got %+v", c, got.Edges[0])
		}
	}
	for _, f := range []Surface{Plane{World}, Cylinder{World, 2}} {
		s.Faces[0].Surface = f
		if got := packed(t, s); !alike(got, s) {
			t.Errorf("%T: got %+v", f, got.Faces[0])
		}
	}
}

// A packed solid is a result that a store keeps.
func TestPackedKept(t *testing.T) {
	kept := memo.New()
	shape := Shape{Base: Sheet{Outline: CircleOutline(40), Thickness: 5}}
	for range 2 {
		got, err := memo.Do(kept, "solid", func() (Packed, error) {
			s, err := Build(shape)
			return Packed{s}, err
		}, shape)
		if want, _ := Build(shape); err != nil || !alike(got.Solid, want) {
			t.Errorf("got %+v, %v", got.Solid, err)
		}
	}
	if u := kept.Uses(); u != (memo.Uses{Known: 1, New: 1}) || len(kept.Faults()) > 0 {
		t.Errorf("uses %+v, faults %q", u, kept.Faults())
	}
}

func BenchmarkPacked(b *testing.B) {
	var holes []Hole
	for i := range 6 {
		holes = append(holes, Hole{Name: string(rune('a' + i)), At: []Vec2{{10 + 15*float64(i), 20}}, D: 6})
	}
	shape := Shape{Base: Sheet{Outline: RectangleOutline(100, 60), Thickness: 10}, Holes: holes}
	s, err := Build(shape)
	if err != nil {
		b.Fatal(err)
	}
	data, err := Packed{s}.MarshalCBOR()
	if err != nil {
		b.Fatal(err)
	}
	b.Run("build", func(b *testing.B) {
		for b.Loop() {
			Build(shape)
		}
	})
	b.Run("pack", func(b *testing.B) {
		for b.Loop() {
			Packed{s}.MarshalCBOR()
		}
	})
	b.Run("unpack", func(b *testing.B) {
		b.ReportMetric(float64(len(data)), "bytes")
		for b.Loop() {
			new(Packed).UnmarshalCBOR(data)
		}
	})
}
