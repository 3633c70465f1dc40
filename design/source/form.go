package source

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// A form is how one kind of thing is written. It reads YAML into the model and
// describes itself to the schema, so that the two cannot drift apart.
type form[T any] struct {
	what   string // with its article, for messages: "a list of names"
	read   func(r *reader, e entry, into *T)
	schema func(b *book) schema
}

// A field is one key of a map.
type field[T any] struct {
	key      string
	doc      string
	required bool
	what     string
	read     func(r *reader, e entry, into *T)
	schema   func(b *book) schema
}

// key describes a key whose value is read into the place that get gives.
func key[T, F any](name string, f form[F], get func(*T) *F, doc string) field[T] {
	return field[T]{
		key: name, doc: doc, what: f.what,
		read:   func(r *reader, e entry, into *T) { f.read(r, e, get(into)) },
		schema: f.schema,
	}
}

// must makes a key one that may not be left out.
func must[T any](f field[T]) field[T] {
	f.required = true
	return f
}

// kind is a key that says by its presence what kind of thing the map describes; the
// key itself is noted as the kind.
func kind[T, F any](name string, f form[F], get func(*T) *F, word func(*T) *plan.Word, doc string) field[T] {
	k := key(name, f, get, doc)
	read := k.read
	k.read = func(r *reader, e entry, into *T) {
		if w := word(into); !w.Given() {
			*w = r.word(e.key)
		}
		read(r, e, into)
	}
	return k
}

// whole gives the thing itself: for keys whose value fills in the same thing.
func whole[T any](t *T) *T { return t }

// A constraint relates the keys of one map.
type constraint struct {
	oneOf    []string // of these keys at most one
	atLeast  bool     // at least one of oneOf
	several  bool     // more than one of oneOf may stand together
	key      string   // where oneOf is empty: key may stand only beside one of beside
	beside   []string
	complete bool // key is incomplete, rather than without meaning, alone
}

func exactlyOne(keys ...string) constraint { return constraint{oneOf: keys, atLeast: true} }

func atMostOne(keys ...string) constraint { return constraint{oneOf: keys} }

func atLeastOne(keys ...string) constraint {
	return constraint{oneOf: keys, atLeast: true, several: true}
}

// needs says that key calls for other.
func needs(key, other string) constraint {
	return constraint{key: key, beside: []string{other}, complete: true}
}

// onlyBeside says that key has a meaning only where one of the others stands.
func onlyBeside(key string, beside ...string) constraint {
	return constraint{key: key, beside: beside}
}

// object is a map with known keys. at, where not nil, receives the map's place.
func object[T any](what string, at func(*T) *finding.Span, fields []field[T], constraints ...constraint) form[T] {
	byKey := map[string]*field[T]{}
	names := make([]string, len(fields))
	for i := range fields {
		byKey[fields[i].key] = &fields[i]
		names[i] = fields[i].key
	}
	f := form[T]{what: what}
	f.read = func(r *reader, e entry, into *T) {
		if !r.expect(e, yaml.MappingNode, what) {
			return
		}
		if at != nil {
			*at(into) = r.doc.span(e.value)
		}
		value := e.value
		present := r.keys(e, names, func(e entry) {
			within := r.current
			r.current = value
			r.value(e, func() { byKey[e.key.Value].read(r, e, into) })
			r.current = within
		})
		for i := range fields {
			if fields[i].required && present[fields[i].key] == nil {
				r.report(missingField, r.where(e), fmt.Sprintf("%s lacks the key %q", r.name(e), fields[i].key), fmt.Sprintf("add %s: %s", fields[i].key, fields[i].doc))
			}
		}
		r.constrain(e, present, constraints)
	}
	f.schema = func(b *book) schema { return objectSchema(b, fields, constraints) }
	return f
}

// value reads the value of an entry unless nothing or something refused stands
// there.
func (r *reader) value(e entry, read func()) {
	switch {
	case !r.plain(e.value):
	case isNull(e.value):
		r.report(emptyValue, r.where(e), r.name(e)+" has no value", "")
	default:
		read()
	}
}

// expect reports whether the entry's value is of the wanted kind of node, and says
// so where it is not.
func (r *reader) expect(e entry, want yaml.Kind, what string) bool {
	if e.value.Kind == want {
		return true
	}
	remedy := "write " + what
	if want == yaml.SequenceNode && e.value.Kind == yaml.ScalarNode {
		remedy = fmt.Sprintf("write [%s]", e.value.Value)
	}
	at := r.doc.span(e.value)
	if at.Line != at.EndLine {
		at = r.where(e)
	}
	r.report(wrongKind, at, fmt.Sprintf("%s takes %s, not %s", r.name(e), what, describe(e.value)), remedy)
	return false
}

