package source

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

var assemblyForm = object("a map that describes an assembly", func(a *plan.Assembly) *finding.Span { return &a.At }, []field[plan.Assembly]{
	must(key("title", title, func(a *plan.Assembly) *plan.Text { return &a.Title }, "what the builder calls it")),
	must(key("holds", pointers("a map of uses", useForm, id, func(u *plan.Use) *plan.Word { return &u.ID }), func(a *plan.Assembly) *[]*plan.Use { return &a.Holds }, "the parts and assemblies in it, each in its place")),
	key("joints", pointers("a map of joints", jointForm, id, func(j *plan.Joint) *plan.Word { return &j.ID }), func(a *plan.Assembly) *[]*plan.Joint { return &a.Joints }, "what holds them together"),
	key("steps", pointers("a map of steps", stepForm, id, func(s *plan.Step) *plan.Word { return &s.ID }), func(a *plan.Assembly) *[]*plan.Step { return &a.Steps }, "the order of work"),
	key("notes", list("a list of notes", markdown), func(a *plan.Assembly) *[]plan.Text { return &a.Notes }, "notes for its page and drawing"),
	has(func(a *plan.Assembly) *[]plan.Named { return &a.Has }),
})

var useForm = within(object("a map that places a part or an assembly", func(u *plan.Use) *finding.Span { return &u.At }, []field[plan.Use]{
	key("part", reference("part", toPart), func(u *plan.Use) *plan.Reference { return &u.Part }, "the part"),
	key("assembly", reference("assembly", toAssembly), func(u *plan.Use) *plan.Reference { return &u.Assembly }, "the assembly"),
	key("at", point(3, 3), func(u *plan.Use) *plan.Point { return &u.Place }, "where its lowest corner comes to stand, once turned: [0 mm, 0 mm, 12 mm]"),
	key("turn", oneOrMore("a turn such as z 90 deg, or a list of them", turningForm), func(u *plan.Use) *[]plan.Turning { return &u.Turn }, "right-handed about its own axes, in order: z 180 deg"),
	key("seat", pointer(seatForm), func(u *plan.Use) **plan.Seat { return &u.Seat }, "lays one of its faces on another"),
	key("between", betweenForm, func(u *plan.Use) *[]plan.End { return &u.Between }, "what its two ends are fixed to"),
	key("around", list("a list of pulleys", ref(toFeature)), func(u *plan.Use) *[]plan.Word { return &u.Around }, "what a belt runs around"),
	key("pressed_by", ref(toFeature), func(u *plan.Use) *plan.Word { return &u.Pressed }, "what takes up a belt's slack"),
	key("from", ref(toFeature), func(u *plan.Use) *plan.Word { return &u.From }, "where a strand begins"),
	key("to", ref(toFeature), func(u *plan.Use) *plan.Word { return &u.To }, "where a strand ends"),
	key("via", list("a list of features and points", waypointForm), func(u *plan.Use) *[]plan.Waypoint { return &u.Via }, "what a strand passes on its way: clip.channel, or a point in the assembly's axes such as [40 mm, 0 mm, 90 mm]"),
	key("moves", oneOrMore("a map that says how it moves, or a list of them", moveForm), func(u *plan.Use) *[]plan.Move { return &u.Moves }, "how it moves: {along: z, by: -stroke}"),
	key("way", oneOrMore("an axis such as -z, or a list of them with lengths", legForm), func(u *plan.Use) *[]plan.Leg { return &u.Way }, "how it comes in, where that is not straight from any side: -z, or [-z, x 40 mm]"),
	key("overlaps", oneOrMore("a map that says what it is drawn into, or a list of them", overlapForm), func(u *plan.Use) *[]plan.Overlap { return &u.Overlaps }, "what it is drawn into on purpose: {with: left_gear, by: 2 mm, because: their teeth mesh}"),
	key("count", quantity, func(u *plan.Use) *plan.Quantity { return &u.Count }, "how many, each a step further"),
	key("step", point(3, 3), func(u *plan.Use) *plan.Point { return &u.Step }, "from one to the next: [80 mm, 0 mm, 0 mm]"),
	only(func(u *plan.Use) *plan.Only { return &u.Only }),
}, exactlyOne("part", "assembly"), atMostOne("at", "seat", "between", "around"), needs("from", "to"), needs("to", "from"), onlyBeside("via", "from"),
	onlyBeside("pressed_by", "around"), needs("step", "count")),
	func(r *reader, u *plan.Use) { r.use = u }, func(r *reader) { r.use = nil })

