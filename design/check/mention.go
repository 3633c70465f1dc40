package check

import (
	"net/url"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/prose"
)

// A setting is what a text or formula stands in; fields that do not apply are nil.
type setting struct {
	claim    *plan.Claim
	assembly *plan.Assembly
	joint    *plan.Joint
	step     *plan.Step
	part     *plan.Part
	calc     *plan.Calc
	page     *plan.Page
	value    *plan.Value
	hazard   *plan.Hazard
	drawing  *plan.Drawing
	function *plan.Definition
}

// A passage is one text of the plan that is printed as prose: no title, no history.
type passage struct {
	setting
	text  plan.Text
	doc   *prose.Document
	plain string // the text with all that is no prose blanked out, byte for byte
}

// A written formula is a formula and what it stands in.
type written struct {
	setting
	formula plan.Formula
}

// mentions is everything that a plan's texts and formulas name, whatever the case.
type mentions struct {
	passages []passage
	formulas []written
	names    map[string]bool // dotted names of formulas and texts, and each one's head
	calcs    map[string]bool // calculations that something outside of them names
	choices  map[string]bool
	files    map[string]bool
}

// mentions finds what the plan names, once.
func (w *Work) mentions() *mentions {
	if w.named == nil {
		m := &mentions{names: map[string]bool{}, calcs: map[string]bool{}, choices: map[string]bool{}, files: map[string]bool{}}
		m.walk(reflect.ValueOf(w.Plan).Elem(), setting{}, "")
		for _, f := range m.formulas {
			for _, use := range f.formula.Expr.Names() {
				m.name(f.setting, use.Text)
			}
		}
		for _, p := range m.passages {
			for _, ref := range p.doc.References {
				m.name(p.setting, ref.Name)
			}
			for _, l := range p.doc.Links {
				if u, err := url.Parse(l.To); err == nil {
					m.files[u.Path] = true
				}
			}
		}
		w.named = m
	}
	return w.named
}

func (m *mentions) name(in setting, name string) {
	head, _, _ := strings.Cut(name, ".")
	if in.function != nil && slices.ContainsFunc(in.function.Parameters, func(p plan.Word) bool { return p.Text == head }) {
		return
	}
	if in.calc != nil && local(in.calc, head) {
		m.names[in.calc.ID.Text+"."+head] = true
		return
	}
	m.names[name], m.names[head] = true, true
	if in.calc == nil || in.calc.ID.Text != head {
		m.calcs[head] = true
	}
}

// local reports whether a name is a calculation's own.
func local(c *plan.Calc, name string) bool {
	for _, g := range c.Givens {
		if g.Name.Text == name {
			return true
		}
	}
	for _, f := range c.Finds {
		if f.Name.Text == name {
			return true
		}
	}
	return false
}

// walk visits every field of the model, so that a field added to the format is
// looked at without anyone remembering to.
func (m *mentions) walk(v reflect.Value, in setting, field string) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			m.walk(v.Elem(), in, field)
		}
	case reflect.Slice:
		for i := range v.Len() {
			m.walk(v.Index(i), in, field)
		}
	case reflect.Struct:
		m.visit(v, in, field)
	}
}

func (m *mentions) visit(v reflect.Value, in setting, field string) {
	switch x := v.Addr().Interface().(type) {
	case *plan.Formula:
		if x.Given() {
			m.formulas = append(m.formulas, written{in, *x})
		}
		return
	case *plan.Text:
		if x.Given() && field != "Title" {
			m.text(*x, in)
		}
		return
	case *plan.Word:
		m.word(*x, in, field)
		return
	case *plan.Entry, *plan.File, *plan.Table, *plan.PartList, *finding.Span:
		return
	case *plan.Claim:
		in.claim = x
	case *plan.Assembly:
		in.assembly = x
	case *plan.Joint:
		in.joint = x
	case *plan.Step:
		in.step = x
	case *plan.Part:
		in.part = x
	case *plan.Calc:
		in.calc = x
	case *plan.Page:
		in.page = x
	case *plan.Value:
		in.value = x
	case *plan.Hazard:
		in.hazard = x
	case *plan.Drawing:
		in.drawing = x
	case *plan.Definition:
		in.function = x
	}
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.IsExported() {
			m.walk(v.Field(i), in, f.Name)
		}
	}
}

func (m *mentions) word(w plan.Word, in setting, field string) {
	switch field {
	case "File":
		m.files[w.Text] = true
	case "Choice", "By":
		m.choices[w.Text] = true
	case "Where", "Ref":
		m.name(in, w.Text)
	case "From":
		if in.calc != nil && w.Text != in.calc.ID.Text {
			m.calcs[w.Text] = true
		}
	}
}

// text keeps what is prose of a text. What a calculation took over from another one is
// looked at where it was written.
func (m *mentions) text(t plan.Text, in setting) {
	if in.calc != nil && t.At == in.calc.From.At {
		return
	}
	doc, _ := prose.Parse(t.Value)
	m.passages = append(m.passages, passage{setting: in, text: t, doc: doc, plain: blanked(t.Value)})
}

// notProse finds what a reader does not take as words: code, braces, the address of
// a link, footnote marks, the number of a list's item.
var notProse = regexp.MustCompile("(?s)```.*?(?:```|$)|~~~.*?(?:~~~|$)|`[^`]*`|\\{[^{}\\n]*\\}|\\]\\([^)\\n]*\\)|\\[\\^[^\\]\\n]*\\]|<[^>\\n]*>|(?m:^[ \\t]*[0-9]+[.)][ \\t])|[a-z]+://[^\\s)]+")

// blanked is the text with what is no prose made blank, its bytes and lines kept.
func blanked(text string) string {
	out := []byte(text)
	for _, m := range notProse.FindAllStringIndex(text, -1) {
		for i := m[0]; i < m[1]; i++ {
			if out[i] != '\n' {
				out[i] = ' '
			}
		}
	}
	return string(out)
}
