package sequence

import (
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
)

// scattered is a bench of boxes and rods thrown around the origin.
func scattered(t *testing.T, rng *rand.Rand, n int) *bench {
	t.Helper()
	b := &bench{store: NewStore(nil)}
	for range n {
		var shape solid.Primitive = solid.Block{Size: solid.Vec{X: 4 + 30*rng.Float64(), Y: 4 + 30*rng.Float64(), Z: 4 + 30*rng.Float64()}}
		if rng.IntN(2) == 0 {
			shape = solid.Rod{D: 4 + 20*rng.Float64(), L: 4 + 40*rng.Float64()}
		}
		body, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: shape, Along: solid.AxisZ}}})
		if err != nil {
			t.Fatal(err)
		}
		turn := solid.Turned(solid.Vec{X: rng.Float64() - 0.5, Y: rng.Float64() - 0.5, Z: rng.Float64()}, full*rng.Float64())
		at := turn.Then(solid.Moved(solid.Vec{X: 120 * (rng.Float64() - 0.5), Y: 120 * (rng.Float64() - 0.5), Z: 60 * (rng.Float64() - 0.3)}))
		b.bodies = append(b.bodies, Body{})
		b.bodies[len(b.bodies)-1].Solid = body
		b.sizes = append(b.sizes, body.Box())
		b.at = append(b.at, at)
		b.boxes = append(b.boxes, boxUnder(body.Box(), at))
	}
	return b
}

// filled tells by rays whether a point lies in one of the bodies.
func (b *bench) filled(p solid.Vec) bool {
	for i := range b.bodies {
		if b.bodies[i].Solid.Contains(b.at[i].Inverse().Point(p)) {
			return true
		}
	}
	return b.floor != nil && p.Dot(b.floor.up) < b.floor.level
}

// The angles that an arm cannot take, and the stems that are pierced, are those that
// points laid through arm and stem find inside of a body. Points miss what is thinner
// than their distance, so that they may only find less; a share of the random cases
// must be blocked and a share free for the comparison to say something.
func TestRoomAgreesWithPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	hit, free := 0, 0
	for range 40 {
		b := scattered(t, rng, 5)
		there := []int{0, 1, 2, 3, 4}
		frame := solid.FrameAlong(solid.Vec{X: 10 * rng.Float64()}, solid.Vec{X: rng.Float64() - 0.5, Y: rng.Float64() - 0.5, Z: 1}.Unit())
		s := b.around(frame, there)
		one := stem{0, 30, 3}
		_, blocked := s.pierced(one)
		bar := arm{From: 20, To: 26, Half: 3, Reach: 50}
		taken := s.blockedAngles([]arm{bar})
		if b.filled(frame.Point(0, 0, 1)) {
			continue // the screw itself would stand in something
		}
		found := false
		for k := range 4000 {
			r, a := (one.R-2*touching)*math.Sqrt(rng.Float64()), full*rng.Float64()
			z := 2*touching + (one.To-4*touching)*float64(k)/4000
			found = found || b.filled(frame.Point(r*math.Cos(a), r*math.Sin(a), z))
		}
		if found && !blocked {
			t.Errorf("a stem is told free with a body in it")
		}
		for step := range 48 {
			angle := full * float64(step) / 48
			in := pointsIn(b, rng, frame, bar, angle)
			open := opens(&taken, angle)
			switch {
			case in && open:
				t.Errorf("an arm at %d° is told free with a body in it", degrees(angle))
			case in:
				hit++
			case open:
				free++
			}
		}
	}
	if hit < 100 || free < 100 {
		t.Errorf("%d angles blocked, %d free: too few to compare", hit, free)
	}
}

// The same for arms that begin off the axis, as hands do, with a bench under all.
func TestRingsAndBenchAgreeWithPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 26))
	hit, free, wrong := 0, 0, 0
	for range 60 {
		b := scattered(t, rng, 4)
		up := solid.Vec{X: rng.Float64() - 0.5, Y: rng.Float64() - 0.5, Z: rng.Float64() - 0.5}.Unit()
		b.floor = &floor{up: up, level: -60 * rng.Float64()}
		frame := solid.FrameAlong(solid.Vec{X: 10 * rng.Float64()}, solid.Vec{X: rng.Float64() - 0.5, Y: rng.Float64() - 0.5, Z: 1}.Unit())
		bar := arm{From: 15, To: 30, Half: 8, Inner: 30, Reach: 70}
		s := b.around(frame, []int{0, 1, 2, 3})
		taken := s.blockedAngles([]arm{bar})
		thin := bar
		thin.From, thin.To, thin.Half, thin.Inner, thin.Reach = bar.From+1, bar.To-1, bar.Half-1, bar.Inner+1, bar.Reach-1
		surely := s.blockedAngles([]arm{thin})
		for step := range 36 {
			angle := full * float64(step) / 36
			switch in := pointsIn(b, rng, frame, bar, angle); {
			case in && opens(&taken, angle):
				t.Errorf("an arm at %d° is told free with something in it", degrees(angle))
			case in:
				hit++
			case opens(&taken, angle):
				free++
			case !opens(&surely, angle):
				wrong++
			}
		}
	}
	if hit < 200 || free < 200 || wrong > hit/40 {
		t.Errorf("%d angles blocked, %d free, %d told blocked with nothing in them", hit, free, wrong)
	}
}