// waypointForm is a feature or a point that a strand passes.
var waypointForm = either2(
	holding(ref(toFeature), func(s *plan.Waypoint) *plan.Word { return &s.Of }),
	holding(point(3, 3), func(s *plan.Waypoint) *plan.Point { return &s.At }),
)

// overlapForm is a body that a use is drawn into, how deep, and why.
var overlapForm = object("a map that says what it is drawn into", func(o *plan.Overlap) *finding.Span { return &o.At }, []field[plan.Overlap]{
	must(key("with", ref(toUseOrJoint), func(o *plan.Overlap) *plan.Word { return &o.With }, "the other use, or the joint whose screws it is drawn into")),
	must(key("by", quantity, func(o *plan.Overlap) *plan.Quantity { return &o.By }, "how deep at most: 2 mm")),
	must(key("because", markdown, func(o *plan.Overlap) *plan.Text { return &o.Because }, "why that is meant")),
})

// turningForm is an axis and an angle: "z 180 deg".
var turningForm = scalar("a turn such as z 90 deg", schema{"type": "string", "pattern": `^[xyz] `}, func(r *reader, e entry, into *plan.Turning) {
	axis, angle, found := strings.Cut(e.value.Value, " ")
	at := r.doc.span(e.value)
	if !found || len(axis) != 1 || !strings.Contains("xyz", axis) {
		r.report(badValue, at, fmt.Sprintf("%s is no turn", quoted(e.value.Value)), "write the axis and the angle: z 90 deg")
		return
	}
	into.At = at
	into.Axis = plan.Word{Text: axis, At: at}
	if start, ok := r.doc.inside(e.value); ok {
		into.Axis.At = finding.OnLine(at.File, start.Line, start.Column, 1)
	}
	into.Angle = r.partOf(e.value, angle, len(axis)+1)
})

// legForm is an axis, and how far along it: "-z", "x 40 mm".
var legForm = scalar("an axis such as -z, or one with a length such as x 40 mm", schema{"type": "string", "pattern": `^-?[xyz]( |$)`}, func(r *reader, e entry, into *plan.Leg) {
	axis, length, long := strings.Cut(e.value.Value, " ")
	at := r.doc.span(e.value)
	if letter := strings.TrimPrefix(axis, "-"); len(letter) != 1 || !strings.Contains("xyz", letter) {
		r.report(badValue, at, fmt.Sprintf("%s is no way", quoted(e.value.Value)), "write the axis along which it moves in, and how far where it turns off: -z, or x 40 mm")
		return
	}
	into.At = at
	into.Axis = plan.Word{Text: axis, At: at}
	if start, ok := r.doc.inside(e.value); ok {
		into.Axis.At = finding.OnLine(at.File, start.Line, start.Column, len(axis))
	}
	if long {
		into.By = r.partOf(e.value, length, len(axis)+1)
	}
})

// partOf reads the quantity that stands in a scalar from byte offset to its end.
func (r *reader) partOf(n *yaml.Node, text string, offset int) plan.Quantity {
	q := plan.Quantity{At: r.doc.span(n)}
	q.Plain.At = q.At
	lead := len(text) - len(strings.TrimLeft(text, " "))
	text = strings.TrimSpace(text)
	if start, ok := r.doc.inside(n); ok {
		column := start.Column + runes(n.Value[:offset]) + lead
		q.Plain.Start = finding.OnLine(r.doc.file, start.Line, column, runes(text))
		q.Plain.At, q.At = q.Plain.Start, q.Plain.Start
	}
	expr, fault := formula.Parse(text)
	if fault != nil {
		r.formulaFault(q.Plain, text, fault)
		return plan.Quantity{}
	}
	q.Plain.Expr = expr
	return q
}

