package standards

import (
	"math"
	"strings"
	"sync"
)

// A Thread is one screw thread by its nominal sizes. Lengths are millimetres,
// the stress area square millimetres.
type Thread struct {
	Name          string // as designated: "M8", "M8x1", "1/4-20", "10-32"
	Size          string // without pitch: "M8", "1/4", "#10"; what holes and heads go by
	Series        string // "coarse", "fine", "UNC", "UNF", "trapezoidal"
	Inch          bool   // a unified thread
	LeftHand      bool   // tightens anticlockwise; its name ends in -LH
	PerInch       int    // threads per inch of a unified thread, otherwise 0
	Major         float64
	Pitch         float64
	PitchDiameter float64 // d2 = d - 0.6495 P; trapezoidal d - P/2
	Minor         float64 // D1 of the internal thread = d - 1.0825 P; trapezoidal d - P
	Root          float64 // d3 of the screw: metric d - 1.2269 P, unified d - 1.2990 P, trapezoidal d - P - clearance
	StressArea    float64 // by the standard's formula; its printed table rounds it to three figures
	TapDrill      float64 // drill before tapping
	TapDrillText  string  // the drill as sold: "6.8 mm", "#7", "F", "27/64"
}

// ThreadByName finds a thread by designation: "M8", "M8x1", "M8×1.25", "1/4-20",
// "#10-32", "10-32", "1/4-20 UNC", "Tr12x3". A metric name without pitch is the coarse
// thread. LH behind a name makes it a left-hand thread: "Tr12x3-LH", as ISO 965-1,
// ISO 2904 and ASME B1.1 designate it. It reports false for a thread that the tables
// lack, and for a series that does not belong to the pitch.
func ThreadByName(name string) (Thread, bool) {
	name, left := cutLeftHand(name)
	thread, known := threads().byName[normaliseThread(name)]
	if known && left {
		thread.Name, thread.LeftHand = thread.Name+leftHand, true
	}
	for _, series := range []string{"UNC", "UNF"} {
		if strings.HasSuffix(strings.TrimSpace(name), series) && thread.Series != series {
			return Thread{}, false
		}
	}
	return thread, known
}

// leftHand ends the name of a left-hand thread.
const leftHand = "-LH"

// cutLeftHand takes what makes a thread a left-hand one off its name.
func cutLeftHand(name string) (rest string, left bool) {
	rest, left = strings.CutSuffix(strings.TrimSpace(name), "LH")
	if !left {
		return name, false
	}
	return strings.TrimRight(rest, " -"), true
}

// Threads returns every thread of the tables: metric coarse, metric fine,
// unified, then trapezoidal, each by diameter. The slice is the caller's own.
func Threads() []Thread {
	return append([]Thread(nil), threads().all...)
}

// NearestThread returns the name of the known thread whose spelling is nearest,
// "" when nothing is near.
func NearestThread(name string) string {
	name, left := cutLeftHand(name)
	near := nearestThread(name)
	if left && near != "" {
		near += leftHand
	}
	return near
}

func nearestThread(name string) string {
	said := normaliseThread(name)
	for _, one := range threads().names { // an inch size alone: its first listed pitch
		if strings.HasPrefix(one, strings.TrimPrefix(said, "#")+"-") {
			return one
		}
	}
	return nearest(said, threads().names)
}

type threadTable struct {
	all    []Thread
	names  []string
	byName map[string]Thread
}

var threads = sync.OnceValue(func() threadTable {
	t := threadTable{byName: make(map[string]Thread)}
	for _, r := range readTable("metric-threads").rows {
		t.add(metricThread(r))
	}
	for _, r := range readTable("unified-threads").rows {
		t.add(unifiedThread(r))
	}
	for _, r := range readTable("trapezoidal-threads").rows {
		t.add(trapezoidalThread(r))
	}
	return t
})

