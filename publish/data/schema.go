package data

import (
	"encoding"
	"encoding/json"
	"maps"
	"reflect"
	"strings"
)

// PlanSchema is the JSON Schema (draft 2020-12) of what PlanJSON writes, with what
// each key means. It is made from the types that are written, so that it leaves none
// out.
func PlanSchema() ([]byte, error) { return Schema(planFile{}, "A plan worked out") }

// Schema is the JSON Schema (draft 2020-12) of how encoding/json writes values of a
// type, with the key "about" of its fields' tags as what they mean. The type must not
// lead back to itself.
func Schema(of any, title string) ([]byte, error) {
	schema := schemaOf(reflect.TypeOf(of))
	schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	schema["title"] = title
	text, err := json.MarshalIndent(schema, "", "  ")
	return append(text, '\n'), err
}

func schemaOf(t reflect.Type) map[string]any {
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return map[string]any{"type": "string"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return schemaOf(t.Elem())
	case reflect.Struct:
		return objectSchema(t)
	case reflect.Slice:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem())}
	case reflect.Array:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": schemaOf(t.Elem())}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	}
	return map[string]any{"type": "string"}
}

func objectSchema(t reflect.Type) map[string]any {
	properties, required := map[string]any{}, []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous { // its keys are written among the others
			inner := objectSchema(f.Type)
			maps.Copy(properties, inner["properties"].(map[string]any))
			required = append(required, inner["required"].([]string)...)
			continue
		}
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if key == "" {
			key = f.Name
		}
		one := schemaOf(f.Type)
		if about := f.Tag.Get("about"); about != "" {
			one["description"] = about
		}
		properties[key] = one
		if options != "omitempty" && options != "omitzero" {
			required = append(required, key)
		}
	}
	return map[string]any{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}
