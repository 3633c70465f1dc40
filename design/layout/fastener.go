package layout

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Screw is one place of a joint with a screw: where the screw stands, in the axes
// of the joint's assembly.
type Screw struct {
	Joint *plan.Joint
	Part  *reckon.Part
	Head  solid.Vec // the point on the axis in the plane that head or washer bears on
	Dir   solid.Vec // unit vector from the head to the thread
}

// Screws lists where the screws of a joint of assembly a stand: one for each
// feature of the first layer, then those of the places written out. The next
// layer's nearest feature tells which way a screw points; a joint of one layer
// points into its hole.
func (l *Layout) Screws(a *plan.Assembly, j *plan.Joint) []Screw {
	id, ok := j.Fastener.Pick(l.r.Case.Options)
	if !ok || !j.Only.Fits(l.r.Case.Options) {
		return nil
	}
	part := l.r.Part(id.Text)
	if part == nil {
		return nil
	}
	var layers [][]solid.Feature
	for _, layer := range j.Through {
		layers = append(layers, l.layer(a, layer.Features))
	}
	screws := through(j, part, layers)
	for _, place := range j.Also {
		layers = layers[:0]
		for _, feature := range place {
			layers = append(layers, l.layer(a, []plan.Word{feature}))
		}
		screws = append(screws, through(j, part, layers)...)
	}
	return screws
}

// through are the screws that go through layers of features.
func through(j *plan.Joint, part *reckon.Part, layers [][]solid.Feature) []Screw {
	if len(layers) == 0 {
		return nil
	}
	first := layers[0]
	var next []solid.Feature
	if len(layers) > 1 {
		next = layers[1]
	}
	if len(next) > len(first) {
		first = onto(first, next)
	}
	var screws []Screw
	for _, f := range first {
		s := Screw{Joint: j, Part: part, Head: f.At, Dir: inward(f)}
		if n, found := nearest(f, next); found && behind(n, s) {
			s.Head = f.At.Add(s.Dir.Mul(f.Depth))
			s.Dir = s.Dir.Mul(-1)
		}
		screws = append(screws, s)
	}
	return screws
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
func behind(next solid.Feature, s Screw) bool {
	along := next.At.Sub(s.Head).Dot(s.Dir)
	return along < -solid.Tolerance || along < solid.Tolerance && inward(next).Dot(s.Dir) < 0
}

// onto repeats slots and faces of a first layer at each hole of the next, which are
// more: the screws stand on the holes' axes.
func onto(first, next []solid.Feature) []solid.Feature {
	var out []solid.Feature
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
func (l *Layout) layer(a *plan.Assembly, features []plan.Word) []solid.Feature {
	var out []solid.Feature
	for _, w := range features {
		for _, spot := range l.r.Spots(a, w) {
			path := append(plan.Word{Text: spot.Path}.Path(), plan.Word{Text: spot.Feature}.Path()...)
			if f, why := l.feature(a, path); why == nil {
				out = append(out, f)
			}
		}
	}
	return out
}

// nearest is the feature whose axis passes nearest to f's point, and among those
// the one nearest along it.
func nearest(f solid.Feature, list []solid.Feature) (best solid.Feature, found bool) {
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
