package cutting_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"plansheaf/design/cutting"
)

// holdSheets checks a plan by hand: every rectangle cut as often as wanted, inside
// of a sheet's trim, a kerf from every other, turned only where it may be, sawable
// where it is sawn, no more sheets than there are, costs added up.
func holdSheets(t *testing.T, p cutting.SheetProblem, plan cutting.SheetPlan) {
	t.Helper()
	cut, used := make([]int, len(p.Rects)), make([]int, len(p.Sheets))
	var cost int64
	for i, l := range plan.Layouts {
		sheet := p.Sheets[l.Sheet]
		used[l.Sheet] += l.Times
		cost += sheet.Price * int64(l.Times)
		for j, a := range l.Places {
			cut[a.Rect] += l.Times
			want := p.Rects[a.Rect].Size
			if a.Turned {
				want[0], want[1] = want[1], want[0]
				if !p.Rects[a.Rect].Turn {
					t.Errorf("layout %d: %+v is turned", i, a)
				}
			}
			if a.Size != want {
				t.Errorf("layout %d: %+v should measure %v", i, a, want)
			}
			within(t, sheet, p.Trim, a)
			for _, b := range slices.Concat(l.Places[:j], l.Rests) {
				if gap := max(a.At[0]-b.At[0]-b.Size[0], b.At[0]-a.At[0]-a.Size[0], a.At[1]-b.At[1]-b.Size[1], b.At[1]-a.At[1]-a.Size[1]); gap < p.Kerf {
					t.Errorf("layout %d: %+v and %+v are %d apart, kerf %d", i, a, b, gap, p.Kerf)
				}
			}
		}
		for _, r := range l.Rests {
			within(t, sheet, p.Trim, r)
		}
		if !p.Free && l.Panel == nil {
			t.Errorf("layout %d has no cuts from edge to edge", i)
		}
		if l.Panel != nil {
			var pieces []cutting.Place
			parted(t, p, *l.Panel, &pieces)
			if !slices.EqualFunc(pieces, l.Places, func(a, b cutting.Place) bool { return a == b }) {
				t.Errorf("layout %d: its panels give %v, want %v", i, pieces, l.Places)
			}
		}
	}
	for i, r := range p.Rects {
		want := max(0, r.Count)
		if slices.Contains(plan.Unfit, i) {
			want = 0
		}
		if plan.Unlaid != nil {
			want -= plan.Unlaid[i]
		}
		if cut[i] != want {
			t.Errorf("rectangle %d: %d cut, %d wanted", i, cut[i], want)
		}
	}
	for i, s := range p.Sheets {
		if s.Count > 0 && used[i] > s.Count {
			t.Errorf("sheet %d: %d used, %d there", i, used[i], s.Count)
		}
	}
	if cost != plan.Cost || plan.Bound > cost {
		t.Errorf("cost %d and bound %d, adding up gives %d", plan.Cost, plan.Bound, cost)
	}
}

func within(t *testing.T, s cutting.Sheet, trim int64, a cutting.Place) {
	t.Helper()
	for axis := range 2 {
		if a.At[axis] < trim || a.At[axis]+a.Size[axis] > s.Size[axis]-trim {
			t.Errorf("%+v leaves a sheet of %v, trim %d", a, s.Size, trim)
		}
	}
}

// parted checks that a panel's parts lie one behind the other, a kerf apart, as wide
// as the panel, and collects the pieces.
func parted(t *testing.T, p cutting.SheetProblem, panel cutting.Panel, pieces *[]cutting.Place) {
	t.Helper()
	if panel.Rect >= 0 {
		*pieces = append(*pieces, cutting.Place{Rect: panel.Rect, At: panel.At, Size: panel.Size, Turned: panel.Turned})
		if len(panel.Parts) > 0 {
			t.Errorf("a finished piece is cut: %+v", panel)
		}
	}
	at, across := panel.At, 1-panel.Axis
	for i, part := range panel.Parts {
		end := part.At[panel.Axis] + part.Size[panel.Axis]
		if part.At != at || part.Size[across] != panel.Size[across] || end > panel.At[panel.Axis]+panel.Size[panel.Axis] && part.Size[panel.Axis] > 0 {
			t.Errorf("part %d of %+v does not lie in it", i, panel)
		}
		at[panel.Axis] = end + p.Kerf
		parted(t, p, part, pieces)
	}
}

