package memo

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"strings"
	"sync"
	"testing"
)

type result struct {
	Name  string
	Sizes []float64
	Of    map[string]int
	Next  *result
}

func made() result {
	return result{Name: "\xff plate", Sizes: []float64{0.1, math.Inf(1), math.Copysign(0, -1), 1e300}, Of: map[string]int{"a": 1}, Next: &result{Sizes: []float64{}}}
}

func TestDo(t *testing.T) {
	s := New()
	calls := 0
	work := func() (result, error) { calls++; return made(), nil }
	for range 3 {
		got, err := Do(s, "plate", work, 12.5, "top")
		if err != nil || !reflect.DeepEqual(got, made()) {
			t.Fatalf("got %#v, %v", got, err)
		}
		got.Sizes[0] = 7 // the caller's own
	}
	if calls != 1 {
		t.Errorf("worked out %d times", calls)
	}
	Do(s, "plate", work, 12.5, "bottom")
	Do(s, "bar", work, 12.5, "top")
	if calls != 3 {
		t.Errorf("other inputs and other work: worked out %d times, want 3", calls)
	}
	if u := s.Uses(); u != (Uses{Known: 2, New: 3}) {
		t.Errorf("uses %+v", u)
	}
	if f := s.Faults(); len(f) > 0 {
		t.Errorf("faults %q", f)
	}
	if got, err := Do[result](nil, "plate", work); err != nil || !reflect.DeepEqual(got, made()) {
		t.Error("no store: not worked out")
	}
}

func TestDoFails(t *testing.T) {
	s := New()
	wrong := errors.New("wrong")
	for range 2 {
		if _, err := Do(s, "x", func() (int, error) { return 0, wrong }); err != wrong {
			t.Errorf("got %v", err)
		}
	}
	if u := s.Uses(); u.New > 0 || u.Known > 0 {
		t.Errorf("an error was kept: %+v", u)
	}
}

func TestFaults(t *testing.T) {
	type shy struct{ size int }
	s := New()
	Sure(s, "by function", func() int { return 1 }, func() {})
	Sure(s, "hidden field", func() shy { return shy{1} }, 1)
	Sure(s, "any value", func() any { return 1 }, 1)
	doubtful := 0
	s.Doubt = true
	for range 2 {
		Sure(s, "changing", func() int { doubtful++; return doubtful }, 1)
	}
	all := strings.Join(s.Faults(), "\n")
	for _, want := range []string{"by function: no key", "hidden field: cannot be kept", "any value: cannot be kept", "changing: comes out otherwise"} {
		if !strings.Contains(all, want) {
			t.Errorf("no fault %q in\n%s", want, all)
		}
	}
}

// filled holds one result, saved.
func filled(t *testing.T, program Key) []byte {
	t.Helper()
	s := New()
	Sure(s, "plate", made, 1)
	var out bytes.Buffer
	if !s.Changed() {
		t.Error("a new result is saved already")
	}
	if err := s.Save(&out, program); err != nil {
		t.Fatal(err)
	}
	if s.Changed() {
		t.Error("what was saved is not")
	}
	return out.Bytes()
}

func TestPack(t *testing.T) {
	program := Key{1}
	data := filled(t, program)
	s, err := Load(data, program)
	if err != nil {
		t.Fatal(err)
	}
	if s.Changed() {
		t.Error("what was just loaded is not saved")
	}
	got := Sure(s, "plate", func() result { t.Error("worked out again"); return made() }, 1)
	if !reflect.DeepEqual(got, made()) {
		t.Errorf("got %#v", got)
	}
	if _, err := Load(data, Key{2}); !errors.Is(err, ErrForeign) {
		t.Errorf("another program takes it over: %v", err)
	}
	for i := range data {
		other := bytes.Clone(data)
		other[i] ^= 0x20
		if _, err := Load(other, program); !errors.Is(err, ErrForeign) {
			t.Fatalf("byte %d changed: %v", i, err)
		}
		if _, err := Load(data[:i], program); !errors.Is(err, ErrForeign) {
			t.Fatalf("cut off at %d: %v", i, err)
		}
	}
}

// again saves a store and loads it.
func again(t *testing.T, s *Store) *Store {
	t.Helper()
	var out bytes.Buffer
	if err := s.Save(&out, Key{1}); err != nil {
		t.Fatal(err)
	}
	if out.Len() > LargestPack {
		t.Errorf("a pack of %d bytes", out.Len())
	}
	s, err := Load(out.Bytes(), Key{1})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// knows reports whether a result is kept, and asks for it.
func knows(s *Store, name string) bool {
	known := true
	Sure(s, name, func() result { known = false; return made() }, 1)
	return known
}

// What is not asked for is let go of after some runs that did all the work; what is asked
// for stays, and so does what only another kind of run asks for.
func TestIdle(t *testing.T) {
	s := New()
	for _, name := range []string{"checked", "drawn", "no more"} {
		knows(s, name)
	}
	s.Next()
	s = again(t, s)
	knows(s, "checked once")
	for run := range 3 * mostIdle { // checking alone, in between
		if !knows(s, "checked") {
			t.Errorf("check %d: let go of", run)
		}
		s.NextOfPart()
		s = again(t, s)
	}
	for run := range mostIdle + 1 {
		for _, name := range []string{"checked", "drawn"} {
			if !knows(s, name) {
				t.Errorf("run %d: %s was let go of", run, name)
			}
		}
		s = again(t, s) // a run that broke off, before anything was asked for
		s.Next()
		s = again(t, s)
	}
	if len(s.kept) != 2 {
		t.Errorf("%d results are kept, 2 are asked for", len(s.kept))
	}
	if knows(s, "no more") || knows(s, "checked once") {
		t.Error("what nothing asks for is kept for ever")
	}
}

// A store stays within its bound, and lets go of what was not asked for the longest.
func TestBound(t *testing.T) {
	s := New()
	one := func(i int) string { return strings.Repeat("x", 900) + string(rune('a'+i)) }
	s.most = 10 * 1000
	for i := range 5 {
		Sure(s, "text", func() string { return one(i) }, i)
	}
	s.Next()
	s = again(t, s)
	s.most = 10 * 1000
	Sure(s, "text", func() string { t.Error("not kept"); return "" }, 2)
	for i := 5; i < 12; i++ {
		Sure(s, "text", func() string { return one(i) }, i)
		if s.size > s.most {
			t.Errorf("%d bytes", s.size)
		}
	}
	size := 0
	for _, e := range s.kept {
		size += e.size()
	}
	if size != s.size {
		t.Errorf("counted %d bytes, there are %d", s.size, size)
	}
	Sure(s, "text", func() string { t.Error("asked for of late, and let go of"); return "" }, 2)
	Sure(s, "text", func() string { t.Error("made last, and let go of"); return "" }, 11)
}

func TestTogether(t *testing.T) {
	s := New()
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			for i := range 200 {
				if got := Sure(s, "square", func() int { return i * i }, i); got != i*i {
					t.Errorf("%d: got %d", i, got)
				}
			}
		})
	}
	group.Wait()
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte(mark))
	f.Fuzz(func(t *testing.T, data []byte) {
		if s, err := Load(data, Key{1}); err == nil {
			Sure(s, "plate", made, 1)
		}
	})
}
