package picture

import (
	"bytes"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/fxamacker/cbor/v2"

	"plansheaf/design/memo"
)

// odd holds what is easily lost: nil and empty lists, zeros below zero, numbers that are
// none, points that follow each other.
func odd() *Picture {
	low := math.Copysign(0, -1)
	return &Picture{Name: "odd", Width: math.NaN(), Height: math.Inf(1), Marks: []Mark{
		Path{}, Path{Curves: []Curve{}}, Path{Curves: []Curve{nil}}, nil, Clip{}, Group{Marks: []Mark{}},
		Path{Curves: []Curve{
			Line{Point{0, low}, Point{low, 0}}, Line{Point{low, 0}, Point{low, 7}}, Line{Point{0, 7}, Point{3, 7}},
			Bezier{Point{3, 7}, Point{4, 7}, Point{5, 1}, Point{6, low}}, Arc{Centre: Point{6, low}, RX: 1, RY: 1, Tilt: low},
			Arc{Centre: Point{6, low}, RX: 1, RY: 2, Tilt: 3, Start: 4, Sweep: 5}, Arc{RX: 0, RY: low},
		}, Line: -1, Ink: "no colour", Fill: "no colour", Class: "no colour"},
		Text{Words: "a\x00\xff", Face: -7, Rise: 9, Anchor: 3, Halo: true},
	}}
}

// scattered is a picture of random lines, as many as asked for.
func scattered(n int) *Picture {
	draw := rand.New(rand.NewPCG(1, 2))
	at := func() Point { return Point{draw.Float64() * 100, draw.Float64() * 100} }
	p := &Picture{Name: "scattered", Width: 100, Height: 100}
	var path Path
	for range n {
		path.Curves = append(path.Curves, Line{at(), at()})
	}
	p.Add(path)
	return p
}

func TestAPictureIsKeptExactly(t *testing.T) {
	for _, test := range []struct {
		name string
		pic  *Picture
	}{
		{name: "every mark", pic: sampler()}, {name: "odd values", pic: odd()},
		{name: "many lines", pic: scattered(1000)}, {name: "nothing", pic: &Picture{}},
	} {
		t.Run(test.name, func(t *testing.T) {
			data, err := cbor.Marshal(test.pic)
			if err != nil {
				t.Fatal(err)
			}
			var back Picture
			if err := cbor.Unmarshal(data, &back); err != nil {
				t.Fatal(err)
			}
			again, err := cbor.Marshal(back)
			if err != nil || !bytes.Equal(data, again) {
				t.Fatalf("comes back otherwise, %v", err)
			}
			if before, after := keyOf(t, *test.pic), keyOf(t, back); before != after {
				t.Error("comes back otherwise")
			}
			if test.pic.MemoKey() != back.MemoKey() {
				t.Error("another key")
			}
		})
	}
}

// keyOf is a picture's key found field by field, by the bits of its numbers.
func keyOf(t *testing.T, p Picture) memo.Key {
	t.Helper()
	key, err := memo.KeyOf(p)
	if err != nil {
		t.Fatal(err)
	}
	return key
}

func TestAStoreKeepsPictures(t *testing.T) {
	type kept struct {
		One  *Picture
		None *Picture
		All  []*Picture
	}
	store := memo.New()
	made := 0
	var last kept
	for range 2 {
		last = memo.Sure(store, "test", func() kept {
			made++
			return kept{One: sampler(), All: []*Picture{sampler(), nil}}
		}, sampler())
	}
	if faults := store.Faults(); made != 1 || faults != nil {
		t.Errorf("made %d times, faults %q", made, faults)
	}
	if !reflect.DeepEqual(last, kept{One: sampler(), All: []*Picture{sampler(), nil}}) {
		t.Error("comes back otherwise")
	}
}

// TestEveryFieldIsInTheKey changes each field of each mark and curve of a picture in turn.
func TestEveryFieldIsInTheKey(t *testing.T) {
	keys := map[memo.Key]string{sampler().MemoKey(): "as it is"}
	for i := 0; ; i++ {
		p := sampler()
		n := i
		where := changed(reflect.ValueOf(p).Elem(), &n)
		if where == "" {
			if i < 400 {
				t.Errorf("only %d values", i)
			}
			return
		}
		key := p.MemoKey()
		if other, taken := keys[key]; taken {
			t.Errorf("%s changed: same key as %s", where, other)
		}
		keys[key] = where
	}
}

// changed changes the n-th value in what v holds, and says where it stands; n is counted
// down by the values passed. It is "" where there are fewer.
func changed(v reflect.Value, n *int) string {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if where := changed(v.Field(i), n); where != "" {
				return v.Type().Field(i).Name + "." + where
			}
		}
		return ""
	case reflect.Slice:
		for i := range v.Len() {
			if where := changed(v.Index(i), n); where != "" {
				return where
			}
		}
		if *n--; *n == -1 {
			v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
			return "one more"
		}
		return ""
	case reflect.Interface:
		if v.IsNil() {
			return ""
		}
		inner := reflect.New(v.Elem().Type()).Elem()
		inner.Set(v.Elem())
		where := changed(inner, n)
		v.Set(inner)
		if where != "" {
			return inner.Type().Name() + "." + where
		}
		return ""
	}
	if *n--; *n != -1 {
		return ""
	}
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(v.Float() + 0.125)
	case reflect.String:
		v.SetString(v.String() + "x")
	case reflect.Int:
		v.SetInt(v.Int() + 100)
	case reflect.Bool:
		v.SetBool(!v.Bool())
	}
	return v.Type().Name()
}

func TestWhatIsNoPictureIsNotKept(t *testing.T) {
	deep := []Mark{}
	for range deepest + 2 {
		deep = []Mark{Group{Marks: deep}}
	}
	for _, test := range []struct {
		name string
		pic  Picture
	}{
		{name: "too deep", pic: Picture{Marks: deep}},
		{name: "unknown curve", pic: Picture{Marks: []Mark{Path{Curves: []Curve{&Line{}}}}}},
	} {
		if _, err := cbor.Marshal(test.pic); err == nil {
			t.Errorf("%s: kept", test.name)
		}
		if Check(&test.pic) == nil {
			t.Errorf("%s: can be written", test.name)
		}
		if test.pic.MemoKey() == (&Picture{}).MemoKey() {
			t.Errorf("%s: the key of an empty picture", test.name)
		}
	}
}

func FuzzUnpack(f *testing.F) {
	for _, p := range []*Picture{sampler(), odd(), {}} {
		data, err := p.MarshalCBOR()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data[headSize:])
	}
	f.Fuzz(func(t *testing.T, form []byte) {
		data := append([]byte{bytesHead, 0, 0, 0, 0, 0, byte(len(form) >> 16), byte(len(form) >> 8), byte(len(form))}, form...)
		var p Picture
		if p.UnmarshalCBOR(data) != nil {
			return
		}
		again, err := p.MarshalCBOR()
		if err != nil {
			t.Fatal(err)
		}
		var q Picture
		if err := q.UnmarshalCBOR(again); err != nil || q.MemoKey() != p.MemoKey() {
			t.Errorf("comes back otherwise, %v", err)
		}
	})
}

func BenchmarkUnpack(b *testing.B) {
	data, err := scattered(10000).MarshalCBOR()
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		var p Picture
		if err := p.UnmarshalCBOR(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMemoKey(b *testing.B) {
	p := scattered(10000)
	b.ReportAllocs()
	for b.Loop() {
		p.MemoKey()
	}
}
