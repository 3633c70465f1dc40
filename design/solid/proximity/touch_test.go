package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

// TestOnlyTouch: what is said to only touch has no common volume by the exact
// intersection, for boxes and brackets of whole sizes at whole places, where all
// sorts of coincidences come up; and plain cases of touching are seen as such.
func TestOnlyTouch(t *testing.T) {
	r := rand.New(rand.NewSource(8))
	whole := func(n int) float64 { return float64(1 + r.Intn(n)) }
	anyPart := func() *Body {
		members := []solid.Member{{Shape: solid.Block{Size: solid.Vec{X: whole(4), Y: whole(4), Z: whole(4)}}}}
		if r.Intn(2) == 0 {
			members = append(members, solid.Member{Shape: solid.Block{Size: solid.Vec{X: whole(4), Y: whole(4), Z: whole(4)}}, At: solid.Vec{X: whole(2) - 1, Y: whole(2) - 1, Z: whole(2) - 1}})
		}
		return build(t, members...)
	}
	touching, overlapping := 0, 0
	for i := range 300 {
		a, b := anyPart(), anyPart()
		at := moved(float64(r.Intn(6)-3), float64(r.Intn(6)-3), float64(r.Intn(6)-3))
		m := newMeeting(a, solid.Stay, b, at)
		said, v := m.onlyTouch(), m.overlap().volume
		if said && v > 0 {
			t.Errorf("%d: said to only touch, overlap of %g", i, v)
		}
		if said {
			touching++
		}
		if v > 0 {
			overlapping++
		}
	}
	if touching < 60 || overlapping < 50 {
		t.Errorf("%d touch, %d overlap: the cases say little", touching, overlapping)
	}
	holed := build(t, solid.Member{Shape: solid.Block{Size: solid.Vec{X: 60, Y: 40, Z: 8}}}, solid.Member{Shape: solid.Rod{D: 10, L: 8}, At: solid.Vec{X: 10, Y: 10}, Along: solid.AxisZ, Cut: true})
	for _, c := range []struct {
		name string
		at   solid.Placement
		want bool
	}{
		{"on top", moved(5, 5, 8), true},
		{"beside", moved(60, 5, 0), true},
		{"on top, turned", solid.Turned(solid.Vec{Z: 1}, 0.4).Then(moved(30, 20, 8)), true},
		{"turned in the corner of the plate's sides", solid.Turned(solid.Vec{Z: 1}, 0.4).Then(moved(60+20*math.Sin(0.4), 5, 0)), true},
		{"the same", solid.Stay, false},
		{"half within", moved(5, 5, 4), false},
	} {
		if got := newMeeting(holed, solid.Stay, box(t, 20, 20, 20), c.at).onlyTouch(); got != c.want {
			t.Errorf("%s: only touches %v, want %v", c.name, got, c.want)
		}
	}
}
