package source

import (
	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var calcForm = object("a map that describes a calculation", func(c *plan.Calc) *finding.Span { return &c.At }, []field[plan.Calc]{
	must(key("title", title, func(c *plan.Calc) *plan.Text { return &c.Title }, "what is calculated")),
	key("about", markdown, func(c *plan.Calc) *plan.Text { return &c.About }, "how and why, in a few sentences"),
	key("tables", entries("a map from names to tables", tableFileForm, id, func(t *plan.TableFile) *plan.Word { return &t.Name }), func(c *plan.Calc) *[]plan.TableFile { return &c.Tables }, "tables to look up: {curve: files/motor_torque.csv}"),
	key("given", entries("a map of inputs", givenForm, id, func(g *plan.Given) *plan.Word { return &g.Name }), func(c *plan.Calc) *[]plan.Given { return &c.Givens }, "what goes in"),
	must(key("find", entries("a map of results", findForm, id, findName), func(c *plan.Calc) *[]plan.Find { return &c.Finds }, "what comes out: a name and a formula each")),
	key("recorded", entries("a map of results", findForm, id, findName), func(c *plan.Calc) *[]plan.Find { return &c.Recorded }, "results that text, drawings and followers rely on: {force: 4.31 kN ± 1 %}"),
	key("require", list("a list of conditions", requireForm), func(c *plan.Calc) *[]plan.Require { return &c.Requires }, "what must hold"),
	key("source", markdown, func(c *plan.Calc) *plan.Text { return &c.Source }, "where the method comes from"),
	only(func(c *plan.Calc) *plan.Only { return &c.Only }),
})

func findName(f *plan.Find) *plan.Word { return &f.Name }

var tableFileForm = form[plan.TableFile]{
	what: fileName.what, schema: fileName.schema,
	read: func(r *reader, e entry, into *plan.TableFile) { fileName.read(r, e, &into.File) },
}

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

var requireForm = object("a map that sets a condition", func(c *plan.Require) *finding.Span { return &c.At }, []field[plan.Require]{
	must(key("that", quantity, func(c *plan.Require) *plan.Quantity { return &c.That }, "the condition: force >= 4 kN")),
	key("because", markdown, func(c *plan.Require) *plan.Text { return &c.Because }, "why it must hold"),
})
