package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// assembly is some random bodies, beside, on and in each other, flush or not, some
// with threads.
func assembly(r *rand.Rand) []Body {
	var out []Body
	for range 2 + r.IntN(3) {
		s := randomSolid(r)
		if r.IntN(3) == 0 {
			s = threaded(s)
		}
		p := solid.Turned(solid.Vec{X: float64(r.IntN(2)), Z: 1}, float64(r.IntN(4))*math.Pi/2)
		if r.IntN(3) == 0 {
			p = solid.Turned(solid.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: 1}, r.Float64()*6)
		}
		p.Move = solid.Vec{X: float64(r.IntN(60)), Y: float64(r.IntN(60)), Z: float64(r.IntN(60))}
		out = append(out, Body{Solid: s, At: p})
	}
	return out
}

// TestEachPlaceDrawnOnce: no two lines of a drawing lie on each other, so nothing
// hidden lies under what is seen, and what runs on in one body is one line.
func TestEachPlaceDrawnOnce(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 31))
		d := project(t, assembly(r), randomDirection(r), Options{Smooth: seed%2 == 0})
		for i := range d.Lines {
			for j := range i {
				a, b := &d.Lines[i], &d.Lines[j]
				if len(a.Curves) != 1 || len(b.Curves) != 1 {
					continue
				}
				over, touch := onEachOther(a.Curves[0], b.Curves[0])
				if over > 4*onOne {
					t.Errorf("seed %d: %v (visible %v) and %v (visible %v) lie on each other for %.5f mm", seed, a.Curves[0], a.Visible, b.Curves[0], b.Visible, over)
				}
				if touch && a.Body == b.Body && a.Kind == b.Kind && a.Visible == b.Visible {
					t.Errorf("seed %d: %v and %v of body %d run on into each other", seed, a.Curves[0], b.Curves[0], a.Body)
				}
			}
		}
	}
}

// onEachOther returns how far two curves lie in one place, and whether one begins
// where the other ends, on one line or ellipse.
func onEachOther(a, b picture.Curve) (over float64, touch bool) {
	switch a := a.(type) {
	case picture.Line:
		b, line := b.(picture.Line)
		if !line {
			return 0, false
		}
		d := a.B.Minus(a.A)
		l := a.Length()
		d = d.Times(1 / l)
		p, q := b.A.Minus(a.A), b.B.Minus(a.A)
		if math.Abs(d.X*p.Y-d.Y*p.X)+math.Abs(d.X*q.Y-d.Y*q.X) > onOne/4 {
			return 0, false
		}
		from, to := d.X*p.X+d.Y*p.Y, d.X*q.X+d.Y*q.Y
		from, to = math.Min(from, to), math.Max(from, to)
		over = math.Min(l, to) - math.Max(0, from)
		return over, math.Abs(over) < onOne/4
	case picture.Arc:
		b, arc := b.(picture.Arc)
		if !arc || a.Centre.Distance(b.Centre)+math.Abs(a.RX-b.RX)+math.Abs(a.RY-b.RY)+math.Abs(math.Remainder(a.Tilt-b.Tilt, 2*math.Pi)) > onOne/100 || a.RY < 0.1 {
			return 0, false
		}
		for turn := -2; turn <= 2; turn++ {
			shift := 2 * math.Pi * float64(turn)
			o := math.Min(a.Start+a.Sweep, b.Start+b.Sweep+shift) - math.Max(a.Start, b.Start+shift)
			over = math.Max(over, o*a.RY)
			touch = touch || math.Abs(o)*a.RX < onOne/4 && a.Sweep+b.Sweep < 2*math.Pi-1e-3
		}
	}
	return over, touch
}

// TestNothingLost: a screen before an assembly hides all of it and takes nothing
// away: what was seen or hidden is hidden.
func TestNothingLost(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 37))
		bodies := assembly(r)
		alone := project(t, bodies, Front, Options{})
		screened := project(t, append(bodies, at(box(t, 600, 1, 600), -300, -300, -300)), Front, Options{})
		sum := 0.0
		for _, l := range screened.Lines {
			if l.Body < len(bodies) {
				sum += l.Length()
				if l.Visible {
					t.Errorf("seed %d: %v shows through the screen", seed, l)
				}
			}
		}
		if all := alone.Length(true) + alone.Length(false); math.Abs(sum-all) > 1e-4*all {
			t.Errorf("seed %d: %.5f mm alone, %.5f behind the screen", seed, all, sum)
		}
	}
}
