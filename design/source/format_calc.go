package source

import (
	"strings"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var calcForm = object("a map that describes a calculation", func(c *plan.Calc) *finding.Span { return &c.At }, []field[plan.Calc]{
	must(key("title", title, func(c *plan.Calc) *plan.Text { return &c.Title }, "what is calculated")),
	key("about", markdown, func(c *plan.Calc) *plan.Text { return &c.About }, "how and why, in a few sentences"),
	key("from", word, func(c *plan.Calc) *plan.Word { return &c.From }, "the ready calculation, or another of this plan, whose formulas these inputs are put into: power_screw"),
	key("assumes", list("a list of texts", markdown), func(c *plan.Calc) *[]plan.Text { return &c.Assumes }, "what is taken for granted"),
	key("define", entries("a map of helper functions", definitionForm, call, func(d *plan.Definition) *plan.Word { return &d.Name }), func(c *plan.Calc) *[]plan.Definition { return &c.Defines }, "functions for use in this calculation: {stiffness(e, i, l): 3 * e * i / l^3}"),
	key("tables", entries("a map from names to tables", tableFileForm, id, func(t *plan.TableFile) *plan.Word { return &t.Name }), func(c *plan.Calc) *[]plan.TableFile { return &c.Tables }, "tables to look up: {curve: files/motor_torque.csv}"),
	key("chain", pointer(chainForm), func(c *plan.Calc) **plan.Chain { return &c.Chain }, "a tolerance chain: {along: z, from: head.plate.bottom, to: nut.top}; formulas name its result gap"),
	key("given", entries("a map of inputs", givenForm, id, func(g *plan.Given) *plan.Word { return &g.Name }), func(c *plan.Calc) *[]plan.Given { return &c.Givens }, "what goes in"),
	key("find", entries("a map of results", findForm, id, findName), func(c *plan.Calc) *[]plan.Find { return &c.Finds }, "what comes out: a name and a formula each"),
	key("recorded", entries("a map of results", recordForm, id, func(c *plan.Record) *plan.Word { return &c.Name }), func(c *plan.Calc) *[]plan.Record { return &c.Recorded }, "results that text, drawings and followers rely on: {force: 4.31 kN ± 1 %}"),
	key("require", list("a list of conditions", requireForm), func(c *plan.Calc) *[]plan.Require { return &c.Requires }, "what must hold"),
	key("holds_while", list("a list of conditions", limitForm), func(c *plan.Calc) *[]plan.Require { return &c.Limits }, "within what the method is valid: [slenderness > 60]"),
	key("graphs", list("a list of graphs", graphForm), func(c *plan.Calc) *[]plan.Graph { return &c.Graphs }, "results against an input: [{of: force, against: friction}]"),
	key("source", markdown, func(c *plan.Calc) *plan.Text { return &c.Source }, "where the method comes from"),
	only(func(c *plan.Calc) *plan.Only { return &c.Only }),
})

func findName(f *plan.Find) *plan.Word { return &f.Name }

// tableFileForm is a file, or a map that also says how to read between its rows.
var tableFileForm = form[plan.TableFile]{
	what: "a file, or a map with file and between",
	read: func(r *reader, e entry, into *plan.TableFile) {
		if e.value.Kind == yaml.MappingNode {
			readTableForm.read(r, e, into)
			return
		}
		fileName.read(r, e, &into.File)
	},
	schema: func(b *book) schema { return schema{"anyOf": []schema{fileName.schema(b), readTableForm.schema(b)}} },
}

var readTableForm = object("a map that describes a table", nil, []field[plan.TableFile]{
	must(key("file", fileName, func(t *plan.TableFile) *plan.Word { return &t.File }, "the file under files/")),
	key("between", oneWord("line", "smooth"), func(t *plan.TableFile) *plan.Word { return &t.Between }, "how values between two rows are found: line (default), or smooth, a curve that rises and falls only as the rows do"),
})

// call is a function's name with its parameters, stiffness(e, i, l), of which the name is kept.
var call = form[plan.Word]{
	what: written.what, schema: written.schema,
	read: func(r *reader, e entry, into *plan.Word) {
		written.read(r, e, into)
		into.Text, _, _ = strings.Cut(into.Text, "(")
	},
}

var written = spelled("a name with its parameters", `^[a-z][a-z0-9_]*\([a-z][a-z0-9_]*( *, *[a-z][a-z0-9_]*)*\)$`, "stiffness(e, i, l)")

// definitionForm is the formula of a helper function; its parameters stand in the key.
var definitionForm = form[plan.Definition]{
	what: quantity.what, schema: quantity.schema,
	read: func(r *reader, e entry, into *plan.Definition) {
		into.At = r.doc.span(e.key)
		_, inside, _ := strings.Cut(strings.TrimSuffix(e.key.Value, ")"), "(")
		for _, name := range strings.Split(inside, ",") {
			into.Parameters = append(into.Parameters, plan.Word{Text: strings.TrimSpace(name), At: into.At})
		}
		quantity.read(r, e, &into.Is)
	},
}

// recordForm is a value, or a map that also keeps what it was made from.
var recordForm = form[plan.Record]{
	what: "a value, or a map with is and made_from",
	read: func(r *reader, e entry, into *plan.Record) {
		if e.value.Kind == yaml.MappingNode && !mapHas(e.value, "by") {
			keptForm.read(r, e, into)
			return
		}
		into.At = r.doc.span(e.value)
		quantity.read(r, e, &into.Is)
	},
	schema: func(b *book) schema { return schema{"anyOf": []schema{quantity.schema(b), keptForm.schema(b)}} },
}

var keptForm = object("a map that describes a recorded result", func(c *plan.Record) *finding.Span { return &c.At }, []field[plan.Record]{
	must(key("is", quantity, func(c *plan.Record) *plan.Quantity { return &c.Is }, "its value and tolerance: 4.31 kN ± 1 %")),
	key("made_from", entries("a map of inputs", inputForm, dotted, func(i *plan.Input) *plan.Word { return &i.Name }), func(c *plan.Record) *[]plan.Input { return &c.MadeFrom }, "the inputs as they stood then"),
})

// dotted is a name that may reach into a thing.
var dotted = spelled("a name", pathPattern, "lead_screw.lead")

var inputForm = form[plan.Input]{
	what: quantity.what, schema: quantity.schema,
	read: func(r *reader, e entry, into *plan.Input) { quantity.read(r, e, &into.Is) },
}

var graphForm = object("a map that describes a graph", func(g *plan.Graph) *finding.Span { return &g.At }, []field[plan.Graph]{
	must(key("of", id, func(g *plan.Graph) *plan.Word { return &g.Of }, "the result that it shows")),
	must(key("against", dotted, func(g *plan.Graph) *plan.Word { return &g.Against }, "the input that is varied: friction, lead_screw.lead")),
	key("from", quantity, func(g *plan.Graph) *plan.Quantity { return &g.From }, "where it begins"),
	key("to", quantity, func(g *plan.Graph) *plan.Quantity { return &g.To }, "where it ends"),
})

var givenForm = object("a map that describes an input", func(g *plan.Given) *finding.Span { return &g.At }, []field[plan.Given]{
	must(key("is", quantity, func(g *plan.Given) *plan.Quantity { return &g.Is }, "its value: 0.15 ± 0.03")),
	key("because", markdown, func(g *plan.Given) *plan.Text { return &g.Because }, "where the value comes from"),
	key("about", markdown, func(g *plan.Given) *plan.Text { return &g.About }, "what it is"),
})

// findForm is a formula, or a map that explains it.
var findForm = form[plan.Find]{
	what: "a formula, or a map with is and about",
	read: func(r *reader, e entry, into *plan.Find) {
		if e.value.Kind == yaml.MappingNode && !mapHas(e.value, "by") {
			explainedForm.read(r, e, into)
			return
		}
		quantity.read(r, e, &into.Is)
	},
	schema: func(b *book) schema { return schema{"anyOf": []schema{quantity.schema(b), explainedForm.schema(b)}} },
}

var explainedForm = object("a map that describes a result", nil, []field[plan.Find]{
	must(key("is", quantity, func(f *plan.Find) *plan.Quantity { return &f.Is }, "its formula")),
	key("about", markdown, func(f *plan.Find) *plan.Text { return &f.About }, "what it is"),
})

// limitForm is a condition, or a map that also says why.
var limitForm = form[plan.Require]{
	what: "a condition, or a map with that and because",
	read: func(r *reader, e entry, into *plan.Require) {
		if e.value.Kind == yaml.MappingNode {
			requireForm.read(r, e, into)
			return
		}
		into.At = r.doc.span(e.value)
		quantity.read(r, e, &into.That)
	},
	schema: func(b *book) schema { return schema{"anyOf": []schema{quantity.schema(b), requireForm.schema(b)}} },
}

var requireForm = object("a map that sets a condition", func(c *plan.Require) *finding.Span { return &c.At }, []field[plan.Require]{
	must(key("that", quantity, func(c *plan.Require) *plan.Quantity { return &c.That }, "the condition: force >= 4 kN")),
	key("because", markdown, func(c *plan.Require) *plan.Text { return &c.Because }, "why it must hold"),
})
