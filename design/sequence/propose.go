package sequence

import (
	"fmt"
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/way"
)

const (
	// mostTrials bounds how many orders of one assembly are gone through, mostMoves how
	// many moves a proposal has, and mostReordered the bodies of an assembly that is
	// tried at all.
	mostTrials    = 16
	mostMoves     = 4
	mostReordered = 1500
)

// A Move takes a step to another place in the order.
type Move struct {
	Step   int  // of the graph
	Beside int  // the step that it comes to stand next to
	Before bool // before Beside, otherwise right after it
	With   []int
	Why    string // in words
}

// A Proposal is an order of an assembly's steps in which less is in the way.
type Proposal struct {
	Assembly *plan.Assembly
	Order    []int // all its steps of the case
	Moves    []Move
	Was      int // obstructions in the order of the plan
	Left     int // those that stay
}

// Propose looks for a better order where something does not go: it moves the step
// that is blocked before the one that brings what blocks it, or that one after it,
// keeping what steps need of each other, and keeps each move after which less is in
// the way. The search is bounded; it may miss an order.
func (rec *Record) Propose() []Proposal {
	var out []Proposal
	for _, a := range rec.r.Plan.Assemblies {
		if !slices.ContainsFunc(rec.Obstructions, func(o Obstruction) bool { return rec.movable(a, o) }) {
			continue
		}
		b := newBench(rec.r, rec.laid, rec.Graph, a, rec.store, rec.other)
		if b == nil || len(b.bodies) > mostReordered || rec.store.looks > mostLooks {
			continue
		}
		if p := rec.improve(b); p != nil {
			out = append(out, *p)
		}
	}
	return out
}

// movable reports whether another order of an assembly's steps might help.
func (rec *Record) movable(a *plan.Assembly, o Obstruction) bool {
	return o.Step >= 0 && o.Since >= 0 && o.Since != o.Step && rec.Graph.Steps[o.Step].Assembly == a && rec.Graph.Steps[o.Since].Assembly == a
}

// improve makes one move after the other, each the first that leaves less in the way.
func (rec *Record) improve(b *bench) *Proposal {
	needs, loose, first := b.hardNeeds(), b.hanging(), b.founding()
	now := b.walk()
	p := &Proposal{Assembly: b.a, Order: b.order, Was: len(now), Left: len(now)}
	for trials := 0; len(p.Moves) < mostMoves && p.Left > 0; {
		better := false
		for _, m := range rec.candidates(b, now, p.Order, needs) {
			if trials++; trials > mostTrials {
				break
			}
			if b.reorder(m.order); b.hanging() > loose || b.founding() != first {
				continue // it would hang in the air, or all else be built on it
			}
			if found := b.walk(); len(found) < p.Left {
				p.Order, p.Left, now, better = m.order, len(found), found, true
				p.Moves = append(p.Moves, m.Move)
				break
			}
		}
		if !better {
			break
		}
	}
	if len(p.Moves) == 0 {
		return nil
	}
	return p
}

// CanFollow reports whether a step of an assembly may as well come after a later one of
// it, with those between that need it, without anything more being in the way; with are
// those that move along.
func (rec *Record) CanFollow(step, after int) (with []int, ok bool) {
	a := rec.Graph.Steps[step].Assembly
	if rec.Graph.Steps[after].Assembly != a {
		return nil, false
	}
	b := newBench(rec.r, rec.laid, rec.Graph, a, rec.store, rec.other)
	if b == nil || len(b.bodies) > mostReordered || rec.store.looks > mostLooks {
		return nil, false
	}
	needs, loose, first, now := b.hardNeeds(), b.hanging(), b.founding(), len(b.walk())
	t, ok := postpone(b.order, needs, step, after)
	if !ok {
		return nil, false
	}
	b.reorder(t.order)
	return t.With, b.hanging() <= loose && b.founding() == first && len(b.walk()) <= now
}

// walk is all that does not go in the bench's order.
func (b *bench) walk() []Obstruction {
	var found []Obstruction
	for turn := range b.order {
		found = append(found, b.waysIn(turn)...)
		found = append(found, b.joints(turn).found...)
	}
	return found
}

// reorder puts the steps in another order.
func (b *bench) reorder(order []int) {
	b.order = order
	for i, k := range order {
		b.turns[k] = i
	}
	b.arrive()
}

// founding is the step that adds what all else is built on.
func (b *bench) founding() int {
	for _, k := range b.order {
		if len(b.g.Steps[k].Step.Adds) > 0 {
			return k
		}
	}
	return -1
}

// hanging is how many steps but the first add something that comes near nothing which
// is there before.
func (b *bench) hanging() int {
	n := 0
	for turn := 1; turn < len(b.order); turn++ {
		adds, held := false, false
		for i := range b.bodies {
			if b.since[i] != turn || b.bodies[i].Of != nil {
				continue
			}
			adds = true
			near := b.boxes[i].Grow(way.Allowance)
			for k := range b.bodies {
				held = held || b.since[k] < turn && b.boxes[k].Meets(near)
			}
		}
		if adds && !held {
			n++
		}
	}
	return n
}

