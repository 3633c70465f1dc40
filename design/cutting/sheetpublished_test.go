package cutting_test

import (
	"strconv"
	"strings"
	"testing"

	"plansheaf/design/cutting"
)

// Two-dimensional bin packing, length and width of each piece.
// Source: 2DPackLib (Iori, de Lima, Martello and Monaci, Operations Research Letters
// 50, 2022).
var (
	// Bengtsson, Packing rectangular pieces: a heuristic approach, The Computer
	// Journal 25 (1982), instances 1 to 8: sheets of 25 × 10 and of 40 × 25.
	bengtsson = []string{
		"25,10;1,3;1,7;3,6;3,8;4,3;4,7;7,8;8,6;8,6;9,1;9,1;9,8;10,3;11,1;11,3;11,4;11,5;11,6;12,6;12,8",
		"25,10;" + forty,
		"25,10;1,1;1,2;1,3;1,7;2,3;2,7;2,8;3,2;3,3;3,4;3,6;3,8;3,8;4,1;4,3;4,7;4,7;4,8;5,4;5,4;5,6;6,2;6,5;7,2;7,3;7,7;7,8;8,1;8,3;8,3;8,4;8,4;8,5;8,6;8,6;8,7;8,8;8,8;9,1;9,1;9,8;10,3;10,3;10,3;10,5;10,7;11,1;11,3;11,4;11,4;11,5;11,5;11,6;11,8;12,3;12,6;12,7;12,7;12,7;12,8",
		"25,10;" + eighty,
		"25,10;1,1;1,1;1,2;1,3;1,3;1,5;1,7;2,3;2,4;2,6;2,7;2,8;3,1;3,1;3,2;3,3;3,4;3,6;3,8;3,8;3,8;4,1;4,2;4,2;4,3;4,6;4,7;4,7;4,7;4,8;5,2;5,2;5,4;5,4;5,4;5,6;5,6;6,2;6,5;7,2;7,3;7,3;7,3;7,6;7,6;7,6;7,7;7,7;7,8;8,1;8,3;8,3;8,4;8,4;8,5;8,6;8,6;8,7;8,8;8,8;9,1;9,1;9,2;9,2;9,5;9,6;9,7;9,8;10,3;10,3;10,3;10,4;10,4;10,4;10,5;10,7;10,8;11,1;11,1;11,2;11,3;11,3;11,4;11,4;11,4;11,5;11,5;11,5;11,6;11,6;11,7;11,8;12,3;12,4;12,6;12,6;12,7;12,7;12,7;12,8",
		"40,25;" + forty,
		"40,25;" + eighty,
		"40,25;1,1;1,1;1,2;1,3;1,3;1,5;1,5;1,6;1,7;2,1;2,3;2,4;2,6;2,6;2,7;2,8;3,1;3,1;3,2;3,3;3,4;3,6;3,8;3,8;3,8;4,1;4,2;4,2;4,2;4,3;4,6;4,7;4,7;4,7;4,8;5,2;5,2;5,4;5,4;5,4;5,5;5,5;5,6;5,6;6,2;6,3;6,5;6,5;6,7;7,2;7,3;7,3;7,3;7,6;7,6;7,6;7,7;7,7;7,8;8,1;8,3;8,3;8,3;8,4;8,4;8,4;8,5;8,6;8,6;8,6;8,7;8,8;8,8;9,1;9,1;9,2;9,2;9,5;9,5;9,6;9,6;9,7;9,8;10,3;10,3;10,3;10,4;10,4;10,4;10,5;10,5;10,7;10,8;11,1;11,1;11,2;11,3;11,3;11,4;11,4;11,4;11,4;11,5;11,5;11,5;11,5;11,6;11,6;11,7;11,8;11,8;12,3;12,4;12,6;12,6;12,7;12,7;12,7;12,7;12,8",
	}
	// Berkey and Wang, Two-dimensional finite bin-packing algorithms, Journal of the
	// Operational Research Society 38 (1987): class 1, twenty pieces each.
	berkeyWang = []string{
		"10,10;1,5;2,4;3,5;4,2;4,5;4,10;5,7;5,9;6,3;6,7;6,9;7,2;7,8;8,3;8,3;8,3;8,7;10,3;10,6;10,7",
		"10,10;1,1;1,3;1,5;1,9;1,9;2,2;2,2;3,4;3,10;4,1;4,2;4,7;6,3;6,8;8,4;9,2;9,5;9,7;9,8;10,2",
		"10,10;1,4;1,7;3,6;3,10;4,3;4,6;4,8;4,9;5,6;6,1;7,2;7,5;8,5;8,6;8,9;9,3;9,5;9,10;10,2;10,6",
		"10,10;1,3;1,3;1,9;1,10;2,7;3,6;3,7;3,8;4,3;4,7;6,2;6,7;6,9;7,6;7,7;8,1;8,2;8,3;9,4;9,5",
		"10,10;1,1;1,7;1,7;2,2;2,4;2,8;2,10;2,10;3,9;4,3;4,4;4,9;5,3;5,6;7,2;7,5;9,4;9,10;10,4;10,10",
		"10,10;1,6;2,7;2,8;3,5;3,7;3,9;3,10;3,10;5,6;5,10;6,7;6,8;6,9;7,9;7,9;8,2;8,7;9,5;10,1;10,10",
		"10,10;1,4;2,7;2,9;3,1;3,7;3,7;3,8;4,1;4,3;5,1;5,2;5,9;6,8;6,9;7,1;8,10;10,1;10,2;10,5;10,8",
		"10,10;1,3;2,1;2,5;2,5;2,8;2,9;4,1;4,4;4,7;5,1;5,4;6,1;6,2;6,4;6,6;8,7;9,4;9,5;10,7;10,9",
		"10,10;1,4;2,10;3,4;4,1;4,3;4,7;4,10;5,2;5,5;6,4;6,4;6,8;6,9;7,8;7,9;8,3;8,9;9,2;9,3;10,5",
		"10,10;2,1;2,2;2,3;2,6;2,8;2,9;3,2;3,8;3,9;4,2;5,8;6,3;6,5;7,8;8,6;8,8;8,10;9,5;10,6;10,10",
	}
)

