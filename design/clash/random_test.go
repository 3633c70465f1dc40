package clash_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"plansheaf/design/clash"
	"plansheaf/design/solid"
)

// A brick is a box turned any way, for comparing with a check of its own: how deep two
// of them overlap by the axis along which they do so least (separating axes, Gottschalk,
// Lin and Manocha, OBBTree, 1996).
type brick struct {
	size, at solid.Vec
	turn     [2]float64 // about z, then x, degrees
}

func (b brick) use(name, more string) string {
	return fmt.Sprintf("%s: {part: %s, at: [%.3f mm, %.3f mm, %.3f mm], turn: [z %.2f deg, x %.2f deg]%s}", name, name, b.at.X, b.at.Y, b.at.Z, b.turn[0], b.turn[1], more)
}

func (b brick) part(name string) string {
	return fmt.Sprintf("%s: {title: %s, made: bought, buy: any, shape: [{box: [%.3f mm, %.3f mm, %.3f mm]}]}\n", name, strings.ToUpper(name), b.size.X, b.size.Y, b.size.Z)
}

// frame is the brick's middle and its half sides.
func (b brick) frame() (middle solid.Vec, half [3]solid.Vec) {
	turn := solid.Turned(solid.Vec{X: 1}, 0)
	for i, axis := range []solid.Vec{{Z: 1}, {X: 1}} { // about its own axes
		turn = solid.Turned(axis, b.turn[i]*math.Pi/180).Then(turn)
	}
	half = [3]solid.Vec{turn.Direction(solid.Vec{X: b.size.X / 2}), turn.Direction(solid.Vec{Y: b.size.Y / 2}), turn.Direction(solid.Vec{Z: b.size.Z / 2})}
	reach := solid.Vec{}
	for _, h := range half {
		reach = reach.Add(solid.Vec{X: math.Abs(h.X), Y: math.Abs(h.Y), Z: math.Abs(h.Z)})
	}
	return b.at.Add(reach), half // at is where the lowest corner stands
}

// into is how far two bricks reach into each other along the axis on which they do so
// least; negative where they are apart.
func into(a, b brick, slid solid.Vec) float64 {
	ma, ha := a.frame()
	mb, hb := b.frame()
	ma = ma.Add(slid)
	var axes []solid.Vec
	for i := range 3 {
		axes = append(axes, ha[i], hb[i])
		for k := range 3 {
			axes = append(axes, ha[i].Cross(hb[k]))
		}
	}
	least := math.Inf(1)
	for _, x := range axes {
		if x.Len() < 1e-6 {
			continue
		}
		x = x.Unit()
		reach := 0.0
		for i := range 3 {
			reach += math.Abs(ha[i].Dot(x)) + math.Abs(hb[i].Dot(x))
		}
		least = math.Min(least, reach-math.Abs(mb.Sub(ma).Dot(x)))
	}
	return least
}

func randomBrick(r *rand.Rand, room float64) brick {
	return brick{
		size: solid.Vec{X: 5 + 25*r.Float64(), Y: 5 + 25*r.Float64(), Z: 5 + 25*r.Float64()},
		at:   solid.Vec{X: room * r.Float64(), Y: room * r.Float64(), Z: room * r.Float64()},
		turn: [2]float64{360 * r.Float64(), 360 * r.Float64()},
	}
}

// TestRandomOverlaps compares with the separating axes.
func TestRandomOverlaps(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	pairs, overlapping := 0, 0
	for round := range 6 {
		var bricks []brick
		var uses []string
		parts := ""
		for i := range 14 {
			b := randomBrick(r, 70)
			bricks = append(bricks, b)
			name := fmt.Sprintf("b%d", i)
			uses, parts = append(uses, b.use(name, "")), parts+b.part(name)
		}
		f := rig(uses...)
		f["parts/p.yaml"] = parts
		found := map[[2]string]float64{}
		for _, o := range look(t, f).Overlaps {
			found[[2]string{o.A.Name(), o.B.Name()}] = o.Depth
		}
		for i := range bricks {
			for k := range i {
				pairs++
				deep := into(bricks[k], bricks[i], solid.Vec{})
				depth, got := found[[2]string{fmt.Sprintf("b%d", k), fmt.Sprintf("b%d", i)}]
				if got {
					overlapping++
				}
				// The depth of the deepest place is no more than what parts the bricks.
				if got && (deep < 0 || depth > deep*1.02+clash.Contact) || !got && deep > 1 {
					t.Errorf("round %d, b%d and b%d: found %v %g, reach into each other by %g", round, k, i, got, depth, deep)
				}
			}
		}
	}
	if overlapping < 50 || overlapping > pairs-50 {
		t.Errorf("%d of %d pairs overlap: that says little", overlapping, pairs)
	}
}

// TestRandomTravels compares with the separating axes at 2000 places of each way.
func TestRandomTravels(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	hits, clear := 0, 0
	for round := range 60 {
		a, b := randomBrick(r, 10), randomBrick(r, 10)
		b.at = b.at.Add(solid.Vec{X: 60, Y: 40*r.Float64() - 20, Z: 40*r.Float64() - 20})
		f := files(rig(a.use("a", ", moves: {along: x, by: travel}"), b.use("b", ""))).moving("  travel: {from: 0 mm, to: 160 mm, about: past}\n")
		f["parts/p.yaml"] = a.part("a") + b.part("b")
		if into(a, b, solid.Vec{}) > 0 {
			continue
		}
		const n = 2000
		first, deepest := math.Inf(1), math.Inf(-1)
		for k := 0; k <= n; k++ {
			x := 160 * float64(k) / n
			deep := into(a, b, solid.Vec{X: x})
			deepest = math.Max(deepest, deep)
			if deep > 0 {
				first = math.Min(first, x)
			}
		}
		tr := look(t, f).Travels[0]
		switch got := len(tr.Clashes) > 0; {
		case deepest > 1 && !got:
			t.Errorf("round %d: they reach into each other by %g and nothing is found", round, deepest)
		case deepest < 0 && got:
			t.Errorf("round %d: they stay apart and %+v is found", round, tr.Clashes[0])
		case got:
			hits++
			if at := tr.Clashes[0].First.SI * 1000; at < first-0.2 || at > first+3 {
				t.Errorf("round %d: first touch at %g, by samples at %g", round, at, first)
			}
		default:
			clear++
			if l := tr.Least; l != nil && l.Gap < -deepest-160.0/n/2 { // what lies between two samples
				t.Errorf("round %d: least gap %g, the axes part them by %g", round, l.Gap, -deepest)
			}
		}
	}
	if hits < 10 || clear < 10 {
		t.Errorf("%d clashes, %d clear: that says little", hits, clear)
	}
}
