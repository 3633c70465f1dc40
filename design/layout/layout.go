package layout

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Layout is a machine with its parts in place.
type Layout struct {
	r          *reckon.Reckoning
	assemblies map[string]*local
	placed     map[*reckon.Instance]solid.Placement
	pieced     map[string][]Piece      // by assembly id
	fasteners  map[string]*solid.Solid // by part id; nil for one without a profile
	findings   []finding.Finding
}

// local holds an assembly's uses in the assembly's own axes, by name and number:
// "feet.2". Every instance of the assembly has the same.
type local struct {
	frames map[string]solid.Placement
	busy   map[string]bool
	failed map[string]bool
}

// Of places everything that the reckoning's machine holds.
func Of(r *reckon.Reckoning) *Layout {
	l := &Layout{
		r: r, assemblies: map[string]*local{}, placed: map[*reckon.Instance]solid.Placement{},
		pieced: map[string][]Piece{}, fasteners: map[string]*solid.Solid{},
	}
	root := r.Tally().Root
	if root == nil {
		return l
	}
	l.placed[root] = solid.Stay
	l.fill(root)
	return l
}

// fill places the children of a placed instance.
func (l *Layout) fill(in *reckon.Instance) {
	for _, child := range in.Children {
		frame, ok := l.frame(in.Assembly, child.Use, child.Number)
		if !ok {
			continue
		}
		l.placed[child] = frame.Then(l.placed[in])
		if child.Assembly != nil {
			l.fill(child)
		}
	}
}

// Placement is where an instance stands in the machine; ok is false for what has
// no rigid place or could not be placed.
func (l *Layout) Placement(in *reckon.Instance) (p solid.Placement, ok bool) {
	p, ok = l.placed[in]
	return p, ok
}

// Findings are what could not be placed as the plan asks.
func (l *Layout) Findings() []finding.Finding { return l.findings }

func (l *Layout) local(a *plan.Assembly) *local {
	loc := l.assemblies[a.ID.Text]
	if loc == nil {
		loc = &local{frames: map[string]solid.Placement{}, busy: map[string]bool{}, failed: map[string]bool{}}
		l.assemblies[a.ID.Text] = loc
	}
	return loc
}

// instanceName is a use's name with its number where it is repeated.
func instanceName(use *plan.Use, number int) string {
	if number == 0 {
		return use.ID.Text
	}
	return use.ID.Text + "." + strconv.Itoa(number)
}

// frame is a use's placement in its assembly's axes, worked out once.
func (l *Layout) frame(a *plan.Assembly, use *plan.Use, number int) (solid.Placement, bool) {
	loc, name := l.local(a), instanceName(use, number)
	if p, known := loc.frames[name]; known {
		return p, true
	}
	if loc.failed[name] || !Rigid(use) {
		return solid.Stay, false
	}
	if loc.busy[name] {
		at := use.At
		if use.Seat != nil {
			at = use.Seat.At
		}
		l.report(at, a, use, "its place depends on itself, through what it is seated on or turns about")
		return solid.Stay, false
	}
	loc.busy[name] = true
	p, ok := l.place(a, use, number)
	if ok {
		p, ok = l.moved(a, use, p)
	}
	delete(loc.busy, name)
	if !ok {
		loc.failed[name] = true
		return p, false
	}
	loc.frames[name] = p
	return p, true
}

// Rigid reports whether a use has a place of its own: belts, cables and what is
// stretched between two places have none.
func Rigid(use *plan.Use) bool {
	return len(use.Around) == 0 && len(use.Between) == 0 && !use.From.Given()
}

func (l *Layout) report(at finding.Span, a *plan.Assembly, use *plan.Use, message string) {
	f := CannotPlace.Stamp(finding.Finding{At: at, Subject: a.ID.Text + "." + use.ID.Text, Message: fmt.Sprintf("%q: %s", use.ID.Text, message)})
	for _, g := range l.findings {
		if g.At == f.At && g.Message == f.Message {
			return
		}
	}
	l.findings = append(l.findings, f)
}

