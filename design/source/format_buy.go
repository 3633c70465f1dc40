package source

import (
	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var supplierForm = object("a map that describes a supplier", func(s *plan.Supplier) *finding.Span { return &s.At }, []field[plan.Supplier]{
	must(key("title", title, func(s *plan.Supplier) *plan.Text { return &s.Title }, "the supplier's name")),
	key("shipping", shippingForm, func(s *plan.Supplier) *plan.Shipping { return &s.Shipping }, "what sending an order costs: {price: 5.90 EUR, free_from: 80 EUR}"),
	key("least_order", quantity, func(s *plan.Supplier) *plan.Quantity { return &s.Least }, "what an order must be worth: 20 EUR"),
	key("sells", gathered(entries("a map from parts to what they are sold as", salesForm, ref(toPart), func(s *salesOf) *plan.Word { return &s.part })), func(s *plan.Supplier) *[]plan.Sale { return &s.Sells }, "parts with pack, price and order code, or a list of these"),
})

var shippingForm = object("a map that says what shipping costs", func(s *plan.Shipping) *finding.Span { return &s.At }, []field[plan.Shipping]{
	must(key("price", quantity, func(s *plan.Shipping) *plan.Quantity { return &s.Price }, "of one order: 5.90 EUR")),
	key("free_from", quantity, func(s *plan.Shipping) *plan.Quantity { return &s.FreeFrom }, "what an order must be worth to ship free: 80 EUR"),
})

// salesOf are the packs in which one supplier sells one part.
type salesOf struct {
	part plan.Word
	list []plan.Sale
}

// salesForm is one pack, or a list of packs.
var salesForm = form[salesOf]{
	what: "a map that describes a sale, or a list of these",
	read: func(r *reader, e entry, into *salesOf) {
		if e.value.Kind == yaml.SequenceNode {
			list("a list of sales", saleForm).read(r, e, &into.list)
			return
		}
		into.list = make([]plan.Sale, 1)
		saleForm.read(r, e, &into.list[0])
	},
	schema: func(b *book) schema {
		return schema{"anyOf": []schema{saleForm.schema(b), list("a list of sales", saleForm).schema(b)}}
	},
}

// gathered is all sales in one list, each with its part.
func gathered(f form[[]salesOf]) form[[]plan.Sale] {
	return form[[]plan.Sale]{
		what: f.what, schema: f.schema,
		read: func(r *reader, e entry, into *[]plan.Sale) {
			var all []salesOf
			f.read(r, e, &all)
			for _, of := range all {
				for _, sale := range of.list {
					sale.Part = of.part
					*into = append(*into, sale)
				}
			}
		},
	}
}

var saleForm = object("a map that describes a sale", func(s *plan.Sale) *finding.Span { return &s.At }, []field[plan.Sale]{
	key("pack", quantity, func(s *plan.Sale) *plan.Quantity { return &s.Pack }, "pieces in a pack: 25"),
	must(key("price", quantity, func(s *plan.Sale) *plan.Quantity { return &s.Price }, "price of a pack: 6.40 EUR")),
	key("least", quantity, func(s *plan.Sale) *plan.Quantity { return &s.Least }, "packs that are sold at least: 2"),
	key("breaks", list("a list of prices", breakForm), func(s *plan.Sale) *[]plan.Break { return &s.Breaks }, "other prices of a pack, each from so many packs: [{from: 10, price: 5.80 EUR}]"),
	key("code", title, func(s *plan.Sale) *plan.Text { return &s.Code }, "the supplier's order code"),
	key("checked", date, func(s *plan.Sale) *plan.Word { return &s.Checked }, "the day on which price and code were looked up"),
})

var breakForm = object("a map that gives a price from so many packs", func(b *plan.Break) *finding.Span { return &b.At }, []field[plan.Break]{
	must(key("from", quantity, func(b *plan.Break) *plan.Quantity { return &b.From }, "packs: 10")),
	must(key("price", quantity, func(b *plan.Break) *plan.Quantity { return &b.Price }, "price of a pack then: 5.80 EUR")),
})

var substituteForm = object("a map that names what serves instead", func(a *plan.Substitute) *finding.Span { return &a.At }, []field[plan.Substitute]{
	key("say", markdown, func(a *plan.Substitute) *plan.Text { return &a.Say }, "what serves as well: any board"),
	key("part", ref(toPart), func(a *plan.Substitute) *plan.Word { return &a.Part }, "another part of the plan"),
	key("when", quantity, func(a *plan.Substitute) *plan.Quantity { return &a.When }, "what it must be, by its properties: width >= 600 mm and thick >= 18 mm"),
	key("if_cheaper", flag, func(a *plan.Substitute) *bool { return &a.IfCheaper }, "yes: the other part is bought where that costs less"),
}, exactlyOne("say", "part"), onlyBeside("if_cheaper", "part"))

// buyForm is the word any, or where the thing is bought.
var buyForm = either2(
	scalar("the word any", schema{"enum": []string{"any"}}, func(r *reader, e entry, into *plan.Buy) {
		if e.value.Value != "any" {
			r.report(unknownWord, r.doc.span(e.value), quoted(e.value.Value)+" is not how to buy something", "write any, {from: supplier} or {any: what to ask for}")
			return
		}
		into.Any, into.At = true, r.doc.span(e.value)
	}),
	object("a map that says where it is bought", func(b *plan.Buy) *finding.Span { return &b.At }, []field[plan.Buy]{
		key("from", ref(toSupplier), func(b *plan.Buy) *plan.Word { return &b.From }, "a supplier of suppliers.yaml"),
		{
			key: "any", doc: "what to ask for in any shop", what: markdown.what, schema: markdown.schema,
			read: func(r *reader, e entry, into *plan.Buy) {
				into.Any = true
				markdown.read(r, e, &into.AskFor)
			},
		},
		key("pack", quantity, func(b *plan.Buy) *plan.Quantity { return &b.Pack }, "pieces in a pack"),
		key("price", quantity, func(b *plan.Buy) *plan.Quantity { return &b.Price }, "price of a pack"),
		key("code", title, func(b *plan.Buy) *plan.Text { return &b.Code }, "the supplier's order code"),
		key("checked", date, func(b *plan.Buy) *plan.Word { return &b.Checked }, "the day on which price and code were looked up"),
	}, exactlyOne("from", "any")),
)
