package source

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// planForm is plan.yaml.
var planForm = object("the plan's identity", func(p *plan.Plan) *finding.Span { return &p.At }, []field[plan.Plan]{
	must(key("title", title, func(p *plan.Plan) *plan.Text { return &p.Title }, "what the machine is called")),
	key("summary", markdown, func(p *plan.Plan) *plan.Text { return &p.Summary }, "what it does, in a sentence or two"),
	must(key("machine", ref(toMachine), func(p *plan.Plan) *plan.Word { return &p.Machine }, "the assembly at the top")),
	must(key("revision", word, func(p *plan.Plan) *plan.Word { return &p.Revision }, "the state that this is: C")),
	key("date", date, func(p *plan.Plan) *plan.Word { return &p.Date }, "the day of the revision: 2026-05-02"),
	key("authors", list("a list of names", title), func(p *plan.Plan) *[]plan.Text { return &p.Authors }, "who designed it"),
	key("approved", title, func(p *plan.Plan) *plan.Text { return &p.Approved }, "who approved this revision; drawings say so"),
	key("license", word, func(p *plan.Plan) *plan.Word { return &p.License }, "an SPDX licence expression: CERN-OHL-S-2.0"),
	key("language", language, func(p *plan.Plan) *plan.Word { return &p.Language }, "the language of the texts: en"),
	key("units", oneWord("metric", "inch"), func(p *plan.Plan) *plan.Word { return &p.Units }, "shown first, the other beside it: metric or inch"),
	key("sheet", sheetSize, func(p *plan.Plan) *plan.Word { return &p.Sheet }, "the binder's page: A4 or letter"),
	key("projection", oneWord("third", "first"), func(p *plan.Plan) *plan.Word { return &p.Projection }, "how views are arranged on drawings: third or first angle"),
	key("tolerances", tolerancesForm, func(p *plan.Plan) *plan.Tolerances { return &p.Tolerances }, "where a dimension gives none: ISO 2768-m, or {linear: ± 1/32 in, angle: ± 1 deg}"),
	key("currency", currency, func(p *plan.Plan) *plan.Word { return &p.Currency }, "what totals are given in: EUR"),
	key("values", pointers("a map of values", valueForm, id, func(v *plan.Value) *plan.Word { return &v.ID }), func(p *plan.Plan) *[]*plan.Value { return &p.Values }, "quantities that formulas may name"),
	key("choices", pointers("a map of choices", choiceForm, id, func(c *plan.Choice) *plan.Word { return &c.ID }), func(p *plan.Plan) *[]*plan.Choice { return &p.Choices }, "what the builder decides"),
	key("motions", pointers("a map of motions", motionForm, id, func(m *plan.Motion) *plan.Word { return &m.ID }), func(p *plan.Plan) *[]*plan.Motion { return &p.Motions }, "what moves; placements use it by name"),
	key("claims", list("a list of claims", pointer(claimForm)), func(p *plan.Plan) *[]*plan.Claim { return &p.Claims }, "what the front page promises, computed"),
	key("budgets", named("a map of limits", "mass", "cost", "time"), func(p *plan.Plan) *[]plan.Named { return &p.Budgets }, "what may not be exceeded: mass, cost, time"),
	key("spares", named("a map of shares", "fasteners", "consumables", "bought", "stock"), func(p *plan.Plan) *[]plan.Named { return &p.Spares }, "what to buy more of than is used: {fasteners: 10 %}"),
	key("prefers", list("a list of suppliers", ref(toSupplier)), func(p *plan.Plan) *[]plan.Word { return &p.Prefers }, "suppliers, the one that is rather bought from first, where it costs the same"),
	key("waivers", list("a list of waivers", pointer(waiverForm)), func(p *plan.Plan) *[]*plan.Waiver { return &p.Waivers }, "findings that may stand, each with its reason"),
	key("history", list("a list of revisions", pointer(historyForm)), func(p *plan.Plan) *[]*plan.Entry { return &p.History }, "what each revision changed, the newest first"),
	key("files", list("a list of files", partFileForm), func(p *plan.Plan) *[]plan.PartFile { return &p.Shipped }, "shipped files that belong to no part, with what they show and their licence"),
	key("reconcile", list("a list of parts lists", pointer(reconcileForm)), func(p *plan.Plan) *[]*plan.Reconcile { return &p.Reconciles }, "parts lists kept elsewhere that must agree with the plan, such as one that the CAD program exported"),
})

