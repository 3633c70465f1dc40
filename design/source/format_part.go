package source

import (
	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

var partForm = within(object("a map that describes a part", func(p *plan.Part) *finding.Span { return &p.At }, []field[plan.Part]{
	key("title", title, func(p *plan.Part) *plan.Text { return &p.Title }, "what the builder calls it"),
	key("made", oneWord(plan.Cut, plan.Sheet, plan.Machined, plan.Turned, plan.Printed, plan.Bought, plan.Altered, plan.Consumable), func(p *plan.Part) *plan.Word { return &p.Made }, "how it comes to be: cut, sheet, machined, turned, printed, bought, altered or consumable"),
	key("standard", word, func(p *plan.Part) *plan.Word { return &p.Standard }, "the designation from which all else follows: ISO 4762 M8x25 - 8.8"),
	key("stock", ref(toStock), func(p *plan.Part) *plan.Word { return &p.Stock }, "what it is cut from"),
	key("material", ref(toMaterial), func(p *plan.Part) *plan.Word { return &p.Material }, "its material where no stock says it"),
	key("of", ref(toPart), func(p *plan.Part) *plan.Word { return &p.Of }, "the bought part that is altered"),
	key("because", markdown, func(p *plan.Part) *plan.Text { return &p.Because }, "why it is altered"),
	key("length", quantity, func(p *plan.Part) *plan.Quantity { return &p.Length }, "a bar's length, from tip to tip where its ends are mitred"),
	key("lies", oneWord("x", "y", "z"), func(p *plan.Part) *plan.Word { return &p.Lies }, "the axis along which a bar lies; x where not given"),
	key("mitre", pointer(mitreForm), func(p *plan.Part) **plan.Mitre { return &p.Mitre }, "a bar's ends cut on a slant: {start: 45 deg, end: 45 deg, long: bottom}"),
	key("grain", oneWord("along", "across", "any"), func(p *plan.Part) *plan.Word { return &p.Grain }, "how a sheet part's length lies to its stock's grain, or any; as the stock says where not given"),
	key("outline", pointer(outlineForm), func(p *plan.Part) **plan.Outline { return &p.Outline }, "a sheet part's outline"),
	key("shape", noting(list("a list of shapes", solidForm)), func(p *plan.Part) *[]plan.Solid { return &p.Shape }, "what it takes up, as boxes, cylinders and the like"),
	key("holes", pointers("a map of holes", holeForm, id, func(h *plan.Hole) *plan.Word { return &h.ID }), func(p *plan.Part) *[]*plan.Hole { return &p.Holes }, "holes and patterns of holes, by name"),
	key("mass", quantity, func(p *plan.Part) *plan.Quantity { return &p.Mass }, "its mass, where it beats the computed one"),
	key("finish", markdown, func(p *plan.Part) *plan.Text { return &p.Finish }, "what its surface is: painted"),
	key("amount", quantity, func(p *plan.Part) *plan.Quantity { return &p.Amount }, "what one purchase of a consumable holds: 30 g"),
	key("buy", pointer(buyForm), func(p *plan.Part) **plan.Buy { return &p.Buy }, "who sells it: {from: general, price: 28 EUR}, or any"),
	key("or", list("a list of what serves instead", substituteForm), func(p *plan.Part) *[]plan.Substitute { return &p.Or }, "what serves instead of a bought part: [{say: any board, when: thick >= 18 mm}, {part: board_oak}]"),
	key("print", pointer(printForm), func(p *plan.Part) **plan.Print { return &p.Print }, "how a printed part is made"),
	key("files", list("a list of files", partFileForm), func(p *plan.Part) *[]plan.PartFile { return &p.Files }, "files that make or show it"),
	key("fastener", pointer(fastenerForm), func(p *plan.Part) **plan.Fastener { return &p.Fastener }, "what a bought fastener is that no standard describes: {nut: M8, slot: 8 mm}"),
	key("loop", pointer(loopForm), func(p *plan.Part) **plan.Loop { return &p.Loop }, "a belt"),
	key("strand", pointer(strandForm), func(p *plan.Part) **plan.Strand { return &p.Strand }, "a cable, hose or wire"),
	key("telescopes", pointer(telescopeForm), func(p *plan.Part) **plan.Telescope { return &p.Telescope }, "how a part stretches between two places"),
	key("guards", list("a list of parts", ref(toPart)), func(p *plan.Part) *[]plan.Word { return &p.Guards }, "what a fuse protects"),
	key("notes", list("a list of notes", markdown), func(p *plan.Part) *[]plan.Text { return &p.Notes }, "notes for its drawing"),
	has(func(p *plan.Part) *[]plan.Named { return &p.Has }),
}, exactlyOne("made", "standard"), needs("made", "title"), needs("of", "because"), atMostOne("stock", "material"), onlyBeside("mitre", "length")),
	func(r *reader, p *plan.Part) { r.part = p }, func(r *reader) { r.part = nil })

// mitreForm leaves the side that keeps its length to be said: no angle means anything
// without it.
var mitreForm = object("a map that says how a bar's ends are mitred", func(m *plan.Mitre) *finding.Span { return &m.At }, []field[plan.Mitre]{
	key("start", quantity, func(m *plan.Mitre) *plan.Quantity { return &m.Start }, "the angle by which the saw is turned from a square cut at the bar's start, its left, front or bottom"),
	key("end", quantity, func(m *plan.Mitre) *plan.Quantity { return &m.End }, "the same at its end"),
	must(key("long", either2(alone(face), listOf("a list of 2 sides", 2, 2, face)), func(m *plan.Mitre) *[]plan.Word { return &m.Long }, "the side that keeps the full length: bottom; or one for the start and one for the end: [bottom, top]")),
}, atLeastOne("start", "end"))

var printForm = object("a map that says how it is printed", func(p *plan.Print) *finding.Span { return &p.At }, []field[plan.Print]{
	key("face", face, func(p *plan.Print) *plan.Word { return &p.Face }, "the face that lies on the bed"),
	key("allowance", quantity, func(p *plan.Print) *plan.Quantity { return &p.Allowance }, "by how much a hole comes out smaller: 0.2 mm"),
	key("walls", wholeNumber, func(p *plan.Print) *plan.Word { return &p.Walls }, "how many walls: 4"),
	key("infill", quantity, func(p *plan.Print) *plan.Quantity { return &p.Infill }, "how much of the inside is filled: 30 %"),
	key("layer", quantity, func(p *plan.Print) *plan.Quantity { return &p.Layer }, "a layer's height: 0.2 mm"),
	key("nozzle", quantity, func(p *plan.Print) *plan.Quantity { return &p.Nozzle }, "the nozzle's bore: 0.4 mm where not given; a line is an eighth wider"),
	key("caps", wholeNumber, func(p *plan.Print) *plan.Word { return &p.Caps }, "closed layers below, and as many above: 4 where not given"),
	key("time", quantity, func(p *plan.Print) *plan.Quantity { return &p.Time }, "how long it takes: 3 h"),
	key("mass", quantity, func(p *plan.Print) *plan.Quantity { return &p.Mass }, "what it weighs printed, where that beats the estimate: 41 g"),
})

var face = oneWord("left", "right", "front", "back", "top", "bottom")

var partFileForm = object("a map that names a file", func(f *plan.PartFile) *finding.Span { return &f.At }, []field[plan.PartFile]{
	must(key("file", fileName, func(f *plan.PartFile) *plan.Word { return &f.File }, "its path: files/crank_knob.stl")),
	must(key("use", oneWord("print", "cut", "cad", "photo", "data"), func(f *plan.PartFile) *plan.Word { return &f.Use }, "what it is for: print, cut, cad, photo or data")),
	key("shows", word, func(f *plan.PartFile) *plan.Word { return &f.Shows }, "the revision that it shows"),
	key("license", word, func(f *plan.PartFile) *plan.Word { return &f.License }, "its own licence, where it is not the plan's"),
})

// fastenerKind is a key that names a fastener's thread and its kind.
func fastenerKind(name, doc string) field[plan.Fastener] {
	return kind(name, word, func(f *plan.Fastener) *plan.Word { return &f.Thread }, func(f *plan.Fastener) *plan.Word { return &f.Kind }, doc)
}

// fastenerSize is a key that names a fastener's diameter and its kind.
func fastenerSize(name, doc string) field[plan.Fastener] {
	return kind(name, quantity, func(f *plan.Fastener) *plan.Quantity { return &f.D }, func(f *plan.Fastener) *plan.Word { return &f.Kind }, doc)
}

var fastenerForm = object("a map that describes a fastener", func(f *plan.Fastener) *finding.Span { return &f.At }, []field[plan.Fastener]{
	fastenerKind("nut", "a nut's thread: M8"),
	fastenerKind("insert", "an insert's thread: M4"),
	fastenerKind("washer", "the screw that a washer is for: M5"),
	fastenerKind("screw", "a screw's thread: M4"),
	fastenerSize("wood_screw", "a wood screw's diameter: 4 mm"),
	fastenerSize("rivet", "a blind rivet's diameter: 4 mm"),
	fastenerSize("clamp", "the bore of a ring that a screw of its own closes on a shaft: 12 mm"),
	key("grip", listOf("a list of 2 quantities", 2, 2, quantity), func(f *plan.Fastener) *[]plan.Quantity { return &f.Grip }, "the least and the largest thickness that a rivet holds: [3 mm, 5 mm]"),
	key("closes", quantity, func(f *plan.Fastener) *plan.Quantity { return &f.Closes }, "by how much a clamp's bore becomes narrower: 0.3 mm"),
	key("tool", word, func(f *plan.Fastener) *plan.Word { return &f.Tool }, "what turns, holds or sets it: hex key 3 mm, bit TX 20"),
	key("driven_at", ref(toOwnHole), func(f *plan.Fastener) *plan.Word { return &f.DrivenAt }, "the part's hole at whose mouth a clamp's own screw is turned"),
	key("slot", quantity, func(f *plan.Fastener) *plan.Quantity { return &f.Slot }, "the slot that a slot nut is for"),
	key("height", quantity, func(f *plan.Fastener) *plan.Quantity { return &f.Height }, "its height or thickness"),
	key("seat", quantity, func(f *plan.Fastener) *plan.Quantity { return &f.Seat }, "the hole that an insert is for"),
	key("length", quantity, func(f *plan.Fastener) *plan.Quantity { return &f.Length }, "its length"),
	key("outside", quantity, func(f *plan.Fastener) *plan.Quantity { return &f.Outside }, "its outer diameter, of a wood screw or a rivet its head's"),
	key("goes_in", oneWord("front", "end"), func(f *plan.Fastener) *plan.Word { return &f.GoesIn }, "where a slot nut goes in: from the front, or from the bar's end"),
}, exactlyOne("nut", "insert", "washer", "screw", "wood_screw", "rivet", "clamp"),
	needs("wood_screw", "length"), needs("rivet", "length"), needs("rivet", "grip"), needs("clamp", "closes"),
	onlyBeside("grip", "rivet"), onlyBeside("closes", "clamp"), onlyBeside("driven_at", "clamp"), onlyBeside("tool", "screw", "nut", "wood_screw", "rivet", "clamp"))

var loopForm = object("a map that describes a belt", func(l *plan.Loop) *finding.Span { return &l.At }, []field[plan.Loop]{
	must(key("pitch", quantity, func(l *plan.Loop) *plan.Quantity { return &l.Pitch }, "from tooth to tooth")),
	must(key("width", quantity, func(l *plan.Loop) *plan.Quantity { return &l.Width }, "its width")),
	must(key("teeth", quantity, func(l *plan.Loop) *plan.Quantity { return &l.Teeth }, "how many teeth")),
	key("thick", quantity, func(l *plan.Loop) *plan.Quantity { return &l.Thick }, "its thickness"),
})

var strandForm = object("a map that describes a strand", func(s *plan.Strand) *finding.Span { return &s.At }, []field[plan.Strand]{
	must(key("d", quantity, func(s *plan.Strand) *plan.Quantity { return &s.D }, "its outer diameter")),
	must(key("length", quantity, func(s *plan.Strand) *plan.Quantity { return &s.Length }, "its length")),
	key("area", quantity, func(s *plan.Strand) *plan.Quantity { return &s.Area }, "a conductor's cross-section: 0.75 mm^2"),
})

var telescopeForm = object("a map that says how it stretches", func(t *plan.Telescope) *finding.Span { return &t.At }, []field[plan.Telescope]{
	must(key("closed", quantity, func(t *plan.Telescope) *plan.Quantity { return &t.Closed }, "its length when closed")),
	must(key("stroke", quantity, func(t *plan.Telescope) *plan.Quantity { return &t.Stroke }, "by how much it stretches")),
	must(key("shapes", list("a list of shapes by name", ref(toOwnShape)), func(t *plan.Telescope) *[]plan.Word { return &t.Shapes }, "the shapes that come out")),
})

var holeForm = object("a map that describes a hole", func(h *plan.Hole) *finding.Span { return &h.At }, []field[plan.Hole]{
	kind(plan.Bore, quantity, func(h *plan.Hole) *plan.Quantity { return &h.Diameter }, holeKind, "a plain hole's diameter: 22 mm H7"),
	kind(plan.Tap, word, func(h *plan.Hole) *plan.Word { return &h.Thread }, holeKind, "drilled and tapped for a thread: M8"),
	kind(plan.For, word, func(h *plan.Hole) *plan.Word { return &h.Thread }, holeKind, "clearance for a thread: M8"),
	{
		key: plan.Forms, doc: "a screw cuts its own thread in the bore that stands beside it: M4", what: word.what, schema: word.schema,
		read: func(r *reader, e entry, into *plan.Hole) {
			into.Kind = r.word(e.key) // beside a bore it is this that says what the hole is
			word.read(r, e, &into.Thread)
		},
	},
	kind(plan.Insert, word, func(h *plan.Hole) *plan.Word { return &h.Thread }, holeKind, "the seat of an insert with this thread: M4"),
	kind(plan.SlotHole, object("a map that describes a long hole", nil, []field[plan.Hole]{
		must(key("long", quantity, func(h *plan.Hole) *plan.Quantity { return &h.Long }, "its length over all")),
		must(key("wide", quantity, func(h *plan.Hole) *plan.Quantity { return &h.Wide }, "its width")),
		must(key("along", oneWord("x", "y", "z"), func(h *plan.Hole) *plan.Word { return &h.Along }, "the axis along which it lies")),
	}), whole[plan.Hole], holeKind, "a long hole: {long: 20 mm, wide: 6.6 mm, along: x}"),
	key("fit", oneWord("fine", "medium", "coarse", "close", "normal", "loose"), func(h *plan.Hole) *plan.Word { return &h.Fit }, "how much clearance: fine, medium or coarse; in inches close, normal or loose"),
	key("face", face, func(h *plan.Hole) *plan.Word { return &h.Face }, "the face from which it is drilled; top where not given"),
	key("depth", quantity, func(h *plan.Hole) *plan.Quantity { return &h.Depth }, "how deep; through the first wall where not given"),
	{
		key: "through", doc: "all: through every wall, not only the first", what: "the word all", schema: oneWord("all").schema,
		read: func(r *reader, e entry, into *plan.Hole) {
			var w plan.Word
			oneWord("all").read(r, e, &w)
			into.ThroughAll = w.Given()
		},
	},
	key("counterbore", pointer(counterboreForm), func(h *plan.Hole) **plan.Counterbore { return &h.Counterbore }, "a flat seat for a head: {d: 15 mm, depth: 8.5 mm}"),
	key("countersink", pointer(countersinkForm), func(h *plan.Hole) **plan.Countersink { return &h.Countersink }, "a conical seat for a head: {d: 16 mm, angle: 90 deg}"),
	kind("at", point(2, 2), func(h *plan.Hole) *plan.Point { return &h.Pattern.Point }, patternKind, "where it stands on its face, in the part's own axes: [15 mm, 15 mm]"),
	kind("grid", gridForm, pattern, patternKind, "rows and columns: {from: [x, y], step: [x, y], count: [2, 2]}"),
	kind("line", lineForm, pattern, patternKind, "a row: {from: [x, y], step: [x, y], count: 3}"),
	kind("circle", circleForm, pattern, patternKind, "on a circle: {centre: [x, y], d: 31 mm, count: 4}"),
	kind("points", list("a list of places", point(2, 2)), func(h *plan.Hole) *[]plan.Point { return &h.Pattern.Points }, patternKind, "places one by one: [[x, y], [x, y]]"),
	key("note", markdown, func(h *plan.Hole) *plan.Text { return &h.Note }, "what an empty hole is for"),
},
	exactlyOne(plan.Bore, plan.Tap, plan.For, plan.Insert, plan.SlotHole), onlyBeside(plan.Forms, plan.Bore), onlyBeside("fit", plan.For),
	atMostOne("at", "grid", "line", "circle", "points"), atMostOne("depth", "through"), atMostOne("counterbore", "countersink"))

func holeKind(h *plan.Hole) *plan.Word    { return &h.Kind }
func patternKind(h *plan.Hole) *plan.Word { return &h.Pattern.Kind }
func pattern(h *plan.Hole) *plan.Pattern  { return &h.Pattern }

var counterboreForm = object("a map that describes a counterbore", func(c *plan.Counterbore) *finding.Span { return &c.At }, []field[plan.Counterbore]{
	must(key("d", quantity, func(c *plan.Counterbore) *plan.Quantity { return &c.D }, "its diameter")),
	must(key("depth", quantity, func(c *plan.Counterbore) *plan.Quantity { return &c.Depth }, "its depth")),
})

var countersinkForm = object("a map that describes a countersink", func(c *plan.Countersink) *finding.Span { return &c.At }, []field[plan.Countersink]{
	must(key("d", quantity, func(c *plan.Countersink) *plan.Quantity { return &c.D }, "its diameter at the surface")),
	must(key("angle", quantity, func(c *plan.Countersink) *plan.Quantity { return &c.Angle }, "its angle: 90 deg")),
})

var (
	patternAt   = func(p *plan.Pattern) *finding.Span { return &p.At }
	patternFrom = must(key("from", point(2, 2), func(p *plan.Pattern) *plan.Point { return &p.Point }, "the first hole's place"))
	patternStep = must(key("step", point(2, 2), func(p *plan.Pattern) *plan.Point { return &p.Step }, "from one hole to the next"))
)

// alone is one thing as the whole of a list.
func alone[T any](f form[T]) form[[]T] {
	return form[[]T]{
		what: f.what, schema: f.schema,
		read: func(r *reader, e entry, into *[]T) {
			var one T
			f.read(r, e, &one)
			*into = []T{one}
		},
	}
}

var gridForm = object("a map that describes a grid", patternAt, []field[plan.Pattern]{
	patternFrom, patternStep,
	must(key("count", listOf("a list of 2 counts", 2, 2, quantity), func(p *plan.Pattern) *[]plan.Quantity { return &p.Count }, "how many each way: [2, 2]")),
})

var lineForm = object("a map that describes a line", patternAt, []field[plan.Pattern]{
	patternFrom, patternStep,
	must(key("count", alone(quantity), func(p *plan.Pattern) *[]plan.Quantity { return &p.Count }, "how many")),
})

var circleForm = object("a map that describes a circle", patternAt, []field[plan.Pattern]{
	must(key("centre", point(2, 2), func(p *plan.Pattern) *plan.Point { return &p.Point }, "the circle's centre")),
	must(key("d", quantity, func(p *plan.Pattern) *plan.Quantity { return &p.D }, "the circle's diameter")),
	must(key("count", alone(quantity), func(p *plan.Pattern) *[]plan.Quantity { return &p.Count }, "how many")),
	key("first", quantity, func(p *plan.Pattern) *plan.Quantity { return &p.FirstTurn }, "the angle of the first hole; 0 deg where not given"),
})
