package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Belt is laid around its pulleys. Lengths are mm.
type Belt struct {
	Instance *reckon.Instance // nil in a belt of an assembly's own axes
	Part     *reckon.Part
	Frame    solid.Frame   // the pitch line lies in its x and y, the pulleys' axes along z; O in the middle of the belt's width
	Pulleys  []Pulley      // in the order of the plan, anticlockwise in Frame
	Line     solid.Outline // the pitch line, pressed in where something presses on it
	Length   float64       // of the pitch line around the pulleys alone
	Stated   float64       // of the belt: pitch times teeth
	Pitch    float64       // of the belt
	Teeth    float64       // of the belt
	Width    float64       // of the belt
	Thick    float64       // of the belt with its teeth; 0 where the plan does not say
	Inside   float64       // from the pitch line to the ground between the teeth
	Back     float64       // from the pitch line to the belt's back
	Pressed  plan.Word     // what takes up the slack; not given for none
	Slack    float64       // what is left of the belt's length once it is pressed; as Over for a belt that nothing presses

	press *wheel // what presses on it, in its plane; nil for none, or where nobody knows its place
	free  loop   // around the pulleys alone
	loop  loop   // pressed in
	body  *solid.Solid
	at    solid.Placement
	built bool
}

const (
	// backShare is how much of a toothed belt's thickness lies outside of its pitch
	// line: from a quarter to some more than a third for the usual profiles. Common
	// practice, no source.
	backShare = 1.0 / 3
	// beltStretch is the share of its length by which a belt is stretched when it is
	// set, or may be slack on a fixed distance. Common practice, no source.
	beltStretch = 0.002
	// leastSlack (mm) is what is allowed to short belts.
	leastSlack = 0.3
)

// Over is by how much the belt is longer than its path; negative when it is shorter.
func (b *Belt) Over() float64 { return b.Stated - b.Length }

// Fits reports whether the belt's length suits its path: within what a belt gives, or
// longer where something takes up the slack.
func (b *Belt) Fits() bool {
	return b.Over() >= -b.gives() && (b.Over() <= b.gives() || b.Pressed.Given())
}

// gives is by how much the belt may be longer or shorter than its path.
func (b *Belt) gives() float64 { return math.Max(leastSlack, beltStretch*b.Length) }

// Apart is the pulley to move for the belt to fit, and by how much: away from where
// the belt comes from and goes to, or towards it when negative. A smooth pulley is
// taken before a toothed one, and then the one round which the belt turns most; where
// moving it does not do, the next. ok is false where moving one pulley does not do.
func (b *Belt) Apart() (pulley int, by float64, ok bool) {
	order, gains := make([]int, len(b.Pulleys)), make([]float64, len(b.Pulleys))
	for i, p := range b.Pulleys {
		order[i] = i
		if _, gains[i] = b.free.pull(i); p.Teeth == 0 && len(b.Pulleys) > 2 {
			gains[i] += 2 // more than any gain of a toothed one
		}
		gains[i] = math.Round(gains[i]*1e6) / 1e6 // equal ones keep the plan's order
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(gains[j], gains[i]) })
	for _, i := range order {
		if by, _, ok = b.free.move(i, b.Stated); ok {
			return i, by, true
		}
	}
	return 0, 0, false
}

// Body is the belt as a solid band without its teeth, lying on its pulleys, and
// where it stands; nil where its thickness is not known or its path crosses itself.
func (b *Belt) Body() (*solid.Solid, solid.Placement) {
	if b.built {
		return b.body, b.at
	}
	b.built = true
	shape, at, ok := b.Band()
	if !ok {
		return nil, b.at
	}
	body, err := solid.Build(shape)
	if err != nil {
		return nil, b.at // a path that crosses itself has no inside
	}
	b.body, b.at = body, at
	return b.body, b.at
}

// Band is the shape of the belt's [Belt.Body], which takes long to build, and where it
// stands; ok is false where its thickness is not known.
func (b *Belt) Band() (shape solid.Shape, at solid.Placement, ok bool) {
	outer, low, ok := b.loop.outline(b.Back)
	inner, lowInside, okInside := b.loop.outline(-b.Inside)
	if !ok || !okInside || b.Back+b.Inside < solid.MinSize {
		return shape, at, false
	}
	shape.Base = solid.Group{
		{Shape: solid.Extruded{Outline: outer, L: b.Width}, At: solid.Vec{X: low.X, Y: low.Y}, Along: solid.AxisZ},
		{Shape: solid.Extruded{Outline: inner, L: b.Width + 2}, At: solid.Vec{X: lowInside.X, Y: lowInside.Y, Z: -1}, Along: solid.AxisZ, Cut: true},
	}
	return shape, solid.Moved(solid.Vec{X: low.X, Y: low.Y, Z: -b.Width / 2}).Then(framed(b.Frame)), true
}