var tolerancesForm = either2(
	scalar("a standard", schema{"type": scalarTypes}, func(r *reader, e entry, into *plan.Tolerances) {
		into.Standard, into.At = r.word(e.value), r.doc.span(e.value)
	}),
	object("a map of tolerances", func(t *plan.Tolerances) *finding.Span { return &t.At }, []field[plan.Tolerances]{
		must(key("linear", quantity, func(t *plan.Tolerances) *plan.Quantity { return &t.Linear }, "of lengths: ± 0.2 mm")),
		key("angle", quantity, func(t *plan.Tolerances) *plan.Quantity { return &t.Angle }, "of angles: ± 1 deg"),
	}),
)

var valueForm = object("a map that describes a value", nil, []field[plan.Value]{
	must(key("is", quantity, func(v *plan.Value) *plan.Quantity { return &v.Is }, "the value: 180 mm")),
	key("about", markdown, func(v *plan.Value) *plan.Text { return &v.About }, "what it is"),
	key("from", quantity, func(v *plan.Value) *plan.Quantity { return &v.From }, "the least that a builder may choose"),
	key("to", quantity, func(v *plan.Value) *plan.Quantity { return &v.To }, "the most that a builder may choose"),
}, needs("from", "to"), needs("to", "from"))

var choiceForm = object("a map that describes a choice", nil, []field[plan.Choice]{
	must(key("title", title, func(c *plan.Choice) *plan.Text { return &c.Title }, "what is decided")),
	must(key("options", entries("a map of options", optionForm, id, func(o *plan.Option) *plan.Word { return &o.ID }), func(c *plan.Choice) *[]plan.Option { return &c.Options }, "the answers: an id and a title each")),
	must(key("default", word, func(c *plan.Choice) *plan.Word { return &c.Default }, "the option that drawings and totals show first")),
})

var optionForm = form[plan.Option]{
	what:   title.what,
	read:   func(r *reader, e entry, into *plan.Option) { title.read(r, e, &into.Title) },
	schema: title.schema,
}

var motionForm = object("a map that describes a motion", nil, []field[plan.Motion]{
	must(key("from", quantity, func(m *plan.Motion) *plan.Quantity { return &m.From }, "where it begins: 0 mm")),
	must(key("to", quantity, func(m *plan.Motion) *plan.Quantity { return &m.To }, "where it ends")),
	key("about", markdown, func(m *plan.Motion) *plan.Text { return &m.About }, "what moves which way"),
})

var claimForm = object("a map that makes a claim", func(c *plan.Claim) *finding.Span { return &c.At }, []field[plan.Claim]{
	must(key("say", markdown, func(c *plan.Claim) *plan.Text { return &c.Say }, "the words before the number")),
	must(key("is", quantity, func(c *plan.Claim) *plan.Quantity { return &c.Is }, "the formula that gives it: press_force.force")),
	key("at_least", quantity, func(c *plan.Claim) *plan.Quantity { return &c.AtLeast }, "what it may not fall below"),
	key("at_most", quantity, func(c *plan.Claim) *plan.Quantity { return &c.AtMost }, "what it may not exceed"),
})

var waiverForm = object("a map that waives a finding", func(w *plan.Waiver) *finding.Span { return &w.At }, []field[plan.Waiver]{
	must(key("rule", spelled("the name of a rule", `^[a-z][a-z0-9-]*$`, "screw-too-long"), func(w *plan.Waiver) *plan.Word { return &w.Rule }, "the rule whose finding may stand")),
	must(key("at", word, func(w *plan.Waiver) *plan.Word { return &w.Subject }, "the id of what the finding is about")),
	key("because", markdown, func(w *plan.Waiver) *plan.Text { return &w.Because }, "why it may stand"),
	key("until", word, func(w *plan.Waiver) *plan.Word { return &w.Until }, "the revision after which it lapses"),
})

