package view

import (
	"cmp"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"plansheaf/design/solid"
)

// Limits on what is drawn in one view, so that a hostile plan does not run for
// hours.
const (
	// MostBodies is how many bodies a view may have.
	MostBodies = 20000
	// MostEdges is how many edges all of them may have.
	MostEdges = 2000000
)

// mostWork bounds [stage.work]: a frame of a hundred slotted bars takes 1e7, some
// seconds.
const mostWork = 5e8

// errCrowded is what bodies give that cannot be drawn in any sensible time.
var errCrowded = errors.New("view: too many bodies lie on each other in the drawing")

// errDirection is what a direction gives that is none.
var errDirection = errors.New("view: right, up and toward are not right-handed unit vectors at right angles")

// Project draws bodies from a direction: see [Drawing]. Lines come body by body,
// for each in the order of its edges, then silhouettes, then threads; visible
// ones before hidden ones. It returns an error for a direction that is none, a
// placement that is no rigid motion, a body without a solid, more than
// [MostBodies] or [MostEdges], and bodies heaped on each other by the hundred. Of
// equal bodies in exactly one place the first is drawn.
func Project(bodies []Body, dir Direction, opt Options) (*Drawing, error) {
	return (*Ready)(nil).Project(bodies, dir, opt)
}

// Project is [Project] that takes bodies which were drawn before as they were made
// ready then.
func (r *Ready) Project(bodies []Body, dir Direction, opt Options) (*Drawing, error) {
	if err := check(bodies, dir); err != nil {
		return nil, err
	}
	if !(opt.Chord > 0) {
		opt.Chord = DefaultChord
	}
	drawn := distinct(bodies)
	shapes := make([]*shape, len(drawn))
	each(len(drawn), func() func(i int) {
		return func(i int) { shapes[i] = r.shape(bodies[drawn[i]], dir, &opt).as(drawn[i], &opt) }
	})
	st := newStage(shapes, len(bodies), dir)
	if st.work() > mostWork {
		return nil, errCrowded
	}
	found := make([][]stretch, len(st.items))
	each(len(st.items), func() func(i int) {
		w := &worker{stage: st, stamp: make([]int32, len(st.items))}
		return func(i int) {
			if st.items[i].drawn {
				found[i] = w.stretches(i)
			}
		}
	})
	return &Drawing{Direction: dir, Lines: st.lines(bodies, found, &opt)}, nil
}

// distinct returns the indices of the bodies without those that stand exactly
// where an equal one does already, as instances do that nobody has placed.
func distinct(bodies []Body) []int {
	type place struct {
		solid *solid.Solid
		at    solid.Placement
	}
	seen := map[place]bool{}
	var out []int
	for i, b := range bodies {
		if p := (place{b.Solid, b.At}); !seen[p] {
			seen[p] = true
			out = append(out, i)
		}
	}
	return out
}

// check finds what cannot be drawn.
func check(bodies []Body, dir Direction) error {
	if !dir.valid() {
		return errDirection
	}
	if len(bodies) > MostBodies {
		return fmt.Errorf("view: %d bodies, at most %d can be drawn", len(bodies), MostBodies)
	}
	edges := 0
	for i, b := range bodies {
		if b.Solid == nil {
			return fmt.Errorf("view: body %d %q has no solid", i, b.Tag)
		}
		t := b.At.Turn
		if d := (Direction{t[0], t[1], t[2]}); !d.valid() || !(b.At.Move.Len() < furthest) {
			return fmt.Errorf("view: body %d %q does not stand anywhere: its placement is no rigid motion", i, b.Tag)
		}
		if edges += len(b.Solid.Edges); edges > MostEdges {
			return fmt.Errorf("view: more than %d edges", MostEdges)
		}
	}
	return nil
}

// furthest (mm) is how far from the origin a body may stand for tolerances to
// mean anything: a kilometre.
const furthest = 1e6

// each calls, for every i below n, a function made by start for each of the
// goroutines that share the work.
func each(n int, start func() func(i int)) {
	const block = 16
	workers := min(runtime.GOMAXPROCS(0), (n+block-1)/block)
	if workers <= 1 {
		do := start()
		for i := range n {
			do(i)
		}
		return
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			do := start()
			for {
				from := int(next.Add(block)) - block
				if from >= n {
					return
				}
				for i := from; i < min(n, from+block); i++ {
					do(i)
				}
			}
		})
	}
	wg.Wait()
}

// newStage puts the shapes of some of count bodies together.
func newStage(shapes []*shape, count int, dir Direction) *stage {
	st := &stage{toWorld: dir.placement().Inverse(), near: make([][]int, count), mine: make([][2]int, count), worlds: make([]solid.Box, count)}
	for i := range st.worlds {
		st.worlds[i] = solid.EmptyBox()
	}
	items, patches := 0, 0
	for _, s := range shapes {
		items, patches = items+len(s.items), patches+len(s.patches)
	}
	st.items, st.patches = make([]item, 0, items), make([]patch, 0, patches)
	for _, s := range shapes {
		from := len(st.patches)
		st.items = append(st.items, s.items...)
		st.patches = append(st.patches, s.patches...)
		for i := range st.patches[from:] {
			st.patches[from+i].body = s.body
		}
		st.mine[s.body] = [2]int{from, len(st.patches)}
		st.worlds[s.body] = s.world
	}
	st.findNear()
	st.addCrossings(shapes)
	st.grid = newGrid(st.items, len(st.patches))
	var wg sync.WaitGroup
	wg.Go(func() { st.grid.addContours(st.items) })
	st.grid.addPatches(st.patches)
	wg.Wait()
	st.grid.prune()
	return st
}

// findNear lists for each body those whose boxes overlap its own. Bodies that
// only touch do not run through each other.
func (st *stage) findNear() {
	order := make([]int, len(st.worlds))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(st.worlds[a].Min.X, st.worlds[b].Min.X) })
	for k, i := range order {
		box := st.worlds[i].Grow(-hair)
		for _, j := range order[k+1:] {
			if st.worlds[j].Min.X > box.Max.X {
				break
			}
			if box.Meets(st.worlds[j].Grow(-hair)) {
				st.near[i], st.near[j] = append(st.near[i], j), append(st.near[j], i)
			}
		}
	}
}
