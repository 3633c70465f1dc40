package bill_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/design/layout"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// A random machine, held in a form of its own: the test counts it piece by piece and
// hole by hole and shares nothing with what it checks but the text of the plan.
type (
	rig struct {
		assemblies []group // each holds only those after it
	}
	group struct {
		uses   []use
		joints []joining
		steps  []work
	}
	use struct {
		part, group int    // group 0: a part
		count       int    // 0: not repeated
		only        string // option of the choice, "" for always
		at          [3]int
	}
	joining struct {
		layers  []int // uses
		washers int
		nut     bool
		only    string
	}
	work struct {
		grams, minutes int
		only           string
	}
)

// blockHoles are how many holes the blocks have, blockKilos what they weigh, and
// blockSide their sides in mm: the centre of mass is their middle but for the holes.
var (
	blockHoles = []int{1, 2, 3, 4}
	blockKilos = []int{1, 2, 3, 5}
)

const blockSide = 100

func randomRig(rnd *rand.Rand) rig {
	option := func() string { return []string{"", "", "", "red", "blue"}[rnd.Intn(5)] }
	var r rig
	depth := 2 + rnd.Intn(4)
	for level := range depth {
		var g group
		for range 2 + rnd.Intn(3) {
			u := use{part: rnd.Intn(len(blockHoles)), count: rnd.Intn(4), only: option(), at: [3]int{rnd.Intn(500), rnd.Intn(500), rnd.Intn(500)}}
			if level+1 < depth && rnd.Intn(2) == 0 {
				u.group = level + 1 + rnd.Intn(depth-level-1)
			}
			g.uses = append(g.uses, u)
		}
		var blocks []int
		for i, u := range g.uses {
			if u.group == 0 && u.only == "" {
				blocks = append(blocks, i)
			}
		}
		for range rnd.Intn(3) {
			if len(blocks) < 2 {
				break
			}
			rnd.Shuffle(len(blocks), func(i, k int) { blocks[i], blocks[k] = blocks[k], blocks[i] })
			g.joints = append(g.joints, joining{layers: []int{blocks[0], blocks[1]}, washers: rnd.Intn(3), nut: rnd.Intn(2) == 0, only: option()})
		}
		for range rnd.Intn(3) {
			g.steps = append(g.steps, work{grams: 1 + rnd.Intn(30), minutes: rnd.Intn(60), only: option()})
		}
		r.assemblies = append(r.assemblies, g)
	}
	return r
}

func condition(only string) string {
	if only == "" {
		return ""
	}
	return ", only: {paint: " + only + "}"
}

func (r rig) files() trial.Files {
	files := trial.Files{
		"plan.yaml": "title: Rig\nmachine: a0\nrevision: A\nchoices: {paint: {title: Paint, options: {red: Red, blue: Blue}, default: red}}\n",
	}
	var parts strings.Builder
	for i, n := range blockHoles {
		fmt.Fprintf(&parts, "b%d: {title: B%d, made: bought, mass: %d kg, shape: [{box: [%d mm, %d mm, %d mm]}], holes: {h: {line: {from: [10 mm, 10 mm], step: [20 mm, 0 mm], count: %d}, for: M6}}}\n", i, i, blockKilos[i], blockSide, blockSide, blockSide, n)
	}
	parts.WriteString("cap: {standard: ISO 4762 M6x20 - 8.8}\nring: {standard: ISO 7089 6}\nnut: {standard: ISO 4032 M6 - 8}\ngrease: {title: Grease, made: consumable, amount: 30 g}\n")
	files["parts/all.yaml"] = parts.String()
	for level, g := range r.assemblies {
		var b strings.Builder
		fmt.Fprintf(&b, "title: A%d\nholds:\n", level)
		for i, u := range g.uses {
			what := fmt.Sprintf("part: b%d", u.part)
			if u.group > 0 {
				what = fmt.Sprintf("assembly: a%d", u.group)
			}
			repeat := ""
			if u.count > 0 {
				repeat = fmt.Sprintf(", count: %d, step: [%d mm, 0 mm, 0 mm]", u.count, 2*blockSide)
			}
			fmt.Fprintf(&b, "  u%d: {%s, at: [%d mm, %d mm, %d mm]%s%s}\n", i, what, u.at[0], u.at[1], u.at[2], repeat, condition(u.only))
		}
		for i, j := range g.joints {
			if i == 0 {
				b.WriteString("joints:\n")
			}
			under, into := "", ""
			if j.washers > 0 {
				under = ", under_head: [" + strings.TrimSuffix(strings.Repeat("ring, ", j.washers), ", ") + "]"
			}
			if j.nut {
				into = ", into: nut"
			}
			fmt.Fprintf(&b, "  j%d: {screw: cap, through: [u%d.h, u%d.h]%s%s%s}\n", i, j.layers[0], j.layers[1], under, into, condition(j.only))
		}
		for i, s := range g.steps {
			if i == 0 {
				b.WriteString("steps:\n")
			}
			fmt.Fprintf(&b, "  s%d: {title: S%d-%d, uses: [grease %d g], text: T, time: %d min%s}\n", i, level, i, s.grams, s.minutes, condition(s.only))
		}
		files[fmt.Sprintf("assemblies/a%d.yaml", level)] = b.String()
	}
	return files
}

