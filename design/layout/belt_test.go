package layout_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

// driven is a stand with pulleys of 20 and 60 teeth of 5 mm, whose rims are 1.1 mm
// smaller than the pitch circle, a smooth roller, and a belt of so many teeth.
func driven(teeth, holds string) trial.Files {
	return stand(map[string]string{"stand": "title: Stand\nholds:\n" + holds}).With(trial.Files{"parts/belt.yaml": `small:
  title: Small pulley
  made: bought
  shape: [{cylinder: {d: 24 mm, l: 8 mm}, at: [6 mm, 6 mm, 0 mm]}, {cylinder: {d: 36 mm, l: 2 mm}, at: [0 mm, 0 mm, 8 mm]}, {cylinder: {d: 30.7 mm, l: 20 mm}, at: [2.65 mm, 2.65 mm, 10 mm]}]
  holes: {bore: {at: [18 mm, 18 mm], bore: 8 mm}}
  has: {teeth: 20, pitch: 5 mm}
large:
  title: Large pulley
  made: bought
  shape: [{cylinder: {d: 94.4 mm, l: 20 mm}}]
  has: {teeth: 60, pitch: 5 mm}
roller: {title: Roller, made: bought, shape: [{cylinder: {d: 18 mm, l: 20 mm}}]}
belt: {title: Belt, made: bought, loop: {pitch: 5 mm, width: 15 mm, teeth: ` + teeth + `, thick: 3.6 mm}}
`})
}

// belted lays the one belt of a stand.
func belted(t *testing.T, files trial.Files) *layout.Belt {
	t.Helper()
	l := layout.Of(trial.Reckoning(t, files))
	trial.Clean(t, l.Findings())
	if len(l.Belts()) != 1 {
		t.Fatalf("%d belts, want 1", len(l.Belts()))
	}
	return l.Belts()[0]
}

func close1(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s is %.9g, want %.9g ± %g", what, got, want, by)
	}
}

// Two pulleys of 20 teeth need 20 teeth of belt around them and the distance twice:
// 100 mm apart 60 teeth, standing, lying, or inside of a turned assembly.
func TestBeltAroundEqualPulleys(t *testing.T) {
	cases := []struct{ name, holds string }{
		{name: "standing", holds: "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: small, at: [60 mm, 80 mm, 0 mm]}\n  belt: {part: belt, around: [a, b]}\n"},
		{name: "lying", holds: "  a: {part: small, at: [0 mm, 0 mm, 0 mm], turn: x 90 deg}\n  b: {part: small, at: [0 mm, 0 mm, 100 mm], turn: x 90 deg}\n  belt: {part: belt, around: [a.bore, b.bore]}\n"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := belted(t, driven("60", c.holds))
			close1(t, "length", b.Length, 300, 1e-9)
			close1(t, "over", b.Over(), 0, 1e-9)
			if !b.Fits() {
				t.Error("the belt does not fit")
			}
			for _, p := range b.Pulleys {
				close1(t, "wrap", p.Wrap, math.Pi, 1e-9)
				close1(t, "teeth in mesh", p.InMesh, 10, 1e-9)
				close1(t, "off the plane", p.Off, 0, 1e-9)
				close1(t, "width of the rim", p.Width, 20, 1e-9)
			}
			// A band from 100/2pi - 15.35 inside of the pitch line to a third of 3.6
			// outside: two straights of 100, and a ring.
			in, out := 50/math.Pi-15.35, 1.2
			body, at := b.Body()
			r := 50 / math.Pi
			want := 15 * (2*100*(in+out) + math.Pi*(math.Pow(r+out, 2)-math.Pow(r-in, 2)))
			close1(t, "volume", body.Measure().Volume, want, 1e-6*want)
			box := body.BoxUnder(at)
			close1(t, "middle of the belt's width", box.Centre().Sub(b.Frame.O).Dot(b.Frame.Z), 0, 1e-9)
		})
	}
}