var historyForm = object("a map that describes a revision", func(h *plan.Entry) *finding.Span { return &h.At }, []field[plan.Entry]{
	must(key("revision", word, func(h *plan.Entry) *plan.Word { return &h.Revision }, "its name: C")),
	must(key("date", date, func(h *plan.Entry) *plan.Word { return &h.Date }, "its day: 2026-05-02")),
	must(key("says", markdown, func(h *plan.Entry) *plan.Text { return &h.Says }, "what changed and why")),
})

// onlyForm limits something to options of choices.
var onlyForm = form[plan.Only]{
	what: "a map from choices to options",
	read: func(r *reader, e entry, into *plan.Only) {
		if !r.expect(e, yaml.MappingNode, "a map from choices to options: {drive: motor}") {
			return
		}
		into.At = r.doc.span(e.value)
		r.keys(e, nil, func(c entry) {
			var cond plan.Condition
			r.refer(toChoice, r.word(c.key), &cond.Choice)
			r.value(c, func() { oneOrMore("an option or a list of them", word).read(r, c, &cond.Options) })
			if cond.Choice.Given() && len(cond.Options) > 0 {
				into.Conditions = append(into.Conditions, cond)
				r.choosing = append(r.choosing, choosing{r: r, choice: cond.Choice, options: cond.Options})
			}
		})
	},
	schema: func(b *book) schema {
		return b.define("only", func() schema {
			return schema{"type": "object", "propertyNames": schema{"pattern": idPattern}, "additionalProperties": oneOrMore("", word).schema(b)}
		})
	},
}

func only[T any](get func(*T) *plan.Only) field[T] {
	return key("only", onlyForm, get, "keeps it for some options of a choice: {drive: motor}")
}

// A choosing is a place that picks options of a choice.
type choosing struct {
	r        *reader
	choice   plan.Word
	options  []plan.Word
	complete bool // every option must be there
	at       finding.Span
}

// checkChoices looks at the choices themselves and at every place that picks among
// their options.
func (g *reading) checkChoices() {
	for _, c := range g.plan.Choices {
		ids := optionIDs(c)
		if g.damaged[c] && len(ids) == 0 || !c.Default.Given() {
			continue
		}
		if len(ids) < 2 {
			g.report(badChoice, c.ID.At, fmt.Sprintf("the choice %q has %d options", c.ID.Text, len(ids)), "")
		} else if !slices.Contains(ids, c.Default.Text) {
			g.report(badChoice, c.Default.At, fmt.Sprintf("%s is no option of %q", quoted(c.Default.Text), c.ID.Text), g.near.perhaps(c.Default.Text, ids),
				finding.Related{At: c.ID.At, Say: "the choice"})
		}
	}
	for _, use := range g.choosing {
		c := g.plan.Choice(use.choice.Text)
		if c == nil || g.damaged[c] && len(c.Options) == 0 {
			continue
		}
		g.checkOptions(use, c)
	}
}

func (g *reading) checkOptions(use choosing, c *plan.Choice) {
	ids := optionIDs(c)
	given := map[string]bool{}
	for _, o := range use.options {
		given[o.Text] = true
		if !slices.Contains(ids, o.Text) {
			use.r.report(unknownReference, o.At, fmt.Sprintf("%s is no option of the choice %q", quoted(o.Text), c.ID.Text), g.near.perhaps(o.Text, ids),
				finding.Related{At: c.ID.At, Say: "the choice"})
		}
	}
	if !use.complete {
		return
	}
	var missing []string
	for _, id := range ids {
		if !given[id] {
			missing = append(missing, id)
		}
	}
	if len(missing) > 0 {
		use.r.report(optionMissing, use.at, fmt.Sprintf("no value for %s of the choice %q", strings.Join(missing, ", "), c.ID.Text), fmt.Sprintf("add %s: and a value", missing[0]),
			finding.Related{At: c.ID.At, Say: "the choice"})
	}
}

func optionIDs(c *plan.Choice) []string {
	ids := make([]string, len(c.Options))
	for i, o := range c.Options {
		ids[i] = o.ID.Text
	}
	return ids
}