// A heap is everything that was counted, one by one.
type heap struct {
	parts          map[string]int
	by             map[string]map[string]int
	grams, minutes int
	kilos          float64
	moment         [3]float64 // of the blocks
}

func (r rig) count(paint string) heap {
	h := heap{parts: map[string]int{}, by: map[string]map[string]int{}}
	r.add(&h, 0, paint, [3]int{})
	return h
}

func (h *heap) put(level int, id string) {
	h.parts[id]++
	name := fmt.Sprintf("a%d", level)
	if h.by[name] == nil {
		h.by[name] = map[string]int{}
	}
	h.by[name][id]++
}

func (r rig) add(h *heap, level int, paint string, at [3]int) {
	there := func(only string) bool { return only == "" || only == paint }
	g := r.assemblies[level]
	holes := map[int][]string{} // of each use
	for i, u := range g.uses {
		if !there(u.only) {
			continue
		}
		for n := range max(1, u.count) {
			place := [3]int{at[0] + u.at[0] + n*2*blockSide, at[1] + u.at[1], at[2] + u.at[2]}
			if u.group > 0 {
				r.add(h, u.group, paint, place)
				continue
			}
			h.put(level, fmt.Sprintf("b%d", u.part))
			h.kilos += float64(blockKilos[u.part])
			for k := range place {
				h.moment[k] += float64(blockKilos[u.part]) * float64(place[k])
			}
			for hole := range blockHoles[u.part] {
				holes[i] = append(holes[i], fmt.Sprint(n, hole))
			}
		}
	}
	for _, j := range g.joints {
		if !there(j.only) {
			continue
		}
		longest := holes[j.layers[0]]
		if other := holes[j.layers[1]]; len(other) > len(longest) {
			longest = other
		}
		for range longest {
			h.put(level, "cap")
			for range j.washers {
				h.put(level, "ring")
			}
			if j.nut {
				h.put(level, "nut")
			}
		}
	}
	for _, s := range g.steps {
		if there(s.only) {
			h.grams += s.grams
			h.minutes += s.minutes
		}
	}
}

// The bill of a machine is what its pieces come to, counted one by one: nested
// assemblies, repeats, joints over patterns, amounts, times, by assembly and under each
// choice, and what changes from one choice to the other.
func TestBillAgainstCounting(t *testing.T) {
	screws, changes := 0, 0
	for seed := range int64(150) {
		m := randomRig(rand.New(rand.NewSource(seed)))
		p := trial.Plan(t, m.files())
		shapes := reckon.NewShapes()
		var bills []*bill.Bill
		var heaps []heap
		for _, paint := range []string{"red", "blue"} {
			r := reckon.New(p, reckon.Case{Options: map[string]string{"paint": paint}}, shapes)
			b, want := bill.Of(r), m.count(paint)
			bills, heaps = append(bills, b), append(heaps, want)
			screws += want.parts["cap"]
			checkBill(t, fmt.Sprintf("seed %d, %s", seed, paint), b, want)
			for _, balance := range bill.Balances(r, layout.Of(r)) {
				if balance.Assembly.ID.Text == "a0" && seed%10 == 0 {
					checkBalance(t, seed, balance, want)
				}
			}
		}
		d := bill.Between(p, bills[0], bills[1])
		changes += len(d.Parts)
		checkDifference(t, seed, d, heaps[0], heaps[1])
		for _, most := range bill.Whatever(p, bills) {
			id := most.Part.Part.ID.Text
			if want := max(heaps[0].parts[id], heaps[1].parts[id]); most.Count != want {
				t.Errorf("seed %d: at most %d %s, want %d", seed, most.Count, id, want)
			}
		}
		if t.Failed() {
			t.Fatalf("the plan: %v", m.files())
		}
	}
	if screws < 1000 || changes < 100 {
		t.Errorf("%d screws and %d changes by choice: the machines are too plain to show anything", screws, changes)
	}
}

