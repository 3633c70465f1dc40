package sequence

import (
	"math"
	"slices"

	"plansheaf/design/plan"
)

// A Resting is how the work lies in a step, and what it takes to lay it so.
type Resting struct {
	plan.Rest
	Mass  float64 // kilograms, of what must be turned over or taken up; 0 where nothing must
	Known bool    // all of it is weighed
	Limit float64 // kilograms that the step's people may lift together
	Hoist bool    // the step names a hoist that lifts it
	// Falls are the parts that would fall out: added before, held by no joint yet, with
	// room below them as the work lies then.
	Falls []string
}

// resting is how the work lies in the step at a place in the order.
func (b *bench) resting(turn int) Resting {
	r := Resting{Rest: b.rests[b.g.Steps[b.order[turn]].Step]}
	if r.Turned() {
		r.Mass, r.Known = b.mass(turn)
		r.Falls = b.falling(turn, r.On)
	}
	return r
}

// fallRoom (mm) is how far a loose part must be able to sink so that turning the work
// over drops it: less, and it only settles.
const fallRoom = 5.0

// falling are the units that would fall out of the work, as it is after so many steps,
// when it is laid on a face; for what is held in hand, in whichever way it is turned.
func (b *bench) falling(steps int, face string) []string {
	all := b.before(steps, nothing, b.soft)
	var out []string
	for _, group := range b.looseFrom(steps, all) {
		others := slices.DeleteFunc(slices.Clone(all), func(i int) bool { return slices.Contains(group, i) })
		if b.drops(group, others, face) {
			for _, i := range group {
				if name := b.unit[i]; name != "" && !slices.Contains(out, name) {
					out = append(out, name)
				}
			}
		}
	}
	return out
}

// drops reports whether bodies sink out of the others when the work lies on a face.
func (b *bench) drops(group, others []int, face string) bool {
	if up, lies := upward[face]; lies {
		b.floor = b.floorUnder(face, slices.Concat(group, others))
		free, _ := b.runs(group, others, up.Mul(-1))
		b.floor = nil
		return free > fallRoom
	}
	for _, face := range plan.Faces() {
		free, _ := b.runs(group, others, upward[face])
		if free > fallRoom {
			return true
		}
	}
	return false
}

// looseFrom are the groups of bodies that nothing holds to the heaviest one after so
// many steps: no joint but one that slides leads there.
func (b *bench) looseFrom(steps int, all []int) [][]int {
	group := map[string]string{} // unit -> another of its group, itself where it stands for it
	var find func(unit string) string
	find = func(unit string) string {
		if up, known := group[unit]; known && up != unit {
			return find(up)
		}
		return unit
	}
	for _, k := range b.order[:steps] {
		for _, w := range b.g.Steps[k].Step.Fastens {
			owner, j := JointOf(b.r.Plan, b.a, w)
			if j == nil || j.Kind.Text == plan.Slide {
				continue
			}
			first := ""
			for _, i := range all {
				if b.bodies[i].Of != nil || b.unit[i] == "" || !b.takes(owner, j, b.bodies[i].Path) {
					continue
				}
				if first == "" {
					first = find(b.unit[i])
				}
				group[find(b.unit[i])] = first
			}
		}
	}
	var names []string
	bodies, weight := map[string][]int{}, map[string]float64{}
	for _, i := range all {
		if b.unit[i] == "" {
			continue
		}
		name := find(b.unit[i])
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
		bodies[name] = append(bodies[name], i)
		weight[name] += b.bodies[i].Part.Mass
	}
	var out [][]int
	main := heaviest(names, weight)
	for _, name := range names {
		if name != main {
			out = append(out, bodies[name])
		}
	}
	return out
}

// heaviest is the name that weighs most, of equal ones the first.
func heaviest(names []string, weight map[string]float64) string {
	best, most := "", math.Inf(-1)
	for _, name := range names {
		if weight[name] > most {
			best, most = name, weight[name]
		}
	}
	return best
}

// oncePerJoint keeps of what only the bench keeps from going the first for each joint:
// a screw that cannot be put in cannot be turned either.
func oncePerJoint(list []Obstruction) []Obstruction {
	seen := map[*plan.Joint]bool{}
	return slices.DeleteFunc(list, func(o Obstruction) bool {
		if o.Kind != OnlyBench || o.Joint == nil {
			return false
		}
		again := seen[o.Joint]
		seen[o.Joint] = true
		return again
	})
}

// laidOtherwise tells for what only the bench keeps from going in a step on which faces
// the work could rest instead.
func (b *bench) laidOtherwise(turn int, found []Obstruction) {
	if !slices.ContainsFunc(found, func(o Obstruction) bool { return o.Kind == OnlyBench }) {
		return
	}
	on, faces := b.on(turn), b.goodFaces(turn)
	later := -1
	for next := turn + 1; next < len(b.order) && later < 0; next++ {
		if slices.Contains(faces, b.on(next)) {
			later = b.order[next]
		}
	}
	for i := range found {
		if o := &found[i]; o.Kind == OnlyBench {
			o.On, o.Faces, o.Later = on, faces, later
		}
	}
}

// goodFaces are the faces on which nothing of a step goes into the bench, the broadest
// first.
func (b *bench) goodFaces(turn int) []string {
	defer func() { b.tryOn = "" }()
	on := b.on(turn)
	var list []string
	for _, face := range plan.Faces() {
		if face == on {
			continue
		}
		b.tryOn = face
		all := slices.Concat(b.waysIn(turn), b.joints(turn).found)
		if !slices.ContainsFunc(all, func(o Obstruction) bool { return o.Kind == OnlyBench }) {
			list = append(list, face)
		}
	}
	size := b.boxAround(b.before(turn, afterParts, b.soft)).Size()
	area := func(face string) float64 {
		up := upward[face]
		return math.Abs(up.X)*size.Y*size.Z + math.Abs(up.Y)*size.X*size.Z + math.Abs(up.Z)*size.X*size.Y
	}
	slices.SortStableFunc(list, func(x, y string) int {
		switch ax, ay := area(x), area(y); {
		case ax > ay:
			return -1
		case ax < ay:
			return 1
		}
		return 0
	})
	return list
}
