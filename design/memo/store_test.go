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
	if err := s.Save(&out, program); err != nil {
		t.Fatal(err)
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

// What is not asked for is let go of after some runs; what is asked for stays.
func TestIdle(t *testing.T) {
	program := Key{1}
	s := New()
	Sure(s, "asked", made, 1)
	Sure(s, "not asked", made, 1)
	for run := range mostIdle + 2 {
		var out bytes.Buffer
		if err := s.Save(&out, program); err != nil {
			t.Fatal(err)
		}
		var err error
		if s, err = Load(out.Bytes(), program); err != nil {
			t.Fatal(err)
		}
		Sure(s, "asked", func() result { t.Errorf("run %d: let go of", run); return made() }, 1)
	}
	again := false
	Sure(s, "not asked", func() result { again = true; return made() }, 1)
	if !again {
		t.Error("what nothing asks for is kept for ever")
	}
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