// framed takes a frame's axes to those that it stands in.
func framed(f solid.Frame) solid.Placement {
	return solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}, Move: f.O}
}

// Belts lists every belt that runs around pulleys, in the machine's axes and in the
// order of its instances. A belt whose path cannot be found is left out and among
// the findings.
func (l *Layout) Belts() []*Belt { return l.belts }

func (l *Layout) findBelts() []*Belt {
	var out []*Belt
	for _, in := range l.r.Tally().Instances {
		frame, placed := l.placed[in.Parent]
		if !placed || len(in.Use.Around) == 0 {
			continue
		}
		own := l.belt(in.Parent.Assembly, in.Use)
		if own == nil {
			continue
		}
		b := *own
		b.Instance, b.built = in, false
		b.Frame = frame.Frame(b.Frame)
		out = append(out, &b)
	}
	return out
}

// belt lays a use around its pulleys in its assembly's axes, once; nil where that
// cannot be.
func (l *Layout) belt(a *plan.Assembly, use *plan.Use) *Belt {
	loc := l.local(a)
	if b, known := loc.belts[use.ID.Text]; known {
		l.sway(b == nil || loc.swayed[use.ID.Text])
		return b
	}
	if still := l.standing(a); still != nil {
		if b := still.belts[use.ID.Text]; b != nil && !still.swayed[use.ID.Text] {
			loc.belts[use.ID.Text] = b
			return b
		}
	}
	before := l.went
	loc.belts[use.ID.Text] = nil
	b := l.sized(a, use)
	if b == nil {
		return nil
	}
	for _, w := range use.Around {
		p, why := l.pulley(a, w)
		if why != nil {
			l.missing(w, a, use, why, fmt.Sprintf("there is no %q to run around", w.Text))
			return nil
		}
		b.Pulleys = append(b.Pulleys, p)
	}
	if n := len(b.Pulleys); n < 2 || n > maxPulleys {
		l.report(use.Around[0].At, a, use, fmt.Sprintf("a belt runs around 2 to %d pulleys, this one around %d", maxPulleys, n))
		return nil
	}
	b.flatten()
	if use.Pressed.Given() {
		l.presser(a, use, b)
	}
	if bad, nested := b.lay(); bad >= 0 {
		p, next := b.Pulleys[bad], b.Pulleys[(bad+1)%len(b.Pulleys)]
		says := fmt.Sprintf("on its way it does not touch %q: name the pulleys in the order in which the belt meets them", p.Ref.Text)
		if nested {
			says = fmt.Sprintf("%q and %q stand so near that one lies within the other", p.Ref.Text, next.Ref.Text)
		}
		l.report(p.Ref.At, a, use, says)
		return nil
	}
	loc.belts[use.ID.Text], loc.swayed[use.ID.Text] = b, l.went != before
	return b
}

// maxPulleys bounds how many pulleys one belt runs around.
const maxPulleys = 64

// sized is a belt with the sizes that its part states.
func (l *Layout) sized(a *plan.Assembly, use *plan.Use) *Belt {
	id, _ := use.Part.Pick(l.r.Case.Options)
	part := l.r.Part(id.Text)
	if part == nil || part.Part.Loop == nil {
		l.report(use.Around[0].At, a, use, "it runs around pulleys, but its part is no belt")
		return nil
	}
	b, s := &Belt{Part: part, Pressed: use.Pressed}, part.Part.Loop
	var ok [3]bool
	b.Pitch, ok[0] = l.r.Length(s.Pitch)
	b.Width, ok[1] = l.r.Length(s.Width)
	teeth, known := l.r.Whole(s.Teeth)
	b.Teeth, ok[2] = float64(teeth), known
	if s.Thick.Given() {
		b.Thick, _ = l.r.Length(s.Thick)
	}
	if ok != [3]bool{true, true, true} || !(b.Pitch > 0) || !(b.Width > 0) {
		return nil // what cannot be worked out is among the reckoning's findings
	}
	b.Stated = b.Pitch * b.Teeth
	return b
}

