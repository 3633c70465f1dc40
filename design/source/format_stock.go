package source

import (
	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var stockForm = object("a map that describes stock", func(s *plan.Stock) *finding.Span { return &s.At }, []field[plan.Stock]{
	must(key("title", title, func(s *plan.Stock) *plan.Text { return &s.Title }, "what to ask for in a shop")),
	key("section", pointer(sectionForm), func(s *plan.Stock) **plan.Section { return &s.Section }, "the shape across a bar: {round: {d: 12 mm}}"),
	key("sheet", quantity, func(s *plan.Stock) *plan.Quantity { return &s.Thick }, "a sheet's thickness: 10 mm"),
	must(key("material", ref(toMaterial), func(s *plan.Stock) *plan.Word { return &s.Material }, "its material: aluminium_6063")),
	key("mass", quantity, func(s *plan.Stock) *plan.Quantity { return &s.Mass }, "by length or area, where it beats the computed one: 0.85 kg/m"),
	key("grain", oneWord("along", "across", "none"), func(s *plan.Stock) *plan.Word { return &s.Grain }, "which way a sheet's grain runs; parts may then be turned by half turns only"),
	key("sold", list("a list of sizes", soldForm), func(s *plan.Stock) *[]plan.Sold { return &s.Sold }, "lengths or sizes as sold, each with its price"),
	key("offcuts", list("a list of offcuts", offcutForm), func(s *plan.Stock) *[]plan.Offcut { return &s.Offcuts }, "rests on hand, used before any is bought: [{length: 640 mm, count: 2}]"),
	key("kerf", quantity, func(s *plan.Stock) *plan.Quantity { return &s.Kerf }, "what a cut takes away: 3 mm"),
	key("trim", quantity, func(s *plan.Stock) *plan.Quantity { return &s.Trim }, "what is cut off each end first"),
	key("most_pieces", quantity, func(s *plan.Stock) *plan.Quantity { return &s.Most }, "pieces that a bar may be cut into, at most"),
	key("aim", oneWord("cost", "bars"), func(s *plan.Stock) *plan.Word { return &s.Aim }, "what a cut plan spares: cost (default), or bars, however long"),
	key("cut_by", oneWord("saw", "router"), func(s *plan.Stock) *plan.Word { return &s.CutBy }, "how a sheet is cut: by a saw, from edge to edge (default), or by a router or laser, around each piece"),
	key("buy", pointer(buyForm), func(s *plan.Stock) **plan.Buy { return &s.Buy }, "who sells it: {from: general}, or any"),
	has(func(s *plan.Stock) *[]plan.Named { return &s.Has }),
}, exactlyOne("section", "sheet"), onlyBeside("grain", "sheet"), onlyBeside("cut_by", "sheet"), onlyBeside("most_pieces", "section"))

func has[T any](get func(*T) *[]plan.Named) field[T] {
	return key("has", named("a map of properties"), get, "properties of your own, for formulas: {torque: 1.2 N*m}")
}

var soldForm = object("a map that describes how it is sold", func(s *plan.Sold) *finding.Span { return &s.At }, []field[plan.Sold]{
	key("length", quantity, func(s *plan.Sold) *plan.Quantity { return &s.Length }, "a bar's length"),
	key("size", listOf("a list of 2 quantities", 2, 2, quantity), func(s *plan.Sold) *[]plan.Quantity { return &s.Size }, "a sheet's length and width"),
	key("cut", flag, func(s *plan.Sold) *bool { return &s.Cut }, "yes: cut to length, the price is by length"),
	must(key("price", quantity, func(s *plan.Sold) *plan.Quantity { return &s.Price }, "its price: 9.80 EUR, cut to length 14 EUR/m")),
	key("per_cut", quantity, func(s *plan.Sold) *plan.Quantity { return &s.PerCut }, "what each cut costs"),
	key("from", ref(toSupplier), func(s *plan.Sold) *plan.Word { return &s.From }, "a supplier of suppliers.yaml, where it is not the stock's own; the same size may be sold by several"),
	key("code", title, func(s *plan.Sold) *plan.Text { return &s.Code }, "the supplier's order code, where it is not the stock's own"),
	key("checked", date, func(s *plan.Sold) *plan.Word { return &s.Checked }, "the day on which price and code were looked up, where it is not the stock's own"),
}, exactlyOne("length", "size", "cut"), onlyBeside("per_cut", "cut"))

var offcutForm = object("a map that describes an offcut", func(o *plan.Offcut) *finding.Span { return &o.At }, []field[plan.Offcut]{
	key("length", quantity, func(o *plan.Offcut) *plan.Quantity { return &o.Length }, "a bar's length"),
	key("size", listOf("a list of 2 quantities", 2, 2, quantity), func(o *plan.Offcut) *[]plan.Quantity { return &o.Size }, "a sheet's length and width"),
	key("count", quantity, func(o *plan.Offcut) *plan.Quantity { return &o.Count }, "how many there are"),
}, exactlyOne("length", "size"))

// sectionKind is one way to say a section: what stands behind its key fills in the
// same section.
func sectionKind(name, doc string, fields []field[plan.Section], constraints ...constraint) field[plan.Section] {
	return kind(name, object("a map of sizes", nil, fields, constraints...), whole[plan.Section], func(s *plan.Section) *plan.Word { return &s.Kind }, doc)
}

var (
	sectionSize   = must(key("size", listOf("a list of 2 quantities", 2, 2, quantity), func(s *plan.Section) *[]plan.Quantity { return &s.Size }, "the two sizes across the bar, x before y before z"))
	sectionWall   = must(key("wall", quantity, func(s *plan.Section) *plan.Quantity { return &s.Wall }, "the wall's thickness"))
	sectionD      = must(key("d", quantity, func(s *plan.Section) *plan.Quantity { return &s.D }, "the outer diameter"))
	sectionCorner = key("corner", quantity, func(s *plan.Section) *plan.Quantity { return &s.Corner }, "radius of the outer corners; sharp where not given")
	sectionInner  = key("inner", quantity, func(s *plan.Section) *plan.Quantity { return &s.Inner }, "radius of the inner corners; sharp where not given")
)

var sectionForm = object("a map that describes a section", func(s *plan.Section) *finding.Span { return &s.At }, []field[plan.Section]{
	sectionKind("round", "a round bar", []field[plan.Section]{sectionD}),
	sectionKind("square", "a square bar", []field[plan.Section]{
		must(key("side", quantity, func(s *plan.Section) *plan.Quantity { return &s.Side }, "its side")), sectionCorner,
	}),
	sectionKind("rectangle", "a flat bar", []field[plan.Section]{sectionSize, sectionCorner}),
	sectionKind("tube", "a round tube", []field[plan.Section]{sectionD, sectionWall}),
	sectionKind("box", "a square or rectangular tube", []field[plan.Section]{sectionSize, sectionWall, sectionCorner, sectionInner}),
	sectionKind("angle", "an angle bar", []field[plan.Section]{sectionSize, sectionWall, sectionCorner, sectionInner}),
	sectionKind("channel", "a channel", []field[plan.Section]{sectionSize, sectionWall, sectionCorner, sectionInner}),
	sectionKind("slotted", "a bar with slots for nuts", []field[plan.Section]{
		sectionSize,
		must(key("slot", quantity, func(s *plan.Section) *plan.Quantity { return &s.Slot }, "a slot's width between its lips")),
		must(key("lip", quantity, func(s *plan.Section) *plan.Quantity { return &s.Lip }, "a lip's thickness")),
		must(key("depth", quantity, func(s *plan.Section) *plan.Quantity { return &s.Depth }, "from the face to the slot's floor")),
		key("pocket", quantity, func(s *plan.Section) *plan.Quantity { return &s.Pocket }, "the slot's width behind the lips"),
		key("core", quantity, func(s *plan.Section) *plan.Quantity { return &s.Core }, "the bore along the middle"),
		sectionCorner,
	}),
	kind("thread", word, func(s *plan.Section) *plan.Word { return &s.Thread }, func(s *plan.Section) *plan.Word { return &s.Kind }, "threaded bar: M6"),
	kind("outline", pointer(outlineOrList), func(s *plan.Section) **plan.Outline { return &s.Outline }, func(s *plan.Section) *plan.Word { return &s.Kind }, "a shape of lines and arcs"),
}, exactlyOne("round", "square", "rectangle", "tube", "box", "angle", "channel", "slotted", "thread", "outline"))

// materialProperty is a key of a material that stands among its properties.
func materialProperty(name, doc string) field[plan.Material] {
	return field[plan.Material]{
		key: name, doc: doc, what: quantity.what, schema: quantity.schema,
		read: func(r *reader, e entry, into *plan.Material) {
			n := plan.Named{Name: r.word(e.key)}
			quantity.read(r, e, &n.Is)
			into.Has = append(into.Has, n)
		},
	}
}

var materialForm = object("a map that describes a material", func(m *plan.Material) *finding.Span { return &m.At }, []field[plan.Material]{
	must(key("title", title, func(m *plan.Material) *plan.Text { return &m.Title }, "what it is called")),
	must(materialProperty("density", "mass by volume: 2700 kg/m^3")),
	materialProperty("modulus", "Young's modulus: 70 GPa"),
	materialProperty("yield", "yield strength: 160 MPa"),
	materialProperty("strength", "tensile strength: 215 MPa"),
	materialProperty("softens", "the temperature at which it loses its shape under load: 60 degC"),
	key("conducts", flag, func(m *plan.Material) *bool { return &m.Conducts }, "yes where it conducts electricity"),
	key("has", named("a map of properties"), func(m *plan.Material) *[]plan.Named { return &m.Has }, "properties of your own, for formulas"),
})

var toolForm = object("a map that describes a tool", func(t *plan.Tool) *finding.Span { return &t.At }, []field[plan.Tool]{
	must(key("title", title, func(t *plan.Tool) *plan.Text { return &t.Title }, "what it is called")),
	key("owned", flag, func(t *plan.Tool) *bool { return &t.Owned }, "yes where a builder is taken to own it"),
	key("kind", oneWord("saw", "drill", "tap", "hex key", "hex driver", "hex bit", "spanner", "socket", "screwdriver", "bit", "rivet pliers", "retaining ring pliers", "pin punch", "hammer"), func(t *plan.Tool) *plan.Word { return &t.Kind }, "what the tools list calls it; a set of all sizes where no size stands beside it: drill"),
	key("size", word, func(t *plan.Tool) *plan.Word { return &t.Size }, "a key's or spanner's size: 5 mm"),
	key("ball_end", flag, func(t *plan.Tool) *bool { return &t.Ball }, "yes for hex keys whose long arms have ball ends"),
	key("lifts", quantity, func(t *plan.Tool) *plan.Quantity { return &t.Lifts }, "how much a hoist lifts: 100 kg"),
	key("buy", pointer(buyForm), func(t *plan.Tool) **plan.Buy { return &t.Buy }, "who sells it: {from: general}, or any"),
	has(func(t *plan.Tool) *[]plan.Named { return &t.Has }),
})