func checkBill(t *testing.T, name string, b *bill.Bill, want heap) {
	t.Helper()
	held := 0
	for _, line := range b.Lines {
		id := line.Part.Part.ID.Text
		if id == "grease" {
			if math.Abs(line.Amount*1000-float64(want.grams)) > 1e-6 {
				t.Errorf("%s: %g g of grease, want %d", name, line.Amount*1000, want.grams)
			}
			continue
		}
		held++
		if line.Count != want.parts[id] {
			t.Errorf("%s: %d %s, want %d", name, line.Count, id, want.parts[id])
		}
		for _, share := range line.By {
			if n := want.by[share.Assembly.ID.Text][id]; share.Count != n {
				t.Errorf("%s: %d %s in %s, want %d", name, share.Count, id, share.Assembly.ID.Text, n)
			}
		}
	}
	if held != len(want.parts) {
		t.Errorf("%s: %d kinds of part, want %d", name, held, len(want.parts))
	}
	if math.Abs(b.WorkMinute-float64(want.minutes)) > 1e-6 {
		t.Errorf("%s: %g min, want %d", name, b.WorkMinute, want.minutes)
	}
	pieces := 0
	for _, sum := range b.ByKind() {
		pieces += sum.Pieces
	}
	for _, n := range want.parts {
		pieces -= n
	}
	if pieces != 0 {
		t.Errorf("%s: the kinds together have %d pieces too many", name, pieces)
	}
}

// checkBalance compares the centre of mass with that of the blocks' middles; holes and
// screws draw it off by little.
func checkBalance(t *testing.T, seed int64, b bill.Balance, want heap) {
	t.Helper()
	if want.kilos == 0 {
		return
	}
	screws := b.Mass - want.kilos
	if screws < 0 || screws > 0.05*float64(want.parts["cap"]+want.parts["ring"]+want.parts["nut"])+1e-6 {
		t.Errorf("seed %d: %g kg, of which the blocks are %g", seed, b.Mass, want.kilos)
	}
	got := [3]float64{b.Centre.X, b.Centre.Y, b.Centre.Z}
	for k, at := range got {
		if want := want.moment[k]/want.kilos + blockSide/2; math.Abs(at-want) > 10+2000*screws/b.Mass {
			t.Errorf("seed %d: centre of mass at %g along axis %d, want about %g", seed, at, k, want)
		}
	}
}

func checkDifference(t *testing.T, seed int64, d bill.Difference, from, to heap) {
	t.Helper()
	changed := map[string]int{}
	for _, c := range d.Parts {
		if id := c.Part.Part.ID.Text; id != "grease" {
			changed[id] = c.To - c.From
		} else if math.Abs(c.Amount*1000-float64(to.grams-from.grams)) > 1e-6 {
			t.Errorf("seed %d: %g g of grease more, want %d", seed, c.Amount*1000, to.grams-from.grams)
		}
	}
	for id := range to.parts {
		from.parts[id] += 0
	}
	for id, n := range from.parts {
		if changed[id] != to.parts[id]-n {
			t.Errorf("seed %d: %+d %s, want %+d", seed, changed[id], id, to.parts[id]-n)
		}
	}
	if math.Abs(d.Minutes-float64(to.minutes-from.minutes)) > 1e-6 {
		t.Errorf("seed %d: %g min more, want %d", seed, d.Minutes, to.minutes-from.minutes)
	}
}
