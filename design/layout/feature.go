package layout

import (
	"strconv"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// feature is a named feature of something in assembly a, in a's axes; the first of
// a pattern that is named without a number.
func (l *Layout) feature(a *plan.Assembly, path []string) (solid.Feature, bool) {
	none := solid.Feature{}
	if len(path) < 2 {
		return none, false
	}
	use := a.Use(path[0])
	if use == nil || !use.Only.Fits(l.r.Case.Options) {
		return none, false
	}
	number, rest := 0, path[1:]
	if use.Count.Given() {
		number = 1
		if n, err := strconv.Atoi(rest[0]); err == nil {
			number, rest = n, rest[1:]
		}
	}
	frame, ok := l.frame(a, use, number)
	if !ok {
		return none, false
	}
	f, ok := l.own(use, rest)
	return Placed(f, frame), ok
}

// own is a feature of a use in its own axes: of its part, or of something in its
// assembly.
func (l *Layout) own(use *plan.Use, path []string) (solid.Feature, bool) {
	if id, ok := use.Assembly.Pick(l.r.Case.Options); ok {
		sub := l.r.Plan.Assembly(id.Text)
		if sub == nil {
			return solid.Feature{}, false
		}
		return l.feature(sub, path)
	}
	body := l.body(use)
	if body == nil {
		return solid.Feature{}, false
	}
	name := strings.Join(path, ".")
	for _, known := range []string{name, name + ".1"} {
		if f, ok := body.Feature(known); ok {
			return f, true
		}
	}
	return facing(body, name)
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
func (l *Layout) axisOf(a *plan.Assembly, use *plan.Use, about plan.Word, p solid.Placement) (solid.Feature, bool) {
	path := about.Path()
	if f, ok := l.own(use, path); ok {
		return Placed(f, p), true
	}
	if about.Text == "axis" {
		if body := l.body(use); body != nil {
			box := body.Box()
			return Placed(solid.Feature{At: box.Min.Add(box.Max).Mul(0.5), Dir: solid.Vec{Z: 1}}, p), true
		}
	}
	return l.feature(a, path)
}
