package plan

import "reflect"

// Texts lists every text of the plan, prose and titles alike, in the order in which
// the model holds them.
func (p *Plan) Texts() []Text { return TextsOf(p) }

// TextsOf lists every text of a thing of the plan, or of a list of things, in the order
// in which the model holds them.
func TextsOf(thing any) []Text {
	var list []Text
	gather(reflect.ValueOf(thing), &list)
	return list
}

// QuantitiesOf lists every quantity of a thing of the plan, or of a list of things, in
// the order in which the model holds them; those that are not given among them.
func QuantitiesOf(thing any) []Quantity {
	var list []Quantity
	gather(reflect.ValueOf(thing), &list)
	return list
}

// gather walks what can hold a T: structs, lists and pointers. The model holds no
// pointer back to what points to it, so the walk ends.
func gather[T any](v reflect.Value, list *[]T) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			gather(v.Elem(), list)
		}
	case reflect.Slice:
		for i := range v.Len() {
			gather(v.Index(i), list)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[T]() {
			*list = append(*list, v.Interface().(T))
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				gather(v.Field(i), list)
			}
		}
	}
}
