package source

import (
	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var drawingForm = object("a map that describes a drawing", func(d *plan.Drawing) *finding.Span { return &d.At }, []field[plan.Drawing]{
	must(key("title", title, func(d *plan.Drawing) *plan.Text { return &d.Title }, "the title in its title block")),
	must(key("of", ref(toPartOrAssembly), func(d *plan.Drawing) *plan.Word { return &d.Of }, "the part or assembly that it shows")),
	key("sheet", sheetSize, func(d *plan.Drawing) *plan.Word { return &d.Sheet }, "its sheet: A4 landscape"),
	key("scale", scale, func(d *plan.Drawing) *plan.Word { return &d.Scale }, `its scale: "1:2"`),
	key("views", list("a list of views", viewForm), func(d *plan.Drawing) *[]plan.View { return &d.Views }, "front, top, {section: A, through: [screw, rods.1]}, {detail: B, around: rods.1, scale: \"2:1\"}, pictorial"),
	key("dimensions", list("a list of dimensions", dimensionForm), func(d *plan.Drawing) *[]plan.Dimension { return &d.Dimensions }, "dimensions asked for; what they leave open is added"),
	key("only_these", flag, func(d *plan.Drawing) *bool { return &d.OnlyThese }, "yes: no dimension but those given here; what they leave open is found"),
	key("notes", list("a list of notes", markdown), func(d *plan.Drawing) *[]plan.Text { return &d.Notes }, "notes on the sheet"),
	key("template", flag, func(d *plan.Drawing) *bool { return &d.Template }, "yes: also a drill template at true size"),
	only(func(d *plan.Drawing) *plan.Only { return &d.Only }),
})

var direction = oneWord("front", "back", "left", "right", "top", "bottom", "pictorial", "exploded")

// viewForm is a direction, or a map that describes a section or a detail.
var viewForm = form[plan.View]{
	what: "a direction, a section or a detail",
	read: func(r *reader, e entry, into *plan.View) {
		if e.value.Kind == yaml.ScalarNode {
			into.At = r.doc.span(e.value)
			direction.read(r, e, &into.Kind)
			return
		}
		cutForm.read(r, e, into)
	},
	schema: func(b *book) schema { return schema{"anyOf": []schema{direction.schema(b), cutForm.schema(b)}} },
}

var letter = spelled("a capital letter", `^[A-Z]$`, "A")

var cutForm = object("a map that describes a section or a detail", func(v *plan.View) *finding.Span { return &v.At }, []field[plan.View]{
	kind("section", letter, func(v *plan.View) *plan.Word { return &v.Letter }, func(v *plan.View) *plan.Word { return &v.Kind }, "a section and its letter"),
	kind("detail", letter, func(v *plan.View) *plan.Word { return &v.Letter }, func(v *plan.View) *plan.Word { return &v.Kind }, "a detail and its letter"),
	key("through", oneOrMore("a feature, or a list of them for a stepped section", ref(toDrawn)), func(v *plan.View) *[]plan.Word { return &v.Through }, "the feature that a section passes through; several make it step from one to the next: [screw, rods.1]"),
	key("half", flag, func(v *plan.View) *bool { return &v.Half }, "yes: a half section, the other half as seen from outside"),
	key("around", ref(toDrawn), func(v *plan.View) *plan.Word { return &v.Around }, "the feature that a detail enlarges: a hole, a slot, a named shape, a face"),
	key("scale", scale, func(v *plan.View) *plan.Word { return &v.Scale }, `its own scale: "2:1"`),
}, exactlyOne("section", "detail"), needs("section", "through"), needs("detail", "around"), onlyBeside("through", "section"), onlyBeside("half", "section"), onlyBeside("around", "detail"))

var dimensionForm = object("a map that describes a dimension", func(d *plan.Dimension) *finding.Span { return &d.At }, []field[plan.Dimension]{
	key("from", ref(toDrawn), func(d *plan.Dimension) *plan.Word { return &d.From }, "the feature from which it is taken"),
	key("to", ref(toDrawn), func(d *plan.Dimension) *plan.Word { return &d.To }, "the feature to which it is taken"),
	key("along", oneWord("x", "y", "z"), func(d *plan.Dimension) *plan.Word { return &d.Along }, "the axis along which it is taken"),
	key("diameter", ref(toDrawn), func(d *plan.Dimension) *plan.Word { return &d.Diameter }, "the feature whose diameter is given"),
	key("radius", ref(toDrawn), func(d *plan.Dimension) *plan.Word { return &d.Radius }, "the feature whose radius is given: a hole, a round side, corner_2, side_3 of an outline"),
	key("angle", oneOrMore("a slanted side, or two sides", ref(toDrawn)), func(d *plan.Dimension) *[]plan.Word { return &d.Angle }, "what slants: side_2 of an outline, a slanted face of a named shape; or two sides: [side_2, left]"),
	key("chamfer", ref(toDrawn), func(d *plan.Dimension) *plan.Word { return &d.Chamfer }, "the corner whose chamfer is given: corner_2"),
	key("depth", ref(toDrawn), func(d *plan.Dimension) *plan.Word { return &d.Depth }, "the hole or pocket whose depth is given"),
	key("tolerance", quantity, func(d *plan.Dimension) *plan.Quantity { return &d.Tolerance }, "its tolerance: ± 0.05 mm, of an angle ± 0.5 deg"),
	key("fit", word, func(d *plan.Dimension) *plan.Word { return &d.Fit }, "its fit: H7"),
	key("reference", flag, func(d *plan.Dimension) *bool { return &d.Reference }, "yes: in brackets, for information only"),
}, exactlyOne("from", "diameter", "radius", "angle", "chamfer", "depth"), needs("from", "to"), onlyBeside("to", "from"), onlyBeside("along", "from"),
	atMostOne("tolerance", "fit", "reference"))
