package source

import (
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var hazardForm = object("a map that describes a hazard", func(h *plan.Hazard) *finding.Span { return &h.At }, []field[plan.Hazard]{
	key("title", title, func(h *plan.Hazard) *plan.Text { return &h.Title }, "its title; the harm where not given"),
	must(key("kind", oneWord("crushing", "drawing_in", "entanglement", "falling", "cutting", "electric", "burn", "stored_energy", "radiation", "dust", "noise", "fumes"), func(h *plan.Hazard) *plan.Word { return &h.Kind }, "what kind of hazard: crushing, electric ...")),
	must(key("where", oneOrMore("a place or a list of places", placeForm), func(h *plan.Hazard) *[]plan.Word { return &h.Where }, "parts, assemblies, and steps as in step press.first_run")),
	must(key("harm", markdown, func(h *plan.Hazard) *plan.Text { return &h.Harm }, "what happens to whom")),
	must(key("before", riskForm, func(h *plan.Hazard) *plan.Risk { return &h.Before }, "how bad and how likely without measures")),
	key("measures", list("a list of measures", protectionForm), func(h *plan.Hazard) *[]plan.Protection { return &h.Measures }, "guard, warning, stop, bond, fuse or cut_out"),
	key("after", riskForm, func(h *plan.Hazard) *plan.Risk { return &h.After }, "how bad and how likely with them"),
	only(func(h *plan.Hazard) *plan.Only { return &h.Only }),
})

// placeForm is a part, assembly or calculation, or the word step and a step.
var placeForm = scalar("a place", schema{"type": "string", "pattern": `^(step )?[a-z][a-z0-9_]*(\.[a-z0-9_]+)*$`}, func(r *reader, e entry, into *plan.Word) {
	w := r.word(e.value)
	step, isStep := strings.CutPrefix(w.Text, "step ")
	if !isStep {
		r.refer(toPlace, w, into)
		return
	}
	step = strings.TrimSpace(step)
	if start, ok := r.doc.inside(e.value); ok {
		w.At = finding.OnLine(w.At.File, start.Line, start.Column+runes(w.Text)-runes(step), runes(step))
	}
	w.Text = step
	r.refer(toStep, w, into)
})

var riskForm = object("a map of severity and chance", func(k *plan.Risk) *finding.Span { return &k.At }, []field[plan.Risk]{
	must(key("severity", oneWord("slight", "serious", "severe"), func(k *plan.Risk) *plan.Word { return &k.Severity }, "slight, serious or severe")),
	must(key("chance", oneWord("remote", "possible", "likely"), func(k *plan.Risk) *plan.Word { return &k.Chance }, "remote, possible or likely")),
})

// protectionKind is a measure that names a thing of the plan.
func protectionKind(name string, to target, doc string) field[plan.Protection] {
	return kind(name, ref(to), func(p *plan.Protection) *plan.Word { return &p.Ref }, protectionWord, doc)
}

func protectionWord(p *plan.Protection) *plan.Word { return &p.Kind }

var protectionForm = object("a map that names a measure", func(p *plan.Protection) *finding.Span { return &p.At }, []field[plan.Protection]{
	protectionKind(plan.Guard, toPlace, "the part or assembly that keeps hands away"),
	kind(plan.Warn, markdown, func(p *plan.Protection) *plan.Text { return &p.Say }, protectionWord, "the words that warn"),
	protectionKind(plan.Stop, toPlace, "the part that stops the machine"),
	protectionKind(plan.Bond, toJoint, "the joint that earths it"),
	protectionKind(plan.Fuse, toPart, "the fuse"),
	protectionKind(plan.CutOut, toPart, "the part that cuts out"),
}, exactlyOne(plan.Guard, plan.Warn, plan.Stop, plan.Bond, plan.Fuse, plan.CutOut))

var frontMatterForm = object("a page's front matter", nil, []field[plan.Page]{
	must(key("title", title, func(p *plan.Page) *plan.Text { return &p.Title }, "the page's title")),
	key("order", wholeNumber, func(p *plan.Page) *plan.Word { return &p.Order }, "where it stands among the pages: 1"),
	key("language", language, func(p *plan.Page) *plan.Word { return &p.Language }, "its language, where it is not the plan's"),
	key("translates", ref(toPage), func(p *plan.Page) *plan.Word { return &p.Translates }, "the page that it is a translation of"),
	only(func(p *plan.Page) *plan.Only { return &p.Only }),
})
