package scene

import (
	"math/rand/v2"
	"testing"
)

// A set of cells holds what was added, near and far, on either side of the origin.
func TestCellsHoldWhatWasAdded(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	var set cells
	want := map[[2]int]bool{}
	near := func() [2]int { return [2]int{random.IntN(200) - 100, random.IntN(200) - 100} }
	for range 5000 {
		c := near()
		if random.IntN(50) == 0 {
			c[0], c[1] = c[0]*1_000_000, c[1]-1_000_000_000
		}
		set.add(c[0], c[1])
		want[c] = true
	}
	for c := range want {
		if !set.has(c[0], c[1]) {
			t.Fatalf("%v was added", c)
		}
	}
	for range 50000 {
		if c := near(); set.has(c[0], c[1]) != want[c] {
			t.Fatalf("%v: added %v", c, want[c])
		}
	}
}