// keys walks a map's keys, reports those that are doubled or not known, and gives
// those that are known by name. With known nil every key is.
func (r *reader) keys(e entry, known []string, each func(entry)) map[string]*yaml.Node {
	content := e.value.Content
	present := make(map[string]*yaml.Node, len(content)/2)
	for i := 0; i+1 < len(content); i += 2 {
		k := content[i]
		if k.Kind != yaml.ScalarNode {
			r.report(wrongKind, r.where(entry{value: k}), "a key must be a word, not "+describe(k), "write the key as a word")
			continue
		}
		if !r.plain(k) {
			continue
		}
		if k.Value == "<<" {
			r.report(yamlFeature, r.doc.span(k), "a merge key", "write the keys out here")
			continue
		}
		if first := present[k.Value]; first != nil {
			r.report(duplicateKey, r.doc.span(k), fmt.Sprintf("%s stands here a second time", quoted(k.Value)), "",
				finding.Related{At: r.doc.span(first), Say: "first here"})
			continue
		}
		if known != nil && !slices.Contains(known, k.Value) {
			r.report(unknownKey, r.doc.span(k), fmt.Sprintf("%s is no key here", quoted(k.Value)), r.near.perhaps(k.Value, known))
			continue
		}
		present[k.Value] = k
		if next := r.invented(e.value, i+2, known); next > i+2 {
			i = next - 2 // the value is but a piece of what was meant
			continue
		}
		each(entry{k, content[i+1]})
	}
	return present
}

// invented looks for keys that YAML made from the rest of an unquoted text in a
// one-line map: a blank in the key, or nothing behind it. From entry i on it takes
// all that follow one another, reports them once, and gives the index of the first
// entry after them; i where there is none.
func (r *reader) invented(m *yaml.Node, i int, known []string) int {
	if m.Style&yaml.FlowStyle == 0 || i < 2 {
		return i
	}
	key, text := m.Content[i-2], m.Content[i-1]
	if text.Kind != yaml.ScalarNode || text.Style != 0 && text.Style != yaml.FlowStyle {
		return i
	}
	next := i
	for next+1 < len(m.Content) {
		k, v := m.Content[next], m.Content[next+1]
		if k.Kind != yaml.ScalarNode || k.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0 || slices.Contains(known, k.Value) {
			break
		}
		if !strings.ContainsAny(k.Value, " ()") && !isNull(v) {
			break
		}
		next += 2
	}
	if next == i {
		return i
	}
	last := m.Content[next-1]
	if isNull(last) {
		last = m.Content[next-2]
	}
	from, to := r.doc.span(text), r.doc.span(last)
	if from.Line != to.EndLine {
		at := r.doc.span(m.Content[i])
		r.report(quoteThis, at, fmt.Sprintf("%s became a key of its own", quoted(m.Content[i].Value)), "put the text of "+key.Value+" in quotes")
		return next
	}
	width := to.EndColumn - from.Column
	words := string([]rune(r.doc.from(from.Line, from.Column))[:width])
	at := finding.OnLine(from.File, from.Line, from.Column, width)
	line := r.doc.line(from.Line)
	rest, _, _ := strings.Cut(r.doc.from(to.EndLine, to.EndColumn), " #")
	repaired := string([]rune(line)[:from.Column-1]) + inQuotes(words) + rest
	r.report(quoteThis, at, fmt.Sprintf("the text of %s is cut in two: %s became a key of its own", quoted(key.Value), quoted(m.Content[i].Value)), "write "+strings.TrimSpace(repaired))
	return next
}

func (r *reader) constrain(e entry, present map[string]*yaml.Node, constraints []constraint) {
	for _, c := range constraints {
		if c.key != "" {
			r.besideFault(c, present)
			continue
		}
		var first *yaml.Node
		for _, name := range c.oneOf {
			switch k := present[name]; {
			case k == nil:
			case first == nil:
				first = k
			case !c.several:
				if k.Line < first.Line || k.Line == first.Line && k.Column < first.Column {
					first, k = k, first
				}
				r.report(keysThatExclude, r.doc.span(k), fmt.Sprintf("%q and %q cannot stand together", first.Value, k.Value), "",
					finding.Related{At: r.doc.span(first), Say: "the other one"})
			}
		}
		if first == nil && c.atLeast {
			r.report(missingField, r.where(e), fmt.Sprintf("%s needs %s", r.name(e), either(c.oneOf)), "add "+either(c.oneOf))
		}
	}
}

func (r *reader) besideFault(c constraint, present map[string]*yaml.Node) {
	k := present[c.key]
	if k == nil || slices.ContainsFunc(c.beside, func(b string) bool { return present[b] != nil }) {
		return
	}
	if c.complete {
		r.report(missingField, r.doc.span(k), fmt.Sprintf("%q needs the key %q beside it", c.key, either(c.beside)), "add "+either(c.beside))
		return
	}
	r.report(unknownKey, r.doc.span(k), fmt.Sprintf("%q means nothing without %s", c.key, either(c.beside)), "add "+either(c.beside)+", or take the key out")
}

// beside reports whether key stands in the map that is being read.
func (r *reader) beside(key string) bool { return mapHas(r.current, key) }

func mapHas(m *yaml.Node, key string) bool {
	for i := 0; i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == key {
			return true
		}
	}
	return false
}

