package source

import (
	"encoding/json"
	"fmt"
)

// A schema is one JSON Schema, as it is written.
type schema map[string]any

// A book collects the definitions that one schema's parts share.
type book struct{ definitions schema }

// define gives a reference to a named definition, made once.
func (b *book) define(name string, make func() schema) schema {
	if _, known := b.definitions[name]; !known {
		b.definitions[name] = schema{} // closes a circle, if there is one
		b.definitions[name] = make()
	}
	return schema{"$ref": "#/$defs/" + name}
}

// defined is a form whose schema stands once among the definitions.
func defined[T any](name string, f form[T]) form[T] {
	describe := f.schema
	f.schema = func(b *book) schema { return b.define(name, func() schema { return describe(b) }) }
	return f
}

func objectSchema[T any](b *book, fields []field[T], constraints []constraint) schema {
	properties := schema{}
	var required []string
	for _, f := range fields {
		// A $ref stands beside its description: draft 2020-12 allows it.
		s := schema{"description": f.doc}
		for k, v := range f.schema(b) {
			s[k] = v
		}
		properties[f.key] = s
		if f.required {
			required = append(required, f.key)
		}
	}
	s := schema{"type": "object", "properties": properties, "additionalProperties": false}
	if len(required) > 0 {
		s["required"] = required
	}
	var all []schema
	beside := schema{}
	for _, c := range constraints {
		if c.key != "" {
			needs, _ := beside[c.key].(schema)
			if needs == nil {
				needs = schema{"allOf": []schema{}}
				beside[c.key] = needs
			}
			needs["allOf"] = append(needs["allOf"].([]schema), schema{"anyOf": requireEach(c.beside)})
			continue
		}
		one := requireEach(c.oneOf)
		if c.several {
			all = append(all, schema{"anyOf": one})
			continue
		}
		if !c.atLeast {
			one = append(one, schema{"not": schema{"anyOf": requireEach(c.oneOf)}})
		}
		all = append(all, schema{"oneOf": one})
	}
	if len(beside) > 0 {
		s["dependentSchemas"] = beside
	}
	if len(all) > 0 {
		s["allOf"] = all
	}
	return s
}

func requireEach(keys []string) []schema {
	var list []schema
	for _, k := range keys {
		list = append(list, schema{"required": []string{k}})
	}
	return list
}

// Kinds are the kinds of file that have a schema, in the order of the format's
// description. "page" is the front matter of a page.
func Kinds() []string {
	names := make([]string, len(fileKinds))
	for i, k := range fileKinds {
		names[i] = k.name
	}
	return names
}

// Schema is the JSON Schema (draft 2020-12) of one kind of file, for editors to
// complete and check with: plan, stock, materials, suppliers, tools, parts,
// assembly, drawing, calc, safety or page. It says what the reader says about keys
// and kinds of values; ids that nothing answers to and formulas are beyond it.
func Schema(kind string) ([]byte, error) {
	for _, k := range fileKinds {
		if k.name != kind {
			continue
		}
		b := &book{definitions: schema{}}
		s := schema{}
		for key, v := range k.schema(b) {
			s[key] = v
		}
		s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
		s["title"] = k.title
		if len(b.definitions) > 0 {
			s["$defs"] = b.definitions
		}
		text, err := json.MarshalIndent(s, "", "  ")
		if err != nil {
			return nil, fmt.Errorf("write the schema of %q: %w", kind, err)
		}
		return append(text, '\n'), nil
	}
	return nil, fmt.Errorf("no schema of kind %q", kind)
}