const (
	forty  = "1,1;1,2;1,3;1,7;2,7;2,8;3,4;3,6;3,8;3,8;4,1;4,3;4,7;5,6;7,3;7,8;8,3;8,4;8,4;8,6;8,6;8,8;9,1;9,1;9,8;10,3;10,3;10,3;11,1;11,3;11,4;11,5;11,5;11,6;12,3;12,6;12,7;12,7;12,7;12,8"
	eighty = "1,1;1,2;1,3;1,3;1,5;1,7;2,3;2,4;2,6;2,7;2,8;3,1;3,2;3,3;3,4;3,6;3,8;3,8;4,1;4,3;4,7;4,7;4,8;5,2;5,4;5,4;5,4;5,6;6,2;6,5;7,2;7,3;7,3;7,6;7,7;7,8;8,1;8,3;8,3;8,4;8,4;8,5;8,6;8,6;8,7;8,8;8,8;9,1;9,1;9,2;9,2;9,8;10,3;10,3;10,3;10,4;10,4;10,4;10,5;10,7;11,1;11,2;11,3;11,3;11,4;11,4;11,4;11,5;11,5;11,5;11,6;11,7;11,8;12,3;12,6;12,6;12,7;12,7;12,7;12,8"
)

// instance reads a sheet's size and the pieces to cut from such sheets.
func instance(t *testing.T, text string, turn, free bool) cutting.SheetProblem {
	t.Helper()
	p := cutting.SheetProblem{Free: free}
	for i, pair := range strings.Split(text, ";") {
		a, b, _ := strings.Cut(pair, ",")
		x, err := strconv.Atoi(a)
		y, err2 := strconv.Atoi(b)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		size := [2]int64{int64(x) * 1000, int64(y) * 1000}
		if i == 0 {
			p.Sheets = []cutting.Sheet{{Size: size, Price: 1}}
			continue
		}
		p.Rects = append(p.Rects, cutting.Rect{Size: size, Count: 1, Turn: turn})
	}
	return p
}

// Published instances. The fewest sheets, added up over a series, are those of Cid-
// Garcia and Rios-Solis, Positions and covering: a two-stage methodology to obtain
// optimal solutions for the 2D-bin packing problem, PLOS ONE (2020): cut freely, as
// lying or turned. With cuts from edge to edge there may be more.
func TestPublishedSheets(t *testing.T) {
	cases := []struct {
		name         string
		instances    []string
		turn, free   bool
		fewest, most int // sheets in all: the published optimum, what we get
		unproven     int
	}{
		{name: "Bengtsson 1-8, as lying, free", instances: bengtsson, free: true, fewest: 54, most: 55, unproven: 1},
		{name: "Bengtsson 1-8, turned, sawn", instances: bengtsson, turn: true, fewest: 54, most: 54},
		{name: "Berkey and Wang 1-20, as lying, free", instances: berkeyWang, free: true, fewest: 71, most: 71, unproven: 2},
		{name: "Berkey and Wang 1-20, as lying, sawn", instances: berkeyWang, fewest: 71, most: 71, unproven: 2},
		{name: "Berkey and Wang 1-20, turned, free", instances: berkeyWang, turn: true, free: true, fewest: 66, most: 66},
		{name: "Berkey and Wang 1-20, turned, sawn", instances: berkeyWang, turn: true, fewest: 66, most: 66},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			sheets, bound, unproven := 0, 0, 0
			for _, text := range c.instances {
				p := instance(t, text, c.turn, c.free)
				plan := cutting.Sheets(p)
				holdSheets(t, p, plan)
				sheets += plan.Count()
				bound += int(plan.Bound)
				if !plan.Proven() {
					unproven++
				}
			}
			t.Logf("%d sheets, no fewer than %d; published %d; %d of %d not proven", sheets, bound, c.fewest, unproven, len(c.instances))
			if sheets < c.fewest || sheets > c.most || bound > c.fewest {
				t.Errorf("%d sheets, no fewer than %d: the published optimum is %d, we had %d", sheets, bound, c.fewest, c.most)
			}
			if unproven > c.unproven {
				t.Errorf("%d not proven, had %d", unproven, c.unproven)
			}
		})
	}
}
