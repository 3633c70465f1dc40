package proximity

import (
	"math/rand"
	"slices"
	"testing"

	"plansheaf/design/solid"
)

// crowd is a scene and the same bodies in a list, to ask one by one.
type crowd struct {
	scene Scene
	list  map[int]Placed
}

// change adds, takes out or moves a body.
func (c *crowd) change(kind int, n int, p Placed) {
	if c.list == nil {
		c.list = map[int]Placed{}
	}
	switch kind % 4 {
	case 0, 1:
		c.list[c.scene.Add(p)] = p
	case 2:
		c.scene.Remove(n)
		delete(c.list, n)
	case 3:
		c.scene.Place(n, p.At)
		if old, ok := c.list[n]; ok {
			c.list[n] = Placed{old.Body, p.At}
		}
	}
}

// numbers returns the numbers of the bodies that hold says, in order.
func (c *crowd) numbers(holds func(n int, p Placed) bool) []int {
	var out []int
	for n, p := range c.list {
		if holds(n, p) {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// agree asks the scene and every body of the list about one placed body.
func (c *crowd) agree(t *testing.T, p Placed, within float64, way []Motion) {
	t.Helper()
	if c.scene.Count() != len(c.list) {
		t.Fatalf("%d bodies, want %d", c.scene.Count(), len(c.list))
	}
	even := func(n int) bool { return n%5 == 0 }
	want := c.numbers(func(n int, q Placed) bool { return !even(n) && !Clear(p.Body, p.At, q.Body, q.At, within) })
	if got := c.scene.Unclear(p, within, even); !slices.Equal(got, want) {
		t.Errorf("not clear by %g of %v, want %v", within, got, want)
	}
	clear, n := c.scene.Clear(p, within, even)
	if clear != (len(want) == 0) || !clear && n != want[0] {
		t.Errorf("clear %v but for %d, want %v", clear, n, want)
	}
	const depth = 0.3
	h, n, found := c.scene.Sweep(p, way, depth, even)
	first, any := Hit{}, false
	for _, k := range c.numbers(func(n int, _ Placed) bool { return !even(n) }) {
		q := c.list[k]
		if g, met := Sweep(p.Body, p.At, way, q.Body, q.At, depth); met {
			if found && k == n && (g.Motion != h.Motion || g.T < h.T-1e-9) {
				t.Errorf("%d is run into at %+v, the scene says %+v", k, g, h)
			}
			if !any || g.Motion < first.Motion || g.Motion == first.Motion && g.T < first.T {
				first, any = g, true
			}
		}
	}
	if found != any || h.Motion != first.Motion || h.T-first.T > 1e-9 || first.T-h.T > 1e-9 {
		t.Errorf("runs into %d at %+v (%v), one by one at %+v (%v)", n, h, found, first, any)
	}
}

// TestScene adds, takes out and moves bodies, and asks in between.
func TestScene(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	var bodies []*Body
	for range 12 {
		bodies = append(bodies, anyBody(t, r))
	}
	one := func() Placed { return Placed{bodies[r.Intn(len(bodies))], anyPlace(r, 90)} }
	var c crowd
	for step := range 400 {
		c.change(r.Intn(4), r.Intn(len(c.list)+5), one())
		if step%20 != 19 {
			continue
		}
		p := one()
		m := Motion{Slide: anyPlace(r, 60).Move}
		if step%40 == 19 {
			m.At, m.About, m.Angle = anyPlace(r, 30).Move, anyPlace(r, 1).Turn[0], 5*r.Float64()
		}
		c.agree(t, p, []float64{2, 0, -0.05}[r.Intn(3)], []Motion{m, {Slide: anyPlace(r, 60).Move}})
		var placed []Placed
		var numbers []int
		for _, n := range c.numbers(func(int, Placed) bool { return true }) {
			numbers, placed = append(numbers, n), append(placed, c.list[n])
		}
		var want [][2]int
		for i := range placed {
			for k := i + 1; k < len(placed); k++ {
				if !Clear(placed[i].Body, placed[i].At, placed[k].Body, placed[k].At, 1) {
					want = append(want, [2]int{numbers[i], numbers[k]})
				}
			}
		}
		got := c.scene.Pairs(1)
		for _, w := range want {
			if !slices.Contains(got, w) {
				t.Errorf("step %d: pair %v is missing", step, w)
			}
		}
	}
	for n := range 500 {
		c.scene.Remove(n)
	}
	if p := one(); c.scene.Count() != 0 || c.scene.Unclear(p, 1000, nil) != nil || c.scene.Has(3) {
		t.Error("bodies that were taken out are still there")
	}
}

// FuzzScene: whatever is added, taken out and moved, in places of half millimetres
// where all sorts of touching come up, a scene says what its bodies say one by one.
func FuzzScene(f *testing.F) {
	f.Add([]byte{0, 0, 0, 0, 0, 0, 20, 0, 0, 1, 0, 10, 10, 0, 0, 2, 0, 0, 0, 0, 3, 1, 5, 5, 5, 0, 40, 10, 0, 0})
	f.Add([]byte{0, 1, 0, 0, 0, 0, 2, 20, 20, 20, 3, 0, 200, 0, 0, 1, 3, 9, 9, 9})
	bodies := []*Body{box(f, 10, 10, 10), rod(f, 8, 20), pipe(f, 20, 8, 10), cone(f, 10, 0, 10)}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 120 {
			return
		}
		var c crowd
		for ; len(data) >= 10; data = data[5:] {
			placed := func(d []byte) Placed {
				at := moved(float64(int8(d[2]))/2, float64(int8(d[3]))/2, float64(int8(d[4]))/2)
				return Placed{bodies[d[1]%4], solid.Turned(solid.Vec{X: 1, Z: 1}, float64(d[1]>>4)*15*degree).Then(at)}
			}
			c.change(int(data[0]), int(data[0]>>2), placed(data))
			c.agree(t, placed(data[5:]), float64(int8(data[5])%4)/2, []Motion{slide(float64(int8(data[6])), 0, 7), {About: solid.Vec{Y: 1}, Angle: float64(data[7]) / 50}})
			if t.Failed() {
				return
			}
		}
	})
}
