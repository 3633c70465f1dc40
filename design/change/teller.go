package change

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A teller tells what one revision says of its things, as facts. Whatever field the
// model has is told: a new one is compared without a word here.
type teller struct {
	side   *side
	names  *names // of the old side; nil for the new one
	a      *plan.Assembly
	part   *plan.Part
	choice string // of options
	// formulas are told as they are written, as in calculations: there the way to
	// a result is meaning, too.
	formulas bool
	out      []fact
}

// add adds a fact; nothing said is no fact.
func (t *teller) add(key, called, say, mean string) {
	if mean != "" {
		t.out = append(t.out, fact{key: key, called: called, say: say, mean: mean})
	}
}

// derive adds a fact that follows.
func (t *teller) derive(what, say, mean string) {
	t.out = append(t.out, fact{key: what, called: what, say: say, mean: mean, follows: true})
}

// word is a word as said and as meant.
func (t *teller) word(w plan.Word, as role) (say, mean string) {
	if !w.Given() {
		return "", ""
	}
	switch as {
	case "":
		return w.Text, w.Text
	case option:
		return w.Text, t.names.option(t.choice, w.Text)
	case path:
		return w.Text, t.names.path(t.a, nil, w.Text)
	case feature:
		return w.Text, t.names.path(nil, t.part, w.Text)
	}
	if k := Kind(as); k != OfMaterial && k != OfTool && t.names != nil && !t.names.knows(k, w.Text) {
		return w.Text, "nothing called " + w.Text // whatever has that name on the other side
	}
	return w.Text, t.names.id(Kind(as), w.Text)
}

// struc tells every field of a struct under a key.
func (t *teller) struc(v reflect.Value, key, called string) {
	kind := v.Type().Name()
	for i := range v.NumField() {
		f := v.Type().Field(i)
		own := kind + "." + f.Name
		if !f.IsExported() || untold[f.Name] || untold[own] || f.Type == reflect.TypeFor[finding.Span]() {
			continue
		}
		if f.Name == "Name" && key != "" { // it is known by it
			continue
		}
		if f.Name == "Is" { // the value itself: no word of its own
			t.field(v.Field(i), own, orElse(key, "value"), orElse(called, "value"))
			continue
		}
		t.field(v.Field(i), own, join(key, spoken(own, f.Name)), join(called, spoken(own, f.Name)))
	}
}

func join(key, word string) string {
	switch {
	case key == "":
		return word
	case word == "":
		return key
	}
	return key + ", " + word
}

// field tells one field: as one fact, or by its parts.
func (t *teller) field(v reflect.Value, own, key, called string) {
	if say, mean, whole := t.whole(v, own); whole {
		t.add(key, called, say, mean)
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			t.field(v.Elem(), own, key, called)
		}
	case reflect.Struct:
		switch thing := v.Interface().(type) {
		case plan.Text:
			t.text(thing, key, called)
		case plan.Wording:
			t.wording(thing, key, called)
		case plan.Layer:
			say, mean := t.compact(v, own)
			t.add(key, called, say, mean)
		default:
			t.struc(v, key, called)
		}
	case reflect.Slice:
		t.list(v, own, key, called)
	}
}

// list tells a list of structs: those with a name by their name, others each as one
// fact.
func (t *teller) list(v reflect.Value, own, key, called string) {
	if inOrder[own] {
		say, mean := t.compact(v, own)
		t.add(key, called, say, mean)
		return
	}
	for i := range v.Len() {
		item := v.Index(i)
		if item.Kind() == reflect.Pointer {
			if item.IsNil() {
				continue
			}
			item = item.Elem()
		}
		if text, ok := item.Interface().(plan.Text); ok {
			t.text(text, key, called)
			continue
		}
		name := nameOf(item)
		if name == "" {
			say, mean := t.compact(item, own)
			t.add(key, called, say, mean)
			continue
		}
		// A named thing that says nothing else is still there.
		as := t.renamed(own, name)
		before := len(t.out)
		t.struc(item, spaced(key, as), spaced(called, name))
		if len(t.out) == before {
			t.add(spaced(key, as), spaced(called, name), "there", "there")
		}
	}
}

func spaced(key, name string) string {
	if key == "" {
		return name
	}
	return key + " " + name
}

// renamed is the new name of a named item of a field.
func (t *teller) renamed(own, name string) string {
	if own == "Part.Holes" || own == "Part.Shape" {
		return t.names.path(nil, t.part, name)
	}
	if own == "Choice.Options" {
		return t.names.option(t.choice, name)
	}
	return name
}

// nameOf is the name by which a list's item is known, "" for none.
func nameOf(v reflect.Value) string {
	for _, field := range []string{"ID", "Name"} {
		if f := v.FieldByName(field); f.IsValid() {
			if w, ok := f.Interface().(plan.Word); ok && w.Given() {
				return w.Text
			}
		}
	}
	return ""
}

