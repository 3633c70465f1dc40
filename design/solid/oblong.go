package solid

// oblongOutline returns the outline of a straight slot with round ends of radius
// r whose middles lie at d and -d, anticlockwise.
func oblongOutline(d Vec2, r float64) Outline {
	n := Vec2{-d.Y, d.X}.mul(r / d.len())
	return Outline{
		{From: d.sub(n), To: d.add(n), Arc: true, Centre: d},
		{From: d.add(n), To: n.sub(d)},
		{From: n.sub(d), To: d.mul(-1).sub(n), Arc: true, Centre: d.mul(-1)},
		{From: d.mul(-1).sub(n), To: d.sub(n)},
	}
}

// oblong leads a profile as [lathe] has it round a straight line from d to -d in
// the plane of f: what a cutter of that profile takes away that goes from the one
// end to the other. Its round ends are halves of cylinders and cones, joined by
// planes that touch them.
func oblong(profile []station, d Vec2, f Frame) *Solid {
	b := oblongs{f: f, s: &Solid{}}
	for _, p := range profile {
		b.add(p, d)
	}
	for i := 0; i+1 < len(profile); i++ {
		face := Face{Name: profile[i+1].name, Thread: profile[i+1].thread}
		surface, inward := turnedSurface(profile[i], profile[i+1], f)
		if _, flat := surface.(Plane); !flat {
			b.wall(i, face)
			continue
		}
		face.Surface, face.Inward = surface, inward
		for k, reversed := range []bool{false, true} {
			if b.rings[i+k].at.r >= Tolerance {
				face.Loops = append(face.Loops, b.loop(i+k, reversed))
			}
		}
		if len(face.Loops) == 2 && profile[i+1].r > profile[i].r {
			face.Loops[0], face.Loops[1] = face.Loops[1], face.Loops[0]
		}
		b.s.Faces = append(b.s.Faces, face)
	}
	return b.s.finish()
}

// oblongs is the state of making an oblong solid: a ring of four edges for each
// station of the profile.
type oblongs struct {
	f     Frame
	s     *Solid
	rings []oblongRing
}

type oblongRing struct {
	at      station
	outline Outline // nil on the axis
	// edge and vertex are the first of four.
	edge, vertex int
}

// add adds a station's ring; one on the axis has no edges.
func (b *oblongs) add(p station, d Vec2) {
	r := oblongRing{at: p, edge: len(b.s.Edges), vertex: len(b.s.Vertices)}
	if p.r >= Tolerance {
		r.outline = oblongOutline(d, p.r)
	}
	for k, span := range r.outline {
		b.s.Vertices = append(b.s.Vertices, b.f.Point(span.From.X, span.From.Y, p.z))
		c, t0, t1 := span.curve(b.f, p.z)
		b.s.Edges = append(b.s.Edges, Edge{Curve: c, T0: t0, T1: t1, Start: r.vertex + k, End: r.vertex + (k+1)%4})
	}
	b.rings = append(b.rings, r)
}

// loop returns the loop along ring i.
func (b *oblongs) loop(i int, reversed bool) Loop {
	var l Loop
	for k := range 4 {
		if reversed {
			k = 3 - k
		}
		l = append(l, Use{b.rings[i].edge + k, reversed})
	}
	return l
}

// wall adds the four faces between rings i and i+1, of which face gives the name.
func (b *oblongs) wall(i int, face Face) {
	low, high := b.rings[i], b.rings[i+1]
	up := len(b.s.Edges)
	for k := range 4 {
		p, q := b.s.Vertices[low.vertex+k], b.s.Vertices[high.vertex+k]
		b.s.Edges = append(b.s.Edges, Edge{Curve: Line{p, q.Sub(p).Unit()}, T1: q.Dist(p), Start: low.vertex + k, End: high.vertex + k})
	}
	for k, span := range low.outline {
		side := face
		if span.Arc {
			g := b.f
			g.O = b.f.Point(span.Centre.X, span.Centre.Y, 0)
			side.Surface, side.Inward = turnedSurface(low.at, high.at, g)
		} else {
			x, y := b.s.Edges[low.edge+k].Curve.(Line).D, b.s.Edges[up+k].Curve.(Line).D
			side.Surface = Plane{Frame{O: b.s.Vertices[low.vertex+k], X: x, Y: y, Z: x.Cross(y)}}
		}
		side.Loops = []Loop{{{low.edge + k, false}, {up + (k+1)%4, false}, {high.edge + k, true}, {up + k, true}}}
		b.s.Faces = append(b.s.Faces, side)
	}
}
