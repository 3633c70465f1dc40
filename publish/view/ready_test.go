package view

import (
	"math/rand/v2"
	"reflect"
	"testing"
)

// Bodies that were made ready before, for whatever options, are drawn the same, also
// among others.
func TestReadyBodiesAreDrawnTheSame(t *testing.T) {
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(seed, 7))
		bodies, dir, ready := assembly(r), randomDirection(r), NewReady()
		for n := len(bodies); n > 0; n-- {
			for _, opt := range []Options{{}, {VisibleOnly: true, Smallest: 5}, {VisibleOnly: true, Smallest: 1, NoThreads: true}, {Smooth: true}, {Smallest: 12}} {
				got, err := ready.Project(bodies[len(bodies)-n:], dir, opt)
				if err != nil {
					t.Fatal(err)
				}
				if want := project(t, bodies[len(bodies)-n:], dir, opt); !reflect.DeepEqual(got, want) {
					t.Errorf("seed %d, the last %d bodies, %+v: drawn otherwise", seed, n, opt)
				}
			}
		}
		if len(ready.of) == 0 {
			t.Error("nothing was kept")
		}
	}
}