// hardNeeds are the steps of the bench that each needs whatever the file's order: those
// that it names, that add the parts of its joints, that start what it tightens, that
// slide its nuts in.
func (b *bench) hardNeeds() map[int][]int {
	needs := map[int][]int{}
	add := func(step, need int) {
		if _, mine := b.turns[need]; mine && need != step && !slices.Contains(needs[step], need) {
			needs[step] = append(needs[step], need)
		}
	}
	for _, k := range b.order {
		st := b.g.Steps[k].Step
		if st.NeedsAt.Known() {
			for _, need := range b.g.needed(b.g.Steps[k]) {
				add(k, need)
			}
		}
		for _, w := range slices.Concat(st.Fastens, st.Tightens) {
			owner, j := JointOf(b.r.Plan, b.a, w)
			if j == nil || b.g.Handled(j) == nil {
				continue
			}
			for i := range b.bodies {
				body := &b.bodies[i]
				if body.Of == nil && b.since[i] < len(b.order) && b.takes(owner, j, body.Path) {
					add(k, b.order[b.since[i]])
				}
			}
			h := b.g.Handled(j)
			for _, d := range slices.Concat(h.Slides, h.Loose) {
				if b.g.Before(d.Step, k) {
					add(k, d.Step)
				}
			}
		}
	}
	return needs
}

// takes reports whether a joint of the assembly itself, or of one that it holds, takes
// the part at a path.
func (b *bench) takes(owner *plan.Assembly, j *plan.Joint, path string) bool {
	if b.parts == nil {
		b.parts = map[*plan.Joint]map[string]bool{}
	}
	paths := b.parts[j]
	if paths == nil {
		paths = map[string]bool{}
		prefixes := map[string]bool{}
		if owner == b.a {
			prefixes[""] = true
		}
		for i := range b.bodies {
			if b.bodies[i].Of == j && b.bodies[i].Path != "" {
				prefixes[b.bodies[i].Path+"."] = true
			}
		}
		for _, w := range Features(j) {
			for _, spot := range b.r.Spots(owner, w) {
				for prefix := range prefixes {
					paths[prefix+spot.Path] = true
				}
			}
		}
		b.parts[j] = paths
	}
	return paths[path]
}

// A trial is an order to go through, and the move that makes it.
type trial struct {
	Move
	order []int
}

// candidates are the orders to try for what is in the way now.
func (rec *Record) candidates(b *bench, now []Obstruction, order []int, needs map[int][]int) []trial {
	var list []trial
	add := func(t trial, ok bool) {
		if ok && !slices.ContainsFunc(list, func(other trial) bool { return slices.Equal(other.order, t.order) }) {
			list = append(list, t)
		}
	}
	for _, o := range now {
		if !rec.movable(b.a, o) {
			continue
		}
		why := fmt.Sprintf("%s, which comes in %s, is in the way of %s", o.Blocks.Name(), rec.Graph.Say(o.Since), o.Name)
		t, ok := advance(order, needs, o.Step, o.Since)
		t.Why = why
		add(t, ok)
		t, ok = postpone(order, needs, o.Since, o.Step)
		t.Why = why
		add(t, ok)
	}
	return list
}

// advance takes a step, with those between that it needs, before another; ok is false
// where it needs that one.
func advance(order []int, needs map[int][]int, step, before int) (t trial, ok bool) {
	from, to := slices.Index(order, before), slices.Index(order, step)
	if from < 0 || to < from {
		return t, false
	}
	moved := map[int]bool{step: true}
	for i := to; i >= from; i-- { // needs of what moves move along
		if !moved[order[i]] {
			continue
		}
		for _, need := range needs[order[i]] {
			if at := slices.Index(order, need); at >= from {
				moved[need] = true
			}
		}
	}
	if moved[before] {
		return t, false
	}
	t.Move = Move{Step: step, Beside: before, Before: true}
	t.order = slices.Clone(order[:from])
	for _, pass := range []bool{true, false} {
		for _, k := range order[from:] {
			if moved[k] == pass {
				t.order = append(t.order, k)
				if pass && k != step {
					t.With = append(t.With, k)
				}
			}
		}
	}
	return t, true
}

// postpone takes a step, with those between that need it, after another; ok is false
// where that one needs it.
func postpone(order []int, needs map[int][]int, step, after int) (t trial, ok bool) {
	from, to := slices.Index(order, step), slices.Index(order, after)
	if from < 0 || to < from {
		return t, false
	}
	moved := map[int]bool{step: true}
	for _, k := range order[from : to+1] {
		if slices.ContainsFunc(needs[k], func(need int) bool { return moved[need] }) {
			moved[k] = true
		}
	}
	if moved[after] {
		return t, false
	}
	t.Move = Move{Step: step, Beside: after}
	t.order = slices.Clone(order[:from])
	for _, pass := range []bool{false, true} {
		for _, k := range order[from : to+1] {
			if moved[k] == pass {
				t.order = append(t.order, k)
				if pass && k != step {
					t.With = append(t.With, k)
				}
			}
		}
	}
	t.order = append(t.order, order[to+1:]...)
	return t, true
}