// flatten lays the belt's plane across the axis of its first pulley, so that the
// pulleys follow each other anticlockwise, and finds how far each stands off it.
func (b *Belt) flatten() {
	first := b.Pulleys[0]
	f := solid.FrameAlong(first.at, positive(first.dir))
	var area float64
	for i := range b.Pulleys {
		p, next := b.Pulleys[i].at, b.Pulleys[(i+1)%len(b.Pulleys)].at
		area += p.Sub(f.O).Cross(next.Sub(f.O)).Dot(f.Z)
	}
	if area < -solid.Tolerance {
		f.Y, f.Z = f.Y.Mul(-1), f.Z.Mul(-1)
	}
	b.Frame = f
	for i := range b.Pulleys {
		p := &b.Pulleys[i]
		d := p.at.Sub(f.O)
		p.Centre, p.Off = solid.Vec2{X: d.Dot(f.X), Y: d.Dot(f.Y)}, d.Dot(f.Z)
		p.Tilt = math.Atan2(length(p.dir.Cross(f.Z)), math.Abs(p.dir.Dot(f.Z)))
	}
}

// lay finds the belt's path. Toothed pulleys stand inside of the loop; a smooth one
// may stand inside or press on the back, whichever suits the belt's length better.
// bad is as for around.
func (b *Belt) lay() (bad int, nested bool) {
	b.Inside, b.Back = b.Thick*(1-backShare), b.Thick*backShare
	var smooth []int
	for i, p := range b.Pulleys {
		if p.Teeth == 0 {
			smooth = append(smooth, i)
		} else {
			b.Inside = math.Min(b.Inside, math.Max(0, p.R-p.face))
		}
	}
	backs := make([]bool, len(b.Pulleys))
	best, found := math.Inf(1), false
	bad, nested = -1, false
	for _, double := range []bool{false, true} {
		for i := range backs {
			backs[i] = double && b.reflex(i)
		}
		tries := 1
		if len(smooth) <= maxSmooth {
			tries = 1 << len(smooth)
		}
		for t := 0; t < tries; t++ {
			for k, i := range smooth {
				backs[i] = b.reflex(i) != (tries > 1 && t>>k&1 == 1)
			}
			path, wrong, within := around(b.wheels(backs))
			if wrong >= 0 {
				if bad < 0 {
					bad, nested = wrong, within
				}
				continue
			}
			if miss := math.Abs(path.Length - b.Stated); miss < best-solid.Tolerance {
				best, found = miss, true
				b.take(path)
			}
		}
		if found {
			b.pressIn()
			return -1, false
		}
	}
	return bad, nested
}

// maxSmooth bounds the smooth pulleys for which both sides are tried.
const maxSmooth = 6

// wheels are the pulleys with the radius of the pitch line around them.
func (b *Belt) wheels(backs []bool) []wheel {
	out := make([]wheel, len(b.Pulleys))
	for i, p := range b.Pulleys {
		r := p.R
		switch {
		case p.Teeth > 0:
		case backs[i]:
			r = p.face + b.Back
		default:
			r = p.face + b.Inside
		}
		out[i] = wheel{At: p.Centre, R: r, Back: backs[i]}
	}
	return out
}

// reflex tells whether the line from middle to middle turns clockwise at a pulley,
// so that it stands outside of the loop.
func (b *Belt) reflex(i int) bool {
	n := len(b.Pulleys)
	before, at, after := b.Pulleys[(i+n-1)%n].Centre, b.Pulleys[i].Centre, b.Pulleys[(i+1)%n].Centre
	return (at.X-before.X)*(after.Y-at.Y)-(at.Y-before.Y)*(after.X-at.X) < -solid.Tolerance
}

// take keeps a path as the belt's.
func (b *Belt) take(path loop) {
	b.free, b.loop, b.Length, b.Slack = path, path, path.Length, b.Stated-path.Length
	b.Line, _, _ = path.outline(0)
	for i := range b.Pulleys {
		p := &b.Pulleys[i]
		p.R, p.Back = path.wheels[i].R, path.wheels[i].Back
		p.wrapped(path.Wrap[i])
	}
}

// wrapped notes over which angle the belt touches the pulley.
func (p *Pulley) wrapped(angle float64) {
	p.Wrap, p.InMesh = angle, p.Teeth*angle/(2*math.Pi)
}
