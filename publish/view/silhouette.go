package view

import (
	"math"
	"slices"

	"plansheaf/design/solid"
)

// besideSilhouette (mm) is how far from a silhouette, along the surface, it is
// tried whether the face goes on: beyond what [solid.Hit] calls unsure.
const besideSilhouette = 1e-4

// addSilhouettes makes items of the straight lines of a cylinder or cone face
// along which it turns away from the eye, within the face.
func (s *shape) addSilhouettes(index int) {
	f := &s.solid.Faces[index]
	surface := s.surface[index]
	_, q, ok := turning(surface)
	if !ok {
		return
	}
	for _, u := range silhouetteAngles(surface, q) {
		o, d := generatorLine(surface, u)
		// Where edges of the face cross the line.
		var at []float64
		for _, p := range s.splits[index] {
			v := p.Sub(o).Dot(d)
			if p.Dist(o.Add(d.Mul(v))) < 10*hair {
				at = append(at, v)
			}
		}
		if c, cone := f.Surface.(solid.Cone); cone && f.Box().Grow(hair).Holds(c.O) {
			at = append(at, 0)
		}
		slices.Sort(at)
		for i := 0; i+1 < len(at); i++ {
			if at[i+1]-at[i] < hair || !s.onBothSides(index, u, o, d, at[i], at[i+1]) {
				continue
			}
			it := item{edge: -1 - index, kind: Silhouette, faces: [2]int{index, -1}, drawn: true}
			// A hollow face turns away inside the material, where nothing comes
			// into sight behind it.
			it.contour = !f.Inward
			it.track = newTrack(solid.Line{O: o, D: d}, at[i], at[i+1])
			s.silhouettes[index] = append(s.silhouettes[index], &it.track)
			s.addItem(it)
		}
	}
}

// silhouetteAngles returns the angles about the axis at which a surface turns
// away from the eye; q is what [turning] gave.
func silhouetteAngles(s solid.Surface, q solid.Vec) []float64 {
	var ts [2]float64
	var n int
	switch s := s.(type) {
	case solid.Cylinder:
		ts, n = angles(s.X.Dot(q), s.Y.Dot(q), 0)
	case solid.Cone:
		ts, n = angles(s.Slope*s.X.Dot(q), s.Slope*s.Y.Dot(q), -s.Z.Dot(q))
	}
	if n == 2 && math.Abs(math.Remainder(ts[0]-ts[1], 2*math.Pi)) < 1e-7 {
		return nil // it only touches: all of the cone looks one way
	}
	return ts[:n]
}

// generatorLine returns the straight line of a cylinder or cone at an angle.
func generatorLine(s solid.Surface, u float64) (o, d solid.Vec) {
	switch c := s.(type) {
	case solid.Cylinder:
		return c.Point(u, 0), c.Z
	case solid.Cone:
		return c.O, c.Point(u, 1).Sub(c.O).Unit()
	}
	return o, d
}

// onBothSides tells whether the face lies on both sides of the line o + d*t
// between t0 and t1, which no edge of the face crosses there.
func (s *shape) onBothSides(index int, u float64, o, d solid.Vec, t0, t1 float64) bool {
	one := alone(s.solid, index)
	back := s.view.Inverse()
	for _, share := range [3]float64{0.5, 0.37, 0.71} {
		p := o.Add(d.Mul(t0 + (t1-t0)*share))
		both, sure := true, true
		for _, way := range [2]float64{-1, 1} {
			in, ok := faceBeside(one, back, s.surface[index], u, p, way)
			both, sure = both && in, sure && ok
		}
		if sure {
			return both
		}
	}
	return false
}

// faceBeside tells whether a face lies a little to one side of the point p on
// its silhouette at angle u: a ray from the axis is sent there.
func faceBeside(one *solid.Solid, back solid.Placement, surface solid.Surface, u float64, p solid.Vec, way float64) (in, sure bool) {
	var axis, target solid.Vec
	switch c := surface.(type) {
	case solid.Cylinder:
		_, v := c.Param(p)
		axis, target = c.O.Add(c.Z.Mul(v)), c.Point(u+way*besideSilhouette/c.R, v)
	case solid.Cone:
		_, v := c.Param(p)
		r := math.Max(c.Slope*v, hair)
		axis, target = c.O.Add(c.Z.Mul(v)), c.Point(u+way*besideSilhouette/r, v)
	}
	dir := target.Sub(axis)
	for _, h := range one.Ray(back.Point(axis), back.Direction(dir)) {
		if math.Abs(h.T-1) < 1e-6 {
			return true, !h.Unsure
		}
	}
	return false, true
}
