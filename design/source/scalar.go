package source

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

// scalarTypes are what an editor may take an unquoted value for: it reads 4 as a
// number and true as a truth value, we read both as the text that they look like.
var scalarTypes = []string{"string", "number", "boolean"}

// The spellings of the format's words.
const (
	idPattern   = `^[a-z][a-z0-9_]*$`
	pathPattern = `^[a-z][a-z0-9_]*(\.[a-z0-9_]+)*$`
	datePattern = `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`
	filePattern = `^files/`
)

var (
	idSpelling   = regexp.MustCompile(idPattern)
	pathSpelling = regexp.MustCompile(pathPattern)
)

// scalar makes a form for a single value; read gets only plain scalars.
func scalar[T any](what string, describe schema, read func(r *reader, e entry, into *T)) form[T] {
	return form[T]{
		what: what,
		read: func(r *reader, e entry, into *T) {
			if r.expect(e, yaml.ScalarNode, what) {
				read(r, e, into)
			}
		},
		schema: func(*book) schema { return describe },
	}
}

// title is text in which braces have no meaning.
var title = scalar("text", schema{"type": scalarTypes}, func(r *reader, e entry, into *plan.Text) {
	if r.shortEnough(e) {
		*into = r.doc.text(e.value)
	}
})

// markdown is text in which braces reach into the plan.
var markdown = scalar("text", schema{"type": scalarTypes}, func(r *reader, e entry, into *plan.Text) {
	if r.shortEnough(e) {
		*into = r.doc.text(e.value)
		r.reading.prose = append(r.reading.prose, proseText{r: r, text: *into, assembly: r.assembly})
	}
})

func (r *reader) shortEnough(e entry) bool {
	if len(e.value.Value) <= r.limits.Prose {
		return true
	}
	r.report(tooLarge, r.where(e), fmt.Sprintf("the text is %d bytes long, more than %d", len(e.value.Value), r.limits.Prose), "make it a page, or several")
	return false
}

// word is a short text without further rules.
var word = scalar("a word", schema{"type": scalarTypes}, func(r *reader, e entry, into *plan.Word) { *into = r.word(e.value) })

// oneWord is one of a list of words.
func oneWord(words ...string) form[plan.Word] {
	what := either(words)
	return scalar(what, schema{"enum": words}, func(r *reader, e entry, into *plan.Word) {
		if slices.Contains(words, e.value.Value) {
			*into = r.word(e.value)
			return
		}
		r.report(unknownWord, r.doc.span(e.value), fmt.Sprintf("%s takes %s, not %s", r.name(e), what, quoted(e.value.Value)), r.near.perhaps(e.value.Value, words))
	})
}

// spelled is a word with a form of its own; example shows it.
func spelled(what, pattern, example string) form[plan.Word] {
	re := regexp.MustCompile(pattern)
	return scalar(what, schema{"type": "string", "pattern": pattern}, func(r *reader, e entry, into *plan.Word) {
		if re.MatchString(e.value.Value) {
			*into = r.word(e.value)
			return
		}
		r.report(badValue, r.doc.span(e.value), fmt.Sprintf("%s takes %s, not %s", r.name(e), what, quoted(e.value.Value)), "write it like "+example)
	})
}

var (
	wholeNumber = described(schema{"type": []string{"integer", "string"}, "minimum": 0, "pattern": `^[0-9]{1,6}$`}, spelled("a whole number", `^[0-9]{1,6}$`, "3"))
	language    = spelled("a language code", `^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$`, "en or de-CH")
	currency    = spelled("a currency code", `^[A-Z]{3}$`, "EUR")
	sheetSize   = spelled("a sheet size", `^(A[0-4]|letter|legal|tabloid|ANSI [A-E])( (portrait|landscape))?$`, "A4 landscape")
	scale       = spelled("a scale", `^[1-9][0-9]*:[1-9][0-9]*$`, `"1:2"`)
)

// described is f with a schema of its own.
func described[T any](s schema, f form[T]) form[T] {
	f.schema = func(*book) schema { return s }
	return f
}

