package layout

import (
	"math"
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// A Fastening is one place of a joint with a screw: where the screw stands and what
// it goes through, in the axes of the joint's assembly. Distances along the screw
// are millimetres from Seat, growing from head to tip.
type Fastening struct {
	Joint *plan.Joint
	Place int // from 1, in the order of the joint's places
	Screw *reckon.Part
	Seat  solid.Vec // the point on the axis in the plane that the head, or the undermost washer below it, bears on
	Dir   solid.Vec // unit vector from the head to the thread

	// Head is where the underside of the head lies, above Seat by the washers; of a
	// countersunk or headless screw the top, from which its length counts.
	Head      float64
	Touches   bool           // a set screw's point touches what the joint grips
	UnderHead []*reckon.Part // washers, from the head on
	Nut       *reckon.Part   // nut, slot nut or insert; nil where the last layer has the thread
	NutFrom   float64        // where the nut, behind its washers, or the insert begins
	UnderNut  []*reckon.Part // washers, from the last layer on
	Crossings []Crossing     // one for each layer, from the head on

	holder *Layout
}

// A Crossing is what a screw meets in one layer of its joint: a hole, a slot, a
// face. Enter and Leave are where the layer's material lies along the screw; of a
// slot its lip, of a blind hole its full depth.
type Crossing struct {
	Word    plan.Word   // the feature as the joint names it
	Spot    reckon.Spot // which feature of which part
	Part    *reckon.Part
	Feature solid.Feature // in the axes of the joint's assembly
	At      solid.Placement
	Enter   float64
	Leave   float64
	Facing  bool    // the hole's mouth looks to the head
	Aside   float64 // how far the feature's axis, of a slot its line, lies off the screw's
	Tilt    float64 // the angle between the hole's and the screw's axis, radians; 0 for faces and slots
}

// Fastenings lists the places of a joint of assembly a that has a screw: one for
// each feature of the first layer, then those of the places written out. The next
// layer's nearest feature tells which way a screw points; a joint of one layer
// points into its hole. Screws stand on the axis of the thread that they go into,
// otherwise on that of the first round hole.
func (l *Layout) Fastenings(a *plan.Assembly, j *plan.Joint) []Fastening {
	if known, asked := l.fastened[j]; asked {
		l.sway(l.swayed[j])
		return known
	}
	before := l.went
	defer func() { l.swayed[j] = l.went != before }()
	l.fastened[j] = nil
	screw := l.picked(j.Fastener)
	if screw == nil || !j.Only.Fits(l.r.Case.Options) {
		return nil
	}
	var layers [][]met
	for _, layer := range j.Through {
		layers = append(layers, l.passed(a, j, layer.Features))
	}
	list := l.through(a, j, layers)
	for _, place := range j.Also {
		layers = layers[:0]
		for _, feature := range place {
			layers = append(layers, l.passed(a, j, []plan.Word{feature}))
		}
		list = append(list, l.through(a, j, layers)...)
	}
	for i := range list {
		list[i].Place, list[i].holder = i+1, l
	}
	l.fastened[j] = list
	return list
}

// picked is the part that a reference stands for; nil for none.
func (l *Layout) picked(ref plan.Reference) *reckon.Part {
	id, ok := ref.Pick(l.r.Case.Options)
	if !ok {
		return nil
	}
	return l.r.Part(id.Text)
}

func (l *Layout) pickedAll(refs []plan.Reference) []*reckon.Part {
	var out []*reckon.Part
	for _, ref := range refs {
		if p := l.picked(ref); p != nil {
			out = append(out, p)
		}
	}
	return out
}

// A met feature is one that a layer names, in place.
type met struct {
	solid.Feature
	word plan.Word
	spot reckon.Spot
	part *reckon.Part
	at   solid.Placement
}

// through are the fastenings that go through layers of features.
func (l *Layout) through(a *plan.Assembly, j *plan.Joint, layers [][]met) []Fastening {
	if len(layers) == 0 {
		return nil
	}
	first := layers[0]
	var next []met
	if len(layers) > 1 {
		next = layers[1]
	}
	if len(next) > len(first) && slices.ContainsFunc(first, takesSeveral) {
		first = onto(first, next)
	}
	var out []Fastening
	for _, f := range first {
		s := Fastening{Joint: j, Screw: l.picked(j.Fastener), Seat: f.At, Dir: inward(f.Feature)}
		if n, found := nearest(f, next); found && behind(n.Feature, s) {
			s.Seat = f.At.Add(s.Dir.Mul(f.Depth))
			s.Dir = s.Dir.Mul(-1)
		}
		chain := []met{f}
		for _, layer := range layers[1:] {
			if n, found := nearest(f, layer); found {
				chain = append(chain, n)
			}
		}
		l.stand(&s, chain)
		l.dress(a, &s)
		out = append(out, s)
	}
	return out
}

// stand moves a fastening on to the axis that its screw follows and says what it
// meets there.
func (l *Layout) stand(s *Fastening, chain []met) {
	if axis, found := guiding(chain, s.Screw); found {
		s.Seat = axis.At.Add(s.Dir.Mul(s.Seat.Sub(axis.At).Dot(s.Dir)))
	}
	for _, m := range chain {
		c := Crossing{Word: m.word, Spot: m.spot, Part: m.part, Feature: m.Feature, At: m.at}
		off := m.At.Sub(s.Seat)
		at := off.Dot(s.Dir)
		if m.Kind == solid.SlotFeature {
			off = flat(off, m.Along)
		}
		c.Aside = length(flat(off, s.Dir))
		c.Enter, c.Leave = at, at
		switch m.Kind {
		case solid.HoleFeature:
			if m.Hole != nil && m.Hole.Kind == solid.Obround {
				c.Aside = beside(m.Feature, s.Seat, s.Dir)
			}
			c.Facing = m.Dir.Dot(s.Dir) > 0
			c.Tilt = math.Acos(math.Min(1, math.Abs(m.Dir.Dot(s.Dir))))
			if c.Facing {
				c.Leave = at + m.Depth
			} else {
				c.Enter = at - m.Depth
			}
		case solid.SlotFeature:
			c.Leave = at + l.lip(m, s)
		default:
			if s.Joint.Kind.Text != plan.Ring { // it lies in the middle of its groove
				c.Leave = at + wall(m, s, at)
			}
		}
		s.Crossings = append(s.Crossings, c)
	}
	s.settle()
}

// guiding is the feature whose axis the screw follows: a thread, the seat of an insert
// or a wood screw's pilot hole, else the first round hole.
func guiding(chain []met, screw *reckon.Part) (solid.Feature, bool) {
	last := chain[len(chain)-1].Feature
	if last.Hole != nil && screw.Fastener != nil && screw.Fastener.Kind == standards.WoodScrew {
		return last, true
	}
	if last.Hole != nil && (last.Hole.Kind == solid.Tapped || last.Hole.Kind == solid.Forming || last.Hole.Kind == solid.InsertFor) {
		return last, true
	}
	for _, m := range chain {
		if m.Hole != nil && m.Hole.Kind != solid.Obround {
			return m.Feature, true
		}
	}
	return solid.Feature{}, false
}

// settle moves the seat to the floor of a counterbore that the head lies in.
func (s *Fastening) settle() {
	c := &s.Crossings[0]
	bore := counterbore(c.Feature)
	if bore == nil || !c.Facing {
		return
	}
	s.Seat = s.Seat.Add(s.Dir.Mul(bore.Depth))
	for i := range s.Crossings {
		s.Crossings[i].Enter -= bore.Depth
		s.Crossings[i].Leave -= bore.Depth
	}
	c.Enter = 0
}

func counterbore(f solid.Feature) *solid.Counterbore {
	if f.Hole == nil {
		return nil
	}
	return f.Hole.Counterbore
}

// beside is how far an axis through at along dir lies from the middle line of a long
// hole, between the middles of its round ends.
func beside(f solid.Feature, at, dir solid.Vec) float64 {
	off := flat(at.Sub(f.At), dir)
	half := math.Max(0, (f.Hole.Long-f.Hole.D)/2)
	along := math.Max(-half, math.Min(half, off.Dot(f.Along)))
	return length(off.Sub(f.Along.Mul(along)))
}

// lip is how thick the lip of a slot is beside the screw, measured on the body.
func (l *Layout) lip(m met, s *Fastening) float64 {
	if m.part.Solid == nil {
		return 0
	}
	across := m.Along.Cross(m.Dir)
	const beyond = 0.05 // mm: how far into the lip it is measured
	for _, side := range []float64{1, -1} {
		at := s.Seat.Add(s.Dir.Mul(m.At.Sub(s.Seat).Dot(s.Dir) - beyond)).Sub(across.Mul(s.Seat.Sub(m.At).Dot(across))).Add(across.Mul(side * (m.D/2 + beyond)))
		inverse := m.at.Inverse()
		hits := m.part.Solid.Ray(inverse.Point(at), inverse.Direction(s.Dir))
		if len(hits) > 1 && !hits[0].Unsure && !hits[1].Unsure && hits[0].Enters && hits[0].T < 2*beyond && !hits[1].Enters {
			return hits[1].T - hits[0].T
		}
	}
	return 0
}

// wall is how thick the material is that a screw meets at a face, from at on.
func wall(m met, s *Fastening, at float64) float64 {
	if m.part.Solid == nil {
		return 0
	}
	inverse := m.at.Inverse()
	const before = 0.05 // mm above the face
	hits := m.part.Solid.Ray(inverse.Point(s.Seat.Add(s.Dir.Mul(at-before))), inverse.Direction(s.Dir))
	if len(hits) > 1 && hits[0].Enters && hits[0].T < 2*before {
		return hits[1].T - hits[0].T
	}
	return 0
}

// inward is the way into the material from a feature's mouth: holes look inward,
// faces and slots outward.
func inward(f solid.Feature) solid.Vec {
	if f.Kind == solid.HoleFeature {
		return f.Dir
	}
	return f.Dir.Mul(-1)
}

// behind reports whether the next layer's feature lies on the side that the screw's
// head would stand on. Where the two mouths meet in one plane, the next feature's
// material says on which side it lies.
func behind(next solid.Feature, s Fastening) bool {
	along := next.At.Sub(s.Seat).Dot(s.Dir)
	return along < -solid.Tolerance || along < solid.Tolerance && inward(next).Dot(s.Dir) < 0
}

// takesSeveral reports whether several screws may go through a feature: a slot, a
// long hole, a face, a bar; a round hole takes one.
func takesSeveral(f met) bool {
	return f.Hole == nil || f.Hole.Kind == solid.Obround
}

// onto repeats slots and faces of a first layer at each hole of the next, which are
// more: the screws stand on the holes' axes.
func onto(first, next []met) []met {
	var out []met
	for _, n := range next {
		f, found := nearest(n, first)
		if !found {
			continue
		}
		f.At = n.At.Add(f.Dir.Mul(f.At.Sub(n.At).Dot(f.Dir)))
		out = append(out, f)
	}
	return out
}

// layer are a layer's features in place.
func (l *Layout) layer(a *plan.Assembly, features []plan.Word) []met {
	var out []met
	for _, w := range features {
		for _, spot := range l.r.Spots(a, w) {
			path := append(plan.Word{Text: spot.Path}.Path(), plan.Word{Text: spot.Feature}.Path()...)
			t, why := l.reach(a, path)
			if why != nil {
				continue
			}
			if f, ok := bodyFeature(l.body(t.use), t.name); ok {
				out = append(out, met{Placed(f, t.at), w, spot, l.r.Part(spot.Part.ID.Text), t.at})
			}
		}
	}
	return out
}

// passed are the features that a layer gives a joint's fastener to go through.
func (l *Layout) passed(a *plan.Assembly, j *plan.Joint, features []plan.Word) []met {
	list := l.layer(a, features)
	if j.Kind.Text == plan.Ring { // it lies in its groove
		return list
	}
	for i := range list {
		list[i] = bored(list[i])
	}
	return list
}

// nearest is the feature whose axis passes nearest to f's point, and among those
// the one nearest along it.
func nearest(f met, list []met) (best met, found bool) {
	const sameAxis = 1 // mm: axes nearer than this count as one, and height decides
	bestSide, bestAlong := math.Inf(1), math.Inf(1)
	for _, g := range list {
		d := g.At.Sub(f.At)
		if g.Kind == solid.SlotFeature { // a slot is as near as its line
			d = flat(d, g.Along)
		}
		side, along := length(flat(d, f.Dir)), math.Abs(d.Dot(f.Dir))
		if side < bestSide-sameAxis || side < bestSide+sameAxis && along < bestAlong {
			best, found, bestSide, bestAlong = g, true, side, along
		}
	}
	return best, found
}

func length(v solid.Vec) float64 { return math.Sqrt(v.Dot(v)) }
