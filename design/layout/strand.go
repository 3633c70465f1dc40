package layout

import (
	"fmt"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Strand is a cable, hose or wire drawn straight from point to point, in the
// machine's axes, lengths in mm.
type Strand struct {
	Instance *reckon.Instance
	Part     *reckon.Part
	Points   []solid.Vec // where it begins, what it passes, where it ends
	Stops    []Stop      // what is there, by point
	Path     float64     // the straight length through the points: the least it takes
	Stated   float64     // its own length; 0 where the plan does not say
	D        float64     // its diameter; likewise
}

// A Stop is what a strand begins at, passes or ends at.
type Stop struct {
	Path string // of the part or assembly, from the machine; "" for a free point
	// Feature is what it passes there, nil for what is named whole and for free points.
	Feature *solid.Feature
	// Open tells that the feature is a hole, or a cylinder that is cut away: what passes
	// it lies within its diameter.
	Open bool
}

// Over is by how much the strand is longer than its path; negative when it is too
// short to reach.
func (s Strand) Over() float64 { return s.Stated - s.Path }

// Strands lists every strand that joins two places, in the order of the machine's
// instances. One whose places are not known is
// left out.
func (l *Layout) Strands() []Strand { return l.strands }

func (l *Layout) findStrands() []Strand {
	var out []Strand
	seen := 0
	for _, in := range l.r.Tally().Instances {
		frame, placed := l.placed[in.Parent]
		if !placed || !in.Use.From.Given() {
			continue
		}
		if seen += 2 + len(in.Use.Via); seen > maxStops {
			return out
		}
		points, stops, ok := l.course(in.Parent.Assembly, in.Use, in.Number)
		if !ok {
			continue
		}
		s := Strand{Instance: in}
		for i, p := range points {
			at := Stop{Path: stops[i].path, Feature: stops[i].feature, Open: stops[i].open}
			if at.Path != "" && in.Parent.Path != "" {
				at.Path = in.Parent.Path + "." + at.Path
			}
			s.Points, s.Stops = append(s.Points, frame.Point(p)), append(s.Stops, at)
			if i > 0 {
				s.Path += p.Dist(points[i-1])
			}
		}
		if in.Part != nil {
			s.Part = l.r.Part(in.Part.ID.Text)
			if in.Part.Strand != nil {
				s.Stated, _ = l.r.Length(in.Part.Strand.Length)
				s.D, _ = l.r.Length(in.Part.Strand.D)
			}
		}
		out = append(out, s)
	}
	return out
}

// maxStops bounds how many places the strands of a machine may pass in all.
const maxStops = 200000

// A course is what a strand runs through, in its assembly's axes.
type course struct {
	points []solid.Vec
	stops  []stop
}

// A stop is one place on a strand's way; box is what it may enter anywhere where a
// whole part or assembly is named, in the axes of at.
type stop struct {
	point   solid.Vec
	path    string // of the part or assembly, "" for a free point
	feature *solid.Feature
	open    bool // the feature is a hole, or a cylinder that is cut away
	whole   bool
	box     solid.Box
	at      solid.Placement
}

// course are the points that a strand runs through, in its assembly's axes. Where it
// enters a part that is named whole, the nearest point of the part's box counts, so
// that the path is never longer than what the builder needs.
func (l *Layout) course(a *plan.Assembly, use *plan.Use, number int) ([]solid.Vec, []stop, bool) {
	loc, name := l.local(a), instanceName(use, number)
	if c, known := loc.courses[name]; known {
		l.sway(loc.swayed[name])
		return c.points, c.stops, true
	}
	if still := l.standing(a); still != nil {
		if c, known := still.courses[name]; known && !still.swayed[name] {
			loc.courses[name] = c
			return c.points, c.stops, true
		}
	}
	before := l.went
	points, stops, ok := l.led(a, use, number)
	if ok {
		loc.courses[name], loc.swayed[name] = course{points, stops}, l.went != before
	}
	return points, stops, ok
}

// led is [Layout.course], worked out.
func (l *Layout) led(a *plan.Assembly, use *plan.Use, number int) ([]solid.Vec, []stop, bool) {
	passes := append([]plan.Waypoint{{Of: use.From}}, use.Via...)
	passes = append(passes, plan.Waypoint{Of: use.To})
	stops := make([]stop, len(passes))
	for i, p := range passes {
		if !p.Of.Given() {
			at, ok := l.vec(p.At)
			if !ok {
				return nil, nil, false // what cannot be worked out is among the reckoning's findings
			}
			stops[i] = stop{point: at}
			continue
		}
		s, why := l.stop(a, use, number, p.Of)
		if why != nil {
			l.missing(p.Of, a, use, why, fmt.Sprintf("there is no %q for it to reach", p.Of.Text))
			return nil, nil, false
		}
		stops[i] = s
	}
	points := make([]solid.Vec, len(stops))
	for i, s := range stops {
		points[i] = s.point
		if s.whole {
			before, after := stops[max(i-1, 0)].point, stops[min(i+1, len(stops)-1)].point
			if i == 0 {
				before = after
			} else if i == len(stops)-1 {
				after = before
			}
			points[i] = s.nearest(before.Add(after).Mul(0.5))
		}
	}
	return points, stops, true
}

// nearest is the point of the stop's box that lies nearest to p.
func (s stop) nearest(p solid.Vec) solid.Vec {
	q := s.at.Inverse().Point(p)
	q = solid.Vec{
		X: min(max(q.X, s.box.Min.X), s.box.Max.X), Y: min(max(q.Y, s.box.Min.Y), s.box.Max.Y), Z: min(max(q.Z, s.box.Min.Z), s.box.Max.Z),
	}
	return s.at.Point(q)
}

// stop finds a place on a strand's way: a feature, or a whole part or assembly.
func (l *Layout) stop(a *plan.Assembly, use *plan.Use, number int, w plan.Word) (stop, *miss) {
	t, why := l.reach(a, w.Path())
	if why != nil {
		return stop{}, why
	}
	if t.name != "" {
		f, why := l.theirs(a, use, number, w)
		if spots := l.local(a).spots[w.Text]; len(spots) > 1 && number > 0 && number <= len(spots) && !use.Step.Given() {
			t.path = spots[number-1].Path
		}
		return stop{point: f.At, path: t.path, feature: &f, open: l.open(t.use, f)}, why
	}
	s := stop{path: t.path, whole: true, at: t.at, box: solid.EmptyBox()}
	for _, p := range l.inside(t.use) {
		s.box = s.box.Join(p.Solid.BoxUnder(p.At))
	}
	if s.box.Empty() {
		return s, &miss{absent: "it has no shape, so that nobody knows where it is entered"}
	}
	s.point = t.at.Point(s.box.Centre())
	return s, nil
}

// open reports whether a feature of what a use places is a hole, or a cylinder that is
// cut away.
func (l *Layout) open(use *plan.Use, f solid.Feature) bool {
	if f.Kind == solid.HoleFeature {
		return true
	}
	id, ok := use.Part.Pick(l.r.Case.Options)
	return ok && f.Kind == solid.NamedShape && cutAway(l.r.Part(id.Text), f.Name)
}
