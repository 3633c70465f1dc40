package solid

import (
	"fmt"
	"math"
)

func (b Block) make() (*Solid, error) {
	var f Faults
	need(&f, "box.1", b.Size.X, "box.2", b.Size.Y, "box.3", b.Size.Z)
	if f != nil {
		return nil, f
	}
	return extrude(RectangleOutline(b.Size.X, b.Size.Y), b.Size.Z), nil
}

func (b Rod) make() (*Solid, error) {
	var f Faults
	need(&f, "cylinder.d", b.D, "cylinder.l", b.L)
	if f != nil {
		return nil, f
	}
	s := extrude(CircleOutline(b.D), b.L)
	s.threadBody(b.Thread)
	s.features = roundFeatures(s, b.D, b.L, b.Thread)
	return s, nil
}

// threadBody cuts a thread on the round face of a bar; nil cuts none.
func (s *Solid) threadBody(t *Thread) {
	for i := range s.Faces {
		if t != nil && s.Faces[i].Name == "body" {
			s.Faces[i].Thread = t
		}
	}
}

// roundFeatures lists the axis and body of a round piece along z.
func roundFeatures(s *Solid, d, l float64, t *Thread) []Feature {
	mid := s.box.Centre()
	f := Feature{Name: "axis", Kind: AxisFeature, At: mid, Dir: Vec{Z: 1}, D: d, Depth: l, Thread: t, Box: s.box}
	body := f
	body.Name, body.Kind = "body", BodyFeature
	return []Feature{f, body}
}

func (b Pipe) make() (*Solid, error) {
	var f Faults
	need(&f, "tube.d", b.D, "tube.bore", b.Bore, "tube.l", b.L)
	if f == nil && b.Bore > b.D-MinSize {
		f = append(f, Fault{"tube.bore", fmt.Sprintf("bore of %s leaves no wall in %s", mm(b.Bore), mm(b.D))})
	}
	if f != nil {
		return nil, f
	}
	outer, inner := CircleOutline(b.D), circleAt(Vec2{b.D / 2, b.D / 2}, b.Bore/2).turnedBack()
	outer[0].name, inner[0].name = "body", "bore"
	s := prism([]Outline{outer, inner}, b.L, World, prismNames{"bottom", "top"})
	s.features = roundFeatures(s, b.D, b.L, nil)
	return s, nil
}

func (b Taper) make() (*Solid, error) {
	var f Faults
	need(&f, "cone.l", b.L)
	for _, x := range []struct {
		field string
		v     float64
	}{{"cone.d", b.D}, {"cone.to", b.To}} {
		if x.v != 0 && !(x.v >= MinSize) || x.v > MaxSize {
			f = append(f, Fault{x.field, fmt.Sprintf("is %s, it must be 0 or from %s to %s", mm(x.v), mm(MinSize), mm(MaxSize))})
		}
	}
	if f == nil && math.Max(b.D, b.To) == 0 {
		f = append(f, Fault{"cone.d", "both ends of the cone have no size"})
	}
	if f != nil {
		return nil, f
	}
	r := math.Max(b.D, b.To) / 2
	s := lathe(tidied([]station{
		{0, 0, "", nil}, {b.D / 2, 0, "bottom", nil}, {b.To / 2, b.L, "body", nil}, {0, b.L, "top", nil},
	}), Frame{O: Vec{r, r, 0}, X: World.X, Y: World.Y, Z: World.Z})
	s.features = roundFeatures(s, 2*r, b.L, nil)
	return s, nil
}

func (b Extruded) make() (*Solid, error) {
	var f Faults
	if err := b.Outline.Check(); err != nil {
		f = append(f, inField(err, "prism.outline").(Faults)...)
	}
	need(&f, "prism.l", b.L)
	if f != nil {
		return nil, f
	}
	return extrude(b.Outline, b.L), nil
}

// MaxSteps is how many steps a turned piece may have.
const MaxSteps = 1000

func (b Lathed) make() (*Solid, error) {
	var f Faults
	if len(b) == 0 || len(b) > MaxSteps {
		return nil, fault("turned", fmt.Sprintf("has %d steps, it must have 1 to %d", len(b), MaxSteps))
	}
	widest := 0.0
	for i, s := range b {
		at := func(k string) string { return fmt.Sprintf("turned.%d.%s", i+1, k) }
		need(&f, at("d"), s.D, at("l"), s.L)
		if s.To != 0 {
			need(&f, at("to"), s.To)
		}
		widest = math.Max(widest, math.Max(s.D, s.To))
	}
	if f != nil {
		return nil, f
	}
	profile := []station{{}}
	z := 0.0
	for i, s := range b {
		name := fmt.Sprintf("step.%d", i+1)
		end := "bottom"
		if i > 0 {
			end = fmt.Sprintf("shoulder.%d", i)
		}
		to := s.To
		if to == 0 {
			to = s.D
		}
		profile = append(profile, station{s.D / 2, z, end, nil}, station{to / 2, z + s.L, name, s.Thread})
		z += s.L
	}
	profile = append(profile, station{0, z, "top", nil})
	r := widest / 2
	s := lathe(tidied(profile), Frame{O: Vec{r, r, 0}, X: World.X, Y: World.Y, Z: World.Z})
	s.features = roundFeatures(s, widest, z, nil)
	at := Vec{r, r, 0}
	for i, step := range b {
		box := Box{Vec{r - step.D/2, r - step.D/2, at.Z}, Vec{r + step.D/2, r + step.D/2, at.Z + step.L}}
		s.features = append(s.features, Feature{
			Name: fmt.Sprintf("step.%d", i+1), Kind: BodyFeature, At: at.along(World.Z, step.L/2), Dir: World.Z,
			D: step.D, Depth: step.L, Thread: step.Thread, Box: box,
		})
		at.Z += step.L
	}
	return s, nil
}