var seatForm = object("a map that seats it", func(s *plan.Seat) *finding.Span { return &s.At }, []field[plan.Seat]{
	must(key("mine", ref(toOwnFeature), func(s *plan.Seat) *plan.Word { return &s.Mine }, "my face")),
	must(key("onto", ref(toFeature), func(s *plan.Seat) *plan.Word { return &s.Onto }, "the face that it lies on: left_post.top")),
	key("line_up", lineUpForm, func(s *plan.Seat) *[][2]plan.Word { return &s.LineUp }, "my feature and theirs that come to lie in line: [posts.1, left_post.crown]"),
	key("gap", quantity, func(s *plan.Seat) *plan.Quantity { return &s.Gap }, "the distance between the faces"),
	key("spin", quantity, func(s *plan.Seat) *plan.Quantity { return &s.Spin }, "a turn about the faces' common normal"),
})

// pairForm is my feature and theirs.
var pairForm = form[[2]plan.Word]{
	what: "a pair of features",
	read: func(r *reader, e entry, into *[2]plan.Word) {
		if !r.expect(e, yaml.SequenceNode, "a pair of features") {
			return
		}
		if n := len(e.value.Content); n != 2 {
			r.report(wrongKind, r.where(e), fmt.Sprintf("%s takes a pair of features, not %d", r.name(e), n), "write my feature and theirs: [posts.1, left_post.crown]")
			return
		}
		for i, to := range []target{toOwnFeature, toFeature} {
			item := entry{value: e.value.Content[i]}
			r.value(item, func() { ref(to).read(r, item, &into[i]) })
		}
	},
	schema: func(b *book) schema {
		return schema{"type": "array", "items": ref(toFeature).schema(b), "minItems": 2, "maxItems": 2}
	},
}

// lineUpForm is one pair, or a list of pairs.
var lineUpForm = form[[][2]plan.Word]{
	what: "a pair of features, or a list of pairs",
	read: func(r *reader, e entry, into *[][2]plan.Word) {
		if e.value.Kind == yaml.SequenceNode && len(e.value.Content) > 0 && e.value.Content[0].Kind == yaml.SequenceNode {
			list("a list of pairs", pairForm).read(r, e, into)
			return
		}
		before := r.faults
		var pair [2]plan.Word
		if pairForm.read(r, e, &pair); r.faults == before {
			*into = append(*into, pair)
		}
	},
	schema: func(b *book) schema {
		return schema{"anyOf": []schema{pairForm.schema(b), list("", pairForm).schema(b)}}
	},
}

// betweenForm is a map of two entries: my feature, and what it is fixed to.
var betweenForm = form[[]plan.End]{
	what: "a map from two of its features to what they are fixed to",
	read: func(r *reader, e entry, into *[]plan.End) {
		if !r.expect(e, yaml.MappingNode, "a map from two of its features to what they are fixed to") {
			return
		}
		if n := len(e.value.Content) / 2; n != 2 {
			r.report(wrongKind, r.where(e), fmt.Sprintf("%s takes two features, not %d", r.name(e), n), "write {mine: theirs, mine: theirs}")
			return
		}
		entries("", form[plan.End]{read: func(r *reader, e entry, end *plan.End) { ref(toFeature).read(r, e, &end.Theirs) }},
			ref(toOwnFeature), func(end *plan.End) *plan.Word { return &end.Mine }).read(r, e, into)
	},
	schema: func(b *book) schema {
		return schema{"type": "object", "minProperties": 2, "maxProperties": 2, "propertyNames": ref(toFeature).schema(b), "additionalProperties": ref(toFeature).schema(b)}
	},
}

var moveForm = object("a map that says how it moves", func(m *plan.Move) *finding.Span { return &m.At }, []field[plan.Move]{
	key("along", oneWord("x", "y", "z"), func(m *plan.Move) *plan.Word { return &m.Along }, "the axis along which it slides"),
	key("about", ref(toTurningAxis), func(m *plan.Move) *plan.Word { return &m.About }, "the feature about which it turns, or axis for its own"),
	must(key("by", quantity, func(m *plan.Move) *plan.Quantity { return &m.By }, "how far, by the plan's motions: -stroke")),
}, exactlyOne("along", "about"))

// jointKind is a key that names my features in a joint of that kind.
func jointKind(name, doc string) field[plan.Joint] {
	return field[plan.Joint]{
		key: name, doc: doc, what: layerForm.what, schema: layerForm.schema,
		read: func(r *reader, e entry, into *plan.Joint) {
			into.Kind = r.word(e.key) // a grip may have a screw beside it, which then is not the kind
			layerForm.read(r, e, &into.Mine)
		},
	}
}

