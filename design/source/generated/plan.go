package generated

import (
	"fmt"
	"strings"
	"testing/fstest"
)

// block is how many plates one assembly holds; each step adds three of them.
const (
	block = 24
	each  = 3
)

// Plan is a tower of so many different plates, at least two, with 5 screws at every
// joint between two of them: Plan(500) has 500 sheet parts, 2495 screws and 187
// steps. Plates stand in blocks of 24, one assembly each; the blocks are joined by
// wide plates at their ends. Even plates take screws on one side and give threads on
// the other, odd ones the other way round, so that no two holes meet.
//
// The files are those of a plan's directory. The same count gives the same bytes.
func Plan(plates int) fstest.MapFS {
	plates = max(plates, 2)
	files := fstest.MapFS{}
	add := func(name, text string) { files[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644} }
	add("plan.yaml", identity)
	add("stock.yaml", stock)
	add("suppliers.yaml", suppliers)
	add("tools.yaml", "square: {title: Engineer's square, owned: yes}\n")
	add("calcs/joint.yaml", calculation)
	add("pages/tower.md", "---\ntitle: The tower\norder: 1\n---\nThe {tower} stands on {plate_1}. Its plates are {thick} thick and held by {cap_m5x12}.\n")
	add("parts/fasteners.yaml", "cap_m5x12: {standard: ISO 4762 M5x12 - 8.8}\n")
	var top tower
	for first := 1; first <= plates; first += block {
		last := min(first+block-1, plates)
		number := (first-1)/block + 1
		add(fmt.Sprintf("parts/block_%d.yaml", number), partsOf(first, last, plates))
		add(fmt.Sprintf("assemblies/block_%d.yaml", number), assemblyOf(number, first, last))
		top.add(number, first)
	}
	add("assemblies/tower.yaml", top.String())
	return files
}

const identity = `title: Tower of plates
summary: Shows how reading, checking and publishing grow with a plan.
machine: tower
revision: A
date: 2026-05-02
authors: [The generator]
license: CERN-OHL-S-2.0
language: en
units: metric
sheet: A4
projection: third
tolerances: ISO 2768-m
currency: EUR
values:
  thick: {is: 10 mm, about: a plate's thickness}
claims:
  - {say: Mass, is: tower.mass}
  - {say: Clamping force of a joint, is: joint.clamp, at_least: 10 kN}
history:
  - {revision: A, date: 2026-05-02, says: First release.}
`

const stock = `alu_plate_10:
  title: Aluminium plate 10 mm
  sheet: thick
  material: aluminium_6082
  sold: [{size: [2000 mm, 1000 mm], price: 280 EUR, checked: 2026-04-10}]
  kerf: 3 mm
  buy: {from: general}
`

const suppliers = `general:
  title: General dealer
  sells:
    cap_m5x12: {pack: 100, price: 9 EUR, code: "912-5-12", checked: 2026-04-10}
`

const calculation = `title: Clamping force of a joint
given:
  screws:  {is: 5, because: five holes in each plate}
  preload: {is: 6 kN, because: "M5 of class 8.8 at some 60 % of its proof load, common practice"}
find:
  clamp: screws * preload
recorded: {clamp: 30 kN ± 1 %}
require:
  - {that: clamp >= 10 kN, because: the tower must not sway}
source: sum over equal screws
`

// endsBlock reports whether a plate is joined to another block, below or above.
func endsBlock(plate, plates int) (below, above bool) {
	return plate > 1 && plate%block == 1, plate < plates && plate%block == 0
}

