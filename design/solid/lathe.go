package solid

import "math"

// station is a point of a turned profile: radius and distance along the axis.
// name and thread belong to the face from the station before to this one.
type station struct {
	r, z   float64
	name   string
	thread *Thread
}

// lathe turns a profile about Frame.Z. The profile begins and ends on the axis,
// is off it in between, and runs so that the material is on its left: up along
// the outside. It must not cross itself.
func lathe(profile []station, f Frame) *Solid {
	s := &Solid{}
	ring := make([]int, len(profile)) // edge at each station, -1 on the axis
	for i, p := range profile {
		ring[i] = -1
		if p.r < Tolerance {
			continue
		}
		ring[i] = len(s.Edges)
		c := Circle{Frame{O: f.Point(0, 0, p.z), X: f.X, Y: f.Y, Z: f.Z}, p.r}
		v := len(s.Vertices)
		s.Vertices = append(s.Vertices, c.Point(0))
		s.Edges = append(s.Edges, Edge{Curve: c, T1: 2 * math.Pi, Start: v, End: v})
	}
	for i := 0; i+1 < len(profile); i++ {
		a, b := profile[i], profile[i+1]
		face := Face{Name: b.name, Thread: b.thread}
		face.Surface, face.Inward = turnedSurface(a, b, f)
		if ring[i] >= 0 {
			face.Loops = append(face.Loops, Loop{{ring[i], false}})
		}
		if ring[i+1] >= 0 {
			face.Loops = append(face.Loops, Loop{{ring[i+1], true}})
		}
		if len(face.Loops) == 2 && b.r > a.r {
			face.Loops[0], face.Loops[1] = face.Loops[1], face.Loops[0]
		}
		s.Faces = append(s.Faces, face)
	}
	return s.finish()
}

// turnedSurface returns the surface between two stations and whether its own
// normal points into the material.
func turnedSurface(a, b station, f Frame) (Surface, bool) {
	dr, dz := b.r-a.r, b.z-a.z
	switch {
	case math.Abs(dz) < Tolerance:
		g := Frame{O: f.Point(0, 0, a.z), X: f.X, Y: f.Y, Z: f.Z}
		if dr > 0 {
			g.Y, g.Z = g.Y.Mul(-1), g.Z.Mul(-1)
		}
		return Plane{g}, false
	case math.Abs(dr) < Tolerance:
		return Cylinder{f, a.r}, dz < 0
	}
	slope := dr / dz
	g := Frame{O: f.Point(0, 0, a.z-a.r/slope), X: f.X, Y: f.Y, Z: f.Z}
	if slope < 0 {
		g.Y, g.Z = g.Y.Mul(-1), g.Z.Mul(-1)
	}
	return Cone{g, math.Abs(slope)}, dz < 0
}

// tidied drops stations that add nothing: no length from the one before, or in
// the middle of a straight run of one name.
func tidied(p []station) []station {
	var out []station
	for _, s := range p {
		n := len(out)
		if n > 0 && math.Hypot(out[n-1].r-s.r, out[n-1].z-s.z) < Tolerance {
			continue
		}
		if n > 1 && out[n-1].name == s.name && out[n-1].thread == s.thread {
			a, b := Vec2{out[n-1].r - out[n-2].r, out[n-1].z - out[n-2].z}, Vec2{s.r - out[n-1].r, s.z - out[n-1].z}
			if math.Abs(a.cross(b)) < Tolerance*Tolerance && a.dot(b) > 0 {
				out[n-1] = s
				continue
			}
		}
		out = append(out, s)
	}
	return out
}
