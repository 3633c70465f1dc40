package sequence

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	plans "plansheaf/design/trial"
	"plansheaf/design/way"
)

// workedOut goes through the work of a plan's own case with what a store has kept. It gives
// all that is told of it, and what was counted as looked at.
func workedOut(t *testing.T, files plans.Files, s *memo.Store) (told string, looks int) {
	t.Helper()
	r := plans.Reckoning(t, files)
	ways := way.NewMemory()
	ways.Kept = s
	store := NewStore(ways)
	store.Kept = s
	g := NewGraph(r)
	rec := Of(r, layout.Of(r), g, store)
	looks = store.looks
	var out strings.Builder
	for _, o := range rec.Obstructions {
		fmt.Fprintf(&out, "%d %d %q %q %v %d %q %q %d %d %d %q %q %d %q\n", o.Kind, o.Step, o.Word.Text, o.Name, o.Places, o.All, o.Tried, o.Blocks.Name(), o.Since, o.Latest, o.What, o.On, o.Faces, o.Later, rec.Remedy(o))
	}
	for k := range g.Steps {
		fmt.Fprintf(&out, "%d %+v\n", k, rec.rests[k])
	}
	for _, one := range rec.Tools() {
		fmt.Fprintf(&out, "%s %s %d\n", one.Kind, one.Size, one.Turns())
	}
	for _, p := range rec.Propose() {
		fmt.Fprintf(&out, "%v %v %d %d\n", p.Order, p.Moves, p.Was, p.Left)
	}
	return out.String(), looks
}

// What is told of the work, and what is counted on the way to it, is the same whether
// anything is taken over or not; nothing is found out anew of a plan that did not change,
// and little of one of which a part did.
func TestKept(t *testing.T) {
	shut := plans.Files{
		"plan.yaml": "title: Shelf\nmachine: rig\nrevision: A\n",
		"parts/all.yaml": `base: {title: Base, made: bought, mass: 9 kg, shape: [{box: [80 mm, 60 mm, 12 mm]}], holes: {eye: {at: [20 mm, 30 mm], tap: M5}, two: {at: [60 mm, 30 mm], for: M6}}}
shelf: {title: Shelf, made: bought, mass: 1 kg, shape: [{box: [80 mm, 60 mm, 8 mm]}], holes: {eye: {at: [20 mm, 30 mm], for: M5}, two: {at: [60 mm, 30 mm], for: M6}}}
lid: {title: Lid, made: bought, mass: 2 kg, shape: [{box: [400 mm, 400 mm, 5 mm]}]}
post: {title: Post, made: bought, mass: 1 kg, shape: [{box: [8 mm, 8 mm, 40 mm]}]}
cap: {standard: ISO 4762 M5x16 - 8.8}
hex: {standard: ISO 4017 M6x30 - 8.8}
nut: {standard: ISO 4032 M6 - 8}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  base: {part: base, at: [0 mm, 0 mm, 0 mm]}
  shelf: {part: shelf, at: [0 mm, 0 mm, 12 mm]}
  post: {part: post, at: [68 mm, 36 mm, 20 mm]}
  lid: {part: lid, at: [-160 mm, -160 mm, 26 mm]}
joints:
  hold: {screw: cap, through: [shelf.eye, base.eye]}
  bolt: {screw: hex, through: [shelf.two, base.two], into: nut}
steps:
  lay: {title: Lay, adds: [base, shelf, post], fastens: [hold, bolt], loose: [hold], text: T}
  cover: {title: Cover, adds: [lid], text: T}
  turn: {title: Turn, tightens: [hold], text: T}
`,
	}
	for _, c := range []struct {
		name          string
		files         plans.Files
		file, was, is string
		share         float64 // of what is asked for, how much is new at most
	}{
		{name: "shut in", files: shut, file: "parts/all.yaml", was: "[400 mm, 400 mm, 5 mm]", is: "[410 mm, 400 mm, 5 mm]", share: 0.7},
		{name: "example", files: plans.FilesOf(t, os.DirFS("../../example-plan")), file: "parts/platen.yaml", was: "corners: {round: 4 mm}", is: "corners: {round: 5 mm}", share: 0.1},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := memo.New()
			want, least := workedOut(t, c.files, nil)
			same := func(say string, files plans.Files) {
				t.Helper()
				if got, looks := workedOut(t, files, s); got != want || looks != least {
					t.Errorf("%s: %d looks\n%s\nwithout a store: %d looks\n%s", say, looks, got, least, want)
				}
			}
			same("first", c.files)
			first := s.Uses()
			s.Next()
			same("again", c.files)
			if u := s.Uses(); u.New > 0 || first.New < 5 {
				t.Errorf("first %+v, then %+v", first, u)
			}
			edited := c.files.With(plans.Files{c.file: strings.Replace(c.files[c.file], c.was, c.is, 1)})
			if edited[c.file] == c.files[c.file] {
				t.Fatalf("%s does not hold %q", c.file, c.was)
			}
			want, least = workedOut(t, edited, nil)
			s.Next()
			same("edited", edited)
			if u := s.Uses(); u.New == 0 || float64(u.New) > c.share*float64(u.New+u.Known) {
				t.Errorf("edited: %+v", u)
			}
			s.Doubt = true
			workedOut(t, edited, s)
			if f := s.Faults(); len(f) > 0 {
				t.Error(f)
			}
		})
	}
}