// Pulleys of 20 and 60 teeth of 5 mm, 120 mm apart, in an assembly that is turned
// and moved: the exact length of an open belt, and where the belt comes to stand.
func TestBeltInMovedAssembly(t *testing.T) {
	files := driven("90", "  drive: {assembly: drive, at: [500 mm, 0 mm, 300 mm], turn: y 90 deg}\n").With(trial.Files{"assemblies/drive.yaml": `title: Drive
holds:
  small: {part: small, at: [0 mm, 29.2 mm, 0 mm]}
  large: {part: large, at: [90.8 mm, 0 mm, 10 mm]}
  belt: {part: belt, around: [small, large]}
`})
	b := belted(t, files)
	// Axes at (18, 47.2) and (138, 47.2): 120 apart.
	d, big := 100/math.Pi, 300/math.Pi
	tilt := math.Asin((big - d) / 240)
	close1(t, "length", b.Length, 240*math.Cos(tilt)+math.Pi*(d+big)/2+tilt*(big-d), 1e-6)
	close1(t, "wrap of the small one", b.Pulleys[0].Wrap, math.Pi-2*tilt, 1e-9)
	if b.Instance.Path != "drive.belt" {
		t.Errorf("the belt's path is %q", b.Instance.Path)
	}
	// A quarter turn about y takes x to -z and z to x: the rims, 20 over the
	// assembly's floor, stand at x = 520.
	if got := b.Frame.O; !near(got, solid.Vec{X: 520, Y: 47.2, Z: 282}) {
		t.Errorf("the first pulley's middle stands at %v", got)
	}
	if x := math.Abs(b.Frame.Z.X); math.Abs(x-1) > 1e-9 {
		t.Errorf("the belt's axis lies along %v", b.Frame.Z)
	}
}

// A smooth roller may run inside of the loop or on the belt's back: the belt's length
// tells. 100 mm between pulleys of 20 teeth; the roller stands midway, with its axis
// 20 mm over theirs. Lengths come from the closed forms of the runs.
func TestSmoothRollerStandsWhereTheBeltFits(t *testing.T) {
	const holds = "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: small, at: [100 mm, 0 mm, 0 mm]}\n  r: {part: roller, at: [59 mm, 29 mm, 10 mm]}\n  belt: {part: belt, around: [a, b, r]}\n"
	r, in, out := 50/math.Pi, 50/math.Pi-15.35, 1.2
	d := math.Hypot(50, 20)
	rise := math.Atan2(20, 50)
	cases := []struct {
		name, teeth string
		back        bool
		length      float64
	}{
		{
			// Runs rise by asin((9 + in - r) / d) less than the line of the axes.
			name: "inside", teeth: "61",
			length: 100 + 2*math.Sqrt(d*d-math.Pow(r-9-in, 2)) + func() float64 {
				slope := rise - math.Asin((r-9-in)/d)
				return 2*r*(math.Pi-slope) + (9+in)*2*slope
			}(),
		},
		{
			name: "on the back", teeth: "60", back: true,
			length: 100 + 2*math.Sqrt(d*d-math.Pow(r+9+out, 2)) + func() float64 {
				slope := math.Asin((r+9+out)/d) - rise // the runs fall by this
				return 2*r*(math.Pi+slope) + (9+out)*2*slope
			}(),
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := belted(t, driven(c.teeth, holds))
			if b.Pulleys[2].Back != c.back {
				t.Errorf("the roller on the back: %v, want %v; %g mm for a belt of %g", b.Pulleys[2].Back, c.back, b.Length, b.Stated)
			}
			close1(t, "length", b.Length, c.length, 1e-6)
			i, by, ok := b.Apart()
			if !ok || i != 2 {
				t.Errorf("to be moved: pulley %d by %g, %v; want the roller", i+1, by, ok)
			}
		})
	}
}

// Belts that do not fit say by how much, and which move mends it.
func TestBeltThatDoesNotFit(t *testing.T) {
	const holds = "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: small, at: [100 mm, 0 mm, 3 mm]}\n"
	b := belted(t, driven("62", holds+"  belt: {part: belt, around: [a, b]}\n"))
	_, by, ok := b.Apart()
	if b.Fits() || !ok {
		t.Errorf("fits %v, a move mends it: %v", b.Fits(), ok)
	}
	close1(t, "over", b.Over(), 10, 1e-9)
	close1(t, "the pulleys to be set apart by", by, 5, 1e-6)
	close1(t, "off the plane", math.Abs(b.Pulleys[1].Off), 3, 1e-9)
	pressed := belted(t, driven("62", holds+"  r: {part: roller, at: [50 mm, 40 mm, 0 mm]}\n  belt: {part: belt, around: [a, b], pressed_by: r.body}\n"))
	if !pressed.Fits() {
		t.Error("a belt whose slack is taken up does not fit")
	}
	short := belted(t, driven("58", holds+"  r: {part: roller, at: [50 mm, 40 mm, 0 mm]}\n  belt: {part: belt, around: [a, b], pressed_by: r.body}\n"))
	if short.Fits() {
		t.Error("a belt that is too short fits, since something presses on it")
	}
}