// date is a day of the calendar.
var date = scalar("a date", schema{"type": "string", "pattern": datePattern}, func(r *reader, e entry, into *plan.Word) {
	if _, err := time.Parse(time.DateOnly, e.value.Value); err != nil {
		r.report(badValue, r.doc.span(e.value), fmt.Sprintf("%s takes a date, not %s", r.name(e), quoted(e.value.Value)), "write year, month and day: 2026-05-02")
		return
	}
	*into = r.word(e.value)
})

// flag is yes or no.
var flag = scalar("yes or no", schema{"enum": []any{"yes", "no"}}, func(r *reader, e entry, into *bool) {
	switch e.value.Value {
	case "yes":
		*into = true
	case "no":
	default:
		remedy := ""
		if v := strings.ToLower(e.value.Value); v == "true" || v == "on" || v == "y" {
			remedy = "write yes"
		} else if v == "false" || v == "off" || v == "n" {
			remedy = "write no"
		}
		r.report(unknownWord, r.doc.span(e.value), fmt.Sprintf("%s takes yes or no, not %s", r.name(e), quoted(e.value.Value)), remedy)
	}
})

// id is the name that a key gives to a thing.
var id = scalar("an id", schema{"type": "string", "pattern": idPattern}, func(r *reader, e entry, into *plan.Word) {
	*into = r.word(e.value)
	if idSpelling.MatchString(e.value.Value) {
		return
	}
	remedy := ""
	if mended := mendID(e.value.Value); mended != "" {
		remedy = "write " + mended
	}
	r.report(badID, into.At, fmt.Sprintf("%s cannot be an id", quoted(e.value.Value)), remedy)
})

// mendID is the id that text might be meant as; empty where none suggests itself.
func mendID(text string) string {
	mended := strings.Map(func(c rune) rune {
		switch {
		case c == ' ' || c == '-' || c == '.':
			return '_'
		case c >= 'A' && c <= 'Z':
			return c + 'a' - 'A'
		}
		return c
	}, text)
	if !idSpelling.MatchString(mended) {
		return ""
	}
	return mended
}

// ref is the name of a thing described elsewhere; it is looked up once all files are
// read.
func ref(to target) form[plan.Word] {
	return scalar(to.what, schema{"type": "string", "pattern": pathPattern}, func(r *reader, e entry, into *plan.Word) {
		r.refer(to, r.word(e.value), into)
	})
}

// refer notes that w names a thing of a kind, after a look at its spelling.
func (r *reader) refer(to target, w plan.Word, into *plan.Word) {
	if !pathSpelling.MatchString(w.Text) {
		remedy := "write " + to.what
		if mended := mendID(w.Text); mended != "" {
			remedy = "write " + mended
		}
		r.report(badID, w.At, fmt.Sprintf("%s cannot be the name of anything", quoted(w.Text)), remedy)
		return
	}
	*into = w
	r.links = append(r.links, link{r: r, to: to, word: w, assembly: r.assembly, use: r.use, part: r.part, of: r.of})
}

// fileName is the path of a file under files/.
var fileName = scalar("a path under files/", schema{"type": "string", "pattern": filePattern}, func(r *reader, e entry, into *plan.Word) {
	w := r.word(e.value)
	if !strings.HasPrefix(w.Text, "files/") || !cleanPath(w.Text) {
		r.report(badValue, w.At, fmt.Sprintf("%s names a file outside files/", quoted(w.Text)), "put the file under files/ and write its path from there: files/name")
		return
	}
	*into = w
	r.links = append(r.links, link{r: r, to: toFile, word: w})
})

// expression is a formula.
var expression = scalar("a quantity or formula", schema{"type": scalarTypes}, func(r *reader, e entry, into *plan.Formula) {
	into.At = r.doc.span(e.value)
	if start, ok := r.doc.inside(e.value); ok {
		into.Start = start
	}
	expr, fault := formula.Parse(e.value.Value)
	if fault == nil {
		into.Expr = expr
		return
	}
	r.formulaFault(*into, e.value.Value, fault)
})

