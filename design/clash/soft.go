package clash

import (
	"maps"
	"math"

	"plansheaf/design/quantity"
)

// softPlaces is in how many places beside its ends a motion is looked at that alters the
// shape of a belt.
const softPlaces = 23

// soft looks for what runs into belts that a motion leads another way: in places spread
// evenly over its range, with the belt as it is laid there.
func (j *journey) soft() {
	has := false
	for _, b := range j.bodies {
		has = has || b.Belt != nil
	}
	if !has || !j.alters(-j.m.rest) && !j.alters(1-j.m.rest) {
		return
	}
	j.t.Sampled = true
	for k := 0; k <= softPlaces+1; k++ {
		u := float64(k)/(softPlaces+1) - j.m.rest
		bodies, altered := j.laid(u)
		for i, b := range bodies {
			if !altered[i] {
				continue
			}
			for n, other := range bodies {
				if n != i && (n > i || !altered[n]) {
					j.soften(b, other, u)
				}
			}
		}
	}
}

// soften notes where a belt is run into.
func (j *journey) soften(belt, other *Body, u float64) {
	if shared(belt.box, other.box) <= Contact || !j.mayNot(min(belt.number, other.number), max(belt.number, other.number)) {
		return
	}
	m := j.store.meet(belt, other)
	if m.Clear || m.Depth <= Deep {
		return
	}
	at, in := belt.At.Point(m.At), common(belt, other)
	for i := range j.t.Clashes {
		c := &j.t.Clashes[i]
		if c.A.number == belt.number && c.B.number == other.number {
			if math.Abs(u) < math.Abs(j.shareOf(c.First)) {
				c.First, c.At = j.m.at(u), at
			}
			if m.Depth > c.Depth {
				c.Depth, c.Deepest = m.Depth, j.m.at(u)
			}
			return
		}
	}
	j.t.Clashes = append(j.t.Clashes, Clash{
		A: belt, B: other, In: in, Instances: j.count[in.Assembly], First: j.m.at(u), Others: maps.Clone(j.others), Deepest: j.m.at(u), Depth: m.Depth, At: at,
	})
}

// alters reports whether a belt is led another way with the motion at a share.
func (j *journey) alters(u float64) bool {
	_, altered := j.laid(u)
	return len(altered) > 0
}

// laid are the bodies with the motion at a share, belts as they are laid there, and which
// of them have another shape than at rest.
func (j *journey) laid(u float64) ([]*Body, map[int]bool) {
	at := map[string]quantity.Value{j.m.ID.Text: j.m.at(u)}
	maps.Copy(at, j.others)
	p := j.pose(at)
	if p == nil {
		return nil, nil
	}
	there := map[string]*Body{}
	for _, b := range p.parts {
		if b.Belt != nil {
			there[b.Path] = b
		}
	}
	altered := map[int]bool{}
	for i, b := range j.search.bodies {
		if now := there[b.Path]; b.Belt != nil && now != nil && now.Solid != b.Solid {
			altered[i] = true
		}
	}
	if len(altered) == 0 {
		return nil, nil
	}
	bodies := j.posed(at)
	for i := range altered {
		now := *there[bodies[i].Path]
		now.number, now.box = i, boxAt(now.Solid, now.At)
		bodies[i] = &now
	}
	return bodies, altered
}