// randomSheets makes a problem of the kind that plans have.
func randomSheets(r *rand.Rand, kinds, most int) cutting.SheetProblem {
	p := cutting.SheetProblem{Kerf: int64(r.IntN(8)) * 500, Trim: int64(r.IntN(3)) * 5000, Free: r.IntN(2) == 0}
	all := [][2]int64{{1220, 610}, {2440, 1220}, {800, 600}}
	for _, i := range r.Perm(3)[:1+r.IntN(3)] {
		p.Sheets = append(p.Sheets, cutting.Sheet{Size: [2]int64{all[i][0] * 1000, all[i][1] * 1000}, Price: all[i][0]*all[i][1]/300 + int64(r.IntN(300))})
	}
	for range r.IntN(3) {
		p.Sheets = append(p.Sheets, cutting.Sheet{Size: [2]int64{int64(200+r.IntN(600)) * 1000, int64(200+r.IntN(400)) * 1000}, Count: 1 + r.IntN(2)})
	}
	grain := r.IntN(2) == 0
	for range kinds {
		p.Rects = append(p.Rects, cutting.Rect{Size: [2]int64{int64(60+r.IntN(500)) * 1000, int64(60+r.IntN(400)) * 1000}, Count: 1 + r.IntN(most), Turn: !grain || r.IntN(4) == 0})
	}
	return p
}

func TestRandomSheets(t *testing.T) {
	proven, gap, cost := 0, int64(0), int64(0)
	const problems = 18
	for seed := range uint64(problems) {
		r := rand.New(rand.NewPCG(seed, 23))
		p := randomSheets(r, 1+r.IntN(10), 1+r.IntN(6))
		plan := cutting.Sheets(p)
		holdSheets(t, p, plan)
		followed(t, p, plan)
		if plan.Proven() {
			proven++
		}
		if !plan.Proven() {
			t.Logf("seed %d: cost %d, bound %d, %d sheets, %d kinds, %d sizes, free %t", seed, plan.Cost, plan.Bound, plan.Count(), len(p.Rects), len(p.Sheets), p.Free)
		}
		gap += plan.Cost - plan.Bound
		cost += plan.Cost
	}
	t.Logf("%d of %d proven, %.1f %% above the bounds in all", proven, problems, 100*float64(gap)/float64(cost))
	if proven < 13 {
		t.Errorf("only %d of %d proven", proven, problems)
	}
}

// followed checks the order of cuts: each is made once, of a panel that is there.
func followed(t *testing.T, p cutting.SheetProblem, plan cutting.SheetPlan) {
	t.Helper()
	type panel struct{ layout, number int }
	there, got := map[panel]bool{}, make([]int, len(p.Rects))
	for i, l := range plan.Layouts {
		there[panel{i, 0}] = true
		if l.Panel != nil && l.Panel.Rect >= 0 {
			got[l.Panel.Rect] += l.Times
		} else if l.Panel == nil {
			for _, pl := range l.Places {
				got[pl.Rect] += l.Times
			}
		}
	}
	for i, c := range cutting.SawCuts(p, plan) {
		if !there[panel{c.Layout, c.Of}] {
			t.Errorf("cut %d is of a panel that is not there: %+v", i, c)
		}
		for _, o := range []*cutting.Outcome{&c.Part, c.Rest} {
			if o == nil {
				continue
			}
			if o.Panel > 0 {
				there[panel{c.Layout, o.Panel}] = true
			} else if o.Rect >= 0 {
				got[o.Rect] += plan.Layouts[c.Layout].Times
			}
		}
		if c.Rest != nil {
			delete(there, panel{c.Layout, c.Of})
		}
		if c.Part.Size[c.Axis] != c.Stop {
			t.Errorf("cut %d: the stop is at %d, the part measures %v", i, c.Stop, c.Part.Size)
		}
	}
	for i, r := range p.Rects {
		if slices.Contains(plan.Unfit, i) {
			continue
		}
		want := r.Count
		if plan.Unlaid != nil {
			want -= plan.Unlaid[i]
		}
		if got[i] != want {
			t.Errorf("following the cuts gives %d of rectangle %d, want %d", got[i], i, want)
		}
	}
}

