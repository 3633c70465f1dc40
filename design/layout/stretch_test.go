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

// lifted is a beam on a bearing with a strut under it: 160 mm from eye to eye when
// closed, as it is drawn.
func lifted(holds string) trial.Files {
	return stand(map[string]string{"stand": "title: Stand\nholds:\n" + holds}).With(trial.Files{"parts/strut.yaml": `strut:
  title: Strut
  made: bought
  telescopes: {closed: 160 mm, stroke: 100 mm, shapes: [rod]}
  shape:
    - {cylinder: {d: 20 mm, l: 150 mm}}
    - {cylinder: {d: 8 mm, l: 175 mm}, at: [6 mm, 6 mm, 5 mm], name: rod}
  holes:
    eye_low: {face: front, at: [10 mm, 10 mm], bore: 2 mm, through: all}
    eye_high: {face: front, at: [10 mm, 170 mm], bore: 3 mm, through: all}
lug: {title: Lug, made: bought, shape: [{box: [10 mm, 30 mm, 10 mm]}], holes: {pin: {face: front, at: [5 mm, 5 mm], bore: 4 mm, through: all}}}
`})
}

// A strut between two lugs, one of which slides: both eyes come to their pins, the
// length is the distance, and the halves keep their volumes.
func TestTelescopeFollowsMotion(t *testing.T) {
	files := lifted(`  low: {part: lug, at: [0 mm, 0 mm, 0 mm]}
  high: {part: lug, at: [90 mm, 0 mm, 120 mm], moves: {along: z, by: drop}}
  strut: {part: strut, between: {eye_low: low.pin, eye_high: high.pin}}
  rider: {part: lug, seat: {mine: front, onto: high.front, line_up: [pin, strut.eye_high]}}
`)
	r := trial.Reckoning(t, files)
	whole := r.Part("strut").Solid.Measure().Volume
	for _, mm := range []float64{0, 20, 50} {
		l, err := layout.At(r, map[string]quantity.Value{"drop": quantity.MM(mm)})
		if err != nil {
			t.Fatal(err)
		}
		trial.Clean(t, l.Findings())
		if len(l.Telescopes()) != 1 {
			t.Fatalf("%d telescopes", len(l.Telescopes()))
		}
		s := l.Telescopes()[0]
		want := math.Hypot(90, 120+mm)
		close1(t, "length", s.Length, want, 1e-9)
		close1(t, "over its reach", s.Over(), math.Min(0, want-160), 1e-9)
		// The rod is drawn from 5 on in a tube of 150.
		close1(t, "as drawn", s.Drawn, 160, 1e-9)
		close1(t, "rod in the tube", s.Inside, 145, 1e-6)
		close1(t, "out of the tube at full stroke", s.Apart(), 0, 0)
		// The eyes' middles, on the axis of a tube of 20, at 10 and 170.
		for i, eye := range []struct {
			half layout.Stretched
			at   solid.Vec
		}{{s.Stays, solid.Vec{X: 10, Y: 10, Z: 10}}, {s.Comes, solid.Vec{X: 10, Y: 10, Z: 170}}} {
			got := eye.half.At.Point(eye.at)
			if got.Dist(s.Ends[i]) > 1e-6 {
				t.Errorf("eye %d stands at %v, its pin at %v", i+1, got, s.Ends[i])
			}
			if way := eye.half.At.Direction(solid.Vec{Y: 1}); math.Abs(math.Abs(way.Y)-1) > 1e-9 {
				t.Errorf("the axis of eye %d lies along %v, that of its pin along y", i+1, way)
			}
		}
		close1(t, "volume of both halves", s.Stays.Solid.Measure().Volume+s.Comes.Solid.Measure().Volume, whole, 1e-6*whole)
		var pieces int
		for _, p := range l.Pieces(r.Plan.Assembly("stand")) {
			if p.Use == "strut" {
				pieces++
			}
		}
		if pieces != 2 {
			t.Errorf("%d pieces of the strut, want 2", pieces)
		}
		if got := corner(t, r, l, "rider"); math.Abs(got.X-90) > 1e-6 || math.Abs(got.Z-120-mm) > 1e-6 {
			t.Errorf("what is seated by the moving eye stands at %v", got)
		}
	}
}

