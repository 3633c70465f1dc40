package layout

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Telescope is a part stretched between two places of the machine. Points and
// placements are in the machine's axes, lengths in mm.
type Telescope struct {
	Instance *reckon.Instance
	Ends     [2]solid.Vec // what the plan's first and second end are fixed to
	Length   float64      // between them
	Closed   float64      // the shortest that the part can be; as drawn where it says nothing
	Stroke   float64      // by how much it stretches; 0 for a part that does not
	Drawn    float64      // from end to end as the part's shapes are given
	Inside   float64      // how far what comes out reaches into what stays, as drawn; 0 where it does not
	Stays    Stretched    // what does not move in the part; the whole of a part that does not stretch
	Comes    Stretched    // what comes out; Solid is nil for a part that does not stretch
}

// Stretched is one half of a telescoping part in place. Solid is nil where the plan
// gives no shape.
type Stretched struct {
	Solid *solid.Solid
	At    solid.Placement
}

// Apart is by how much what comes out has left what stays at full stroke; 0 while it
// is still held, or where it is not drawn inside.
func (t Telescope) Apart() float64 {
	if t.Inside <= 0 {
		return 0
	}
	return math.Max(0, t.Closed+t.Stroke-t.Drawn-t.Inside)
}

// Over is how far the two places lie further apart than the part reaches; negative
// where they lie nearer than its shortest; 0 within its reach.
func (t Telescope) Over() float64 {
	if d := t.Length - t.Closed - t.Stroke; d > 0 {
		return d
	}
	return math.Min(0, t.Length-t.Closed)
}

// stretch is a Telescope in the axes of its assembly.
type stretch struct {
	Telescope
	comes [2]bool // which end goes with what comes out
	ends  [2]string
	box   solid.Box // of what comes out, in the part's own axes
	body  *solid.Solid
}

// Telescopes lists every part that is stretched between two places, in the order of
// the machine's instances.
func (l *Layout) Telescopes() []Telescope { return l.telescopes }

func (l *Layout) findTelescopes() []Telescope {
	var out []Telescope
	for _, in := range l.r.Tally().Instances {
		frame, placed := l.placed[in.Parent]
		if !placed || len(in.Use.Between) == 0 {
			continue
		}
		s := l.stretch(in.Parent.Assembly, in.Use, in.Number)
		if s == nil {
			continue
		}
		t := s.Telescope
		t.Instance = in
		t.Ends = [2]solid.Vec{frame.Point(t.Ends[0]), frame.Point(t.Ends[1])}
		t.Stays.At, t.Comes.At = t.Stays.At.Then(frame), t.Comes.At.Then(frame)
		out = append(out, t)
	}
	return out
}

// stretch places a part between two features, once; nil where that cannot be.
func (l *Layout) stretch(a *plan.Assembly, use *plan.Use, number int) *stretch {
	loc, name := l.local(a), instanceName(use, number)
	if s, known := loc.stretched[name]; known {
		l.sway(loc.swayed[name])
		return s
	}
	if still := l.standing(a); still != nil {
		if s, known := still.stretched[name]; known && !still.swayed[name] {
			loc.stretched[name] = s
			return s
		}
	}
	before := l.went
	if l.circle(loc, name, a, use) {
		return nil
	}
	l.trail = append(l.trail, link{in: loc, name: name, at: use.At})
	s := l.stretched(a, use, number)
	l.trail = l.trail[:len(l.trail)-1]
	loc.stretched[name], loc.swayed[name] = s, l.went != before
	return s
}

func (l *Layout) stretched(a *plan.Assembly, use *plan.Use, number int) *stretch {
	s := &stretch{body: l.body(use)}
	var mine, theirs [2]solid.Feature
	for i, end := range use.Between {
		if i > 1 {
			break // reading has said that there are two
		}
		var why *miss
		if mine[i], why = l.own(use, end.Mine.Path()); why != nil {
			l.missing(end.Mine, a, use, why, fmt.Sprintf("it has no feature %q to be fixed by", end.Mine.Text))
			return nil
		}
		l.hangs("stretched to", end.Theirs.At)
		if theirs[i], why = l.theirs(a, use, number, end.Theirs); why != nil {
			l.missing(end.Theirs, a, use, why, fmt.Sprintf("there is no feature %q to fix it to", end.Theirs.Text))
			return nil
		}
		mine[i].At, theirs[i].At = pivot(mine[i]), pivot(theirs[i])
		s.Ends[i], s.ends[i] = theirs[i].At, end.Mine.Text
	}
	drawn, needed := mine[1].At.Sub(mine[0].At), theirs[1].At.Sub(theirs[0].At)
	if length(drawn) < solid.MinSize || length(needed) < solid.MinSize {
		l.report(use.Between[0].Mine.At, a, use, "its two ends come to one point, so that it points nowhere")
		return nil
	}
	s.Length, s.Drawn, s.Closed = length(needed), length(drawn), length(drawn)
	l.reachOf(use, s)
	if s.Comes.Solid != nil {
		s.Inside = overlap(s, drawn)
	}
	turn := toward(drawn, needed)
	turn = turn.Then(solid.Turned(needed, roll(turn, mine, theirs, needed.Unit())))
	for i, f := range mine {
		at := turn.Then(solid.Moved(theirs[i].At.Sub(turn.Point(f.At))))
		if s.comes[i] {
			s.Comes.At = at
		} else {
			s.Stays.At = at
		}
	}
	return s
}