// text tells a text by its paragraphs, so that a change of one is seen as that.
func (t *teller) text(x plan.Text, key, called string) {
	for _, p := range strings.Split(x.Value, "\n\n") {
		plain := strings.Join(strings.Fields(p), " ")
		t.add(key, called, plain, t.names.prose(plain))
	}
}

func (t *teller) wording(x plan.Wording, key, called string) {
	if !x.By.Given() {
		t.text(x.Plain, key, called)
		return
	}
	for _, alt := range x.Options {
		t.text(alt.Value, join(key, t.names.option(x.By.Text, alt.Option.Text)), join(called, alt.Option.Text))
	}
}

// whole tells what is one fact by itself; ok is false for what has parts.
func (t *teller) whole(v reflect.Value, own string) (say, mean string, ok bool) {
	switch x := v.Interface().(type) {
	case plan.Word:
		say, mean = t.word(x, roles[own])
	case plan.Quantity:
		if own == "Move.By" { // a formula of motions: at rest it says little
			say, mean = t.written(x)
			break
		}
		say, mean = t.quantity(x)
	case plan.Formula:
		say, mean = t.written(plan.Quantity{Plain: x, At: x.At})
	case plan.Reference:
		say, mean = t.reference(x, roles[own])
	case plan.Point:
		say, mean = t.point(x)
	case plan.Only:
		say, mean = t.only(x)
	case bool:
		if x {
			say, mean = "yes", "yes"
		}
	case []plan.Word:
		say, mean = t.listed(x, own)
	case []plan.Quantity:
		say, mean = t.each(len(x), " × ", func(i int) (string, string) { return t.quantity(x[i]) })
	case []plan.Reference:
		say, mean = t.each(len(x), ", ", func(i int) (string, string) { return t.reference(x[i], roles[own]) })
	case [][2]plan.Word: // a seat's pairs: mine and theirs
		say, mean = t.each(len(x), "; ", func(i int) (string, string) {
			mine, as := t.word(x[i][0], feature)
			theirs, to := t.word(x[i][1], path)
			return mine + " with " + theirs, as + " with " + to
		})
	case [][]plan.Word:
		say, mean = t.each(len(x), "; ", func(i int) (string, string) { return t.listed(x[i], own) })
	case string, int, int64, []byte:
		return "", "", true // the program's own, or told apart
	case *plan.Table, *plan.PartList:
		return "", "", true
	default:
		return "", "", false
	}
	return say, mean, true
}

// each joins what is said of several.
func (t *teller) each(n int, between string, of func(i int) (say, mean string)) (string, string) {
	says, means := make([]string, n), make([]string, n)
	for i := range n {
		says[i], means[i] = of(i)
	}
	return strings.Join(says, between), strings.Join(means, between)
}

func (t *teller) listed(list []plan.Word, own string) (say, mean string) {
	says, means := make([]string, len(list)), make([]string, len(list))
	for i, w := range list {
		says[i], means[i] = t.word(w, roles[own])
	}
	if sets[own] {
		slices.Sort(means)
	}
	return strings.Join(says, ", "), strings.Join(means, ", ")
}

func (t *teller) reference(x plan.Reference, as role) (say, mean string) {
	if !x.By.Given() {
		return t.word(x.Plain, as)
	}
	return t.byOption(x.By.Text, len(x.Options), func(i int) (string, string, string) {
		say, mean := t.word(x.Options[i].Value, as)
		return x.Options[i].Option.Text, say, mean
	})
}

// byOption joins what holds for each option of a choice; the order of options is
// nothing.
func (t *teller) byOption(choice string, n int, of func(i int) (option, say, mean string)) (string, string) {
	says, means := make([]string, n), make([]string, n)
	for i := range n {
		option, say, mean := of(i)
		says[i] = option + ": " + say
		means[i] = t.names.option(choice, option) + ": " + mean
	}
	slices.Sort(means)
	return strings.Join(says, ", "), t.names.id(OfChoice, choice) + "? " + strings.Join(means, ", ")
}

func (t *teller) point(x plan.Point) (say, mean string) {
	if !x.Given() {
		return "", ""
	}
	say, mean = t.each(len(x.Of), ", ", func(i int) (string, string) { return t.quantity(x.Of[i]) })
	return "(" + say + ")", "(" + mean + ")"
}

func (t *teller) only(x plan.Only) (say, mean string) {
	var says, means []string
	for _, c := range x.Conditions {
		var names, as []string
		for _, o := range c.Options {
			names, as = append(names, o.Text), append(as, t.names.option(c.Choice.Text, o.Text))
		}
		slices.Sort(as)
		says = append(says, c.Choice.Text+": "+strings.Join(names, " or "))
		means = append(means, t.names.id(OfChoice, c.Choice.Text)+": "+strings.Join(as, " or "))
	}
	slices.Sort(means)
	return strings.Join(says, "; "), strings.Join(means, "; ")
}

