package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
)

const inch = 25.4

// within fails the test where got lies further from want than by.
func within(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s is %.10g, want %.10g ± %g", what, got, want, by)
	}
}

func laidAround(t *testing.T, wheels ...wheel) loop {
	t.Helper()
	l, bad, _ := around(wheels)
	if bad >= 0 {
		t.Fatalf("wheel %d is in the way", bad)
	}
	return l
}

// Closed forms: two equal pulleys need 2C + pi D; pulleys of two sizes
// 2 C cos a + pi (D + d) / 2 + a (D - d) with sin a = (D - d) / 2C; three equal ones
// the triangle's sides and one whole turn.
func TestLoopClosedForms(t *testing.T) {
	tilt := math.Asin(20.0 / 150)
	cases := []struct {
		name   string
		wheels []wheel
		length float64
		wrap   []float64
	}{
		{
			name:   "two equal",
			wheels: []wheel{{R: 16}, {At: solid.Vec2{X: 120, Y: 50}, R: 16}},
			length: 2*130 + math.Pi*32, wrap: []float64{math.Pi, math.Pi},
		},
		{
			name:   "two sizes",
			wheels: []wheel{{R: 40}, {At: solid.Vec2{Y: 150}, R: 20}},
			length: 2*150*math.Cos(tilt) + math.Pi*60 + tilt*40, wrap: []float64{math.Pi + 2*tilt, math.Pi - 2*tilt},
		},
		{
			name:   "three equal, on a right triangle of 3, 4, 5",
			wheels: []wheel{{R: 10}, {At: solid.Vec2{X: 80}, R: 10}, {At: solid.Vec2{Y: 60}, R: 10}},
			length: 60 + 80 + 100 + math.Pi*20, wrap: []float64{math.Pi / 2, math.Pi - math.Atan2(3, 4), math.Pi - math.Atan2(4, 3)},
		},
		{
			// A point on the back presses the upper run of two wheels of 20, 200 apart,
			// down to the height of their axes: runs of sqrt(100^2 - 20^2) meet it.
			name:   "pressed on its back",
			wheels: []wheel{{R: 20}, {At: solid.Vec2{X: 200}, R: 20}, {At: solid.Vec2{X: 100}, R: 1e-9, Back: true}},
			// They leave a wheel asin(20/100) past its top.
			length: 200 + 2*math.Sqrt(9600) + 2*20*(math.Pi+math.Asin(0.2)),
			wrap:   []float64{math.Pi + math.Asin(0.2), math.Pi + math.Asin(0.2), 2 * math.Asin(0.2)},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			l := laidAround(t, c.wheels...)
			within(t, "length", l.Length, c.length, 1e-6)
			for i := range c.wrap {
				within(t, "wrap", l.Wrap[i], c.wrap[i], 1e-9)
			}
		})
	}
}

// Wentzell, Machine Design, example 14.2: pulleys of 4 and 6 in; a belt of 53.75 in
// at 19 in; 54 in at 19.12 in, where 174.01 degrees of the small one are wrapped. The
// book rounds pi to 3.14, so lengths agree to 0.02 in.
func TestLoopAgreesWithHandbook(t *testing.T) {
	l := laidAround(t, wheel{R: 3 * inch}, wheel{At: solid.Vec2{X: 19 * inch}, R: 2 * inch})
	within(t, "length in inches", l.Length/inch, 53.75, 0.02)
	by, _, ok := l.move(1, 54*inch)
	if !ok {
		t.Fatal("no place for the longer belt")
	}
	within(t, "centre distance in inches", 19+by/inch, 19.12, 0.02)
	l = laidAround(t, wheel{R: 3 * inch}, wheel{At: solid.Vec2{X: 19*inch + by}, R: 2 * inch})
	within(t, "length", l.Length, 54*inch, 1e-5)
	within(t, "wrap in degrees", l.Wrap[1]*180/math.Pi, 174.01, 0.01)
}

