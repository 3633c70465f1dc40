package layout

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Pulley is one of those that a belt runs around, in the belt's axes, lengths in
// mm, angles in radians.
type Pulley struct {
	Ref    plan.Word // what the plan names
	Path   string    // the use, from the belt's assembly: "motor_unit.pulley"
	Part   *reckon.Part
	Centre solid.Vec2 // where its axis meets the belt's plane
	R      float64    // of the belt's pitch line around it
	Teeth  float64    // 0 for a smooth one
	Pitch  float64    // from tooth to tooth; 0 for a smooth one
	Width  float64    // of the face that the belt runs on; the belt's width that it is sold for where the plan says so
	Back   bool       // it presses on the belt's back, from outside of the loop
	Off    float64    // how far the middle of its face lies from the first pulley's, along the axis
	Tilt   float64    // between its axis and the first pulley's
	Wrap   float64    // angle over which the belt touches it
	InMesh float64    // teeth in that angle

	face float64 // radius of the face itself
	at   solid.Vec
	dir  solid.Vec
}

// pulley finds out what a belt needs of what it runs around; in the axes of the
// assembly.
func (l *Layout) pulley(a *plan.Assembly, w plan.Word) (Pulley, *miss) {
	t, why := l.reach(a, w.Path())
	if why != nil {
		return Pulley{}, why
	}
	id, ok := t.use.Part.Pick(l.r.Case.Options)
	if !ok || l.r.Part(id.Text) == nil {
		return Pulley{}, &miss{absent: "it is no part, and a belt runs around parts"}
	}
	p := Pulley{Ref: w, Path: t.path, Part: l.r.Part(id.Text)}
	p.Teeth = l.hasOf(p.Part.Part, "teeth", quantity.Pure)
	p.Pitch = l.hasOf(p.Part.Part, "pitch", quantity.Length) * 1000
	if p.Teeth <= 0 || p.Pitch <= 0 {
		p.Teeth, p.Pitch = 0, 0
	}
	if p.Part.Solid == nil {
		return p, &miss{absent: "its part has no shape to run on"}
	}
	f, runs := axisFeature(p.Part.Solid, t.name)
	pitchR := p.Teeth * p.Pitch / (2 * math.Pi)
	mid := f.At
	if t.name != "" && runs {
		p.face, p.Width = f.D/2, f.Depth
	} else if face, ok := runningFace(p.Part.Solid, f, pitchR); ok {
		p.face, p.Width = face.r, face.to-face.from
		mid = f.At.Add(f.Dir.Mul((face.from + face.to) / 2))
	}
	if width := l.hasOf(p.Part.Part, "width", quantity.Length) * 1000; width > 0 {
		p.Width = width
	}
	if p.R = pitchR; p.R == 0 {
		p.R = p.face
	}
	if p.R < solid.MinSize {
		return p, &miss{absent: "its diameter is not known: it has no teeth and pitch, and no round face"}
	}
	p.at, p.dir = t.at.Point(mid), t.at.Direction(f.Dir)
	return p, nil
}

// hasOf is what a part's author gives under has, the part's own or that of what it
// is made from, in SI units; 0 where it is not given or of another kind.
func (l *Layout) hasOf(p *plan.Part, name string, kind quantity.Dimension) float64 {
	for depth := 0; p != nil && depth < len(l.r.Plan.Parts)+1; depth++ {
		for _, h := range p.Has {
			if h.Name.Text != name {
				continue
			}
			if v, ok := l.r.Quantity(h.Is); ok && v.Is(kind) {
				return v.SI
			}
			return 0
		}
		if !p.Of.Given() {
			return 0
		}
		p = l.r.Plan.Part(p.Of.Text)
	}
	return 0
}

// axisFeature is what a pulley turns about: the feature that the plan names, its
// bore, its axis, or the middle of its box upright. runs tells that the named one is
// round outside, so that the belt runs on it.
func axisFeature(body *solid.Solid, name string) (f solid.Feature, runs bool) {
	for _, known := range []string{name, "bore", "axis"} {
		f, ok := bodyFeature(body, known)
		if !ok || f.Kind == solid.FlatFace || f.Kind == solid.SlotFeature {
			continue
		}
		return f, known == name && f.Kind != solid.HoleFeature && f.D > 0 && f.Depth > 0
	}
	return solid.Feature{At: body.Box().Centre(), Dir: solid.Vec{Z: 1}}, false
}

// A ring is a round outer face about an axis, from and to measured along it.
type ring struct{ r, from, to float64 }

// runningFace is the round outer face that a belt runs on: the one nearest to the
// pitch circle, or where there is none the longest, since rims are narrow.
func runningFace(body *solid.Solid, axis solid.Feature, pitchR float64) (best ring, found bool) {
	for i := range body.Faces {
		f := &body.Faces[i]
		c, round := f.Surface.(solid.Cylinder)
		if !round || f.Inward || math.Abs(c.Z.Dot(axis.Dir)) < 1-solid.Tolerance || length(flat(c.O.Sub(axis.At), axis.Dir)) > coaxial {
			continue
		}
		r := ring{r: c.R, from: math.Inf(1), to: math.Inf(-1)}
		for _, loop := range f.Loops {
			for _, u := range loop {
				for _, v := range []int{body.Edges[u.Edge].Start, body.Edges[u.Edge].End} {
					h := body.Vertices[v].Sub(axis.At).Dot(axis.Dir)
					r.from, r.to = math.Min(r.from, h), math.Max(r.to, h)
				}
			}
		}
		if !found || better(r, best, pitchR) {
			best, found = r, true
		}
	}
	return best, found
}

// coaxial (mm) is how far apart two axes of one pulley may lie and still be one.
const coaxial = 1e-3

func better(r, best ring, pitchR float64) bool {
	if pitchR > 0 {
		d, e := math.Abs(r.r-pitchR), math.Abs(best.r-pitchR)
		return d < e-solid.Tolerance || d < e+solid.Tolerance && r.to-r.from > best.to-best.from
	}
	d, e := r.to-r.from, best.to-best.from
	return d > e+solid.Tolerance || d > e-solid.Tolerance && r.r > best.r
}
