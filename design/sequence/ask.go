package sequence

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"math"
	"slices"

	"plansheaf/design/memo"
	"plansheaf/design/solid"
)

// An answer is what was found around an axis, as it is kept; which of its fields count
// follows from the question.
type answer struct {
	Yes   bool
	Body  int // its place among the bodies that the question is about
	Room  float64
	Taken [][2]float64

	Calls, Shown int // how often all bodies were gone through, and the triangles looked at
}

// A question stands for all that an answer follows from.
type question []byte

// MemoKey is the hash of the question.
func (q question) MemoKey() memo.Key { return sha256.Sum256(q) }

func (q question) numbers(list ...float64) question {
	for _, v := range list {
		q = binary.LittleEndian.AppendUint64(q, math.Float64bits(v))
	}
	return q
}

func (q question) vec(v solid.Vec) question { return q.numbers(v.X, v.Y, v.Z) }

func (q question) place(p solid.Placement) question {
	return q.vec(p.Turn[0]).vec(p.Turn[1]).vec(p.Turn[2]).vec(p.Move)
}

// nearly (mm) is by how much a region is taken larger than rounding could make it.
const nearly = 1e-3

// errCut is of an answer that was cut short by the limit of what is looked at.
var errCut = errors.New("too much to look at")

// ask answers a question about the bodies in some boxes around the axis: from what is kept,
// or by work, which gives a body by its number on the bench. The numbers are what else the
// question is about.
func (s *surround) ask(what string, numbers []float64, region []solid.Box, work func() answer) answer {
	store := s.b.store
	if store.Kept == nil {
		return work()
	}
	near := s.near(region)
	find := func() (answer, error) {
		store.prepare(s.b, near)
		looks, calls := store.looks, s.calls
		out := work()
		out.Calls = s.calls - calls
		out.Shown = store.looks - looks - out.Calls*len(s.there)
		if out.Body >= 0 {
			out.Body = slices.Index(near, out.Body)
		}
		if store.looks > mostLooks {
			return out, errCut
		}
		return out, nil
	}
	looks := store.looks
	out, err := memo.Do(store.Kept, what, find, s.question(numbers, near))
	if looks += out.Calls*len(s.there) + out.Shown; err == nil && looks > mostLooks && store.looks < looks {
		out, _ = find() // as far as it goes
	}
	store.looks = max(store.looks, looks)
	if out.Body >= 0 && out.Body < len(near) {
		out.Body = near[out.Body]
	}
	return out
}

// near are the bodies whose boxes meet a region.
func (s *surround) near(region []solid.Box) []int {
	var worlds []solid.Box
	whole := solid.EmptyBox()
	for _, box := range region {
		if box.Min.Z < box.Max.Z {
			world := boxUnder(box, s.out).Grow(nearly)
			worlds, whole = append(worlds, world), whole.Join(world)
		}
	}
	var list []int
	for _, i := range s.there {
		if s.b.boxes[i].Meets(whole) && slices.ContainsFunc(worlds, s.b.boxes[i].Meets) {
			list = append(list, i)
		}
	}
	return list
}

// question is all that an answer about some bodies follows from.
func (s *surround) question(numbers []float64, near []int) question {
	q := make(question, 0, 8*(len(numbers)+20)+128*len(near))
	q = q.place(s.out)
	if s.floor != nil {
		q = append(q, 1).vec(s.floor.up).numbers(s.floor.level)
	} else {
		q = append(q, 0)
	}
	q = binary.LittleEndian.AppendUint64(q, uint64(len(numbers)))
	q = q.numbers(numbers...)
	for _, i := range near {
		key := s.b.bodies[i].Solid.MemoKey()
		q = append(q, key[:]...).place(s.b.at[i])
	}
	return binary.LittleEndian.AppendUint64(q, uint64(len(near)))
}

// regionOf is what stems and bars take up, and their numbers.
func regionOf(stems []stem, bars []arm) (numbers []float64, boxes []solid.Box) {
	numbers = append(numbers, float64(len(stems)))
	for _, one := range stems {
		numbers, boxes = one.numbers(numbers), append(boxes, one.box())
	}
	for _, bar := range bars {
		reach := math.Min(bar.Reach, far)
		numbers = append(numbers, bar.From, bar.To, bar.Half, bar.Inner, bar.Reach)
		boxes = append(boxes, solid.Box{Min: solid.Vec{X: -reach, Y: -reach, Z: bar.From}, Max: solid.Vec{X: reach, Y: reach, Z: bar.To}})
	}
	return numbers, boxes
}

func (one stem) numbers(after []float64) []float64 { return append(after, one.From, one.To, one.R) }

func (one stem) box() solid.Box {
	return solid.Box{Min: solid.Vec{X: -one.R, Y: -one.R, Z: one.From}, Max: solid.Vec{X: one.R, Y: one.R, Z: one.To}}
}

// packed are the sectors that say all that the angles say, alone or with others: those
// that lie within none that begins before.
func (a *angles) packed() (taken [][2]float64, all bool) {
	if a.all {
		return nil, true
	}
	slices.SortFunc(a.taken, func(x, y sector) int {
		switch {
		case x.from < y.from || x.from == y.from && x.width > y.width:
			return -1
		case x.from > y.from || x.width < y.width:
			return 1
		}
		return 0
	})
	end := math.Inf(-1)
	for _, one := range a.taken {
		if one.from+one.width > end {
			end = one.from + one.width
			taken = append(taken, [2]float64{one.from, one.width})
		}
	}
	return taken, false
}

func unpacked(taken [][2]float64, all bool) angles {
	a := angles{all: all}
	for _, one := range taken {
		a.taken = append(a.taken, sector{one[0], one[1]})
	}
	return a
}
