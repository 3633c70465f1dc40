package memo

import (
	"bytes"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"sync"

	"github.com/fxamacker/cbor/v2"
)

// A Store keeps results by their keys. It is for any number of goroutines at a time. A nil
// store keeps nothing.
type Store struct {
	// Doubt works out each result that is known once more and compares: for tests of the
	// keys.
	Doubt bool

	mu     sync.Mutex
	kept   map[Key]entry
	size   int // of all results in a pack, in bytes
	most   int // what the size is kept below
	faults map[string]bool
	uses   Uses
	fresh  bool // there are results that have not been saved
}

// An entry is a result that is kept.
type entry struct {
	data  []byte
	asked bool // for in this run
	idle  int  // whole runs without being asked for
	part  bool // only runs that do a part of the work have asked for it
}

// Uses count what a store was asked for.
type Uses struct {
	Known int // results that were taken over
	New   int // results that were worked out, and are kept now
}

// New returns an empty store.
func New() *Store {
	return &Store{kept: map[Key]entry{}, faults: map[string]bool{}, most: mostBytes}
}

// Do is what work gives, taken over where it is known. What names the work and the form of
// its result; given is all that it follows from, each by its value. A result that comes with
// an error is not kept. What is taken over is the caller's own: nobody else holds it.
func Do[T any](s *Store, what string, work func() (T, error), given ...any) (T, error) {
	if s == nil {
		return work()
	}
	key, err := KeyOf(what, given)
	if err != nil {
		s.fault(fmt.Sprintf("%s: no key: %v", what, err))
		return work()
	}
	data, known := s.take(key)
	var out T
	if known && decoding.Unmarshal(data, &out) == nil {
		if s.Doubt {
			return doubted(s, what, key, data, work)
		}
		return out, nil
	}
	out, err = work()
	if err != nil {
		return out, err
	}
	if err = keepable(reflect.TypeFor[T]()); err == nil {
		data, err = encoding.Marshal(out)
	}
	if err != nil {
		s.fault(fmt.Sprintf("%s: cannot be kept: %v", what, err))
		return out, nil
	}
	s.put(key, data)
	return out, nil
}

// doubted works out again what is known, and says where it comes out otherwise.
func doubted[T any](s *Store, what string, key Key, known []byte, work func() (T, error)) (T, error) {
	out, err := work()
	if err != nil {
		s.fault(fmt.Sprintf("%s: was kept, and fails now: %v", what, err))
		return out, err
	}
	if data, err := encoding.Marshal(out); err != nil || !bytes.Equal(data, known) {
		s.fault(fmt.Sprintf("%s: comes out otherwise than what was kept under the same key %x", what, key[:4]))
	}
	return out, nil
}

// Sure is [Do] for work that cannot fail.
func Sure[T any](s *Store, what string, work func() T, given ...any) T {
	out, _ := Do(s, what, func() (T, error) { return work(), nil }, given...) // work gives no error
	return out
}

// Numbers are kept exactly, and lists of any length.
var (
	encoding = must(cbor.EncOptions{NaNConvert: cbor.NaNConvertPreserveSignal, InfConvert: cbor.InfConvertNone, Sort: cbor.SortBytewiseLexical}.EncMode())
	decoding = must(cbor.DecOptions{MaxArrayElements: 1<<31 - 1, MaxMapPairs: 1<<31 - 1, MaxNestedLevels: 256, UTF8: cbor.UTF8DecodeInvalid}.DecMode())
)

// must is for options that stand in this file.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func (s *Store) take(key Key) ([]byte, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	e, known := s.kept[key]
	if known {
		s.uses.Known++
		e.asked = true
		s.kept[key] = e
	}
	return e.data, known
}

func (s *Store) put(key Key, data []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.uses.New++
	s.fresh = true
	if _, known := s.kept[key]; known {
		s.drop(key)
	}
	e := entry{data: data, asked: true, part: true}
	s.kept[key] = e
	s.size += e.size()
	if s.size > s.most {
		s.trim()
	}
}

func (s *Store) fault(say string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults[say] = true
}

// Faults tell, sorted, which work could not be kept, and, where the store doubts, which
// came out otherwise than kept: faults of this program. None of them makes a result wrong
// but the last.
func (s *Store) Faults() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Sorted(maps.Keys(s.faults))
}

// Uses tells what the store was asked for since it was made or [Store.Next] was called.
func (s *Store) Uses() Uses {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.uses
}

// Changed reports whether there are results that were not saved yet.
func (s *Store) Changed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.fresh
}