// place is a use's placement before its motions.
func (l *Layout) place(a *plan.Assembly, use *plan.Use, number int) (solid.Placement, bool) {
	turn, ok := l.turn(use)
	if !ok {
		return solid.Stay, false
	}
	var p solid.Placement
	if use.Seat != nil {
		p, ok = l.seat(a, use, turn)
	} else {
		p, ok = l.at(use, turn)
	}
	if !ok || number < 2 || !use.Step.Given() {
		return p, ok
	}
	step, ok := l.vec(use.Step)
	return p.Then(solid.Moved(step.Mul(float64(number - 1)))), ok
}

// turn is the right-handed turns about the part's own axes, one after the other.
func (l *Layout) turn(use *plan.Use) (solid.Placement, bool) {
	p := solid.Stay
	for _, t := range use.Turn {
		v, ok := l.r.QuantityIn(t.Angle, quantity.Angle)
		if !ok {
			return p, false
		}
		p = solid.Turned(axisVec(t.Axis.Text), v.SI).Then(p)
	}
	return p, true
}

func axisVec(axis string) solid.Vec {
	v := solid.Vec{}
	switch strings.TrimLeft(axis, "+-") {
	case "x":
		v.X = 1
	case "y":
		v.Y = 1
	default:
		v.Z = 1
	}
	if strings.HasPrefix(axis, "-") {
		v = v.Mul(-1)
	}
	return v
}

func (l *Layout) vec(p plan.Point) (solid.Vec, bool) {
	if len(p.Of) != 3 {
		return solid.Vec{}, false
	}
	x, okX := l.r.Length(p.Of[0])
	y, okY := l.r.Length(p.Of[1])
	z, okZ := l.r.Length(p.Of[2])
	return solid.Vec{X: x, Y: y, Z: z}, okX && okY && okZ
}

// at brings a turned part's lowest corner, or an assembly's own origin, to a place.
func (l *Layout) at(use *plan.Use, turn solid.Placement) (solid.Placement, bool) {
	if !use.Place.Given() {
		return turn, false
	}
	at, ok := l.vec(use.Place)
	if !ok {
		return turn, false
	}
	if body := l.body(use); body != nil {
		return solid.LowestAt(body, turn, at), true
	}
	return turn.Then(solid.Moved(at)), true
}

// body is the solid of a use's part; nil for assemblies and parts without one.
func (l *Layout) body(use *plan.Use) *solid.Solid {
	id, ok := use.Part.Pick(l.r.Case.Options)
	if !ok {
		return nil
	}
	if part := l.r.Part(id.Text); part != nil {
		return part.Solid
	}
	return nil
}

// moved applies a use's motions where they rest; ok is false for one that turns
// about nothing.
func (l *Layout) moved(a *plan.Assembly, use *plan.Use, p solid.Placement) (moved solid.Placement, ok bool) {
	for _, m := range use.Moves {
		want := quantity.Length
		if m.About.Given() {
			want = quantity.Angle
		}
		v, ok := l.r.QuantityIn(m.By, want)
		if !ok || v.SI == 0 {
			continue
		}
		if !m.About.Given() {
			p = p.Then(solid.Moved(axisVec(m.Along.Text).Mul(v.SI * 1000)))
			continue
		}
		f, ok := l.axisOf(a, use, m.About, p)
		if !ok {
			l.report(m.About.At, a, use, fmt.Sprintf("there is no axis %q to turn about", m.About.Text))
			return p, false
		}
		p = p.Then(solid.TurnedAt(f.At, positive(f.Dir), v.SI))
	}
	return p, true
}

// positive turns a direction so that it follows the assembly's axis that it is
// nearest to.
func positive(d solid.Vec) solid.Vec {
	big := d.X
	for _, other := range []float64{d.Y, d.Z} {
		if math.Abs(other) > math.Abs(big) {
			big = other
		}
	}
	if big < 0 {
		return d.Mul(-1)
	}
	return d
}