// What presses on a belt leads it and leaves less slack. The roller's axis stands on
// the line of the pulleys' axes, so that it presses one run down to below its own
// middle: by the closed form of the runs.
func TestPressedBeltIsLedIn(t *testing.T) {
	const holds = "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: small, at: [100 mm, 0 mm, 0 mm]}\n  r: {part: roller, at: [59 mm, 9 mm, 10 mm]}\n"
	r, out := 50/math.Pi, 1.2
	slope := math.Asin((r + 9 + out) / 50)
	path := 100 + 2*math.Sqrt(2500-math.Pow(r+9+out, 2)) + 2*r*(math.Pi+slope) + (9+out)*2*slope
	for _, by := range []string{"r.body", "r.axis", "r"} {
		b := belted(t, driven("64", holds+"  belt: {part: belt, around: [a, b], pressed_by: "+by+"}\n"))
		close1(t, "length around the pulleys", b.Length, 300, 1e-9)
		close1(t, "slack left by "+by, b.Slack, 320-path, 1e-6)
		close1(t, "wrap", b.Pulleys[0].Wrap, math.Pi+slope, 1e-9)
		body, _ := b.Body()
		if want := 15 * (b.Back + b.Inside) * path; body == nil || math.Abs(body.Measure().Volume-want) > 0.02*want {
			t.Errorf("no band of some %g mm³", want)
		}
	}
	far := belted(t, driven("64", "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: small, at: [100 mm, 0 mm, 0 mm]}\n  r: {part: roller, at: [59 mm, 300 mm, 10 mm]}\n  belt: {part: belt, around: [a, b], pressed_by: r}\n"))
	close1(t, "slack left by what stands far off", far.Slack, 20, 1e-9)
}

// Belts that have no path are findings at the pulley at fault.
func TestBeltsWithoutPath(t *testing.T) {
	cases := []struct{ name, holds, at, says string }{
		{name: "no belt", holds: "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  belt: {part: roller, around: [a, a]}\n", at: "a", says: "no belt"},
		{name: "one pulley", holds: "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  belt: {part: belt, around: [a]}\n", at: "a", says: "2 to 64 pulleys"},
		{name: "one in the other", holds: "  a: {part: large, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: small, at: [20 mm, 20 mm, 0 mm]}\n  belt: {part: belt, around: [a, b]}\n", at: "a", says: "within the other"},
		{name: "passed by", holds: "  a: {part: large, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: large, at: [300 mm, 0 mm, 0 mm]}\n  c: {part: small, at: [150 mm, 40 mm, 0 mm]}\n  belt: {part: belt, around: [a, b, c]}\n", at: "c", says: "does not touch"},
		{name: "a plate", holds: "  a: {part: large, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: lid, at: [300 mm, 0 mm, 0 mm]}\n  belt: {part: belt, around: [a, b]}\n", at: "b", says: "diameter is not known"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := driven("90", c.holds)
			l := layout.Of(trial.Reckoning(t, files))
			found := l.Findings()
			if len(found) != 1 || len(l.Belts()) != 0 {
				t.Fatalf("%d findings, %d belts; want one finding: %v", len(found), len(l.Belts()), found)
			}
			if got := trial.Covered(files, found[0]); got != c.at || !strings.Contains(found[0].Message, c.says) {
				t.Errorf("at %q: %s; want at %q: %s", got, found[0].Message, c.at, c.says)
			}
		})
	}
}

// A motion that draws one pulley away makes the path longer by twice as much, and the
// belt comes along in the pieces.
func TestBeltFollowsMotion(t *testing.T) {
	r := trial.Reckoning(t, driven("60", "  a: {part: small, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: small, at: [100 mm, 0 mm, 0 mm], moves: {along: x, by: drop}}\n  belt: {part: belt, around: [a, b]}\n"))
	for _, mm := range []float64{0, 12.5, 50} {
		l, err := layout.At(r, map[string]quantity.Value{"drop": quantity.MM(mm)})
		if err != nil {
			t.Fatal(err)
		}
		close1(t, "length", l.Belts()[0].Length, 300+2*mm, 1e-9)
		far := math.Inf(-1)
		for _, p := range l.Pieces(r.Plan.Assembly("stand")) {
			if p.Use == "belt" {
				far = p.Solid.BoxUnder(p.At).Max.X
			}
		}
		close1(t, "the belt's back", far, 118+mm+50/math.Pi+1.2, 1e-9)
	}
}
