package sequence_test

import (
	"fmt"
	"testing/fstest"

	"plansheaf/design/layout"
	"plansheaf/design/reckon"
	"plansheaf/design/sequence"
	"plansheaf/design/source"
)

// A shelf's screw is only started; a lid comes close over it, and then no key gets at it
// any more.
func ExampleOf() {
	fsys := fstest.MapFS{}
	for name, text := range map[string]string{
		"plan.yaml": "title: Shelf\nmachine: rig\nrevision: A\n",
		"parts/all.yaml": `base: {title: Base, made: bought, shape: [{box: [80 mm, 60 mm, 12 mm]}], holes: {eye: {at: [20 mm, 30 mm], tap: M5}}}
shelf: {title: Shelf, made: bought, shape: [{box: [80 mm, 60 mm, 8 mm]}], holes: {eye: {at: [20 mm, 30 mm], for: M5}}}
lid: {title: Lid, made: bought, shape: [{box: [400 mm, 400 mm, 5 mm]}]}
cap: {standard: ISO 4762 M5x16 - 8.8}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  base: {part: base, at: [0 mm, 0 mm, 0 mm]}
  shelf: {part: shelf, at: [0 mm, 0 mm, 12 mm]}
  lid: {part: lid, at: [-160 mm, -160 mm, 26 mm]}
joints:
  hold: {screw: cap, through: [shelf.eye, base.eye]}
steps:
  lay: {title: Lay, adds: [base, shelf], fastens: [hold], loose: [hold], text: T}
  cover: {title: Cover, adds: [lid], text: T}
  turn: {title: Turn, tightens: [hold], text: T}
`,
	} {
		fsys[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	p, _, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		fmt.Println(err)
		return
	}
	r := reckon.New(p, reckon.Default(p), nil)
	rec := sequence.Of(r, layout.Of(r), sequence.NewGraph(r), nil)
	for _, o := range rec.Obstructions {
		fmt.Printf("%s: %s is out of reach, %s is in the way since %s\n", rec.Graph.Say(o.Step), o.Name, o.Blocks.Name(), rec.Graph.Say(o.Since))
		fmt.Println("it would still go after", rec.Graph.Say(o.Latest))
	}
	for _, p := range rec.Propose() {
		for _, m := range p.Moves {
			fmt.Printf("better: %s before %s, %d left\n", rec.Graph.Say(m.Step), rec.Graph.Say(m.Beside), p.Left)
		}
	}
	// Output:
	// rig.turn: hold is out of reach, lid is in the way since rig.cover
	// it would still go after rig.lay
	// better: rig.turn before rig.cover, 0 left
}