func theirs(name, doc string) field[plan.Joint] {
	return key(name, layerForm, func(j *plan.Joint) *plan.Layer { return &j.Theirs }, doc)
}

var jointForm = object("a map that describes a joint", func(j *plan.Joint) *finding.Span { return &j.At }, []field[plan.Joint]{
	screwKey,
	key("recorded", ref(toPart), func(j *plan.Joint) *plan.Word { return &j.Recorded }, "the screw that a fit chose when it was last looked at: cap_m8x25"),
	fastenerKey(plan.Pin, "a pin that holds layers in line: pin_4x20"),
	fastenerKey(plan.Rivet, "a blind rivet, its head on the first layer: rivet_4x8"),
	fastenerKey(plan.Ring, "a retaining ring, in the groove that into names: ring_12"),
	jointKind(plan.Press, "held by an interference fit: this in the feature that into names"),
	jointKind(plan.Push, "held by a locating fit"),
	jointKind(plan.Slide, "slides in a running fit"),
	jointKind(plan.Run, "a thread that turns in use"),
	jointKind(plan.Grip, "gripped by the feature that by names"),
	jointKind(plan.Glue, "glued onto the face that onto names"),
	key("under_head", list("a list of parts", reference("part", toPart)), func(j *plan.Joint) *[]plan.Reference { return &j.UnderHead }, "between the screw's head and the first layer: [washer_m8]"),
	key("under_nut", list("a list of parts", reference("part", toPart)), func(j *plan.Joint) *[]plan.Reference { return &j.UnderNut }, "between the last layer and the nut"),
	key("through", list("a list of layers", layerForm), func(j *plan.Joint) *[]plan.Layer { return &j.Through }, "layers from the head to where it threads: [head.posts, [left_post.crown, right_post.crown]]"),
	key("adjusts", list("a list of features", ref(toFeature)), func(j *plan.Joint) *[]plan.Word { return &j.Adjusts }, "layers whose play is meant, because a part is set by it, as round an eccentric spacer: [plate.eyes]"),
	{
		key: "into", doc: "of a screw: the nut, slot nut or insert; of a ring: its groove; else the feature that takes it", what: "a part or features",
		schema: func(b *book) schema {
			return schema{"anyOf": []schema{reference("part", toPart).schema(b), layerForm.schema(b)}}
		},
		read: func(r *reader, e entry, into *plan.Joint) {
			if r.beside(plan.Screw) {
				reference("part", toPart).read(r, e, &into.Into)
				return
			}
			if !r.beside(plan.Ring) {
				layerForm.read(r, e, &into.Theirs)
				return
			}
			into.Through = make([]plan.Layer, 1) // all that a ring goes on
			layerForm.read(r, e, &into.Through[0])
		},
	},
	theirs("by", "the feature that grips"),
	theirs("onto", "the face that it is glued onto"),
	key("with", reference("part", toPart), func(j *plan.Joint) *plan.Reference { return &j.With }, "the glue"),
	key("also", list("a list of places", list("a list of features, one for each layer", ref(toFeature))), func(j *plan.Joint) *[][]plan.Word { return &j.Also }, "places written out, a feature for each layer"),
	key("torque", torqueForm, func(j *plan.Joint) *plan.Torque { return &j.Torque }, "auto, hand or a torque: 9 N*m"),
	key("lock", word, func(j *plan.Joint) *plan.Word { return &j.Lock }, "what keeps it from coming loose, or none"),
	key("stays_reachable", flag, func(j *plan.Joint) *bool { return &j.Reachable }, "yes for what is adjusted on the finished machine"),
	only(func(j *plan.Joint) *plan.Only { return &j.Only }),
},
	atLeastOne(plan.Screw, plan.Press, plan.Push, plan.Slide, plan.Run, plan.Grip, plan.Glue, plan.Pin, plan.Rivet, plan.Ring),
	atMostOne(plan.Press, plan.Push, plan.Slide, plan.Run, plan.Grip, plan.Glue, plan.Pin, plan.Rivet, plan.Ring),
	atMostOne(plan.Screw, plan.Press), atMostOne(plan.Screw, plan.Push), atMostOne(plan.Screw, plan.Slide), atMostOne(plan.Screw, plan.Run), atMostOne(plan.Screw, plan.Glue),
	atMostOne(plan.Screw, plan.Pin), atMostOne(plan.Screw, plan.Rivet), atMostOne(plan.Screw, plan.Ring),
	needs(plan.Screw, "through"), needs(plan.Press, "into"), needs(plan.Push, "into"), needs(plan.Slide, "into"), needs(plan.Run, "into"), needs(plan.Grip, "by"), needs(plan.Glue, "onto"),
	needs(plan.Pin, "through"), needs(plan.Rivet, "through"), needs(plan.Ring, "into"),
	onlyBeside("under_head", plan.Screw, plan.Rivet), onlyBeside("under_nut", plan.Screw), onlyBeside("through", plan.Screw, plan.Pin, plan.Rivet), onlyBeside("adjusts", "through"), onlyBeside("torque", plan.Screw, plan.Grip),
	onlyBeside("recorded", plan.Screw), onlyBeside("by", plan.Grip), onlyBeside("onto", plan.Glue), onlyBeside("with", plan.Glue))