// perfect splits sheets at random by cuts from edge to edge, so that the pieces and
// the cuts between them fill the sheets without waste.
func perfect(r *rand.Rand, sheets, pieces int, kerf int64, turn bool) cutting.SheetProblem {
	size := [2]int64{1220_000, 610_000}
	p := cutting.SheetProblem{Sheets: []cutting.Sheet{{Size: size, Price: 1}}, Kerf: kerf}
	for range sheets {
		parts := [][2]int64{size}
		for len(parts) < pieces {
			i := 0 // the largest that can still be parted
			for j := range parts {
				if parts[j][0]*parts[j][1] > parts[i][0]*parts[i][1] {
					i = j
				}
			}
			if r.IntN(3) == 0 {
				i = r.IntN(len(parts))
			}
			axis := r.IntN(2)
			if parts[i][axis] < 100_000 {
				axis = 1 - axis
			}
			if parts[i][axis] < 100_000 {
				continue
			}
			at := parts[i][axis] * int64(20+r.IntN(61)) / 100 / 1000 * 1000
			a, b := parts[i], parts[i]
			a[axis], b[axis] = at, parts[i][axis]-at-kerf
			parts[i] = a
			parts = append(parts, b)
		}
		for _, part := range parts {
			if turn && r.IntN(2) == 0 {
				part[0], part[1] = part[1], part[0]
			}
			p.Rects = append(p.Rects, cutting.Rect{Size: part, Count: 1, Turn: turn})
		}
	}
	r.Shuffle(len(p.Rects), func(i, j int) { p.Rects[i], p.Rects[j] = p.Rects[j], p.Rects[i] })
	return p
}

// Pieces that are known to fill their sheets without waste: how often that is found.
func TestPerfectSheets(t *testing.T) {
	cases := []struct {
		sheets, pieces int
		turn           bool
		least          int // found of 6
	}{
		{sheets: 1, pieces: 8, least: 6},
		{sheets: 1, pieces: 8, turn: true, least: 6},
		{sheets: 1, pieces: 16, least: 6},
		{sheets: 1, pieces: 16, turn: true, least: 6},
		{sheets: 1, pieces: 30, least: 5},
		{sheets: 3, pieces: 8, least: 6},
		{sheets: 3, pieces: 8, turn: true, least: 6},
		{sheets: 5, pieces: 12, least: 3},
	}
	for _, c := range cases {
		t.Run(fmt.Sprintf("%d sheets of %d pieces, turned %t", c.sheets, c.pieces, c.turn), func(t *testing.T) {
			found := 0
			const problems = 6
			for seed := range uint64(problems) {
				r := rand.New(rand.NewPCG(seed, 29))
				p := perfect(r, c.sheets, c.pieces, int64(r.IntN(2))*3000, c.turn)
				plan := cutting.Sheets(p)
				holdSheets(t, p, plan)
				if plan.Count() == c.sheets {
					found++
				}
				if plan.Bound > int64(c.sheets) || plan.Count() > c.sheets+1 {
					t.Errorf("seed %d: %d sheets, no fewer than %d; %d do", seed, plan.Count(), plan.Bound, c.sheets)
				}
			}
			t.Logf("%d of %d found", found, problems)
			if found < c.least {
				t.Errorf("%d of %d found, had %d", found, problems, c.least)
			}
		})
	}
}

// sawable tries all ways to saw pieces from a rectangle, piece by piece: every cut at
// a sum of sides, every share of the pieces on either side of it.
func sawable(rects []cutting.Rect, room [2]int64) bool {
	if len(rects) == 0 {
		return true
	}
	if len(rects) == 1 {
		r := rects[0]
		return r.Size[0] <= room[0] && r.Size[1] <= room[1] || r.Turn && r.Size[1] <= room[0] && r.Size[0] <= room[1]
	}
	for share := 1; share < 1<<(len(rects)-1); share++ {
		var a, b []cutting.Rect
		for i, r := range rects {
			if share>>i&1 == 1 {
				a = append(a, r)
			} else {
				b = append(b, r)
			}
		}
		sums := map[int64]bool{0: true}
		for _, r := range a {
			for sum := range maps.Clone(sums) {
				sums[sum+r.Size[0]], sums[sum+r.Size[1]] = true, true
			}
		}
		for at := range sums {
			for axis := range 2 {
				one, other := room, room
				one[axis], other[axis] = at, room[axis]-at
				if at > 0 && other[axis] > 0 && sawable(a, one) && sawable(b, other) {
					return true
				}
			}
		}
	}
	return false
}

// fewest is how many sheets all ways to share out pieces and to saw them take.
func fewest(rects []cutting.Rect, room [2]int64) int {
	best := len(rects)
	if best == 0 {
		return 0
	}
	for share := 1; share < 1<<len(rects); share += 2 { // the first piece is on the first sheet
		var on, off []cutting.Rect
		for i, r := range rects {
			if share>>i&1 == 1 {
				on = append(on, r)
			} else {
				off = append(off, r)
			}
		}
		if sawable(on, room) {
			best = min(best, 1+fewest(off, room))
		}
	}
	return best
}

