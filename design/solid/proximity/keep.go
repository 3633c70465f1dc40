package proximity

import (
	"math"
	"sync"

	"plansheaf/design/solid"
)

// surfaces are what was made of a body's surface for sweeps: finer triangles, and
// smaller bodies, by how fine and small they are. The last few are kept.
type surfaces struct {
	lock  sync.Mutex
	finer []made[float64]
	small []made[[2]float64]
	steps []stepped
}

// stepped is the envelope of one of the small surfaces.
type stepped struct {
	of *tree
	*envelope
}

type made[K comparable] struct {
	by   K
	tree *tree
}

// mostKept is how many of each are kept, mostStepped how many envelopes.
const (
	mostKept    = 4
	mostStepped = 16
)

// kept returns the surface by a key, made by make where it is not there yet.
func kept[K comparable](list *[]made[K], by K, make func() *tree) *tree {
	for _, m := range *list {
		if m.by == by {
			return m.tree
		}
	}
	if len(*list) == mostKept {
		*list = append((*list)[:0], (*list)[1:]...)
	}
	*list = append(*list, made[K]{by, make()})
	return (*list)[len(*list)-1].tree
}

// finer returns the body's triangles, made anew where they stray by more than wanted, to
// a nanometre.
func (b *Body) finer(stray float64) *tree {
	if b.stray <= stray {
		return &b.tree
	}
	b.kept.lock.Lock()
	defer b.kept.lock.Unlock()
	return b.finerLocked(stray)
}

func (b *Body) finerLocked(stray float64) *tree {
	if b.stray <= stray {
		return &b.tree
	}
	return kept(&b.kept.finer, math.Round(stray*1e6), func() *tree { t := meshed(b.Solid, stray); return &t })
}

// smaller returns the body's triangles, straying by no more than wanted, made smaller
// by inset as shrunk has it.
func (b *Body) smaller(stray, inset, most float64) *tree {
	b.kept.lock.Lock()
	defer b.kept.lock.Unlock()
	return kept(&b.kept.small, [2]float64{stray, inset}, func() *tree { return b.finerLocked(stray).shrunk(inset, most) })
}

// envelope returns the steps of one of the body's small surfaces along a way in its own
// axes.
func (b *Body) envelope(small *tree, way solid.Vec) *envelope {
	const same = 1e-12 // over any way that is far less than sameHeight
	b.kept.lock.Lock()
	defer b.kept.lock.Unlock()
	for _, s := range b.kept.steps {
		if s.of == small && s.way.Dist(way) < same {
			return s.envelope
		}
	}
	if len(b.kept.steps) == mostStepped {
		b.kept.steps = append(b.kept.steps[:0], b.kept.steps[1:]...)
	}
	e := small.enveloped(way)
	b.kept.steps = append(b.kept.steps, stepped{small, e})
	return e
}
