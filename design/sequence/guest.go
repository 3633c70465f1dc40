package sequence

import (
	"strings"

	"plansheaf/design/plan"
)

// guests adds to the bodies of a bench the slot nuts that its steps slide in for joints of
// an assembly that holds this one: they stand where that assembly's joint has them.
func (b *bench) guests() {
	for _, k := range b.order {
		for _, w := range b.g.Steps[k].Step.SlidesIn {
			owner, j := JointOf(b.r.Plan, b.a, w)
			if j == nil || owner == b.a || b.g.Handled(j) == nil || b.brings(j) {
				continue
			}
			b.nutsFrom(owner, j)
		}
	}
}

// brings reports whether a body of the bench belongs to a joint.
func (b *bench) brings(j *plan.Joint) bool {
	for i := range b.bodies {
		if b.bodies[i].Of == j {
			return true
		}
	}
	return false
}

// nutsFrom adds the nuts of a joint that lie in a part of this assembly, moved from the
// axes of the joint's owner.
func (b *bench) nutsFrom(owner *plan.Assembly, j *plan.Joint) {
	places := b.laid.Fastenings(owner, j)
	all := Bodies(b.r, b.laid, owner)
	for _, nut := range all {
		if nut.Of != j || nut.Role != Nut || nut.Path != "" || nut.Place < 1 || nut.Place > len(places) {
			continue
		}
		crossings := places[nut.Place-1].Crossings
		path := crossings[len(crossings)-1].Spot.Path
		host, prefix := b.hostOf(owner, path)
		if host < 0 {
			continue
		}
		for i := range all {
			if all[i].Of == nil && all[i].Path == path {
				nut.Piece.At = nut.At.Then(all[i].At.Inverse()).Then(b.bodies[host].At)
				b.guestOf[j] = prefix
				b.bodies = append(b.bodies, nut)
				break
			}
		}
	}
}

// hostOf is the body of the bench that a path of another assembly leads to, and what of
// the path leads to this assembly; -1 where it leads elsewhere.
func (b *bench) hostOf(owner *plan.Assembly, path string) (body int, prefix string) {
	for at := strings.IndexByte(path, '.'); at >= 0; {
		if b.leadsHere(owner, path[:at]) {
			for i := range b.bodies {
				if b.bodies[i].Of == nil && b.bodies[i].Path == path[at+1:] {
					return i, path[:at+1]
				}
			}
		}
		next := strings.IndexByte(path[at+1:], '.')
		if next < 0 {
			break
		}
		at += 1 + next
	}
	return -1, ""
}

// leadsHere reports whether a path of an assembly leads to this bench's.
func (b *bench) leadsHere(a *plan.Assembly, path string) bool {
	for _, word := range (plan.Word{Text: path}).Path() {
		if isNumber(word) {
			continue
		}
		if a == nil {
			return false
		}
		use := a.Use(word)
		if use == nil {
			return false
		}
		id, _ := use.Assembly.Pick(b.r.Case.Options)
		a = b.r.Plan.Assembly(id.Text)
	}
	return a == b.a
}

// guestComes notes the step that slides in a nut of another assembly's joint.
func (b *bench) guestComes(i int) {
	for _, d := range b.g.Handled(b.bodies[i].Of).Slides {
		if at, mine := b.turns[d.Step]; mine && at < b.since[i] {
			b.since[i], b.rank[i] = at, beforeParts
		}
	}
}
