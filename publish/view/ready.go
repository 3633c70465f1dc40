package view

import (
	"sync"

	"plansheaf/design/solid"
)

// A Ready keeps bodies that were made ready to be drawn, for further views of the same
// bodies in the same places from the same direction: those of an assembly at its steps.
// A nil one keeps nothing. It is for any number of goroutines at a time.
type Ready struct {
	mu   sync.Mutex
	of   map[standing]*shape
	size int // lines and faces of all
}

// mostReady bounds the lines and faces that are kept, of some hundred bytes each: those
// that are seen of a machine of a hundred parts from two sides.
const mostReady = 100_000

// NewReady returns one that keeps nothing yet.
func NewReady() *Ready { return &Ready{of: map[standing]*shape{}} }

// standing is what a body made ready follows from.
type standing struct {
	solid                      *solid.Solid
	at                         solid.Placement
	dir                        Direction
	smooth, noThreads, measure bool
}

// shape is a body made ready.
func (r *Ready) shape(b Body, dir Direction, opt *Options) *shape {
	if r == nil || b.features != nil {
		return prepare(b, dir, opt)
	}
	key := standing{b.Solid, b.At, dir, opt.Smooth, opt.NoThreads, opt.Smallest > 0}
	r.mu.Lock()
	s := r.of[key]
	r.mu.Unlock()
	if s != nil {
		return s
	}
	s = prepare(b, dir, opt)
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.size += s.parts(); r.size > mostReady {
		clear(r.of)
		r.size = s.parts()
	}
	r.of[key] = s
	return s
}

// parts is how many lines and faces the shape holds.
func (s *shape) parts() int {
	n := len(s.items) + len(s.patches)
	for i := range s.patches {
		n += len(s.patches[i].outline)
	}
	return n
}
