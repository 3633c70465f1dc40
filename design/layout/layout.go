package layout

import (
	"fmt"
	"math"
	"slices"
	"sort"
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
	pose       *reckon.Reckoning // r with the motions where they stand
	rest       *Layout           // of one with motions elsewhere: where they rest, for what does not move
	went       int               // how often something was met that may go elsewhere with the motions
	swayed     map[any]bool      // pieces of assemblies, by id, and fastenings, by joint, that may
	assemblies map[string]*local
	placed     map[*reckon.Instance]solid.Placement
	pieced     map[string][]Piece      // by assembly id
	fasteners  map[string]*solid.Solid // by part id; nil for one without a profile
	fastened   map[*plan.Joint][]Fastening
	mated      map[*plan.Joint][]Mating
	split      map[string][2]*solid.Solid
	trail      []link // what is being placed, each because of the one before
	belts      []*Belt
	strands    []Strand
	telescopes []Telescope
	findings   []finding.Finding
	said       map[string]bool
}

// local holds what an assembly has in the assembly's own axes, by name and number:
// "feet.2". Every instance of the assembly has the same.
type local struct {
	frames    map[string]solid.Placement
	failed    map[string]bool
	swayed    map[string]bool // of those kept here, what may go elsewhere with the motions
	stretched map[string]*stretch
	belts     map[string]*Belt
	courses   map[string]course
	spots     map[string][]reckon.Spot // what references of the assembly stand for
}

// A link is one use on the way to another's place.
type link struct {
	in   *local
	name string
	does string       // how it hangs on the next: "seated on"
	at   finding.Span // where the plan says so
}

// Of places everything that the reckoning's machine holds, with every motion where
// it rests.
func Of(r *reckon.Reckoning) *Layout { return of(r, r, nil) }

// At places everything with motions where positions says, by the motion's id;
// motions left out rest. All that moves by a formula of a motion moves with it. The
// error says that there is no such motion, or that the position lies outside of
// its range. Placements are asked for with r's own instances.
func At(r *reckon.Reckoning, positions map[string]quantity.Value) (*Layout, error) {
	return at(r, positions, nil)
}

// At is [At] for the layout's reckoning. What the motions do not move is taken over from
// l, which is everything where it rests.
func (l *Layout) At(positions map[string]quantity.Value) (*Layout, error) {
	return at(l.r, positions, l)
}

func at(r *reckon.Reckoning, positions map[string]quantity.Value, rest *Layout) (*Layout, error) {
	ids := make([]string, 0, len(positions))
	for id := range positions {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	for _, id := range ids {
		m := r.Plan.Motion(id)
		if m == nil {
			return nil, fmt.Errorf("place the machine: it has no motion %q", id)
		}
		from, to, err := r.Range(m)
		if err != nil {
			return nil, fmt.Errorf("place the machine: the range of %q: %w", id, err)
		}
		low, high, at := min(from.SI, to.SI), max(from.SI, to.SI), positions[id]
		within := (high - low) * rounding
		if !at.Is(from.Dim) || !(at.SI >= low-within && at.SI <= high+within) {
			return nil, fmt.Errorf("place the machine: %q goes from %s to %s, not to %s", id, quantity.Text(from, quantity.Metric), quantity.Text(to, quantity.Metric), quantity.Text(at, quantity.Metric))
		}
	}
	return of(r, r.Posed(positions), rest), nil
}

// rounding is the share of a motion's range by which a position may miss its ends.
const rounding = 1e-9

func of(r, pose *reckon.Reckoning, rest *Layout) *Layout {
	l := &Layout{
		r: r, pose: pose, rest: rest, swayed: map[any]bool{}, assemblies: map[string]*local{}, placed: map[*reckon.Instance]solid.Placement{},
		pieced: map[string][]Piece{}, fasteners: map[string]*solid.Solid{}, fastened: map[*plan.Joint][]Fastening{}, mated: map[*plan.Joint][]Mating{}, split: map[string][2]*solid.Solid{}, said: map[string]bool{},
	}
	root := r.Tally().Root
	if root == nil {
		return l
	}
	l.placed[root] = solid.Stay
	l.fill(root)
	l.belts, l.strands, l.telescopes = l.findBelts(), l.findStrands(), l.findTelescopes()
	return l
}

// fill places the children of a placed instance.
func (l *Layout) fill(in *reckon.Instance) {
	for _, child := range in.Children {
		frame, ok := l.stands(in.Assembly, child.Use, child.Number)
		if !ok {
			continue
		}
		l.placed[child] = frame.Then(l.placed[in])
		if child.Assembly != nil {
			l.fill(child)
		}
	}
}

// stands is where one instance of a use stands as a whole in its assembly's axes:
// what is fixed between two places and does not stretch has such a place too.
func (l *Layout) stands(a *plan.Assembly, use *plan.Use, number int) (solid.Placement, bool) {
	if len(use.Between) == 0 {
		return l.frame(a, use, number)
	}
	s := l.stretch(a, use, number)
	if s == nil || s.Comes.Solid != nil {
		return solid.Stay, false
	}
	return s.Stays.At, true
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
		loc = &local{
			frames: map[string]solid.Placement{}, failed: map[string]bool{}, swayed: map[string]bool{},
			stretched: map[string]*stretch{}, belts: map[string]*Belt{}, courses: map[string]course{},
			spots: map[string][]reckon.Spot{},
		}
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
		l.sway(loc.swayed[name])
		return p, true
	}
	if loc.failed[name] || !Rigid(use) {
		l.sway(true)
		return solid.Stay, false
	}
	if still := l.standing(a); still != nil {
		if p, known := still.frames[name]; known && !still.swayed[name] {
			loc.frames[name] = p
			return p, true
		}
	}
	before := l.went
	if l.circle(loc, name, a, use) {
		return solid.Stay, false
	}
	l.trail = append(l.trail, link{in: loc, name: name, at: use.At})
	p, ok := l.place(a, use, number)
	if ok {
		p, ok = l.moved(a, use, p)
	}
	l.trail = l.trail[:len(l.trail)-1]
	loc.swayed[name] = l.went != before
	if !ok {
		loc.failed[name] = true
		return p, false
	}
	loc.frames[name] = p
	return p, true
}