// pivot is the point of a feature that a part is fixed by: the middle of a hole that
// goes through, since mouths of eyes lie as far out as the material does; the
// reference point of others.
func pivot(f solid.Feature) solid.Vec {
	if f.Kind == solid.HoleFeature && f.Through {
		return f.At.Add(f.Dir.Mul(f.Depth / 2))
	}
	return f.At
}

// reachOf fills in how long the part can be and which of its halves has which end.
func (l *Layout) reachOf(use *plan.Use, s *stretch) {
	s.Stays.Solid, s.comes = s.body, [2]bool{false, true}
	id, _ := use.Part.Pick(l.r.Case.Options)
	part := l.r.Part(id.Text)
	if part == nil {
		return
	}
	t, _ := l.r.Telescope(part.Part)
	if t == nil {
		return
	}
	if v, ok := l.r.Length(t.Closed); ok {
		s.Closed = v
	}
	s.Stroke, _ = l.r.Length(t.Stroke)
	halves, known := l.split[id.Text]
	if !known {
		halves[0], halves[1] = l.r.Telescoped(id.Text)
		l.split[id.Text] = halves
	}
	if halves[1] == nil {
		return
	}
	s.Stays.Solid, s.Comes.Solid, s.box = halves[0], halves[1], halves[1].Box()
	// The end that lies deeper in what comes out goes with it.
	var far [2]float64
	for i, end := range s.ends {
		if f, ok := bodyFeature(s.body, end); ok {
			far[i] = outside(s.box, pivot(f)) - outside(halves[0].Box(), pivot(f))
		}
	}
	if far[0] < far[1] {
		s.comes = [2]bool{true, false}
	}
}

// overlap is how far what comes out reaches into what stays, along the way from end
// to end in the part's own axes.
func overlap(s *stretch, along solid.Vec) float64 {
	if s.comes[0] {
		along = along.Mul(-1)
	}
	upright := toward(along, solid.Vec{Z: 1})
	stays, comes := s.Stays.Solid.BoxUnder(upright), s.Comes.Solid.BoxUnder(upright)
	return math.Max(0, stays.Max.Z-comes.Min.Z)
}

// outside is how far a point lies from a box; negative inside, by its depth.
func outside(b solid.Box, p solid.Vec) float64 {
	d := [3]float64{
		math.Max(b.Min.X-p.X, p.X-b.Max.X), math.Max(b.Min.Y-p.Y, p.Y-b.Max.Y), math.Max(b.Min.Z-p.Z, p.Z-b.Max.Z),
	}
	deepest, sum := math.Max(d[0], math.Max(d[1], d[2])), 0.0
	if deepest <= 0 {
		return deepest
	}
	for _, v := range d {
		sum += math.Max(v, 0) * math.Max(v, 0)
	}
	return math.Sqrt(sum)
}

// frame takes the part's own axes to the assembly's for a feature: those of what
// comes out for a feature in it.
func (s *stretch) frame(feature string) solid.Placement {
	if s.Comes.Solid == nil {
		return s.Stays.At
	}
	for i, end := range s.ends {
		if end == feature {
			if s.comes[i] {
				return s.Comes.At
			}
			return s.Stays.At
		}
	}
	f, ok := bodyFeature(s.body, strings.TrimSuffix(feature, "."))
	if ok && outside(s.box, pivot(f)) < outside(s.Stays.Solid.Box(), pivot(f)) {
		return s.Comes.At
	}
	return s.Stays.At
}

// roll is the angle about the way from end to end that lays the part's eyes along
// what they are fixed to: the axis of the first end, or the second, that lies
// across. Eyes have no front, so it is a quarter turn at most.
func roll(turn solid.Placement, mine, theirs [2]solid.Feature, along solid.Vec) float64 {
	for i := range mine {
		m, t := flat(turn.Direction(mine[i].Dir), along), flat(theirs[i].Dir, along)
		if length(m) < across || length(t) < across {
			continue
		}
		angle := math.Atan2(m.Cross(t).Dot(along), m.Dot(t))
		if angle > math.Pi/2 {
			angle -= math.Pi
		} else if angle < -math.Pi/2 {
			angle += math.Pi
		}
		return angle
	}
	return 0
}

// across is the share of an axis that must lie across for it to say how a part is
// turned about its length: some 6 degrees.
const across = 0.1
