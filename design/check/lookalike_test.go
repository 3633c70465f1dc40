package check

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/standards"
)

// Threads that are taken for each other are named as such: metric and inch threads whose
// diameters are within 6 % (major diameters by ISO 724 and ASME B1.1), and threads of one
// diameter at two pitches.
func TestThreadsThatLookAlike(t *testing.T) {
	const inch, metric, pitch = "an inch thread that looks like the metric one", "a metric thread that looks like the inch one", "the same diameter at another pitch"
	for _, row := range []struct{ screw, hole, want string }{
		{"M3", "4-40", inch + " (3 mm by 0.5 mm against 2.84 mm by 0.635 mm)"},
		{"M4", "8-32", inch},
		{"M5", "10-32", inch},
		{"M5", "10-24", inch},
		{"M6", "1/4-20", inch},
		{"M8", "5/16-18", inch},
		{"M10", "3/8-16", inch},
		{"M12", "1/2-13", inch},
		{"4-40", "M3", metric},
		{"10-32", "M5", metric},
		{"1/4-20", "M6", metric},
		{"M10", "M10x1.25", pitch},
		{"10-32", "10-24", pitch},
		{"M4", "10-32", ""},
		{"M5", "M6", ""},
		{"M6", "5/16-18", ""},
		{"Tr8x2", "M8", ""},
	} {
		a, known := standards.ThreadByName(row.screw)
		b, too := standards.ThreadByName(row.hole)
		if !known || !too {
			t.Errorf("%s or %s is no thread", row.screw, row.hole)
			continue
		}
		if got := lookalike(a, b); (got == "") != (row.want == "") || !strings.Contains(got, row.want) {
			t.Errorf("%s in %s: %q, want %q", row.screw, row.hole, got, row.want)
		}
	}
}

// The lengths that would do are as few as trying every set of them finds.
func TestFewestLengths(t *testing.T) {
	stock := []float64{8, 10, 12, 16, 20, 25, 30}
	covers := func(set uint, joints [][]float64) bool {
		for _, lengths := range joints {
			if !slices.ContainsFunc(lengths, func(l float64) bool { return set>>slices.Index(stock, l)&1 == 1 }) {
				return false
			}
		}
		return true
	}
	rng := rand.New(rand.NewPCG(3, 5))
	for range 300 {
		var f family
		for range 1 + rng.IntN(8) {
			from := rng.IntN(len(stock))
			f.joints = append(f.joints, stock[from:from+1+rng.IntN(len(stock)-from)])
		}
		least := len(stock)
		for set := uint(1); set < 1<<len(stock); set++ {
			n := 0
			for rest := set; rest != 0; rest &= rest - 1 {
				n++
			}
			if n < least && covers(set, f.joints) {
				least = n
			}
		}
		got, set := f.cover(), uint(0)
		for _, l := range got {
			set |= 1 << slices.Index(stock, l)
		}
		if len(got) != least || !covers(set, f.joints) {
			t.Fatalf("%v serve %v; %d lengths would", got, f.joints, least)
		}
	}
}