// Of few pieces the plan is the best there is, as trying everything finds.
func TestFewSheetsAreBest(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 41))
		p := cutting.SheetProblem{Sheets: []cutting.Sheet{{Size: [2]int64{100, 80}, Price: 1}}}
		for range 4 + r.IntN(2) {
			p.Rects = append(p.Rects, cutting.Rect{Size: [2]int64{int64(10 + r.IntN(60)), int64(10 + r.IntN(50))}, Count: 1, Turn: r.IntN(2) == 0})
		}
		plan := cutting.Sheets(p)
		holdSheets(t, p, plan)
		if want := fewest(p.Rects, p.Sheets[0].Size); plan.Count() != want || !plan.Proven() {
			t.Errorf("seed %d: %d sheets, no fewer than %d; trying everything finds %d", seed, plan.Count(), plan.Bound, want)
		}
		p.Free = true
		if free := cutting.Sheets(p); free.Count() > plan.Count() || free.Bound > int64(plan.Count()) {
			t.Errorf("seed %d: cut freely it takes %d sheets, no fewer than %d; sawn %d", seed, free.Count(), free.Bound, plan.Count())
		}
	}
}

// Numbers that no workshop has end soon, and with a plan.
func TestHostileSheets(t *testing.T) {
	ply := cutting.Sheet{Size: [2]int64{2440_000, 1220_000}, Price: 100}
	cases := map[string]cutting.SheetProblem{
		"fifty thousand pieces":     {Sheets: []cutting.Sheet{ply}, Rects: []cutting.Rect{{Size: [2]int64{5_000, 5_000}, Count: 50_000, Turn: true}}, Kerf: 3000},
		"cut around, many":          {Sheets: []cutting.Sheet{ply}, Rects: []cutting.Rect{{Size: [2]int64{7_000, 5_000}, Count: 9_000, Turn: true}, {Size: [2]int64{11_000, 9_000}, Count: 9_000}}, Free: true},
		"a sheet beyond measure":    {Sheets: []cutting.Sheet{{Size: [2]int64{1e15, 1e15}, Price: 1}}, Rects: []cutting.Rect{{Size: [2]int64{1, 1}, Count: 20_000}}},
		"trims beyond the sheet":    {Sheets: []cutting.Sheet{ply}, Rects: []cutting.Rect{{Size: [2]int64{1, 1}, Count: 2}}, Trim: 1e12},
		"no price":                  {Sheets: []cutting.Sheet{{Size: ply.Size}}, Rects: []cutting.Rect{{Size: [2]int64{900_000, 900_000}, Count: 7}}},
		"offcuts alone, too few":    {Sheets: []cutting.Sheet{{Size: ply.Size, Count: 2}}, Rects: []cutting.Rect{{Size: [2]int64{900_000, 900_000}, Count: 7}}},
		"without size, without end": {Sheets: []cutting.Sheet{ply}, Rects: []cutting.Rect{{Size: [2]int64{0, 5}, Count: 3}, {Size: [2]int64{1e15, 5}, Count: 3}, {Size: [2]int64{500_000, 5}, Count: -1}}},
		"nothing":                   {},
		"sixty kinds": {Sheets: []cutting.Sheet{ply, {Size: [2]int64{1220_000, 610_000}, Price: 37}}, Kerf: 3000, Rects: func() []cutting.Rect {
			r := rand.New(rand.NewPCG(1, 31))
			var out []cutting.Rect
			for range 60 {
				out = append(out, cutting.Rect{Size: [2]int64{30_000 + r.Int64N(600_000), 30_000 + r.Int64N(400_000)}, Count: 1 + r.IntN(9), Turn: r.IntN(2) == 0})
			}
			return out
		}()},
	}
	for name, p := range cases {
		t.Run(name, func(t *testing.T) {
			plan := cutting.Sheets(p)
			if len(plan.Layouts) < 50 && (len(plan.Layouts) == 0 || len(plan.Layouts[0].Places) < 2000) {
				holdSheets(t, p, plan)
			}
			t.Logf("cost %d, bound %d, %d sheets, unfit %v, unlaid %v", plan.Cost, plan.Bound, plan.Count(), plan.Unfit, plan.Unlaid)
		})
	}
}

func BenchmarkSheets(b *testing.B) {
	for _, kinds := range []int{5, 10, 20, 40} {
		b.Run(fmt.Sprintf("%d sizes, 4 each", kinds), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 37))
			p := randomSheets(r, kinds, 1)
			for i := range p.Rects {
				p.Rects[i].Count = 4
			}
			for b.Loop() {
				plan := cutting.Sheets(p)
				b.ReportMetric(100*float64(plan.Cost-plan.Bound)/float64(plan.Cost), "%gap")
			}
		})
	}
}