// either is "a", "a or b", "a, b or c".
func either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// list is a list of things.
func list[T any](what string, f form[T]) form[[]T] {
	return form[[]T]{
		what: what,
		read: func(r *reader, e entry, into *[]T) {
			if !r.expect(e, yaml.SequenceNode, what) {
				return
			}
			for _, item := range e.value.Content {
				r.value(entry{value: item}, func() {
					var one T
					before := r.faults
					f.read(r, entry{value: item}, &one)
					if r.faults == before || item.Kind == yaml.MappingNode || item.Kind == yaml.SequenceNode {
						*into = append(*into, one)
					}
				})
			}
		},
		schema: func(b *book) schema { return schema{"type": "array", "items": f.schema(b)} },
	}
}

// listOf is a list of exactly or at most so many things.
func listOf[T any](what string, least, most int, f form[T]) form[[]T] {
	all := list(what, f)
	return form[[]T]{
		what: what,
		read: func(r *reader, e entry, into *[]T) {
			if e.value.Kind == yaml.SequenceNode && (len(e.value.Content) < least || len(e.value.Content) > most) {
				r.report(wrongKind, r.where(entry{value: e.value}), fmt.Sprintf("%s takes %s, not %d entries", r.name(e), what, len(e.value.Content)), "write "+what)
				return
			}
			all.read(r, e, into)
		},
		schema: func(b *book) schema {
			s := all.schema(b)
			s["minItems"], s["maxItems"] = least, most
			return s
		},
	}
}

// oneOrMore is one thing, or a list of them.
func oneOrMore[T any](what string, f form[T]) form[[]T] {
	several := list(what, f)
	return form[[]T]{
		what: what,
		read: func(r *reader, e entry, into *[]T) {
			if e.value.Kind == yaml.SequenceNode {
				several.read(r, e, into)
				return
			}
			var one T
			before := r.faults
			if f.read(r, e, &one); r.faults == before || e.value.Kind == yaml.MappingNode {
				*into = append(*into, one)
			}
		},
		schema: func(b *book) schema {
			return schema{"anyOf": []schema{f.schema(b), several.schema(b)}}
		},
	}
}

// pointer makes a form for a thing that may be absent.
func pointer[T any](f form[T]) form[*T] {
	return form[*T]{
		what: f.what,
		read: func(r *reader, e entry, into **T) {
			*into = new(T)
			f.read(r, e, *into)
		},
		schema: f.schema,
	}
}

// noting notes as damaged what f reads with faults.
func noting[T any](f form[T]) form[T] {
	read := f.read
	f.read = func(r *reader, e entry, into *T) {
		before := r.faults
		if read(r, e, into); r.faults > before {
			r.damaged[into] = true
		}
	}
	return f
}

// entries is a map from names of the author's to things. name receives the key.
func entries[T any](what string, f form[T], named form[plan.Word], name func(*T) *plan.Word) form[[]T] {
	several := pointers(what, f, named, name)
	return form[[]T]{
		what: what, schema: several.schema,
		read: func(r *reader, e entry, into *[]T) {
			var things []*T
			several.read(r, e, &things)
			for _, t := range things {
				*into = append(*into, *t)
			}
		},
	}
}

// pointers is entries for things that the model holds by pointer; what is read with
// faults is noted as damaged.
func pointers[T any](what string, f form[T], named form[plan.Word], name func(*T) *plan.Word) form[[]*T] {
	return form[[]*T]{
		what: what,
		read: func(r *reader, e entry, into *[]*T) {
			if !r.expect(e, yaml.MappingNode, what) {
				return
			}
			r.keys(e, nil, func(e entry) {
				thing, before := new(T), r.faults
				named.read(r, entry{key: e.key, value: e.key}, name(thing))
				r.value(e, func() { f.read(r, e, thing) })
				if r.faults > before {
					r.damaged[thing] = true
				}
				*into = append(*into, thing)
			})
		},
		schema: func(b *book) schema {
			return schema{"type": "object", "propertyNames": named.schema(b), "additionalProperties": f.schema(b)}
		},
	}
}

// within lets enter note what is being read while f reads it, for names that only
// have a meaning there. leave takes the note away.
func within[T any](f form[T], enter func(r *reader, t *T), leave func(r *reader)) form[T] {
	read := f.read
	f.read = func(r *reader, e entry, into *T) {
		enter(r, into)
		read(r, e, into)
		leave(r)
	}
	return f
}

// either2 is a scalar read by one form or a map or list read by another.
func either2[T any](single, other form[T]) form[T] {
	return form[T]{
		what: single.what + ", or " + other.what,
		read: func(r *reader, e entry, into *T) {
			if e.value.Kind == yaml.ScalarNode {
				single.read(r, e, into)
				return
			}
			other.read(r, e, into)
		},
		schema: func(b *book) schema {
			return schema{"anyOf": []schema{single.schema(b), other.schema(b)}}
		},
	}
}

// holding makes a form for a thing of which only one part is read.
func holding[T, U any](f form[U], part func(*T) *U) form[T] {
	return form[T]{
		what: f.what, schema: f.schema,
		read: func(r *reader, e entry, into *T) { f.read(r, e, part(into)) },
	}
}
