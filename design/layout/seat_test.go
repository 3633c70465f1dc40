package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

func reckoned(p *plan.Plan) *reckon.Reckoning { return reckon.New(p, reckon.Default(p), nil) }

// A chain of seats that closes shows the whole loop once, and nothing else; a chain
// that hangs on it is silent.
func TestLoopOfSeatsIsShownWhole(t *testing.T) {
	files := stand(map[string]string{"stand": `title: Stand
holds:
  plate: {part: lid, seat: {mine: bottom, onto: lid.top}}
  post: {part: post, seat: {mine: bottom, onto: plate.top}}
  lid: {part: lid, seat: {mine: bottom, onto: post.top}}
  hat: {part: post, seat: {mine: bottom, onto: lid.top}}
`})
	l := layout.Of(reckoned(trial.Plan(t, files)))
	found := l.Findings()
	if len(found) != 1 {
		t.Fatalf("findings %v, want one", found)
	}
	if want := "plate seated on lid, seated on post, seated on plate"; !strings.Contains(found[0].Message, want) {
		t.Errorf("says %q, want %q in it", found[0].Message, want)
	}
	if got := trial.Covered(files, found[0]); got != "{mine: bottom, onto: lid.top}" {
		t.Errorf("marks %q", got)
	}
	if len(found[0].Also) != 2 {
		t.Errorf("names %d more seats, want those of lid and post", len(found[0].Also))
	}
}

// A chain of seats twenty deep stands as high as its posts are long.
func TestChainOfSeats(t *testing.T) {
	holds := "  p20: {part: post, at: [0 mm, 0 mm, 0 mm]}\n"
	for i := 19; i >= 1; i-- {
		holds = fmt.Sprintf("  p%d: {part: post, seat: {mine: bottom, onto: p%d.top}}\n", i, i+1) + holds
	}
	corners, l := laid(t, map[string]string{"stand": "title: Stand\nholds:\n" + holds})
	trial.Clean(t, l.Findings())
	if at := corners["p1"]; !near(at, solid.Vec{Z: 1900}) {
		t.Errorf("the top post stands at %v", at)
	}
}

// Pairs that cannot all meet are findings with numbers: the lid's holes are 170 apart.
func TestPairsThatCannotAllMeet(t *testing.T) {
	cases := []struct{ name, second, spin, at, says string }{
		{name: "they meet", second: "200"},
		{name: "by a hair", second: "200.04"},
		{name: "2 mm further", second: "202", at: "ends.2", says: "ends.2 misses right.crown by 2 mm: mine are 170 mm apart, theirs 172 mm"},
		{name: "spin another way", second: "200", spin: ", spin: 90 deg", at: "90 deg", says: "must turn -90° further"},
		{name: "spin as the pairs have it", second: "200", spin: ", spin: 0 deg"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := stand(map[string]string{"stand": `title: Stand
holds:
  left: {part: post, at: [30 mm, 50 mm, 0 mm]}
  right: {part: post, at: [` + c.second + ` mm, 50 mm, 0 mm]}
  lid: {part: lid, seat: {mine: bottom, onto: left.top, line_up: [[ends.1, left.crown], [ends.2, right.crown]]` + c.spin + `}}
`})
			found := layout.Of(trial.Reckoning(t, files)).Findings()
			if c.says == "" {
				trial.Clean(t, found)
				return
			}
			if len(found) != 1 {
				t.Fatalf("findings %v, want one", found)
			}
			if got := trial.Covered(files, found[0]); got != c.at || !strings.Contains(found[0].Message, c.says) {
				t.Errorf("at %q: %s; want at %q: %s", got, found[0].Message, c.at, c.says)
			}
		})
	}
}

