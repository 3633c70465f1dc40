package scene

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/trial"
	"plansheaf/design/way"
	"plansheaf/publish/picture"
)

// drawAll draws everything of an assembly, with what a store keeps.
func drawAll(t *testing.T, files trial.Files, assembly string, store *memo.Store) map[string]any {
	t.Helper()
	r := trial.Reckoning(t, files)
	a, l := r.Plan.Assembly(assembly), layout.Of(r)
	memory := way.NewMemory()
	memory.Kept = store
	studio, items, sel := NewStudio(memory), Items(r, a), r.Case.Options
	together, err := studio.Together(l, a, sel, items)
	if err != nil {
		t.Fatal(err)
	}
	exploded, err := studio.Exploded(l, a, sel, items)
	if err != nil {
		t.Fatal(err)
	}
	steps, err := studio.Steps(l, a, sel, func(*plan.Step) bool { return true })
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]any{"together": together, "exploded": exploded}
	for id, pic := range steps {
		out["step "+id] = pic
	}
	return out
}

// bolted is a plate on a block with its screws.
var bolted = trial.Files{
	"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n",
	"parts/all.yaml": `plate: {title: Plate, made: bought, shape: [{box: [60 mm, 60 mm, 5 mm]}], holes: {ends: {line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, for: M5}}}
block: {title: Block, made: bought, shape: [{box: [60 mm, 60 mm, 30 mm]}], holes: {ends: {face: top, line: {from: [10 mm, 10 mm], step: [40 mm, 40 mm], count: 2}, tap: M5, depth: 20 mm}}}
cap: {standard: ISO 4762 M5x16 - 8.8}
`,
	"assemblies/rig.yaml": `title: Rig
holds:
  block: {part: block, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [0 mm, 0 mm, 30 mm]}
joints:
  hold: {screw: cap, through: [plate.ends, block.ends]}
steps:
  lay: {title: Lay, adds: [block], text: T}
  cover: {title: Cover, adds: [plate], text: T}
  fasten: {title: Fasten, fastens: [hold], text: T}
`,
}

// What is drawn again with a store that knows it all is taken over, and the same; after a
// change of one part only what shows that part is drawn.
func TestKnownPicturesAreTakenOver(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 11))
	const blocks = 9
	for run := range 3 {
		files, assembly, part := heap(random, blocks), "heap", fmt.Sprintf("p%d", 1+random.IntN(blocks-1))
		from, to := "shape: [{box: [", "shape: [{box: [1"
		if run == 0 {
			files, assembly, part, from, to = bolted, "rig", "plate", "60 mm, 5 mm]", "60 mm, 6 mm]"
		}
		store := memo.New()
		first := drawAll(t, files, assembly, store)
		if plain := drawAll(t, files, assembly, nil); !reflect.DeepEqual(first, plain) {
			t.Errorf("run %d: with a store drawn otherwise than without", run)
		}
		store.Next()
		if again := drawAll(t, files, assembly, store); !reflect.DeepEqual(first, again) || store.Uses().New > 0 {
			t.Errorf("run %d: drawn again with %d new results, the same: %v", run, store.Uses().New, reflect.DeepEqual(first, again))
		}
		known := store.Uses().Known

		changed := maps.Clone(files)
		lines := strings.Split(files["parts/all.yaml"], "\n")
		i := slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, part+":") })
		lines[i] = strings.Replace(lines[i], from, to, 1)
		changed["parts/all.yaml"] = strings.Join(lines, "\n")
		store.Next()
		with, without := drawAll(t, changed, assembly, store), drawAll(t, changed, assembly, nil)
		if !reflect.DeepEqual(with, without) {
			t.Errorf("run %d: after a change of %s, drawn otherwise than without a store", run, part)
		}
		if uses := store.Uses(); uses.New == 0 || uses.Known == 0 || uses.New > known {
			t.Errorf("run %d: after a change of %s: %+v, of %d results", run, part, uses, known)
		}
		store.Doubt = true
		drawAll(t, changed, assembly, store)
		drawAll(t, files, assembly, store)
		if faults := store.Faults(); len(faults) > 0 {
			t.Errorf("run %d: %q", run, faults)
		}
	}
}

// Two equal bodies in one place are both drawn, one that stands there twice is drawn once:
// their keys tell them apart, whatever else is among the pieces.
func TestKeysTellBodiesInOnePlaceApart(t *testing.T) {
	r := trial.Reckoning(t, heap(rand.New(rand.NewPCG(1, 1)), 3))
	other := trial.Reckoning(t, heap(rand.New(rand.NewPCG(1, 1)), 3))
	one, two := layout.Of(r).Pieces(r.Plan.Assembly("heap"))[1], layout.Of(other).Pieces(other.Plan.Assembly("heap"))[1]
	if one.Solid == two.Solid || one.Solid.MemoKey() != two.Solid.MemoKey() {
		t.Fatal("not two equal bodies")
	}
	twice, equal := newCast([]layout.Piece{one, one}, true), newCast([]layout.Piece{one, two}, true)
	if twice.key(twice.all()) == equal.key(equal.all()) {
		t.Error("same key")
	}
	if again := newCast([]layout.Piece{two, one}, true); again.key(again.all()) != equal.key(equal.all()) {
		t.Error("another key for as many bodies of that shape")
	}
}

// A change of what is hidden at a step does not draw that step again.
func TestHiddenChangesAreNotDrawn(t *testing.T) {
	const size = "[10 mm, 10 mm, 10 mm]"
	files := trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n",
		"parts/all.yaml": `block: {title: Block, made: bought, shape: [{box: [60 mm, 60 mm, 30 mm]}]}
plate: {title: Plate, made: bought, shape: [{box: [60 mm, 60 mm, 5 mm]}]}
core: {title: Core, made: bought, shape: [{box: ` + size + `}]}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  core: {part: core, at: [20 mm, 20 mm, 10 mm]}
  block: {part: block, at: [0 mm, 0 mm, 0 mm]}
  plate: {part: plate, at: [0 mm, 0 mm, 30 mm]}
steps:
  lay: {title: Lay, adds: [core], text: T}
  hide: {title: Hide, adds: [block], text: T}
  cover: {title: Cover, adds: [plate], text: T}
`,
	}
	draw := func(files trial.Files, store *memo.Store) map[string]*picture.Picture {
		r := trial.Reckoning(t, files)
		memory := way.NewMemory()
		memory.Kept = store
		pics, err := NewStudio(memory).Steps(layout.Of(r), r.Plan.Assembly("rig"), r.Case.Options, func(*plan.Step) bool { return true })
		if err != nil || len(pics) != 3 {
			t.Fatalf("%d pictures, %v", len(pics), err)
		}
		return pics
	}
	store := memo.New()
	draw(files, store)
	all := store.Uses().New
	files = maps.Clone(files)
	files["parts/all.yaml"] = strings.Replace(files["parts/all.yaml"], size, "[11 mm, 10 mm, 10 mm]", 1)
	store.Next()
	if with, without := draw(files, store), draw(files, nil); !reflect.DeepEqual(with, without) {
		t.Error("drawn otherwise than without a store")
	}
	// Of the two steps at which the core is hidden only what is seen is found out again.
	if uses := store.Uses(); uses.New != all-2 {
		t.Errorf("%+v, of %d results", uses, all)
	}
}
