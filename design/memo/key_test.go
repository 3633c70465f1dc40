package memo

import (
	"math"
	"testing"
)

type inner struct {
	name string
	size float64
}

type outer struct {
	List  []inner
	ByID  map[string]*inner
	Any   any
	Where *inner
	deep  [2]int
}

func whole() outer {
	return outer{
		List: []inner{{"a", 1}, {"b", 2}}, ByID: map[string]*inner{"x": {"x", 3}, "y": {"y", 4}},
		Any: inner{"c", 5}, Where: &inner{"d", 6}, deep: [2]int{7, 8},
	}
}

func keyOf(t *testing.T, values ...any) Key {
	t.Helper()
	k, err := KeyOf(values...)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// Every change of a value, however deep and exported or not, gives another key.
func TestKeyOfChanges(t *testing.T) {
	changes := map[string]func(*outer){
		"nothing in a list":        func(o *outer) { o.List = nil },
		"an empty list":            func(o *outer) { o.List = []inner{} },
		"order":                    func(o *outer) { o.List[0], o.List[1] = o.List[1], o.List[0] },
		"a field not exported":     func(o *outer) { o.List[1].size++ },
		"a map's value":            func(o *outer) { o.ByID["x"].size++ },
		"a map's key":              func(o *outer) { o.ByID["z"] = o.ByID["x"]; delete(o.ByID, "x") },
		"a value of any type":      func(o *outer) { o.Any = inner{"c", 6} },
		"another type":             func(o *outer) { o.Any = struct{ a, b string }{"c", "5"} },
		"no pointer":               func(o *outer) { o.Where = nil },
		"what a pointer leads to":  func(o *outer) { o.Where.name = "e" },
		"an array":                 func(o *outer) { o.deep[1]++ },
		"where one text ends":      func(o *outer) { o.List[0].name, o.List[1].name = "ab", "" },
		"zero below zero":          func(o *outer) { o.List[0].size = math.Copysign(0, -1) },
		"zero":                     func(o *outer) { o.List[0].size = 0 },
		"a number that is no such": func(o *outer) { o.List[0].size = math.NaN() },
	}
	known := map[Key]string{keyOf(t, whole()): "no change"}
	for name, change := range changes {
		o := whole()
		change(&o)
		k := keyOf(t, o)
		if other, twice := known[k]; twice {
			t.Errorf("%s has the key of %s", name, other)
		}
		known[k] = name
	}
}

func TestKeyOfSame(t *testing.T) {
	for range 20 { // maps are gone through in another order each time
		if keyOf(t, whole(), 1) != keyOf(t, whole(), 1) {
			t.Fatal("equal values have different keys")
		}
	}
	type ring struct{ next *ring }
	r := &ring{}
	r.next = r
	if keyOf(t, r) != keyOf(t, r) {
		t.Error("a value that leads back to itself has two keys")
	}
}

type body struct{ key Key }

func (b *body) MemoKey() Key { return b.key }

func TestKeyOfKeyed(t *testing.T) {
	type holds struct{ Body *body }
	a, b := holds{&body{Key{1}}}, holds{&body{Key{2}}}
	if keyOf(t, a) == keyOf(t, b) || keyOf(t, a) != keyOf(t, holds{&body{Key{1}}}) || keyOf(t, holds{}) == keyOf(t, a) {
		t.Error("a value's own key is not what stands for it")
	}
}

func TestKeyOfFaults(t *testing.T) {
	type hides struct{ body *body }
	for name, v := range map[string]any{"a function": func() {}, "a channel": make(chan int), "a key out of sight": hides{&body{}}} {
		if _, err := KeyOf(v); err == nil {
			t.Errorf("%s has a key", name)
		}
	}
}

func BenchmarkKeyOf(b *testing.B) {
	type pose struct {
		Key   Key
		Turn  [3][3]float64
		Move  [3]float64
		Reach float64
	}
	p := pose{Reach: 5}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := KeyOf("pose", p, p); err != nil {
			b.Fatal(err)
		}
	}
}