// sway notes whether something was met that may go elsewhere with the motions: what is
// worked out from it may as well.
func (l *Layout) sway(may bool) {
	if may {
		l.went++
	}
}

// follows notes that what is worked out follows from quantities.
func (l *Layout) follows(from ...plan.Quantity) {
	for _, q := range from {
		l.sway(l.rest == nil && l.r.Moves(q))
	}
}

// standing is what an assembly has with every motion where it rests, of a layout that has
// them elsewhere; nil where that is not known.
func (l *Layout) standing(a *plan.Assembly) *local {
	if l.rest == nil {
		return nil
	}
	return l.rest.assemblies[a.ID.Text]
}

// hangs notes how the use that is being placed hangs on the next one.
func (l *Layout) hangs(does string, at finding.Span) {
	if n := len(l.trail); n > 0 {
		l.trail[n-1].does, l.trail[n-1].at = does, at
	}
}

// circle reports whether a use is being placed already, and shows the whole loop.
func (l *Layout) circle(loc *local, name string, a *plan.Assembly, use *plan.Use) bool {
	from := slices.IndexFunc(l.trail, func(k link) bool { return k.in == loc && k.name == name })
	if from < 0 {
		return false
	}
	loop := l.trail[from:]
	says := name
	var also []finding.Related
	for i, k := range loop {
		next := name
		if i+1 < len(loop) {
			next = loop[i+1].name
		}
		if i >= maxShown {
			says += fmt.Sprintf(", and so on over %d more, back to %s", len(loop)-i, name)
			break
		}
		if i > 0 {
			says += ","
			also = append(also, finding.Related{At: k.at, Say: fmt.Sprintf("%s %s %s", k.name, k.does, next)})
		}
		says += " " + k.does + " " + next
	}
	l.report(loop[0].at, a, use, "its place depends on itself: "+says, also...)
	return true
}

// maxShown bounds how many uses of a loop are named.
const maxShown = 20

// Rigid reports whether a use has a place of its own: belts, cables and what is
// stretched between two places have none.
func Rigid(use *plan.Use) bool {
	return len(use.Around) == 0 && len(use.Between) == 0 && !use.From.Given()
}

func (l *Layout) report(at finding.Span, a *plan.Assembly, use *plan.Use, message string, also ...finding.Related) {
	l.note(CannotPlace, finding.Finding{At: at, Subject: a.ID.Text + "." + use.ID.Text, Message: fmt.Sprintf("%q: %s", use.ID.Text, message), Also: also})
}

// note keeps a finding once, however many instances show it.
func (l *Layout) note(rule finding.Rule, f finding.Finding) {
	l.sway(true) // to be told wherever the motions stand
	f = rule.Stamp(f)
	key := f.At.String() + "|" + f.Message
	if l.said[key] {
		return
	}
	l.said[key] = true
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
		p, ok = l.seat(a, use, number, turn)
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
		l.follows(t.Angle)
		v, ok := l.pose.QuantityIn(t.Angle, quantity.Angle)
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
	l.follows(p.Of...)
	x, okX := l.pose.Length(p.Of[0])
	y, okY := l.pose.Length(p.Of[1])
	z, okZ := l.pose.Length(p.Of[2])
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
		if !squareOn(turn) {
			return solid.LowestAt(body, turn, at), true
		}
		// The box of a body that stands square on is its own, turned: no need to go
		// over the body's faces.
		box := body.Box()
		corner := solid.EmptyBox().Add(turn.Direction(box.Min)).Add(turn.Direction(box.Max)).Min
		return turn.Then(solid.Moved(at.Sub(corner))), true
	}
	return turn.Then(solid.Moved(at)), true
}

// squareOn reports whether a turn takes axes to axes.
func squareOn(turn solid.Placement) bool {
	for _, v := range turn.Turn {
		for _, x := range []float64{v.X, v.Y, v.Z} {
			if x != 0 && x != 1 && x != -1 {
				return false
			}
		}
	}
	return true
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
		l.follows(m.By)
		v, ok := l.pose.QuantityIn(m.By, want)
		if !ok || v.SI == 0 {
			continue
		}
		if !m.About.Given() {
			p = p.Then(solid.Moved(axisVec(m.Along.Text).Mul(v.SI * 1000)))
			continue
		}
		f, miss := l.axisOf(a, use, m.About, p)
		if miss != nil {
			l.missing(m.About, a, use, miss, fmt.Sprintf("there is no axis %q to turn about", m.About.Text))
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
