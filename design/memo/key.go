package memo

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sync"
)

// A Key stands for all that a result follows from.
type Key [sha256.Size]byte

// Keyed is a value that has a key of its own, such as a body whose numbers are many: equal
// keys must mean that whatever is worked out from the values is equal.
type Keyed interface{ MemoKey() Key }

// KeyOf hashes values whole. The error is of a value that cannot be hashed: one that holds
// a function or a channel, or a [Keyed] one in a field that is not exported.
func KeyOf(values ...any) (Key, error) {
	w := writers.Get().(*writer)
	defer writers.Put(w)
	w.out, w.above = w.out[:0], w.above[:0]
	for _, v := range values {
		if err := w.whole(reflect.ValueOf(v)); err != nil {
			return Key{}, err
		}
	}
	return sha256.Sum256(w.out), nil
}

var writers = sync.Pool{New: func() any { return &writer{} }}

// A writer writes values so that different ones give different bytes.
type writer struct {
	out   []byte
	above []reflect.Value // pointers and maps that are being followed
}

// ownKeys tells of each type seen whether its values are [Keyed].
var ownKeys sync.Map

func hasOwn(t reflect.Type) bool {
	if t.Kind() == reflect.Interface {
		return false
	}
	own, known := ownKeys.Load(t)
	if !known {
		own, _ = ownKeys.LoadOrStore(t, t.Implements(reflect.TypeFor[Keyed]()))
	}
	return own.(bool)
}

func (w *writer) number(n uint64) { w.out = binary.LittleEndian.AppendUint64(w.out, n) }

// whole writes a value of whatever type, and its type.
func (w *writer) whole(v reflect.Value) error {
	if !v.IsValid() {
		w.out = append(w.out, 0)
		return nil
	}
	w.out = append(w.out, 1)
	w.text(v.Type().String())
	return w.value(v)
}

func (w *writer) text(s string) {
	w.number(uint64(len(s)))
	w.out = append(w.out, s...)
}

// value writes a value whose type is known from what stands before it.
func (w *writer) value(v reflect.Value) error {
	t := v.Type()
	switch v.Kind() {
	case reflect.Struct, reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
		if hasOwn(t) {
			return w.own(v)
		}
	}
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			w.out = append(w.out, 1)
		} else {
			w.out = append(w.out, 0)
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		w.number(uint64(v.Int()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uintptr:
		w.number(v.Uint())
	case reflect.Float32, reflect.Float64:
		w.number(math.Float64bits(v.Float()))
	case reflect.String:
		w.text(v.String())
	case reflect.Array:
		return w.items(v)
	case reflect.Slice:
		if v.IsNil() {
			w.out = append(w.out, 0)
			return nil
		}
		w.out = append(w.out, 1)
		w.number(uint64(v.Len()))
		return w.items(v)
	case reflect.Struct:
		for i := range v.NumField() {
			if err := w.value(v.Field(i)); err != nil {
				return fmt.Errorf("%s: %w", t.Field(i).Name, err)
			}
		}
	case reflect.Interface:
		return w.whole(v.Elem())
	case reflect.Pointer, reflect.Map:
		return w.followed(v)
	default:
		return fmt.Errorf("a %s has no key", t)
	}
	return nil
}

// own writes the key that a value has of its own.
func (w *writer) own(v reflect.Value) error {
	if v.Kind() == reflect.Pointer && v.IsNil() {
		w.out = append(w.out, 0)
		return nil
	}
	if !v.CanInterface() {
		return fmt.Errorf("a %s in a field that is not exported cannot be asked for its key", v.Type())
	}
	k := v.Interface().(Keyed).MemoKey()
	w.out = append(append(w.out, 1), k[:]...)
	return nil
}

func (w *writer) items(v reflect.Value) error {
	if v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Uint8 {
		w.out = append(w.out, v.Bytes()...)
		return nil
	}
	for i := range v.Len() {
		if err := w.value(v.Index(i)); err != nil {
			return err
		}
	}
	return nil
}

// followed writes what a pointer or a map leads to; one that leads back to itself is
// written as how far up it stands.
func (w *writer) followed(v reflect.Value) error {
	if v.IsNil() {
		w.out = append(w.out, 0)
		return nil
	}
	for i, up := range w.above {
		if up.Pointer() == v.Pointer() && up.Type() == v.Type() {
			w.out = append(w.out, 2)
			w.number(uint64(len(w.above) - i))
			return nil
		}
	}
	w.above = append(w.above, v)
	defer func() { w.above = w.above[:len(w.above)-1] }()
	w.out = append(w.out, 1)
	if v.Kind() == reflect.Pointer {
		return w.value(v.Elem())
	}
	w.number(uint64(v.Len()))
	var pairs [][]byte
	for each := v.MapRange(); each.Next(); {
		from := len(w.out)
		if err := w.value(each.Key()); err != nil {
			return err
		}
		if err := w.value(each.Value()); err != nil {
			return err
		}
		pairs = append(pairs, slices.Clone(w.out[from:]))
		w.out = w.out[:from]
	}
	slices.SortFunc(pairs, bytes.Compare)
	for _, p := range pairs {
		w.number(uint64(len(p)))
		w.out = append(w.out, p...)
	}
	return nil
}
