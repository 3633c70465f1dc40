package view

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// Plain returns the stretches of an axis of the paper along which bodies, seen
// from a direction, are the same all through, in order: no edge begins or ends
// there, nothing lies across or at a slant, seen or unseen, and no thread ends. A
// view may be broken there: see [Break]. Stretches are as long as they can be, so
// features stand at their ends. Beyond the bodies there are none.
func Plain(bodies []Body, dir Direction, axis Axis) ([]Range, error) {
	if err := check(bodies, dir); err != nil {
		return nil, err
	}
	along := dir.Right
	if axis == Upright {
		along = dir.Up.Mul(-1)
	}
	var taken []Range
	for _, b := range bodies {
		taken = append(taken, b.changes(along)...)
	}
	slices.SortFunc(taken, func(a, b Range) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	var out []Range
	for i, last := 0, math.Inf(1); i < len(taken); i++ {
		if from := taken[i].From; from > last+hair {
			out = append(out, Range{last, from})
			last = taken[i].To
		} else if i == 0 {
			last = taken[i].To
		} else {
			last = math.Max(last, taken[i].To)
		}
	}
	return out, nil
}

// changes returns the stretches of a direction in which a body is not the same
// all along: its edges that do not run that way, its faces that are not drawn out
// that way, and the ends of threads.
func (b Body) changes(along solid.Vec) []Range {
	// In axes of which x is the direction.
	side := along.Cross(solid.Vec{Z: 1})
	if side.Len() < 0.5 {
		side = along.Cross(solid.Vec{X: 1})
	}
	side = side.Unit()
	f := b.At.Then(Direction{along, side, along.Cross(side)}.placement())
	threads := shape{solid: b.Solid, view: f, features: b.whole()}
	var out []Range
	for i := range b.Solid.Faces {
		drawnOut := false
		switch s := b.Solid.Faces[i].Surface.Placed(f).(type) {
		case solid.Plane:
			drawnOut = math.Abs(s.Z.X) < drawnOutSine
		case solid.Cylinder:
			drawnOut = math.Hypot(s.Z.Y, s.Z.Z) < drawnOutSine
			if drawnOut && b.Solid.Faces[i].Thread != nil {
				th := thread{cylinder: s}
				if threads.setReach(&th, &b.Solid.Faces[i]); th.limited {
					x := s.O.X + s.Z.X*th.limit
					out = append(out, Range{x, x})
				}
			}
		}
		if !drawnOut {
			box, more := alone(b.Solid, i).BoxUnder(f), 0.0
			if c, round := b.Solid.Faces[i].Surface.(solid.Cylinder); round && b.Solid.Faces[i].Thread != nil {
				more = math.Max(0, b.Solid.Faces[i].Thread.Major/2-c.R) // it is drawn that much wider
			}
			out = append(out, Range{box.Min.X - more, box.Max.X + more})
		}
	}
	for i := range b.Solid.Edges {
		e := &b.Solid.Edges[i]
		k := newTrack(e.Curve.Placed(f), e.T0, e.T1)
		if k.linear && math.Hypot(k.a.Y, k.a.Z) < drawnOutSine {
			from, to := k.at(k.t0).X, k.at(k.t1).X
			out = append(out, Range{from, from}, Range{to, to})
			continue
		}
		out = append(out, k.reach())
	}
	return out
}

// drawnOutSine is the sine of the angle up to which something counts as running
// along the axis: over metres it strays less than [onOne].
const drawnOutSine = 1e-7

// reach returns between which values of x a track lies.
func (k *track) reach() Range {
	r := Range{math.Inf(1), math.Inf(-1)}
	turns := []float64{k.t0, k.t1}
	switch {
	case k.form == free:
		turns = append(turns, k.freeTurns(func(p solid.Vec) float64 { return p.X })...)
	case !k.linear:
		turns = append(turns, within(math.Atan2(k.b.X, k.a.X), math.Pi, k.t0, k.t1)...)
	}
	for _, t := range turns {
		x := k.at(t).X
		r.From, r.To = math.Min(r.From, x), math.Max(r.To, x)
	}
	return r
}
