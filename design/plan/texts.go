package plan

import "reflect"

// Texts lists every text of the plan, prose and titles alike, in the order in which
// the model holds them.
func (p *Plan) Texts() []Text {
	var list []Text
	gather(reflect.ValueOf(p), &list)
	return list
}

var textType = reflect.TypeFor[Text]()

// gather walks what can hold a text: structs, lists and pointers. The model holds
// no pointer back to what points to it, so the walk ends.
func gather(v reflect.Value, list *[]Text) {
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
		if v.Type() == textType {
			*list = append(*list, v.Interface().(Text))
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				gather(v.Field(i), list)
			}
		}
	}
}
