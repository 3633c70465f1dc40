package sequence

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"plansheaf/design/solid"
)

// For any triangle, bar and reach the angles that the bar cannot take are those at which
// a place of the triangle lies in the bar; what is taken in whole parts of a turn is
// taken.
func FuzzShadow(f *testing.F) {
	f.Add(10.0, -3.0, 0.0, 10.0, 4.0, 0.0, 14.0, 0.0, 3.0, 2.0, 40.0)
	f.Add(-5.0, -5.0, 0.0, 5.0, -5.0, 1.0, 0.0, 8.0, 2.0, 0.5, 20.0)
	f.Add(30.0, 0.0, -4.0, -30.0, 1.0, 6.0, 0.0, -30.0, 0.0, 1.0, 12.0)
	f.Add(3.0, 3.0, 0.0, 3.0, 3.0, 5.0, 3.0, 3.0, 9.0, 1.0, 50.0) // along the axis
	f.Fuzz(func(t *testing.T, ax, ay, az, bx, by, bz, cx, cy, cz, half, reach float64) {
		in := []float64{ax, ay, az, bx, by, bz, cx, cy, cz, half, reach}
		if slices.ContainsFunc(in, func(v float64) bool { return !(math.Abs(v) < 1000) }) || half < 0.1 || reach < 2*half {
			return // nothing is promised there
		}
		corners := [3]solid.Vec{{X: ax, Y: ay, Z: az}, {X: bx, Y: by, Z: bz}, {X: cx, Y: cy, Z: cz}}
		const low, high = -2.0, 5.0
		p := cut(corners, low, high)
		if p.n == 0 {
			return
		}
		got := angles{cover: newCover()}
		p.shadow(half, 0, reach, &got)
		near := p.distance()
		if !got.all && near < half-1e-6 || len(got.taken) > 0 && near > reach {
			t.Fatalf("it comes as near as %g, a bar of %g that reaches %g takes %v", near, half, reach, got)
		}
		random := rand.New(rand.NewPCG(1, 2))
		for range 60 {
			u, v := random.Float64(), random.Float64()
			if u+v > 1 {
				u, v = 1-u, 1-v
			}
			at := corners[0].Add(corners[1].Sub(corners[0]).Mul(u)).Add(corners[2].Sub(corners[0]).Mul(v))
			r := math.Hypot(at.X, at.Y)
			if at.Z < low || at.Z > high || r > reach-1e-6 || r < 1e-6 {
				continue
			}
			// A bar within half of the place's own direction covers it.
			wide := math.Asin(math.Min(1, 0.999*half/r))
			angle := math.Atan2(at.Y, at.X) + (2*random.Float64()-1)*wide
			if got.all || slices.ContainsFunc(got.taken, func(s sector) bool { return turned(angle-s.from+1e-9) <= s.width+2e-9 }) {
				continue
			}
			t.Fatalf("at %g rad the bar meets %v, and is told free: %v", angle, at, got)
		}
		for k, has := range got.cover.has {
			middle := (float64(k) + 0.5) * full / coverParts
			if has && !slices.ContainsFunc(got.taken, func(s sector) bool { return turned(middle-s.from) <= s.width }) {
				t.Fatalf("part %d of the turn is told taken: %v", k, got.taken)
			}
		}
	})
}

// What is free is what no sector holds, in order and apart from each other.
func FuzzAngles(f *testing.F) {
	f.Add([]byte{0, 10, 20, 30})
	f.Add([]byte{250, 40, 0, 255, 7, 1})
	f.Add([]byte{128, 128, 0, 128})
	f.Add([]byte{0, 0, 255, 48}) // past the end of the turn
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 64 {
			return // nothing is promised there
		}
		a := angles{cover: newCover()}
		for i := 0; i+1 < len(data); i += 2 {
			from := float64(data[i]) / 256 * full
			a.take(from, from+float64(data[i+1])/256*full)
		}
		free, total := a.free(), 0.0
		for _, s := range free {
			total += s.width
		}
		inside := func(list []sector, at float64) bool {
			return slices.ContainsFunc(list, func(s sector) bool { return turned(at-s.from) < s.width })
		}
		for k := range 256 {
			at := (float64(k) + 0.5) / 256 * full
			taken := inside(a.taken, at)
			if inside(free, at) == taken {
				t.Fatalf("at %g rad: taken %v, and free %v: %v", at, taken, !taken, a.taken)
			}
			if a.cover.has[k] && !taken {
				t.Fatalf("part %d is told taken, and is not: %v", k, a.taken)
			}
			if a.cover.holds(at-0.001, 0.002) != a.cover.has[k] {
				t.Fatalf("part %d is taken: %v; what lies within it: %v", k, a.cover.has[k], !a.cover.has[k])
			}
		}
		if w := a.widest(); w > total+1e-9 || a.all && total > 0 {
			t.Fatalf("the widest gap is %g of %g, all taken %v", w, total, a.all)
		}
	})
}

// Whatever a step is moved past, every step stays, and comes after those that it needs;
// what moves before another comes before it, and the same for after.
func FuzzMoves(f *testing.F) {
	f.Add(uint64(1), uint8(6), uint8(4), uint8(1))
	f.Add(uint64(7), uint8(12), uint8(9), uint8(0))
	f.Fuzz(func(t *testing.T, seed uint64, steps, step, other uint8) {
		n := int(steps%20) + 2
		random := rand.New(rand.NewPCG(seed, 5))
		order := make([]int, n)
		needs := map[int][]int{}
		for i, k := range random.Perm(n) {
			order[i] = k
			for _, before := range order[:i] {
				if random.IntN(2*n) == 0 {
					needs[k] = append(needs[k], before)
				}
			}
		}
		from, to := int(other)%n, int(step)%n
		if from >= to {
			return // nothing is promised there
		}
		check := func(got trial, ok bool, needed bool) {
			if ok == needed {
				t.Fatalf("moved %v, though needed %v: order %v, needs %v", ok, needed, order, needs)
			}
			if !ok {
				return
			}
			sorted := slices.Clone(got.order)
			slices.Sort(sorted)
			for i, k := range sorted {
				if i != k {
					t.Fatalf("order %v became %v", order, got.order)
				}
			}
			for k, list := range needs {
				for _, need := range list {
					if slices.Index(got.order, need) > slices.Index(got.order, k) {
						t.Fatalf("%d comes before %d, which it needs: %v from %v, needs %v", k, need, got.order, order, needs)
					}
				}
			}
			if before := slices.Index(got.order, got.Step) < slices.Index(got.order, got.Beside); before != got.Before {
				t.Fatalf("%d stands on the wrong side of %d: %v", got.Step, got.Beside, got.order)
			}
		}
		var reaches func(k, need int) bool
		reaches = func(k, need int) bool {
			return slices.ContainsFunc(needs[k], func(m int) bool { return m == need || reaches(m, need) })
		}
		needed := reaches(order[to], order[from])
		got, ok := advance(order, needs, order[to], order[from])
		check(got, ok, needed)
		got, ok = postpone(order, needs, order[from], order[to])
		check(got, ok, needed)
	})
}
