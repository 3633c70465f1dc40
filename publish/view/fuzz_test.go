package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
)

// FuzzProject: bodies that touch, coincide, run into each other or all but do,
// from directions along their faces or all but along them, are drawn in finite
// lines within their boxes, and never panic.
func FuzzProject(f *testing.F) {
	for seed := range uint64(40) {
		f.Add(seed, uint8(seed))
		f.Add(seed, uint8(seed)+128)
	}
	f.Add(uint64(293), uint8(0x98)) // threads on round faces that run only part of the way round
	f.Add(uint64(124), uint8(0xbf)) // a thread is drawn wider than its hole, into what is plain beside it
	f.Fuzz(func(t *testing.T, seed uint64, nearness uint8) {
		r := rand.New(rand.NewPCG(seed, 17))
		// Distances and angles by which things miss each other, down to nothing.
		miss := func() float64 {
			if nearness%12 == 11 {
				return 0
			}
			return r.NormFloat64() * math.Pow(10, -float64(nearness%12))
		}
		var bodies []Body
		one := randomSolid(r)
		for range 1 + r.IntN(4) {
			if r.IntN(3) == 0 {
				one = randomSolid(r)
			}
			p := solid.Turned(solid.Vec{X: float64(r.IntN(2)), Y: float64(r.IntN(2)), Z: 1}, float64(r.IntN(4))*math.Pi/2+miss())
			p.Move = solid.Vec{X: float64(r.IntN(20)) + miss(), Y: float64(r.IntN(20)) + miss(), Z: float64(r.IntN(20)) + miss()}
			bodies = append(bodies, Body{Solid: one, At: p})
			if nearness >= 128 {
				bodies[len(bodies)-1].Solid = threaded(one)
			}
		}
		d := randomDirection(r)
		dir, err := Look(d.Toward.Add(d.Right.Mul(miss())), d.Up.Add(d.Right.Mul(miss())))
		if err != nil { // shifted by a miss, up fell along toward
			dir = d
		}
		drawing := project(t, bodies, dir, Options{Smooth: true})
		box := solid.EmptyBox()
		for _, b := range bodies {
			box = box.Join(b.Solid.BoxUnder(b.At.Then(dir.placement())))
		}
		for _, axis := range []Axis{Across, Upright} {
			plain, err := Plain(bodies, dir, axis)
			if err != nil {
				t.Fatal(err)
			}
			for _, cut := range plain {
				if _, _, err := Break(drawing, axis, []Range{cut}, (cut.To-cut.From)/2); err != nil && cut.To-cut.From > 0.1 {
					t.Errorf("%v %v: %v", axis, cut, err)
				}
			}
		}
		if _, _, err := Detail(drawing, nil, drawing.Bounds().Centre(), 1+float64(nearness)); err != nil {
			t.Error(err)
		}
		got := drawing.Bounds()
		const slack = 2 * DefaultChord
		if !(got.Min.X > box.Min.X-slack && got.Max.X < box.Max.X+slack && -got.Max.Y > box.Min.Y-slack && -got.Min.Y < box.Max.Y+slack) {
			t.Errorf("drawn within %v, bodies within %v", got, box)
		}
		for _, l := range drawing.Lines {
			if n := l.Length(); !(n > 0) || math.IsInf(n, 0) {
				t.Errorf("line of length %v: %+v", n, l)
			}
		}
	})
}
