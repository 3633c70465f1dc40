package memo

import (
	"fmt"
	"reflect"
	"sync"

	"github.com/fxamacker/cbor/v2"
)

// keepables holds for each type seen why its values cannot be kept whole; nil where they
// can.
var keepables sync.Map

// keepable tells why values of a type would lose something when they are kept: a field that
// is not exported, a value whose type is not known beforehand. Types that write and read
// themselves as CBOR are taken at their word.
func keepable(t reflect.Type) error {
	known, found := keepables.Load(t)
	if !found {
		known, _ = keepables.LoadOrStore(t, [1]error{lost(t, map[reflect.Type]bool{})})
	}
	return known.([1]error)[0]
}

func lost(t reflect.Type, seen map[reflect.Type]bool) error {
	if seen[t] || reflect.PointerTo(t).Implements(reflect.TypeFor[cbor.Unmarshaler]()) && t.Implements(reflect.TypeFor[cbor.Marshaler]()) {
		return nil
	}
	seen[t] = true
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array:
		return lost(t.Elem(), seen)
	case reflect.Map:
		if err := lost(t.Key(), seen); err != nil {
			return err
		}
		return lost(t.Elem(), seen)
	case reflect.Struct:
		for f := range t.Fields() {
			if !f.IsExported() {
				return fmt.Errorf("%s has a field %s that is not exported", t, f.Name)
			}
			if err := lost(f.Type, seen); err != nil {
				return err
			}
		}
	case reflect.Interface, reflect.Func, reflect.Chan, reflect.UnsafePointer, reflect.Complex64, reflect.Complex128, reflect.Uintptr:
		return fmt.Errorf("a %s is not kept", t)
	}
	return nil
}
