package scene

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"plansheaf/publish/picture"
)

// clash tells what is wrong with balloons around a frame: circles that overlap,
// leaders that cross, or that touch a circle or a dot of another. Distances are
// found by small steps along the leaders, not by the formulas under test.
func clash(list []balloon) string {
	const steps = 150
	for i, a := range list {
		for _, b := range list[i+1:] {
			if a.centre.Distance(b.centre) < 2*balloonRadius+balloonGap-1e-9 {
				return "two balloons overlap"
			}
			la, lb := a.leader(), b.leader()
			for k := range steps + 1 {
				p := la.A.Plus(la.B.Minus(la.A).Times(float64(k) / steps))
				q := lb.A.Plus(lb.B.Minus(lb.A).Times(float64(k) / steps))
				switch {
				case p.Distance(b.centre) < balloonRadius+clearance-0.02, q.Distance(a.centre) < balloonRadius+clearance-0.02:
					return "a leader touches another's balloon"
				case p.Distance(b.spot) < dotRadius+clearance-0.02, q.Distance(a.spot) < dotRadius+clearance-0.02:
					return "a leader touches another's dot"
				}
			}
			if crossed(la, lb) {
				return "two leaders cross"
			}
		}
	}
	return ""
}

// crossed solves for the point that two lines share.
func crossed(a, b picture.Line) bool {
	d, e, f := a.B.Minus(a.A), b.B.Minus(b.A), b.A.Minus(a.A)
	det := d.X*e.Y - d.Y*e.X
	if math.Abs(det) < 1e-12 {
		return false
	}
	s, t := (f.X*e.Y-f.Y*e.X)/det, (f.X*d.Y-f.Y*d.X)/det
	return s >= 0 && s <= 1 && t >= 0 && t <= 1
}

// Spots strewn over a frame, up to as many as large assemblies have items, none right
// beside that of another item: each item gets its balloon, nothing crosses, touches
// or leaves the ring.
func TestArrangeRandomSpots(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 7))
	for run := range 60 {
		frame := picture.Box{Max: picture.Point{X: 50 + 60*random.Float64(), Y: 40 + 55*random.Float64()}}
		n := 1 + random.IntN(40)
		spots := make([][]sighting, n)
		for i := range spots {
			for range 1 + random.IntN(9) {
				at := picture.Point{X: frame.Max.X * random.Float64(), Y: frame.Max.Y * random.Float64()}
				if apart(at, spots[:i]) {
					spots[i] = append(spots[i], sighting{at, 2 * random.Float64()})
				}
			}
		}
		spots = slices.DeleteFunc(spots, func(list []sighting) bool { return len(list) == 0 })
		n = len(spots)
		list, margin := arrange(frame, spots)
		if len(list) < n {
			t.Errorf("run %d: %d of %d items have a balloon", run, len(list), n)
		}
		if what := clash(list); what != "" {
			t.Errorf("run %d with %d items: %s", run, n, what)
		}
		for _, b := range list {
			if b.centre.X < -margin-1e-9 || b.centre.Y < -margin-1e-9 || b.centre.X > frame.Max.X+margin+1e-9 || b.centre.Y > frame.Max.Y+margin+1e-9 {
				t.Errorf("run %d: a balloon stands at %v, beyond the margin of %g mm", run, b.centre, margin)
			}
			if b.centre.X > -balloonRadius && b.centre.X < frame.Max.X+balloonRadius && b.centre.Y > -balloonRadius && b.centre.Y < frame.Max.Y+balloonRadius {
				t.Errorf("run %d: a balloon stands at %v, on the art", run, b.centre)
			}
		}
	}
}

// apart tells whether a spot lies some way off those of other items.
func apart(at picture.Point, others [][]sighting) bool {
	for _, list := range others {
		for _, s := range list {
			if s.at.Distance(at) < 2 {
				return false
			}
		}
	}
	return true
}

// Two spots at one place cannot both have a leader that keeps clear of the other's
// dot: one goes without rather than wrong.
func TestArrangeOneSpotForTwo(t *testing.T) {
	at := []sighting{{picture.Point{X: 10, Y: 10}, 2}}
	list, _ := arrange(picture.Box{Max: picture.Point{X: 20, Y: 20}}, [][]sighting{at, at, nil})
	if len(list) != 1 {
		t.Errorf("%d balloons, want 1", len(list))
	}
}

func TestAssign(t *testing.T) {
	for _, c := range []struct {
		name  string
		costs [][]float64
		want  float64
	}{
		{"none", nil, 0},
		{"one", [][]float64{{3, 1, 2}}, 1},
		{"both want the first", [][]float64{{1, 2}, {1, 9}}, 3},
		{"three", [][]float64{{4, 1, 3}, {2, 0, 5}, {3, 2, 2}}, 5},
		{"more places than rows", [][]float64{{7, 5, 9, 8}, {6, 4, 3, 7}}, 8},
	} {
		sum := 0.0
		used := map[int]bool{}
		for i, j := range assign(c.costs) {
			sum += c.costs[i][j]
			if used[j] {
				t.Errorf("%s: column %d is given twice", c.name, j)
			}
			used[j] = true
		}
		if sum != c.want {
			t.Errorf("%s: costs %g, want %g", c.name, sum, c.want)
		}
	}
}

// The least cost is that of the best of all orders, tried one by one.
func TestAssignAgainstAllOrders(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		rows := 1 + random.IntN(4)
		columns := rows + random.IntN(3)
		costs := make([][]float64, rows)
		for i := range costs {
			for range columns {
				costs[i] = append(costs[i], float64(random.IntN(20)))
			}
		}
		var best func(row int, used int) float64
		best = func(row, used int) float64 {
			if row == rows {
				return 0
			}
			least := math.Inf(1)
			for j := range columns {
				if used>>j&1 == 0 {
					least = math.Min(least, costs[row][j]+best(row+1, used|1<<j))
				}
			}
			return least
		}
		sum := 0.0
		for i, j := range assign(costs) {
			sum += costs[i][j]
		}
		if want := best(0, 0); sum != want {
			t.Errorf("%v costs %g, want %g", costs, sum, want)
		}
	}
}
