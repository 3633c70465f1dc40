package cutting_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"plansheaf/design/cutting"
)

// random makes a problem of the kind that plans have: lengths in whole or half
// millimetres from bars of one to three sizes with prices, some offcuts on hand, a
// kerf and trims.
func random(r *rand.Rand, kinds, most int) cutting.Problem {
	p := cutting.Problem{Kerf: int64(r.IntN(8)) * 500, Trim: int64(r.IntN(3)) * 5000}
	for _, length := range []int64{1000, 2000, 3000, 6000}[r.IntN(2):][:1+r.IntN(3)] {
		p.Bars = append(p.Bars, cutting.Bar{Length: length * 1000, Price: length + int64(r.IntN(40))*10})
	}
	for range r.IntN(3) {
		p.Bars = append(p.Bars, cutting.Bar{Length: int64(300+r.IntN(900)) * 1000, Count: 1 + r.IntN(2)})
	}
	longest := p.Bars[0].Length
	for range kinds {
		p.Pieces = append(p.Pieces, cutting.Piece{Length: int64(80+r.IntN(int(longest/1000)-120)) * 1000 / int64(1+r.IntN(3)), Count: 1 + r.IntN(most)})
	}
	if r.IntN(4) == 0 {
		p.Most = 2 + r.IntN(6)
	}
	return p
}

// Several hundred instances of plans' sizes, tens to a few hundred pieces: each is
// proven, and each plan holds.
func TestRandomPlansAreProven(t *testing.T) {
	open := 0
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 7))
		p := random(r, 1+r.IntN(14), 2+r.IntN(20))
		plan := cutting.Bars(p)
		hold(t, p, plan)
		if !plan.Proven() {
			open++
			t.Logf("seed %d: cost %d, bound %d, %d bars", seed, plan.Cost, plan.Bound, plan.Count())
			if dearest := dearest(p); plan.Cost-plan.Bound > dearest {
				t.Errorf("seed %d: the gap is more than the dearest bar, %d", seed, dearest)
			}
		}
	}
	if open > 3 {
		t.Errorf("%d of 200 not proven", open)
	}
}

func dearest(p cutting.Problem) int64 {
	most := int64(0)
	for _, b := range p.Bars {
		most = max(most, b.Price)
	}
	return most
}

// Rows of mitred pieces waste something at their ends once a bar; offcuts too few
// leave pieces over; a piece longer than any bar is told. Each plan holds, and none
// beats a bar for every piece.
func TestOddProblems(t *testing.T) {
	for seed := range uint64(120) {
		r := rand.New(rand.NewPCG(seed, 13))
		p := random(r, 1+r.IntN(8), 2+r.IntN(8))
		p.Nests = []int64{int64(r.IntN(80)) * 1000, int64(r.IntN(80)) * 1000}
		for i := range p.Pieces {
			p.Pieces[i].Nest = r.IntN(3)
		}
		p.Pieces = append(p.Pieces, cutting.Piece{Length: int64(r.IntN(3)-1) * 9_000_000, Count: 1}, cutting.Piece{Length: 5, Count: r.IntN(3) - 1})
		if seed%3 == 0 {
			for i := range p.Bars {
				p.Bars[i].Count = 1 + r.IntN(3)
			}
		}
		plan := cutting.Bars(p)
		hold(t, p, plan)
		pieces := 0
		for _, piece := range p.Pieces {
			pieces += max(0, piece.Count)
		}
		if plan.Count() > pieces {
			t.Errorf("seed %d: %d bars for %d pieces", seed, plan.Count(), pieces)
		}
	}
}

// Numbers that no workshop has end soon, and with a plan.
func TestHostileProblems(t *testing.T) {
	cases := map[string]cutting.Problem{
		"twenty thousand small pieces": {Bars: []cutting.Bar{{Length: 6_000_000, Price: 1}}, Pieces: []cutting.Piece{{Length: 1001, Count: 20_000}}, Kerf: 3},
		"lengths without a measure": {Bars: []cutting.Bar{{Length: 6_000_007, Price: 1_000_000_007}, {Length: 3_000_017, Price: 500_000_003}}, Pieces: func() []cutting.Piece {
			r := rand.New(rand.NewPCG(1, 17))
			var pieces []cutting.Piece
			for range 60 {
				pieces = append(pieces, cutting.Piece{Length: 50_000 + r.Int64N(300_000), Count: 1 + r.IntN(9)})
			}
			return pieces
		}()},
		"no price at all":      {Bars: []cutting.Bar{{Length: 1_000_000}}, Pieces: []cutting.Piece{{Length: 300_000, Count: 9}}},
		"trims beyond the bar": {Bars: []cutting.Bar{{Length: 1_000_000, Price: 1}}, Pieces: []cutting.Piece{{Length: 1, Count: 9}}, Trim: 600_000},
	}
	for name, p := range cases {
		t.Run(name, func(t *testing.T) {
			plan := cutting.Bars(p)
			hold(t, p, plan)
			t.Logf("cost %d, bound %d, %d bars in %d patterns", plan.Cost, plan.Bound, plan.Count(), len(plan.Patterns))
		})
	}
}

func BenchmarkBars(b *testing.B) {
	for _, kinds := range []int{5, 10, 20, 40} {
		b.Run(fmt.Sprintf("%d lengths, 5 each", kinds), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 19))
			p := random(r, kinds, 1)
			for i := range p.Pieces {
				p.Pieces[i].Count = 5
			}
			for b.Loop() {
				if plan := cutting.Bars(p); !plan.Proven() {
					b.Logf("cost %d, bound %d", plan.Cost, plan.Bound)
				}
			}
		})
	}
}