// fastenerKey names the part that makes a joint, and so the joint's kind.
func fastenerKey(name, doc string) field[plan.Joint] {
	part := reference("part", toPart)
	return field[plan.Joint]{
		key: name, doc: doc, what: part.what, schema: part.schema,
		read: func(r *reader, e entry, into *plan.Joint) {
			into.Kind = r.word(e.key)
			part.read(r, e, &into.Fastener)
		},
	}
}

// screwKey names the joint's screw, or what the tool is to choose one by.
var screwKey = field[plan.Joint]{
	key: plan.Screw, doc: "the screw, or what to choose one of the plan's screws by: cap_m8x25, or fit ISO 4762 M8", what: screwForm.what, schema: screwForm.schema,
	read: func(r *reader, e entry, into *plan.Joint) {
		if !into.Kind.Given() {
			into.Kind = r.word(e.key)
		}
		screwForm.read(r, e, &into.Fastener)
		for _, w := range into.Fastener.All() {
			if strings.HasPrefix(w.Text, plan.FitPrefix) {
				into.Fit, into.Fastener = into.Fastener, plan.Reference{}
				return
			}
		}
	},
}

// screwForm is the id of a part, or fit with a standard and a thread.
var screwForm = choosable("screw", scalar("the id of a part, or fit with a standard and a thread", schema{"type": "string"}, func(r *reader, e entry, into *plan.Word) {
	if w := r.word(e.value); strings.HasPrefix(w.Text, plan.FitPrefix) {
		*into = w
		return
	}
	ref(toPart).read(r, e, into)
}))

// layerForm is one feature, or several that a joint passes through together.
var layerForm = form[plan.Layer]{
	what: "a feature or a list of features",
	read: func(r *reader, e entry, into *plan.Layer) {
		into.At = r.doc.span(e.value)
		features.read(r, e, &into.Features)
	},
	schema: features.schema,
}

var features = oneOrMore("a feature or a list of features", ref(toFeature))

// torqueForm is a word or a quantity.
var torqueForm = form[plan.Torque]{
	what: "auto, hand or a torque",
	read: func(r *reader, e entry, into *plan.Torque) {
		into.At = r.doc.span(e.value)
		if e.value.Value == "auto" || e.value.Value == "hand" {
			into.Word = r.word(e.value)
			return
		}
		quantity.read(r, e, &into.Is)
	},
	schema: quantity.schema,
}

