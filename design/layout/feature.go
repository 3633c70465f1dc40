package layout

import (
	"fmt"
	"strconv"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// A target is what a reference from an assembly reaches: a part, an assembly, or a
// feature of a part.
type target struct {
	use  *plan.Use
	path string          // uses from the assembly, numbered: "frame.feet.2"
	name string          // of the feature, as the part has it; "" for the whole
	at   solid.Placement // takes the axes of what use places to those of the assembly
}

// A miss is why a reference reaches nothing; an empty one says that the name is
// simply not there.
type miss struct {
	absent string // what else is missing, in words
	choice bool   // because it belongs to another choice
	told   bool   // reported where it arose
}

// reach follows a reference from assembly a.
func (l *Layout) reach(a *plan.Assembly, path []string) (target, *miss) {
	use := a.Use(path[0])
	if use == nil {
		return target{}, &miss{}
	}
	if !use.Only.Fits(l.r.Case.Options) {
		return target{}, &miss{choice: true, absent: fmt.Sprintf("%q is there only with %s", use.ID.Text, onlyText(use.Only))}
	}
	number, rest := 0, path[1:]
	if use.Count.Given() {
		number = 1
		if len(rest) > 0 {
			if n, err := strconv.Atoi(rest[0]); err == nil {
				number, rest = n, rest[1:]
			}
		}
		if _, last := l.r.Numbers(use); number < 1 || number > last {
			return target{}, &miss{absent: fmt.Sprintf("there are %d %q, no number %d", last, use.ID.Text, number)}
		}
	}
	t := target{use: use, path: instanceName(use, number), name: strings.Join(rest, ".")}
	if len(use.Between) > 0 {
		s := l.stretch(a, use, number)
		if s == nil {
			return t, &miss{told: true}
		}
		t.at = s.frame(t.name)
		return t, nil
	}
	frame, ok := l.frame(a, use, number)
	if !ok {
		return t, &miss{told: true}
	}
	t.at = frame
	id, ok := use.Assembly.Pick(l.r.Case.Options)
	sub := l.r.Plan.Assembly(id.Text)
	if !ok || sub == nil || len(rest) == 0 {
		return t, nil
	}
	inner, miss := l.reach(sub, rest)
	inner.at, inner.path = inner.at.Then(frame), t.path+"."+inner.path
	return inner, miss
}

// onlyText are the choices that something is there with: "drive: motor".
func onlyText(only plan.Only) string {
	var conditions []string
	for _, c := range only.Conditions {
		var options []string
		for _, o := range c.Options {
			options = append(options, o.Text)
		}
		conditions = append(conditions, c.Choice.Text+": "+strings.Join(options, " or "))
	}
	return strings.Join(conditions, ", ")
}

// missing reports that a reference reaches nothing, with what is said where the
// name is simply not there. That what belts, strands and telescoping parts hang on
// belongs to another choice is for the rules to say.
func (l *Layout) missing(w plan.Word, a *plan.Assembly, use *plan.Use, why *miss, plain string) {
	switch {
	case why.told, why.choice && !Rigid(use):
	case why.absent != "":
		l.report(w.At, a, use, fmt.Sprintf("it hangs on %q, but %s", w.Text, why.absent))
	default:
		l.report(w.At, a, use, plain)
	}
}

// feature is a named feature of something in assembly a, in a's axes; the first of
// a pattern that is named without a number.
func (l *Layout) feature(a *plan.Assembly, path []string) (solid.Feature, *miss) {
	t, why := l.reach(a, path)
	if why != nil {
		return solid.Feature{}, why
	}
	f, ok := bodyFeature(l.body(t.use), t.name)
	if !ok {
		return f, &miss{told: l.faulty(t.use)}
	}
	return Placed(f, t.at), nil
}

// FeatureOf is a feature of a part in assembly a, by the part's path from there and the
// feature's name, in a's axes; ok is false where there is none.
func (l *Layout) FeatureOf(a *plan.Assembly, path, name string) (f solid.Feature, ok bool) {
	f, why := l.feature(a, append(plan.Word{Text: path}.Path(), plan.Word{Text: name}.Path()...))
	return f, why == nil
}

// own is a feature of a use in its own axes: of its part, or of something in its
// assembly.
func (l *Layout) own(use *plan.Use, path []string) (solid.Feature, *miss) {
	if id, ok := use.Assembly.Pick(l.r.Case.Options); ok {
		if sub := l.r.Plan.Assembly(id.Text); sub != nil {
			return l.feature(sub, path)
		}
		return solid.Feature{}, &miss{}
	}
	f, ok := bodyFeature(l.body(use), strings.Join(path, "."))
	if !ok {
		return f, &miss{told: l.faulty(use)}
	}
	return f, nil
}

// faulty reports whether a use's part has a shape that cannot be worked out, which
// is told where the shape stands.
func (l *Layout) faulty(use *plan.Use) bool {
	id, ok := use.Part.Pick(l.r.Case.Options)
	if !ok {
		return false
	}
	part := l.r.Part(id.Text)
	return part != nil && part.Faulty
}

// bodyFeature is a feature of a solid, which may be nil, by the name that the part
// has for it.
func bodyFeature(body *solid.Solid, name string) (solid.Feature, bool) {
	if body == nil || name == "" {
		return solid.Feature{}, false
	}
	for _, known := range []string{name, name + ".1"} {
		if f, ok := body.Feature(known); ok {
			return f, true
		}
	}
	if name == "thread" {
		return threaded(body)
	}
	return facing(body, name)
}

// threaded is the first round feature of a body that has a thread: what "thread" means of
// a threaded bar that has no shape of that name.
func threaded(body *solid.Solid) (solid.Feature, bool) {
	for _, f := range body.Features() {
		if f.Thread != nil && (f.Kind == solid.AxisFeature || f.Kind == solid.BodyFeature || f.Kind == solid.HoleFeature) {
			return f, true
		}
	}
	return solid.Feature{}, false
}

// faceWays are the ways that the six faces look.
var faceWays = map[string]solid.Vec{
	"left": {X: -1}, "right": {X: 1}, "front": {Y: -1}, "back": {Y: 1}, "bottom": {Z: -1}, "top": {Z: 1},
}

// facing is the flat face that looks the way of a face's name: the ends of a round
// bar, named start and end, are its top and bottom when it stands.
func facing(body *solid.Solid, name string) (solid.Feature, bool) {
	way, known := faceWays[name]
	if !known {
		return solid.Feature{}, false
	}
	for _, f := range body.Features() {
		if f.Kind == solid.FlatFace && f.Dir.Dot(way) > 1-solid.Tolerance {
			return f, true
		}
	}
	return solid.Feature{}, false
}

// Placed is a feature where a placement takes it.
func Placed(f solid.Feature, p solid.Placement) solid.Feature {
	f.At, f.Dir, f.Along = p.Point(f.At), p.Direction(f.Dir), p.Direction(f.Along)
	return f
}

// axisOf is the axis that a motion turns about: the use's own, a feature of its
// own, or one of the assembly.
func (l *Layout) axisOf(a *plan.Assembly, use *plan.Use, about plan.Word, p solid.Placement) (solid.Feature, *miss) {
	path := about.Path()
	if f, why := l.own(use, path); why == nil {
		return Placed(f, p), nil
	}
	if about.Text == "axis" {
		if body := l.body(use); body != nil {
			box := body.Box()
			return Placed(solid.Feature{At: box.Centre(), Dir: solid.Vec{Z: 1}}, p), nil
		}
	}
	l.hangs("turning about", about.At)
	return l.feature(a, path)
}