func (t *threadTable) add(thread Thread) {
	t.all = append(t.all, thread)
	t.names = append(t.names, thread.Name)
	t.byName[thread.Name] = thread
	if thread.Series == "coarse" {
		t.byName[thread.Name+"x"+formatMillimetres(thread.Pitch)] = thread
	}
}

func metricThread(r row) Thread {
	d, p := r.number("d_mm"), r.number("pitch_mm")
	t := Thread{
		Name: r.text("designation"), Series: r.text("series"),
		Major: d, Pitch: p,
		TapDrill: r.number("tap_drill_mm"), TapDrillText: r.text("tap_drill_mm") + " mm",
	}
	t.Size, _, _ = strings.Cut(t.Name, "x")
	t.basicProfile()
	t.Root = d - 17.0/12*fundamentalTriangle(p)
	// ISO 898-1:2013, 9.1.6.1: the area of the mean of pitch and root diameter.
	mean := (t.PitchDiameter + t.Root) / 2
	t.StressArea = math.Pi / 4 * mean * mean
	return t
}

func unifiedThread(r row) Thread {
	perInch := r.number("tpi")
	t := Thread{
		Name: strings.TrimPrefix(r.text("size"), "#"), Series: r.text("series"), Inch: true,
		PerInch: int(perInch), Major: r.inches("major_in"), Pitch: inch / perInch,
		TapDrill: r.inches("tap_drill_in"), TapDrillText: r.text("tap_drill"),
	}
	t.Size, _, _ = strings.Cut(r.text("size"), "-")
	t.basicProfile()
	t.Root = t.Major - 3.0/2*fundamentalTriangle(t.Pitch)
	// ASME B1.1: pi/4 (d - 0.9743/n)^2.
	across := t.Major - 0.9743*t.Pitch
	t.StressArea = math.Pi / 4 * across * across
	return t
}

// trapezoidalThread works out a single-start thread of a lead screw by ISO 2904.
func trapezoidalThread(r row) Thread {
	d, p := r.number("d_mm"), r.number("pitch_mm")
	t := Thread{
		Name: r.text("designation"), Series: "trapezoidal", Major: d, Pitch: p,
		PitchDiameter: d - p/2, Minor: d - p, Root: d - p - 2*r.number("crest_clearance_mm"),
		TapDrill: d - p, TapDrillText: formatMillimetres(d-p) + " mm",
	}
	t.Size, _, _ = strings.Cut(t.Name, "x")
	mean := (t.PitchDiameter + t.Root) / 2
	t.StressArea = math.Pi / 4 * mean * mean
	return t
}

// basicProfile works out what metric and unified threads share: both have the
// 60 degree profile of ISO 68-1 and ASME B1.1.
func (t *Thread) basicProfile() {
	h := fundamentalTriangle(t.Pitch)
	t.PitchDiameter = t.Major - 3.0/4*h
	t.Minor = t.Major - 5.0/4*h
}

// fundamentalTriangle is the height H of the sharp 60 degree triangle of a
// thread of that pitch. Source: ISO 68-1.
func fundamentalTriangle(pitch float64) float64 {
	return math.Sqrt(3) / 2 * pitch
}

// normaliseThread brings the spellings in use to the one of the tables.
func normaliseThread(name string) string {
	name = strings.ReplaceAll(strings.TrimSpace(name), "×", "x")
	name = strings.TrimPrefix(strings.TrimPrefix(name, "No."), "#")
	name = strings.TrimSpace(name)
	for _, series := range []string{"UNC", "UNF"} {
		name = strings.TrimSpace(strings.TrimSuffix(name, series))
	}
	if strings.HasPrefix(name, "m") {
		name = "M" + name[1:]
	}
	if strings.HasPrefix(name, "M") || strings.HasPrefix(name, "Tr") {
		name = strings.ReplaceAll(strings.ReplaceAll(name, "X", "x"), " ", "")
	}
	return name
}
