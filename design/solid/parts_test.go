package solid

import (
	"math"
	"math/rand"
	"testing"
)

// TestRandomParts makes bars and plates with holes anywhere on any face and
// checks each: closed, oriented, meshed tight, and holding just the points that
// are in the base and in no hole.
func TestRandomParts(t *testing.T) {
	refused := 0
	seeds := []int64{
		127, 225, 994, 2010, // a sunk mouth beside the crest of a tube
		1043, // a rim that only touches a grid line of the mesh
		2596, // a drill's point that just breaks out
	}
	for seed := int64(1); seed <= 80; seed++ {
		seeds = append(seeds, seed)
	}
	for _, seed := range seeds {
		r := rand.New(rand.NewSource(seed))
		base := randomBase(r)
		body, err := base.build()
		made(t, body, err)
		lies := AxisX
		if b, ok := base.(Bar); ok {
			lies = b.Lies
		}
		var holes []Hole
		var tools []*Solid
		for len(holes) < 6 {
			h := randomHole(r, body.Box())
			h.Name = string(rune('a' + len(holes)))
			bores, faults := boreAll(body, &h, lies)
			if faults != nil {
				if len(holes) == 0 && r.Intn(30) == 0 {
					break
				}
				continue
			}
			for i := range bores {
				tools = append(tools, bores[i].tool())
			}
			holes = append(holes, h)
		}
		s, err := Build(Shape{Base: base, Holes: holes})
		if err != nil {
			t.Logf("seed %d: %v", seed, err)
			refused++
			continue
		}
		sound(t, s)
		box := body.Box().Grow(0.5)
		size := box.Size()
		for i := 0; i < 100; i++ {
			p := box.Min.Add(Vec{r.Float64() * size.X, r.Float64() * size.Y, r.Float64() * size.Z})
			want := body.Where(p) == Inside
			for _, tool := range tools {
				want = want && tool.Where(p) == Outside
			}
			if got := s.Where(p) == Inside; got != want {
				t.Errorf("seed %d: point %v is in the part %v, want %v", seed, p, got, want)
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d: %+v with %+v", seed, base, holes)
		}
	}
	if refused > 1 {
		t.Errorf("%d of %d parts could not be worked out", refused, len(seeds))
	}
}

func randomBase(r *rand.Rand) Base {
	sections := []Section{
		Round{30}, Rectangle{30, 20, 3}, Tube{30, 3}, BoxTube{40, 30, 3, 4}, Angle{40, 30, 4, 4}, Channel{40, 30, 4, 3}, slotted30, slotted60,
	}
	if i := r.Intn(len(sections) + 2); i < len(sections) {
		return Bar{Section: sections[i], Length: 100, Lies: Axis(r.Intn(3))}
	}
	o, _ := RectangleOutline(80, 60).Rounded(8)
	return Sheet{Outline: o, Thickness: 12}
}

// randomHole returns a hole on a half-millimetre raster, so that rims touch
// edges and axes meet.
func randomHole(r *rand.Rand, box Box) Hole {
	h := Hole{Face: sideDirections[r.Intn(6)].name, D: float64(2 + r.Intn(10))}
	size := box.Size()
	raster := func(l float64) float64 { return math.Round(2*l*(r.Float64()*1.1-0.05)) / 2 }
	switch h.Face {
	case "left", "right":
		h.At = []Vec2{{raster(size.Y), raster(size.Z)}}
	case "front", "back":
		h.At = []Vec2{{raster(size.X), raster(size.Z)}}
	default:
		h.At = []Vec2{{raster(size.X), raster(size.Y)}}
	}
	switch r.Intn(4) {
	case 0:
		h.Depth = float64(3 + r.Intn(20))
		if r.Intn(2) == 0 {
			h.Tip = 118 * degree
		}
	case 1:
		h.ThroughAll = true
	}
	switch r.Intn(4) {
	case 0:
		h.Counterbore = &Counterbore{h.D + 4, 2}
	case 1:
		h.Countersink = &Countersink{h.D + 3, 90 * degree}
	}
	if r.Intn(4) == 0 {
		axes := across(map[byte]Axis{'l': AxisX, 'r': AxisX, 'f': AxisY, 'b': AxisZ, 't': AxisZ}[h.Face[0]])
		if h.Face == "back" {
			axes = across(AxisY)
		}
		h.Kind, h.Long, h.Along = Obround, h.D+6, axes[r.Intn(2)]
	}
	return h
}