// formulaFault marks what is wrong with a formula; where something is missing, the
// character after which it is.
func (r *reader) formulaFault(f plan.Formula, text string, fault *formula.Error) {
	offset, length := fault.Offset, fault.Length
	if length <= 0 {
		characters := []rune(text)
		for offset = min(offset, len(characters)) - 1; offset > 0 && characters[offset] == ' '; {
			offset--
		}
		offset, length = max(offset, 0), 1
	}
	r.report(badFormula, f.Place(offset, length), fault.Message, fault.Remedy)
}

// choosable is a value, or one for each option of a choice.
func choosable[T any](name string, f form[T]) form[plan.Choosable[T]] {
	return form[plan.Choosable[T]]{
		what: f.what,
		read: func(r *reader, e entry, into *plan.Choosable[T]) {
			into.At = r.doc.span(e.value)
			if e.value.Kind != yaml.MappingNode {
				before := r.faults
				f.read(r, e, &into.Plain)
				if r.faults > before {
					into.At = finding.Span{}
				}
				return
			}
			readByChoice(r, e, f, into)
		},
		schema: func(b *book) schema {
			return b.define(name, func() schema { return byChoiceSchema(f.schema(b)) })
		},
	}
}

func readByChoice[T any](r *reader, e entry, f form[T], into *plan.Choosable[T]) {
	present := r.keys(e, nil, func(o entry) {
		r.value(o, func() {
			if o.key.Value == "by" {
				if r.expect(o, yaml.ScalarNode, "the id of a choice") {
					r.refer(toChoice, r.word(o.value), &into.By)
				}
				return
			}
			var alt plan.Alternative[T]
			before := r.faults
			id.read(r, entry{key: o.key, value: o.key}, &alt.Option)
			f.read(r, o, &alt.Value)
			if r.faults == before {
				into.Options = append(into.Options, alt)
			}
		})
	})
	if present["by"] == nil {
		r.report(wrongKind, r.where(e), fmt.Sprintf("%s takes %s, or a map that begins with by", r.name(e), f.what), "write "+f.what+", or {by: choice, option: value ...}")
		into.At = finding.Span{}
		return
	}
	if !into.By.Given() {
		into.At = finding.Span{}
		return
	}
	var options []plan.Word
	for name, k := range present {
		if name != "by" && idSpelling.MatchString(name) {
			options = append(options, r.word(k))
		}
	}
	slices.SortFunc(options, func(a, b plan.Word) int { return strings.Compare(a.Text, b.Text) })
	r.choosing = append(r.choosing, choosing{r: r, choice: into.By, options: options, complete: true, at: r.where(e)})
}

func byChoiceSchema(plain schema) schema {
	return schema{"anyOf": []schema{
		plain,
		{
			"type": "object", "required": []string{"by"}, "minProperties": 2,
			"properties":           schema{"by": schema{"type": "string", "pattern": idPattern, "description": "the choice that decides"}},
			"propertyNames":        schema{"pattern": idPattern},
			"additionalProperties": plain,
		},
	}}
}

// The values that may go by choice.
var (
	quantity = choosable("quantity", expression)
	wording  = choosable("wording", markdown)
)

func reference(name string, to target) form[plan.Reference] { return choosable(name, ref(to)) }

// named is a map from names to quantities.
func named(what string, fields ...string) form[[]plan.Named] {
	name := func(n *plan.Named) *plan.Word { return &n.Name }
	is := form[plan.Named]{what: quantity.what, schema: quantity.schema, read: func(r *reader, e entry, into *plan.Named) { quantity.read(r, e, &into.Is) }}
	if len(fields) > 0 {
		return entries(what, is, oneWord(fields...), name)
	}
	return entries(what, is, id, name)
}

// point is a place: two or three quantities.
func point(least, most int) form[plan.Point] {
	what := fmt.Sprintf("a list of %d quantities", least)
	if most > least {
		what = fmt.Sprintf("a list of %d or %d quantities", least, most)
	}
	coordinates := listOf(what, least, most, quantity)
	return form[plan.Point]{
		what:   what,
		schema: coordinates.schema,
		read: func(r *reader, e entry, into *plan.Point) {
			before := r.faults
			coordinates.read(r, e, &into.Of)
			if r.faults == before {
				into.At = r.doc.span(e.value)
			}
		},
	}
}
