package source

import (
	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var outlineForm = defined("outline", object("a map that describes an outline", func(o *plan.Outline) *finding.Span { return &o.At }, []field[plan.Outline]{
	kind("rectangle", listOf("a list of 2 quantities", 2, 2, quantity), func(o *plan.Outline) *[]plan.Quantity { return &o.Size }, outlineKind, "its two sizes: [260 mm, 120 mm]"),
	kind("circle", quantity, func(o *plan.Outline) *plan.Quantity { return &o.D }, outlineKind, "its diameter: 60 mm"),
	kind("polygon", list("a list of corners", point(2, 2)), func(o *plan.Outline) *[]plan.Point { return &o.Points }, outlineKind, "its corners in order: [[0 mm, 0 mm], ...]"),
	kind("path", list("a list of lines and arcs", segmentForm), func(o *plan.Outline) *[]plan.Segment { return &o.Path }, outlineKind, "lines and arcs: [{from: [x, y]}, {to: [x, y]}, {arc: [x, y], radius: r, turn: left}]"),
	key("corners", cornersForm, func(o *plan.Outline) *plan.Corners { return &o.Corners }, "how corners are finished: {round: 8 mm} or {chamfer: 2 mm}"),
}, exactlyOne("rectangle", "circle", "polygon", "path")))

func outlineKind(o *plan.Outline) *plan.Word { return &o.Kind }

// outlineOrList takes a list of corners, or of lines and arcs, for the outline that
// it draws.
var outlineOrList = form[plan.Outline]{
	what: "an outline",
	read: func(r *reader, e entry, into *plan.Outline) {
		if e.value.Kind != yaml.SequenceNode {
			outlineForm.read(r, e, into)
			return
		}
		into.At = r.doc.span(e.value)
		if len(e.value.Content) > 0 && e.value.Content[0].Kind == yaml.MappingNode {
			into.Kind = plan.Word{Text: "path", At: into.At}
			list("a list of lines and arcs", segmentForm).read(r, e, &into.Path)
			return
		}
		into.Kind = plan.Word{Text: "polygon", At: into.At}
		list("a list of corners", point(2, 2)).read(r, e, &into.Points)
	},
	schema: func(b *book) schema {
		return schema{"anyOf": []schema{
			outlineForm.schema(b),
			list("", segmentForm).schema(b),
			list("", point(2, 2)).schema(b),
		}}
	},
}

var cornersForm = object("a map that says how corners are finished", func(c *plan.Corners) *finding.Span { return &c.At }, []field[plan.Corners]{
	key("round", quantity, func(c *plan.Corners) *plan.Quantity { return &c.Round }, "radius of rounded corners"),
	key("chamfer", quantity, func(c *plan.Corners) *plan.Quantity { return &c.Chamfer }, "what a chamfer takes off each side"),
}, exactlyOne("round", "chamfer"))

func segmentEnd(s *plan.Segment) *plan.Point { return &s.End }
func segmentKind(s *plan.Segment) *plan.Word { return &s.Kind }

var segmentForm = object("a map that describes a line or an arc", func(s *plan.Segment) *finding.Span { return &s.At }, []field[plan.Segment]{
	kind("from", point(2, 2), segmentEnd, segmentKind, "where the path begins"),
	kind("to", point(2, 2), segmentEnd, segmentKind, "a line to there"),
	kind("arc", point(2, 2), segmentEnd, segmentKind, "an arc to there"),
	key("radius", quantity, func(s *plan.Segment) *plan.Quantity { return &s.Radius }, "the arc's radius"),
	key("turn", oneWord("left", "right"), func(s *plan.Segment) *plan.Word { return &s.Turn }, "the way the arc turns"),
	key("large", flag, func(s *plan.Segment) *bool { return &s.Large }, "yes for the longer way round"),
}, exactlyOne("from", "to", "arc"), needs("arc", "radius"), needs("arc", "turn"), onlyBeside("radius", "arc"), onlyBeside("turn", "arc"), onlyBeside("large", "arc"))

// solidKind is one way to say a shape: what stands behind its key fills in the same
// shape.
func solidKind(name, doc string, fields []field[plan.Solid], rules ...constraint) field[plan.Solid] {
	return kind(name, object("a map of sizes", nil, fields, rules...), whole[plan.Solid], solidKindWord, doc)
}

func solidDiameter(s *plan.Solid) *plan.Quantity { return &s.D }

const (
	diameterDoc = "its diameter"
	threadDoc   = "the thread cut on it from end to end, instead of a diameter: M8"
)

func solidKindWord(s *plan.Solid) *plan.Word { return &s.Kind }

var (
	solidD    = must(key("d", quantity, solidDiameter, diameterDoc))
	solidL    = must(key("l", quantity, func(s *plan.Solid) *plan.Quantity { return &s.L }, "its length"))
	solidBore = must(key("bore", quantity, func(s *plan.Solid) *plan.Quantity { return &s.Bore }, "the diameter of its bore"))
	solidTo   = must(key("to", quantity, func(s *plan.Solid) *plan.Quantity { return &s.To }, "the diameter at its other end"))
)

var solidForm = object("a map that describes a shape", func(s *plan.Solid) *finding.Span { return &s.At }, []field[plan.Solid]{
	kind("box", listOf("a list of 3 quantities", 3, 3, quantity), func(s *plan.Solid) *[]plan.Quantity { return &s.Size }, solidKindWord, "its three sizes: [42.3 mm, 42.3 mm, 60 mm]"),
	solidKind("cylinder", "a round bar: {d: 22 mm, l: 2 mm}; or a threaded one: {thread: M8, l: 30 mm}", []field[plan.Solid]{
		key("d", quantity, solidDiameter, diameterDoc), key("thread", word, func(s *plan.Solid) *plan.Word { return &s.Thread }, threadDoc), solidL,
	}, exactlyOne("d", "thread")),
	solidKind("tube", "a round bar with a bore: {d: 20 mm, bore: 12 mm, l: 30 mm}", []field[plan.Solid]{solidD, solidBore, solidL}),
	solidKind("cone", "a round bar that tapers: {d: 20 mm, to: 10 mm, l: 15 mm}", []field[plan.Solid]{solidD, solidTo, solidL}),
	solidKind("prism", "an outline drawn out: {outline: {polygon: [...]}, l: 10 mm}", []field[plan.Solid]{
		must(key("outline", pointer(outlineOrList), func(s *plan.Solid) **plan.Outline { return &s.Outline }, "the outline across it")), solidL,
	}),
	kind("turned", list("a list of cylinders", turnForm), func(s *plan.Solid) *[]plan.Turn { return &s.Steps }, solidKindWord, "cylinders one after the other: [{d: 12 mm, l: 20 mm}, {d: 8 mm, l: 10 mm}]"),
	solidKind("mesh", "a shape from a file: {file: files/cover.stl, unit: mm}", []field[plan.Solid]{
		must(key("file", fileName, func(s *plan.Solid) *plan.Word { return &s.File }, "its path: files/cover.stl")),
		must(key("unit", oneWord("mm", "cm", "m", "in"), func(s *plan.Solid) *plan.Word { return &s.Unit }, "the file's unit of length")),
	}),
	key("at", point(3, 3), func(s *plan.Solid) *plan.Point { return &s.Place }, "the lowest corner of its own box, in the part's axes"),
	key("axis", oneWord("x", "y", "z"), func(s *plan.Solid) *plan.Word { return &s.Axis }, "the axis along which it lies; z where not given"),
	key("cut", flag, func(s *plan.Solid) *bool { return &s.Cut }, "yes: it takes away"),
	key("name", id, func(s *plan.Solid) *plan.Word { return &s.Name }, "makes it a feature of the part"),
	key("turns", flag, func(s *plan.Solid) *bool { return &s.Turns }, "yes: it turns with what is pressed or gripped on it"),
}, exactlyOne("box", "cylinder", "tube", "cone", "prism", "turned", "mesh"))

var turnForm = object("a map that describes a cylinder", func(t *plan.Turn) *finding.Span { return &t.At }, []field[plan.Turn]{
	key("d", quantity, func(t *plan.Turn) *plan.Quantity { return &t.D }, diameterDoc),
	key("thread", word, func(t *plan.Turn) *plan.Word { return &t.Thread }, threadDoc),
	must(key("l", quantity, func(t *plan.Turn) *plan.Quantity { return &t.L }, "its length")),
}, exactlyOne("d", "thread"))
