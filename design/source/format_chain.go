package source

import (
	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// chainForm is a tolerance chain. Its features are named from the assembly that it
// says it is in, which may stand after them.
var chainForm = form[plan.Chain]{
	what: linksForm.what, schema: linksForm.schema,
	read: func(r *reader, e entry, into *plan.Chain) {
		of := r.of
		r.of = &into.In
		linksForm.read(r, e, into)
		r.of = of
	},
}

var signedAxis = oneWord("x", "y", "z", "-x", "-y", "-z")

var linksForm = object("a map that describes a tolerance chain", func(c *plan.Chain) *finding.Span { return &c.At }, []field[plan.Chain]{
	must(key("along", signedAxis, func(c *plan.Chain) *plan.Word { return &c.Along }, "the axis of the assembly along which the gap is measured: how far `to` lies beyond `from` that way")),
	key("in", ref(toAssembly), func(c *plan.Chain) *plan.Word { return &c.In }, "the assembly whose uses and axes it names; the machine where not given"),
	must(key("from", chainEndForm, func(c *plan.Chain) *plan.ChainEnd { return &c.From }, "the feature on one side of the gap: frame.head.bottom")),
	must(key("to", chainEndForm, func(c *plan.Chain) *plan.ChainEnd { return &c.To }, "the feature on its other side")),
	key("through", list("a list of features", chainEndForm), func(c *plan.Chain) *[]plan.ChainEnd { return &c.Through }, "features of the parts on the way from one to the other, in order, where they touch; what is left out is found where there is one shortest way"),
	key("shift", oneWord(plan.Centred), func(c *plan.Chain) *plan.Word { return &c.Shift }, "centred: what has play in its holes stands in their middle, as when it is lined up on assembly; where not given it may stand anywhere in them"),
	key("also", entries("a map of what else moves the gap", extraForm, id, func(x *plan.Extra) *plan.Word { return &x.Name }), func(c *plan.Chain) *[]plan.Extra { return &c.Also }, "what else adds to the gap: {squareness: 0 mm ± 0.02 mm}"),
})

// chainEndForm is a feature, or a map that also says which wall or end of it.
var chainEndForm = form[plan.ChainEnd]{
	what: "a feature, or a map with feature and towards",
	read: func(r *reader, e entry, into *plan.ChainEnd) {
		if e.value.Kind == yaml.MappingNode {
			wallForm.read(r, e, into)
			return
		}
		into.At = r.doc.span(e.value)
		ref(toChained).read(r, e, &into.Feature)
	},
	schema: func(b *book) schema { return schema{"anyOf": []schema{ref(toChained).schema(b), wallForm.schema(b)}} },
}

var wallForm = object("a map that names a wall or an end", func(c *plan.ChainEnd) *finding.Span { return &c.At }, []field[plan.ChainEnd]{
	must(key("feature", ref(toChained), func(c *plan.ChainEnd) *plan.Word { return &c.Feature }, "the hole, shaft or named shape")),
	must(key("towards", signedAxis, func(c *plan.ChainEnd) *plan.Word { return &c.Towards }, "which wall or end of it: the one that lies farthest that way: x or -x")),
})

// extraForm is a quantity, or a map that also says why.
var extraForm = form[plan.Extra]{
	what: "a length, or a map with is and because",
	read: func(r *reader, e entry, into *plan.Extra) {
		if e.value.Kind == yaml.MappingNode && !mapHas(e.value, "by") {
			becauseForm.read(r, e, into)
			return
		}
		quantity.read(r, e, &into.Is)
	},
	schema: func(b *book) schema { return schema{"anyOf": []schema{quantity.schema(b), becauseForm.schema(b)}} },
}

var becauseForm = object("a map that describes what else moves the gap", nil, []field[plan.Extra]{
	must(key("is", quantity, func(x *plan.Extra) *plan.Quantity { return &x.Is }, "what it adds to the gap: 0 mm ± 0.02 mm")),
	key("because", markdown, func(x *plan.Extra) *plan.Text { return &x.Because }, "where the value comes from"),
})

// toChained is a feature named from the assembly of the chain that is being read.
var toChained = target{what: "a use", from: []string{"plan", "assembly", "parts", "stock"}, known: func(g *reading, l link) answer {
	id := g.plan.Machine.Text
	if l.of != nil && l.of.Given() {
		id = l.of.Text
	}
	a := g.plan.Assembly(id)
	if a == nil {
		return answer{silent: true} // told where the assembly is named
	}
	return g.walkPath(a, l.word.Path(), true)
}}
