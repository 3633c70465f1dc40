package standards

import (
	"math"
	"strings"
	"testing"
)

func TestThreadByName(t *testing.T) {
	for _, row := range []struct {
		name, want string
		unknown    bool
	}{
		{name: "M8", want: "M8"},
		{name: "m8", want: "M8"},
		{name: "M8x1.25", want: "M8"},
		{name: "M8×1", want: "M8x1"},
		{name: "M8 x 1", want: "M8x1"},
		{name: "1/4-20", want: "1/4-20"},
		{name: "1/4-20 UNC", want: "1/4-20"},
		{name: "#10-32", want: "10-32"},
		{name: "No. 10-32 UNF", want: "10-32"},
		{name: "Tr12x3", want: "Tr12x3"},
		{name: "Tr 12 × 3", want: "Tr12x3"},
		{name: "Tr12x3-LH", want: "Tr12x3-LH"},
		{name: "Tr 12 × 3 LH", want: "Tr12x3-LH"},
		{name: "M8x1.25-LH", want: "M8-LH"},
		{name: "1/4-20 UNC-LH", want: "1/4-20-LH"},
		{name: "1/4-20 UNF-LH", unknown: true},
		{name: "LH", unknown: true},
		{name: "1/4-20 UNF", unknown: true}, // UNF has 28 threads per inch
		{name: "M9", unknown: true},
		{name: "M8x0.75", unknown: true},
		{name: "", unknown: true},
		{name: "×", unknown: true},
	} {
		got, known := ThreadByName(row.name)
		if known == row.unknown || got.Name != row.want || got.LeftHand != strings.HasSuffix(row.want, "-LH") {
			t.Errorf("ThreadByName(%q) = %q, %v", row.name, got.Name, known)
		}
	}
}

func TestNearestThread(t *testing.T) {
	for _, row := range []struct{ name, want string }{{"M8x1.2", "M8x1"}, {"1/4-21", "1/4-20"}, {"1/4", "1/4-20"}, {"#10", "10-24"}, {"Tr12x2-LH", "Tr10x2-LH"}, {"something else", ""}, {strings.Repeat("M8", 1000), ""}} {
		if got := NearestThread(row.name); got != row.want {
			t.Errorf("NearestThread(%q) = %q, want %q", row.name, got, row.want)
		}
	}
}

// ISO 724 and ISO 898-1 print their constants to four decimals; the exact ones
// must agree with them.
func TestThreadFormulas(t *testing.T) {
	for _, thread := range Threads() {
		d, p := thread.Major, thread.Pitch
		if !(thread.Root < thread.Minor && thread.Minor < thread.PitchDiameter && thread.PitchDiameter < d) {
			t.Errorf("%s: diameters out of order: %+v", thread.Name, thread)
		}
		if thread.TapDrill < thread.Minor-0.05*p || thread.TapDrill > thread.PitchDiameter {
			t.Errorf("%s: tap drill %v outside thread depth %v to %v", thread.Name, thread.TapDrill, thread.Minor, thread.PitchDiameter)
		}
		if thread.Series == "trapezoidal" {
			continue
		}
		const constants = 0.0001
		if math.Abs(thread.PitchDiameter-(d-0.6495*p)) > constants*p || math.Abs(thread.Minor-(d-1.0825*p)) > constants*p {
			t.Errorf("%s: pitch diameter %v, minor %v", thread.Name, thread.PitchDiameter, thread.Minor)
		}
		if !thread.Inch {
			// ISO 898-1: 0.7854 (d - 0.9382 P)^2 is the same area.
			if area := 0.7854 * math.Pow(d-0.9382*p, 2); math.Abs(thread.StressArea-area) > 0.001*area {
				t.Errorf("%s: stress area %v, by the short formula %v", thread.Name, thread.StressArea, area)
			}
		}
	}
}

func TestClearance(t *testing.T) {
	m8, _ := ThreadByName("M8x1")
	quarter, _ := ThreadByName("1/4-28")
	lead, _ := ThreadByName("Tr12x3")
	for _, row := range []struct {
		name    string
		thread  Thread
		fit     string
		want    float64
		unknown bool
	}{
		{name: "fine pitch as coarse", thread: m8, fit: "fine", want: 8.4},               // ISO 273
		{name: "medium when not said", thread: m8, want: 9},                              // ISO 273
		{name: "normal when not said", thread: quarter, want: 0.2812 * 25.4},             // ASME B18.2.8
		{name: "inch fit of a metric thread", thread: m8, fit: "close", unknown: true},   // belongs to ASME B18.2.8
		{name: "metric fit of an inch thread", thread: quarter, fit: "m", unknown: true}, // no such fit
		{name: "lead screw", thread: lead, fit: "medium", unknown: true},                 // not a fastener's thread
		{name: "no thread", thread: Thread{}, fit: "medium", unknown: true},              // nothing to pass through
	} {
		got, known := Clearance(row.thread, row.fit)
		if known == row.unknown || math.Abs(got-row.want) > exact {
			t.Errorf("%s: %v, %v", row.name, got, known)
		}
	}
	for _, thread := range Threads() {
		if thread.Series == "trapezoidal" {
			continue
		}
		last := thread.Major
		for _, fit := range ClearanceFits(thread.Inch) {
			hole, known := Clearance(thread, fit)
			if !known || hole <= last {
				t.Errorf("%s %s: hole %v after %v, known %v", thread.Name, fit, hole, last, known)
			}
			last = hole
		}
	}
}
