package layout_test

import (
	"os"
	"reflect"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// sways has places that follow from a motion by a value, by a part's size, and by a number
// of uses.
var sways = stand(map[string]string{
	"stand": `title: Stand
holds:
  low: {part: post, at: [0 mm, 0 mm, rise]}
  high: {part: post, at: [100 mm, 0 mm, slat.length]}
  slat: {part: slat, at: [200 mm, 0 mm, 0 mm]}
  still: {part: lid, at: [0 mm, 300 mm, 0 mm]}
  on: {part: post, seat: {mine: bottom, onto: still.top, line_up: [foot, still.ends.1]}}
`,
}).With(trial.Files{
	"plan.yaml": `title: Stand
machine: stand
revision: A
motions: {drop: {from: 0 mm, to: 50 mm}}
values: {half: {is: drop / 2}, rise: {is: half + 10 mm}}
`,
	"parts/more.yaml": "slat: {title: Slat, made: cut, stock: bar, length: 60 mm + drop}\n",
})

// What a layout with motions elsewhere takes over from the one at rest is what it would
// have worked out.
func TestPosedTakesOverWhatDoesNotMove(t *testing.T) {
	plans := map[string]trial.Files{"example": trial.FilesOf(t, os.DirFS("../../example-plan")), "drive": drive, "sways": sways}
	for name, files := range plans {
		t.Run(name, func(t *testing.T) {
			p := trial.Plan(t, files)
			cases, _ := reckon.Combinations(p, 8)
			moved := 0
			for _, c := range cases {
				r := reckon.New(p, c, nil)
				r.All()
				rest := layout.Of(r)
				for _, a := range p.Assemblies {
					rest.Pieces(a)
				}
				for _, m := range p.Motions {
					from, to, err := r.Range(m)
					if err != nil {
						t.Fatal(err)
					}
					for _, share := range []float64{0, 0.3, 1} {
						at := from
						at.SI += share * (to.SI - from.SI)
						where := map[string]quantity.Value{m.ID.Text: at}
						short, err := rest.At(where)
						if err != nil {
							t.Fatal(err)
						}
						fresh := reckon.New(p, c, nil) // so that nothing is at hand
						whole, err := layout.At(fresh, where)
						if err != nil {
							t.Fatal(err)
						}
						moved += alike(t, p, [3]*layout.Layout{rest, short, whole}, [2]*reckon.Reckoning{r, fresh})
					}
				}
			}
			if moved == 0 {
				t.Error("no motion moved anything")
			}
		})
	}
}

// alike compares the last two of three layouts and counts what stands elsewhere than in
// the first.
func alike(t *testing.T, p *plan.Plan, l [3]*layout.Layout, of [2]*reckon.Reckoning) (moved int) {
	t.Helper()
	if !reflect.DeepEqual(l[1].Findings(), l[2].Findings()) {
		t.Errorf("findings %v, want %v", l[1].Findings(), l[2].Findings())
	}
	others := of[1].Tally().Instances
	for i, in := range of[0].Tally().Instances {
		got, placed := l[1].Placement(in)
		want, too := l[2].Placement(others[i])
		if got != want || placed != too {
			t.Errorf("%s stands at %v, want %v", in.Path, got, want)
		}
		if before, _ := l[0].Placement(in); before != got {
			moved++
		}
	}
	for _, a := range p.Assemblies {
		got, want := l[1].Pieces(a), l[2].Pieces(a)
		if len(got) != len(want) {
			t.Errorf("%s has %d pieces, want %d", a.ID.Text, len(got), len(want))
			continue
		}
		for i := range got {
			if got[i].At != want[i].At || got[i].Solid.Box() != want[i].Solid.Box() {
				t.Errorf("%s: piece %d stands at %v, want %v", a.ID.Text, i, got[i].At, want[i].At)
			}
		}
	}
	got, want := l[1].Strands(), l[2].Strands()
	for i := range want {
		if len(got) != len(want) || !reflect.DeepEqual(got[i].Points, want[i].Points) {
			t.Errorf("strand %d runs elsewhere", i)
		}
	}
	belts, wanted := l[1].Belts(), l[2].Belts()
	for i := range wanted {
		if len(belts) != len(wanted) || !reflect.DeepEqual(belts[i].Line, wanted[i].Line) || belts[i].Frame != wanted[i].Frame {
			t.Errorf("belt %d runs elsewhere", i)
		}
	}
	return moved
}