// compact tells a struct, or whatever is inside of one, as one text.
func (t *teller) compact(v reflect.Value, own string) (say, mean string) {
	if say, mean, ok := t.whole(v, own); ok {
		return say, mean
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return "", ""
		}
		return t.compact(v.Elem(), own)
	case reflect.Slice:
		return t.each(v.Len(), "; ", func(i int) (string, string) { return t.compact(v.Index(i), own) })
	case reflect.Struct:
		if x, ok := v.Interface().(plan.Text); ok {
			plain := strings.Join(strings.Fields(x.Value), " ")
			return plain, t.names.prose(plain)
		}
		return t.compactStruct(v)
	}
	return "", ""
}

func (t *teller) compactStruct(v reflect.Value) (say, mean string) {
	var says, means []string
	kind := v.Type().Name()
	for i := range v.NumField() {
		f := v.Type().Field(i)
		own := kind + "." + f.Name
		if !f.IsExported() || untold[own] || f.Type == reflect.TypeFor[finding.Span]() {
			continue
		}
		s, m := t.compact(v.Field(i), own)
		if m == "" {
			continue
		}
		word := spoken(own, f.Name)
		switch {
		case f.Name == "Kind" || f.Name == "Is" || f.Name == "Features" || f.Name == "Name":
			says = append(says, s)
		case s == "yes":
			says = append(says, word)
		default:
			says = append(says, strings.TrimSpace(word+" "+s))
		}
		means = append(means, f.Name+"="+m)
	}
	return strings.Join(says, ", "), strings.Join(means, "|")
}

// quantity is a quantity as it comes to, in every case in which it comes to something
// else; as it is written where it cannot be worked out.
func (t *teller) quantity(q plan.Quantity) (say, mean string) {
	switch {
	case !q.Given():
		return "", ""
	case t.formulas:
		return t.written(q)
	case q.By.Given():
		return t.byOption(q.By.Text, len(q.Options), func(i int) (string, string, string) {
			alt := q.Options[i]
			say, mean := t.worked(alt.Value, t.side.choosing(q.By.Text, alt.Option.Text))
			return alt.Option.Text, say, mean
		})
	}
	say, mean = t.worked(q.Plain, t.side.own)
	if q.Plain.Expr == nil {
		return say, mean
	}
	if _, literal := q.Plain.Expr.Literal(); literal {
		return say, mean
	}
	usual := mean
	var means []string
	for _, d := range t.side.departures {
		if other, as := t.worked(q.Plain, d.s); as != usual {
			say += fmt.Sprintf(", %s: %s", d.say, other)
			means = append(means, t.departure(d)+": "+as)
		}
	}
	slices.Sort(means)
	return say, strings.Join(append([]string{usual}, means...), ", ")
}

// departure names a case as the new plan does.
func (t *teller) departure(d departure) string {
	if d.end != "" {
		return t.names.id(OfValue, d.of) + " " + d.end
	}
	return t.names.id(OfChoice, d.of) + ": " + t.names.option(d.of, d.option)
}

// worked is a formula's value in one case.
func (t *teller) worked(f plan.Formula, s *situation) (say, mean string) {
	v, ok := s.Reckoning.Quantity(plan.Quantity{Plain: f, At: f.At})
	if !ok {
		return t.written(plan.Quantity{Plain: f, At: f.At})
	}
	return t.side.text(v), meaning(v)
}

// written is a quantity as the author wrote it, plain values apart.
func (t *teller) written(q plan.Quantity) (say, mean string) {
	if q.By.Given() {
		return t.byOption(q.By.Text, len(q.Options), func(i int) (string, string, string) {
			say, mean := t.written(plan.Quantity{Plain: q.Options[i].Value, At: q.Options[i].Value.At})
			return q.Options[i].Option.Text, say, mean
		})
	}
	e := q.Plain.Expr
	if e == nil {
		return "", ""
	}
	if v, literal := e.Literal(); literal {
		return t.side.text(v), meaning(v)
	}
	return e.Source(), t.names.formula(e)
}

// meaning is what tells two values apart: nine figures, spread, fit and dimension.
func meaning(v quantity.Value) string {
	text := fmt.Sprintf("%.9g %s", v.SI+0, v.Dim.Units())
	if v.HasSpread() {
		text += fmt.Sprintf(" -%.6g +%.6g", v.Minus, v.Plus)
	}
	return text + v.Fit + v.Currency
}

// shapeOf is what a feature means, as one text.
func (t *teller) shapeOf(x any) string {
	_, mean := t.compact(reflect.ValueOf(x), "")
	return mean
}