// A part that says nothing of stretching must be just as long as its places lie apart.
func TestRodBetweenPlaces(t *testing.T) {
	files := lifted("  low: {part: lug, at: [0 mm, 0 mm, 0 mm]}\n  high: {part: lug, at: [0 mm, 0 mm, 112 mm]}\n  link: {part: post, between: {bottom: low.top, top: high.bottom}}\n")
	r := trial.Reckoning(t, files)
	l := layout.Of(r)
	trial.Clean(t, l.Findings())
	close1(t, "missing", l.Telescopes()[0].Over(), 2, 1e-9)
	if at := corner(t, r, l, "link"); !near(at, solid.Vec{X: -5, Y: 5, Z: 10}) {
		t.Errorf("the link stands at %v, want the middle of its foot on that of the lug", at)
	}
}

// What cannot be stretched is a finding.
func TestStretchedPartsThatCannotBe(t *testing.T) {
	cases := []struct{ name, holds, at, says string }{
		{name: "between one place", holds: "  low: {part: lug, at: [0 mm, 0 mm, 0 mm]}\n  strut: {part: strut, between: {eye_low: low.pin, eye_high: low.pin}}\n", at: "eye_low", says: "one point"},
		{name: "on itself", holds: "  strut: {part: strut, between: {eye_low: strut.bottom, eye_high: strut.top}}\n", says: "depends on itself: strut stretched to strut"},
		{name: "by a hole that is not there", holds: "  low: {part: lid, at: [0 mm, 0 mm, 0 mm]}\n  strut: {part: strut, between: {eye_low: low.ends.1, eye_high: low.ends.9}}\n", at: "low.ends.9", says: "no feature"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := lifted(c.holds)
			p, _ := trial.Read(t, files)
			l := layout.Of(reckoned(p))
			found := l.Findings()
			if len(found) != 1 {
				t.Fatalf("findings %v, want one", found)
			}
			if got := trial.Covered(files, found[0]); c.at != "" && got != c.at || !strings.Contains(found[0].Message, c.says) {
				t.Errorf("at %q: %s; want at %q: %s", got, found[0].Message, c.at, c.says)
			}
		})
	}
}

// A cable from box to box through a hole: the straight way, from the nearest points.
func TestStrandRunsStraight(t *testing.T) {
	files := lifted(`  left: {part: lug, at: [0 mm, 0 mm, 0 mm]}
  right: {part: lug, at: [0 mm, 0 mm, 90 mm], moves: {along: z, by: drop}}
  lead: {part: lead, from: left, to: right}
  led: {part: lead, from: left.top, to: right.bottom, via: [right.pin]}
  free: {part: lead, from: left.top, to: right.bottom, via: [[35 mm, 15 mm, 10 mm], [35 mm, 15 mm, 90 mm]]}
`).With(trial.Files{"parts/lead.yaml": "lead: {title: Lead, made: bought, strand: {d: 2 mm, length: 100 mm}}\n"})
	r := trial.Reckoning(t, files)
	for _, mm := range []float64{0, 30} {
		l, err := layout.At(r, map[string]quantity.Value{"drop": quantity.MM(mm)})
		if err != nil {
			t.Fatal(err)
		}
		trial.Clean(t, l.Findings())
		s := l.Strands()
		if len(s) != 3 {
			t.Fatalf("%d strands", len(s))
		}
		close1(t, "from box to box", s[0].Path, 80+mm, 1e-9)
		close1(t, "over", s[0].Over(), 20-mm, 1e-9)
		// From (5, 15, 10) to the pin's mouth (5, 0, 95) and back to (5, 15, 90).
		close1(t, "by the pin", s[1].Path, math.Hypot(15, 85+mm)+math.Hypot(15, 5), 1e-9)
		// 30 aside at the height of the lower end, up by 80, and back to the upper end.
		close1(t, "by free points", s[2].Path, 30+80+math.Hypot(30, mm), 1e-9)
		if stops := s[2].Stops; len(stops) != 4 || stops[0].Path != "left" || stops[0].Feature == nil || stops[1].Path != "" || stops[2].Feature != nil {
			t.Errorf("stops %+v", stops)
		}
	}
}