func partsOf(first, last, plates int) string {
	var b strings.Builder
	for plate := first; plate <= last; plate++ {
		below, above := endsBlock(plate, plates)
		width := 160.0
		if below || above {
			width = 340
		}
		down, up := 10, 30
		if plate%2 == 0 {
			down, up = up, down
		}
		// A millimetre more for every ten plates, so that no two are alike.
		fmt.Fprintf(&b, "plate_%d:\n  title: Plate %d\n  made: sheet\n  stock: alu_plate_10\n  outline: {rectangle: [%.1f mm, 40 mm]}\n  holes:\n", plate, plate, width+float64(plate)/10)
		if plate > first {
			fmt.Fprintf(&b, "    down: {line: {from: [20 mm, %d mm], step: [30 mm, 0 mm], count: 5}, for: M5, fit: medium, counterbore: {d: 10 mm, depth: 5.5 mm}}\n", down)
		}
		if plate < last {
			fmt.Fprintf(&b, "    up: {line: {from: [20 mm, %d mm], step: [30 mm, 0 mm], count: 5}, tap: M5}\n", up)
		}
		if below {
			b.WriteString("    base: {line: {from: [240 mm, 20 mm], step: [20 mm, 0 mm], count: 5}, for: M5, fit: medium, counterbore: {d: 10 mm, depth: 5.5 mm}}\n")
		}
		if above {
			b.WriteString("    head: {line: {from: [240 mm, 20 mm], step: [20 mm, 0 mm], count: 5}, tap: M5}\n")
		}
	}
	return b.String()
}

func assemblyOf(number, first, last int) string {
	var holds, joints, steps strings.Builder
	for plate := first; plate <= last; plate++ {
		fmt.Fprintf(&holds, "  p%d: {part: plate_%d, at: [0 mm, 0 mm, %d * thick]}\n", plate, plate, plate-first)
		if plate > first {
			fmt.Fprintf(&joints, "  j%d: {screw: cap_m5x12, through: [p%d.down, p%d.up]}\n", plate, plate, plate-1)
		}
	}
	for from := first; from <= last; from += each {
		var adds, fastens []string
		for plate := from; plate <= min(from+each-1, last); plate++ {
			adds = append(adds, fmt.Sprintf("p%d", plate))
			if plate > first {
				fastens = append(fastens, fmt.Sprintf("j%d", plate))
			}
		}
		fmt.Fprintf(&steps, "  s%d:\n    title: Lay plates %d to %d\n    adds: [%s]\n", from, from, min(from+each-1, last), strings.Join(adds, ", "))
		if len(fastens) > 0 {
			fmt.Fprintf(&steps, "    fastens: [%s]\n", strings.Join(fastens, ", "))
		}
		fmt.Fprintf(&steps, "    tools: [square]\n    text: |\n      Lay {plate_%d} flush with the edge, then the next.\n    time: 6 min\n", from)
	}
	text := fmt.Sprintf("title: Block %d\nholds:\n%s", number, holds.String())
	if joints.Len() > 0 {
		text += "joints:\n" + joints.String()
	}
	return text + "steps:\n" + steps.String()
}

// A tower is the assembly at the top.
type tower struct{ holds, joints, steps strings.Builder }

func (t *tower) add(number, first int) {
	fmt.Fprintf(&t.holds, "  b%d: {assembly: block_%d, at: [0 mm, 0 mm, %d * thick]}\n", number, number, first-1)
	fmt.Fprintf(&t.steps, "  s%d:\n    title: Set block %d\n    adds: [b%d]\n", number, number, number)
	if number > 1 {
		fmt.Fprintf(&t.joints, "  j%d: {screw: cap_m5x12, through: [b%d.p%d.base, b%d.p%d.head]}\n", number, number, first, number-1, first-1)
		fmt.Fprintf(&t.steps, "    fastens: [j%d]\n", number)
	}
	t.steps.WriteString("    text: Two people lift the block.\n    time: 10 min\n")
}

// String is the assembly's file.
func (t *tower) String() string {
	text := "title: Tower\nholds:\n" + t.holds.String()
	if t.joints.Len() > 0 {
		text += "joints:\n" + t.joints.String()
	}
	return text + "steps:\n" + t.steps.String()
}