// Where all wheels stand inside, the loop is the edge of the convex hull of the
// circles. By Cauchy's formula its length is the integral over all directions of how
// far the circles reach; moved outward by d it grows by 2 pi d. At each wheel it
// touches at the radius, and runs on across it.
func TestLoopsOfRandomWheels(t *testing.T) {
	const directions = 20000
	rnd := rand.New(rand.NewPCG(7, 11))
	laid := 0
	for try := 0; try < 250; try++ {
		n := 2 + rnd.IntN(5)
		wheels := make([]wheel, n)
		for i := range wheels {
			angle := 2 * math.Pi * (float64(i) + 0.6*rnd.Float64()) / float64(n)
			reach := 60 + 60*rnd.Float64()
			wheels[i] = wheel{At: solid.Vec2{X: reach * math.Cos(angle), Y: reach * math.Sin(angle)}, R: 2 + 25*rnd.Float64()}
		}
		l, bad, _ := around(wheels)
		if bad >= 0 {
			continue
		}
		laid++
		sum := 0.0
		for k := 0; k < directions; k++ {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / directions)
			far := math.Inf(-1)
			for _, w := range wheels {
				far = math.Max(far, w.At.X*cos+w.At.Y*sin+w.R)
			}
			sum += far * 2 * math.Pi / directions
		}
		within(t, "length", l.Length, sum, 1e-3)
		farthest := 0.0
		for i, w := range wheels {
			for _, v := range wheels {
				farthest = math.Max(farthest, math.Hypot(w.At.X-v.At.X, w.At.Y-v.At.Y))
			}
			touches(t, l, i)
			gains(t, l, i)
		}
		if l.Length < 2*farthest {
			t.Errorf("length %g is less than there and back, %g", l.Length, 2*farthest)
		}
	}
	if laid < 60 {
		t.Errorf("only %d of 250 loops could be laid", laid)
	}
}

// touches checks that the runs meet wheel i at its radius, straight across it.
func touches(t *testing.T, l loop, i int) {
	t.Helper()
	n, w := len(l.wheels), l.wheels[i]
	for _, run := range [][2]solid.Vec2{{l.Out[(i+n-1)%n], l.In[i]}, {l.Out[i], l.In[(i+1)%n]}} {
		for _, p := range run {
			if p != l.In[i] && p != l.Out[i] {
				continue
			}
			within(t, "distance from the middle", math.Hypot(p.X-w.At.X, p.Y-w.At.Y), w.R, 1e-9)
			dot := (run[1].X-run[0].X)*(p.X-w.At.X) + (run[1].Y-run[0].Y)*(p.Y-w.At.Y)
			within(t, "run across the radius", dot/w.R/math.Hypot(run[1].X-run[0].X, run[1].Y-run[0].Y), 0, 1e-6)
		}
	}
}

// gains checks what moving a wheel brings against a small move.
func gains(t *testing.T, l loop, i int) {
	t.Helper()
	const by = 1e-5
	way, gain := l.pull(i)
	wheels := append([]wheel(nil), l.wheels...)
	wheels[i].At.X += by * way.X
	wheels[i].At.Y += by * way.Y
	moved, bad, _ := around(wheels)
	if bad < 0 {
		within(t, "gain for each mm", (moved.Length-l.Length)/by, gain, 1e-3)
	}
}

// Loops that cannot be: the wheel at fault is named.
func TestLoopsThatCannotBe(t *testing.T) {
	cases := []struct {
		name   string
		wheels []wheel
		bad    int
		nested bool
	}{
		{name: "one within the other", wheels: []wheel{{R: 40}, {At: solid.Vec2{X: 10}, R: 20}}, bad: 0, nested: true},
		{name: "at one place", wheels: []wheel{{R: 40}, {R: 40}}, bad: 0, nested: true},
		{name: "passed by", wheels: []wheel{{R: 30}, {At: solid.Vec2{X: 200}, R: 30}, {At: solid.Vec2{X: 100, Y: 5}, R: 10}}, bad: 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, bad, nested := around(c.wheels)
			if bad != c.bad || nested != c.nested {
				t.Errorf("wheel %d, nested %v; want %d, %v", bad, nested, c.bad, c.nested)
			}
		})
	}
}

// FuzzAround: whatever the wheels, no panic, and what is laid has a length.
func FuzzAround(f *testing.F) {
	f.Add(0.0, 0.0, 10.0, 100.0, 0.0, 20.0, 50.0, 60.0, 5.0, true)
	f.Add(1e300, 0.0, 1.0, -1e300, 0.0, 1.0, math.Inf(1), math.NaN(), 0.0, false)
	f.Fuzz(func(t *testing.T, ax, ay, ar, bx, by, br, cx, cy, cr float64, back bool) {
		wheels := []wheel{{At: solid.Vec2{X: ax, Y: ay}, R: ar}, {At: solid.Vec2{X: bx, Y: by}, R: br}, {At: solid.Vec2{X: cx, Y: cy}, R: cr, Back: back}}
		l, bad, _ := around(wheels)
		if bad >= len(wheels) {
			t.Fatalf("wheel %d of %d", bad, len(wheels))
		}
		if bad < 0 && ar > 0 && br > 0 && cr > 0 && !(l.Length > 0) {
			t.Errorf("length %g", l.Length)
		}
		l.outline(1)
		l.move(0, 500)
	})
}