// What is told blocked by much is found by points as well: an arm shrunk by a
// millimetre is free only where points find nothing at all in the arm.
func TestBlockedMeansBlocked(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	wrong, blocked := 0, 0
	for range 40 {
		b := scattered(t, rng, 3)
		frame := solid.FrameAlong(solid.Vec{}, solid.Vec{Z: 1})
		thin, thick := arm{From: 21, To: 25, Half: 1, Reach: 49}, arm{From: 20, To: 26, Half: 2, Reach: 50}
		taken := b.around(frame, []int{0, 1, 2}).blockedAngles([]arm{thin})
		for step := range 48 {
			angle := full * float64(step) / 48
			if opens(&taken, angle) {
				continue
			}
			blocked++
			if !pointsIn(b, rng, frame, thick, angle) {
				wrong++
			}
		}
	}
	if blocked < 50 || wrong > blocked/50 {
		t.Errorf("of %d blocked angles %d have nothing in them", blocked, wrong)
	}
}

// pointsIn reports whether a body fills one of many points of an arm.
func pointsIn(b *bench, rng *rand.Rand, frame solid.Frame, bar arm, angle float64) bool {
	sin, cos := math.Sincos(angle)
	for range 900 {
		along := bar.Inner + (bar.Reach-bar.Inner-4*touching)*rng.Float64()
		side := (2*rng.Float64() - 1) * (bar.Half - 2*touching)
		z := bar.From + 2*touching + (bar.To-bar.From-4*touching)*rng.Float64()
		if b.filled(frame.Point(along*cos-side*sin, along*sin+side*cos, z)) {
			return true
		}
	}
	return false
}

// opens reports whether an angle lies in a free sector.
func opens(a *angles, angle float64) bool {
	for _, s := range a.free() {
		if turned(angle-s.from) <= s.width {
			return true
		}
	}
	return false
}

func TestFreeAngles(t *testing.T) {
	deg := math.Pi / 180
	cases := []struct {
		name   string
		taken  [][2]float64 // degrees
		widest float64
		parts  int
	}{
		{name: "nothing", widest: 360, parts: 1},
		{name: "one", taken: [][2]float64{{30, 90}}, widest: 300, parts: 1},
		{name: "over zero", taken: [][2]float64{{-30, 30}}, widest: 300, parts: 1},
		{name: "two apart", taken: [][2]float64{{0, 90}, {180, 270}}, widest: 90, parts: 2},
		{name: "overlapping", taken: [][2]float64{{0, 90}, {60, 200}, {10, 20}}, widest: 160, parts: 1},
		{name: "all", taken: [][2]float64{{0, 200}, {190, 370}}, widest: 0, parts: 0},
		{name: "more than a turn", taken: [][2]float64{{5, 370}}, widest: 0, parts: 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var a angles
			for _, s := range c.taken {
				a.take(s[0]*deg, s[1]*deg)
			}
			if got := a.widest() / deg; math.Abs(got-c.widest) > 1e-9 || len(a.free()) != c.parts {
				t.Errorf("widest %v in %d parts, want %v in %d", got, len(a.free()), c.widest, c.parts)
			}
		})
	}
}

// A wall as a triangle, seen from the axis: tangents give the angles by hand.
func TestShadowOfAWall(t *testing.T) {
	wall := [3]solid.Vec{{X: 10, Y: -10, Z: 0}, {X: 10, Y: 10, Z: 0}, {X: 10, Y: 0, Z: 20}}
	p := cut(wall, -1, 21)
	var a angles
	p.shadow(0, 0, 100, &a)
	if got := degrees(full - a.widest()); got != 90 {
		t.Errorf("a wall 20 wide at 10 takes %d°, want 90°", got)
	}
	// Within a reach of 10/cos 30° it is met 30° to either side.
	a = angles{}
	p.shadow(0, 0, 10/math.Cos(math.Pi/6), &a)
	if got := degrees(full - a.widest()); got != 60 {
		t.Errorf("within reach it takes %d°, want 60°", got)
	}
	// A bar 2·5 wide meets it from asin(5/√200) = 20.7° further on either side.
	a = angles{}
	p.shadow(5, 0, 100, &a)
	if got := (full - a.widest()) * 180 / math.Pi; math.Abs(got-(90+2*20.7048)) > 0.001 {
		t.Errorf("with its width the bar loses %.3f°, want 131.410°", got)
	}
	a = angles{}
	if p.shadow(10.5, 0, 100, &a); !a.all {
		t.Error("a wall nearer than half of the bar leaves an angle free")
	}
}
