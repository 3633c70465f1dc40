package cutting_test

import (
	"testing"

	"plansheaf/design/cutting"
)

// count makes a problem of bars without end that are counted, in millimetres.
func count(length int64, lengths, counts []int64) cutting.Problem {
	p := cutting.Problem{Bars: []cutting.Bar{{Length: length * 1000, Price: 1}}}
	for i, l := range lengths {
		n := int64(1)
		if counts != nil {
			n = counts[i]
		}
		p.Pieces = append(p.Pieces, cutting.Piece{Length: l * 1000, Count: int(n)})
	}
	return p
}

// Published instances with known optimum.
func TestPublished(t *testing.T) {
	cases := []struct {
		name    string
		problem cutting.Problem
		want    int
	}{
		{
			// An encyclopedia article on the cutting-stock problem.
			name: "13 widths from rolls of 5,600 mm",
			problem: count(5600,
				[]int64{1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200},
				[]int64{22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20}),
			want: 73,
		},
		{
			name:    "Chvátal, Linear Programming (1983), p. 195",
			problem: count(100, []int64{45, 36, 31, 14}, []int64{97, 610, 395, 211}),
			want:    453,
		},
		{
			name: "OR-Library, bin packing, u120_00 (Falkenauer)",
			problem: count(150, []int64{
				42, 69, 67, 57, 93, 90, 38, 36, 45, 42, 33, 79, 27, 57, 44, 84, 86, 92, 46, 38, 85, 33, 82, 73, 49, 70, 59, 23, 57, 72, 74, 69, 33, 42, 28, 46,
				30, 64, 29, 74, 41, 49, 55, 98, 80, 32, 25, 38, 82, 30, 35, 39, 57, 84, 62, 50, 55, 27, 30, 36, 20, 78, 47, 26, 45, 41, 58, 98, 91, 96, 73, 84,
				37, 93, 91, 43, 73, 85, 81, 79, 71, 80, 76, 83, 41, 78, 70, 23, 42, 87, 43, 84, 60, 55, 49, 78, 73, 62, 36, 44, 94, 69, 32, 96, 70, 84, 58, 78,
				25, 80, 58, 66, 83, 24, 98, 60, 42, 43, 43, 39,
			}, nil),
			want: 48,
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			plan := cutting.Bars(c.problem)
			if plan.Count() != c.want || !plan.Proven() {
				t.Errorf("%d bars in %d patterns, no fewer than %d; the published optimum is %d", plan.Count(), len(plan.Patterns), plan.Bound, c.want)
			}
			hold(t, c.problem, plan)
		})
	}
}

// hold checks a plan by hand: every piece cut, nothing beyond a bar, costs added up.
func hold(t *testing.T, p cutting.Problem, plan cutting.Plan) {
	t.Helper()
	cut := make([]int, len(p.Pieces))
	used := make([]int, len(p.Bars))
	var cost int64
	for _, pattern := range plan.Patterns {
		bar := p.Bars[pattern.Bar]
		used[pattern.Bar] += pattern.Times
		cost += bar.Price * int64(pattern.Times)
		length, pieces := int64(0), 0
		nested := map[int]bool{}
		for i, n := range pattern.Counts {
			cut[i] += n * pattern.Times
			length += int64(n) * (p.Pieces[i].Length + p.Kerf)
			pieces += n
			if nest := p.Pieces[i].Nest; n > 0 && nest > 0 && !nested[nest] {
				nested[nest] = true
				length += p.Nests[nest-1]
			}
		}
		if length-p.Kerf > bar.Length-2*p.Trim {
			t.Errorf("%v takes %d of a bar of %d", pattern, length-p.Kerf, bar.Length)
		}
		if p.Most > 0 && pieces > p.Most {
			t.Errorf("%v has %d pieces, more than %d", pattern, pieces, p.Most)
		}
	}
	unfit := map[int]bool{}
	for _, i := range plan.Unfit {
		unfit[i] = true
	}
	for i, piece := range p.Pieces {
		want := max(0, piece.Count)
		if unfit[i] {
			want = 0
		}
		if plan.Unlaid != nil {
			want -= plan.Unlaid[i]
		}
		if cut[i] != want {
			t.Errorf("piece %d: %d cut, %d wanted", i, cut[i], want)
		}
	}
	for i, b := range p.Bars {
		if b.Count > 0 && used[i] > b.Count {
			t.Errorf("bar %d: %d used, %d there", i, used[i], b.Count)
		}
	}
	if cost != plan.Cost || plan.Bound > cost {
		t.Errorf("cost %d and bound %d, adding up gives %d", plan.Cost, plan.Bound, cost)
	}
}