// A repeated use that is seated takes the holes of a pattern, or the numbers of
// another repeated use, one after the other; with a step it goes on from the first.
func TestRepeatedSeats(t *testing.T) {
	cases := []struct {
		name, use string
		want      map[string]solid.Vec
		says      string
	}{
		{
			name: "on a pattern", use: "{part: post, count: 2, seat: {mine: bottom, onto: lid.top, line_up: [foot, lid.ends]}}",
			want: map[string]solid.Vec{"feet.1": {X: 5, Y: 20, Z: 10}, "feet.2": {X: 175, Y: 20, Z: 10}},
		},
		{
			name: "on repeated parts", use: "{part: post, count: 2, seat: {mine: bottom, onto: stubs.top, line_up: [foot, stubs.crown]}}",
			want: map[string]solid.Vec{"feet.1": {X: 300, Z: 100}, "feet.2": {X: 300, Y: 70, Z: 100}},
		},
		{
			name: "by a step", use: "{part: post, count: 2, step: [0 mm, 50 mm, 0 mm], seat: {mine: bottom, onto: lid.top, line_up: [foot, lid.ends]}}",
			want: map[string]solid.Vec{"feet.1": {X: 5, Y: 20, Z: 10}, "feet.2": {X: 5, Y: 70, Z: 10}},
		},
		{
			name: "more than there are holes", use: "{part: post, count: 3, seat: {mine: bottom, onto: lid.top, line_up: [foot, lid.ends]}}",
			says: `it hangs on "lid.ends", but there are fewer places than uses: 2`,
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			corners, l := laid(t, map[string]string{"stand": "title: Stand\nholds:\n  lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}\n  stubs: {part: post, at: [300 mm, 0 mm, 0 mm], count: 2, step: [0 mm, 70 mm, 0 mm]}\n  feet: " + c.use + "\n"})
			for path, want := range c.want {
				if !near(corners[path], want) {
					t.Errorf("%s stands at %v, want %v", path, corners[path], want)
				}
			}
			found := l.Findings()
			if c.says == "" {
				trial.Clean(t, found)
			} else if len(found) != 1 || !strings.Contains(found[0].Message, c.says) {
				t.Errorf("findings %v, want %q", found, c.says)
			}
		})
	}
}

// What a seat is on may belong to a choice that the builder did not make.
func TestSeatOnAbsentPart(t *testing.T) {
	files := stand(map[string]string{"stand": `title: Stand
holds:
  post: {part: post, at: [0 mm, 0 mm, 0 mm], only: {drive: motor}}
  lid: {part: lid, seat: {mine: bottom, onto: post.top}}
`}).With(trial.Files{"plan.yaml": "title: Stand\nmachine: stand\nrevision: A\nchoices: {drive: {title: Drive, options: {crank: Crank, motor: Motor}, default: motor}}\n"})
	p := trial.Plan(t, files)
	trial.Clean(t, layout.Of(reckoned(p)).Findings())
	c := reckon.Default(p)
	c.Options["drive"] = "crank"
	found := layout.Of(reckon.New(p, c, nil)).Findings()
	if len(found) != 1 || !strings.Contains(found[0].Message, `"post" is there only with drive: motor`) {
		t.Errorf("findings %v", found)
	}
}

// Hostile plans end soon: a chain that closes after thousands of seats, and a use
// repeated far beyond the holes that it is seated on.
func TestLargePlansOfSeatsEnd(t *testing.T) {
	var chain strings.Builder
	const long = 1500
	for i := 0; i < long; i++ {
		fmt.Fprintf(&chain, "  p%d: {part: post, seat: {mine: bottom, onto: p%d.top}}\n", i, (i+1)%long)
	}
	found := layout.Of(reckoned(trial.Plan(t, stand(map[string]string{"stand": "title: Stand\nholds:\n" + chain.String()})))).Findings()
	if len(found) != 1 || len(found[0].Message) > 2000 || !strings.Contains(found[0].Message, "1480 more, back to p0") {
		t.Errorf("%d findings for a chain that closes", len(found))
	}
	found = layout.Of(reckoned(trial.Plan(t, stand(map[string]string{"stand": `title: Stand
holds:
  lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}
  feet: {part: post, count: 20000, seat: {mine: bottom, onto: lid.top, line_up: [foot, lid.ends]}}
`})))).Findings()
	if len(found) != 1 {
		t.Errorf("%d findings for uses beyond the holes, want one", len(found))
	}
}