var stepForm = object("a map that describes a step", func(s *plan.Step) *finding.Span { return &s.At }, []field[plan.Step]{
	must(key("title", title, func(s *plan.Step) *plan.Text { return &s.Title }, "what is done")),
	key("adds", list("a list of uses", ref(toUse)), func(s *plan.Step) *[]plan.Word { return &s.Adds }, "what comes to its place"),
	key("slides_in", list("a list of joints", ref(toJoint)), func(s *plan.Step) *[]plan.Word { return &s.SlidesIn }, "joints made later whose slot nuts are put in now"),
	key("fastens", list("a list of joints", ref(toJoint)), func(s *plan.Step) *[]plan.Word { return &s.Fastens }, "joints that are made"),
	key("loose", list("a list of joints", ref(toJoint)), func(s *plan.Step) *[]plan.Word { return &s.Loose }, "joints that are started and tightened by a later step"),
	key("tightens", list("a list of joints", ref(toJoint)), func(s *plan.Step) *[]plan.Word { return &s.Tightens }, "joints that were left loose"),
	key("rests_on", oneWord(append(plan.Faces(), plan.Hand)...), func(s *plan.Step) *plan.Word { return &s.RestsOn }, "the face of the assembly that the work rests on from this step on, or hand; bottom where no step says"),
	key("uses", list("a list of consumables with amounts", usingForm), func(s *plan.Step) *[]plan.Using { return &s.Uses }, "consumables with their amounts: [grease 2 g]"),
	key("tools", list("a list of tools", ref(toTool)), func(s *plan.Step) *[]plan.Word { return &s.Tools }, "beyond those that the joints call for"),
	key("text", wording, func(s *plan.Step) *plan.Wording { return &s.Text }, "how it is done"),
	key("time", quantity, func(s *plan.Step) *plan.Quantity { return &s.Time }, "how long it takes: 15 min"),
	key("people", quantity, func(s *plan.Step) *plan.Quantity { return &s.People }, "how many it takes, where more than one: 2"),
	key("measure", list("a list of things to measure", measureForm), func(s *plan.Step) *[]plan.Measure { return &s.Measures }, "what to measure at the end"),
	{
		key: "needs", doc: "steps that come before; the one above where not given", what: "a list of steps",
		schema: list("", ref(toStep)).schema,
		read: func(r *reader, e entry, into *plan.Step) {
			into.NeedsAt = r.doc.span(e.value)
			list("a list of steps", ref(toStep)).read(r, e, &into.Needs)
		},
	},
	key("picture", pointer(viewpointForm), func(s *plan.Step) **plan.Viewpoint { return &s.Picture }, "from where it is shown: {from: front right above}"),
	only(func(s *plan.Step) *plan.Only { return &s.Only }),
})

// usingForm is a consumable and its amount: "grease 2 g".
var usingForm = scalar("a consumable and its amount", schema{"type": "string", "pattern": `^[a-z][a-z0-9_]* `}, func(r *reader, e entry, into *plan.Using) {
	name, amount, found := strings.Cut(e.value.Value, " ")
	at := r.doc.span(e.value)
	into.At = at
	if !found {
		r.report(badValue, at, fmt.Sprintf("%s does not say how much", quoted(e.value.Value)), "write the consumable and the amount: grease 2 g")
		return
	}
	w := plan.Word{Text: name, At: at}
	if start, ok := r.doc.inside(e.value); ok {
		w.At = finding.OnLine(at.File, start.Line, start.Column, runes(name))
	}
	r.refer(toPart, w, &into.Part)
	into.Amount = r.partOf(e.value, amount, len(name)+1)
})

var measureForm = object("a map that says what to measure", func(m *plan.Measure) *finding.Span { return &m.At }, []field[plan.Measure]{
	must(key("say", markdown, func(m *plan.Measure) *plan.Text { return &m.Say }, "what to measure, in words")),
	key("of", quantity, func(m *plan.Measure) *plan.Quantity { return &m.Of }, `what it is in the plan: "diagonal(left_post, right_post)"`),
	key("is", quantity, func(m *plan.Measure) *plan.Quantity { return &m.Is }, "the value wanted, where it is not computed"),
	key("within", quantity, func(m *plan.Measure) *plan.Quantity { return &m.Within }, "by how much it may be off: 0.5 mm"),
	only(func(m *plan.Measure) *plan.Only { return &m.Only }),
})

var viewpointForm = object("a map that says from where", func(v *plan.Viewpoint) *finding.Span { return &v.At }, []field[plan.Viewpoint]{
	key("from", spelled("directions", `^(front|back|left|right|above|below)( (front|back|left|right|above|below))*$`, "front right above"), func(v *plan.Viewpoint) *plan.Word { return &v.From }, "directions: front right above"),
	key("file", fileName, func(v *plan.Viewpoint) *plan.Word { return &v.File }, "a picture of your own: files/step_3.jpg"),
}, exactlyOne("from", "file"))
