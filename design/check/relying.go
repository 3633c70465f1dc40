package check

import (
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// A relier is something that relies on a result: "the step frame.square_up".
type relier struct {
	name string
	at   finding.Span
}

// relying finds everything that relies on a result of the plan's own case: what names it,
// or names a value, property or result that formulas work out from it. Each is told once,
// where it first does so; calculations come first, then sizes, then the rest in the
// plan's order.
func (w *Work) relying(result string) []relier {
	follows := map[string]bool{}
	var list []relier
	seen := map[string]bool{}
	tell := func(name string, at finding.Span) {
		if !seen[name] {
			seen[name] = true
			list = append(list, relier{name, at})
		}
	}
	self, _, _ := strings.Cut(result, ".")
	followers := w.Default().Reckoning.Followers(result)
	for _, name := range followers {
		follows[name] = true
		if c := w.Plan.Calc(head(name)); c != nil && c.ID.Text != self {
			tell("the calculation "+c.ID.Text, c.Title.At)
		}
	}
	for _, name := range followers {
		switch id := head(name); {
		case w.Plan.Part(id) != nil:
			tell("the size "+name, w.Plan.Part(id).ID.At)
		case w.Plan.Value(name) != nil:
			tell("the value "+name, w.Plan.Value(name).ID.At)
		}
	}
	m := w.mentions()
	for _, f := range m.formulas {
		for _, use := range f.formula.Expr.Names() {
			if follows[w.fullName(f.setting, use.Text)] {
				if f.calc == nil || f.calc.ID.Text != self {
					tell(f.setting.says(), f.formula.At)
				}
			}
		}
	}
	for _, p := range m.passages {
		for _, ref := range p.doc.References {
			if full := w.fullName(p.setting, ref.Name); follows[full] || full == self {
				if p.calc == nil || p.calc.ID.Text != self {
					tell(p.setting.says(), p.text.Place(ref.Offset, len(ref.Name)))
				}
			}
		}
	}
	for _, h := range w.Plan.Hazards {
		if slices.ContainsFunc(append(slices.Clone(h.Where), refsOf(h)...), func(word plan.Word) bool { return word.Text == self }) {
			tell("the hazard "+h.ID.Text, h.ID.At)
		}
	}
	return list
}

func head(name string) string {
	id, _, _ := strings.Cut(name, ".")
	return id
}

// fullName is the dotted name of what a formula or text calls name where it stands.
func (w *Work) fullName(in setting, name string) string {
	if in.calc != nil {
		return w.Default().Reckoning.NameIn(in.calc, name)
	}
	return name
}

// refsOf are the names of a hazard's measures.
func refsOf(h *plan.Hazard) []plan.Word {
	var refs []plan.Word
	for _, m := range h.Measures {
		refs = append(refs, m.Ref)
	}
	return refs
}

// says names what a text or formula stands in.
func (in setting) says() string {
	switch {
	case in.claim != nil:
		return "the claim " + strings.TrimSpace(in.claim.Say.Value)
	case in.step != nil:
		return "the step " + stepSubject(in.assembly, in.step)
	case in.joint != nil:
		return "the joint " + jointSubject(in.assembly, in.joint)
	case in.assembly != nil:
		return "the assembly " + in.assembly.ID.Text
	case in.part != nil:
		return "the part " + in.part.ID.Text
	case in.calc != nil:
		return "the calculation " + in.calc.ID.Text
	case in.page != nil:
		return "the page " + in.page.ID.Text
	case in.value != nil:
		return "the value " + in.value.ID.Text
	case in.hazard != nil:
		return "the hazard " + in.hazard.ID.Text
	case in.drawing != nil:
		return "the drawing " + in.drawing.ID.Text
	}
	return "plan.yaml"
}
