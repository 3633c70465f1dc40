package reckon_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// A nest is a random machine and what it must come to, counted by brute force.
type nest struct {
	files     trial.Files
	parts     map[string]int
	assembled map[string]int
	kg        float64
}

// level is one assembly of a nest: how many of each it holds, under which option.
type level struct {
	posts, plates int
	only          string // "" or an option of the choice "way"
	subs          []int  // how many of each deeper assembly
	screws        int    // places of its joint, 0 for no joint
}

func randomNest(seed int64, option string) nest {
	rng := rand.New(rand.NewSource(seed))
	depth := 2 + rng.Intn(3)
	levels := make([]level, depth)
	for i := range levels {
		l := &levels[i]
		l.posts, l.plates = rng.Intn(4), 1+rng.Intn(3)
		l.only = []string{"", "a", "b"}[rng.Intn(3)]
		for range levels[i+1:] {
			l.subs = append(l.subs, rng.Intn(3))
		}
		if rng.Intn(2) == 0 {
			l.screws = 4 * l.plates
		}
	}
	n := nest{files: trial.Files{
		"plan.yaml":      "title: Nest\nmachine: level_0\nrevision: A\nchoices: {way: {title: Way, options: {a: A, b: B}, default: a}}\n",
		"stock.yaml":     "bar: {title: Bar, section: {square: {side: 20 mm}}, material: steel_s235}\nsheet: {title: Sheet, sheet: 10 mm, material: steel_s235}\n",
		"parts/all.yaml": "post: {title: Post, made: cut, stock: bar, length: 50 mm, mass: 1 kg}\nplate: {title: Plate, made: sheet, stock: sheet, outline: {rectangle: [100 mm, 100 mm]}, mass: 100 g, holes: {four: {grid: {from: [20 mm, 20 mm], step: [60 mm, 60 mm], count: [2, 2]}, tap: M6}}}\nscrew: {title: Screw, made: bought, mass: 1 g, fastener: {screw: M6, length: 12 mm}}\n",
	}, parts: map[string]int{}, assembled: map[string]int{}}
	for i, l := range levels {
		n.files[fmt.Sprintf("assemblies/level_%d.yaml", i)] = l.text(i)
	}
	n.count(levels, 0, option)
	n.kg = float64(n.parts["post"]) + 0.1*float64(n.parts["plate"]) + 0.001*float64(n.parts["screw"])
	return n
}

func (l level) text(i int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "title: Level %d\nholds:\n", i)
	only := ""
	if l.only != "" {
		only = ", only: {way: " + l.only + "}"
	}
	fmt.Fprintf(&b, "  posts: {part: post, at: [0 mm, 0 mm, 0 mm], count: %d, step: [1 mm, 0 mm, 0 mm]%s}\n", l.posts, only)
	fmt.Fprintf(&b, "  plates: {part: plate, at: [0 mm, 0 mm, 0 mm], count: %d, step: [0 mm, 0 mm, 1 mm]}\n", l.plates)
	for k, times := range l.subs {
		fmt.Fprintf(&b, "  sub_%d: {assembly: level_%d, at: [0 mm, 0 mm, 0 mm], count: %d, step: [0 mm, 1 mm, 0 mm]}\n", k, i+1+k, times)
	}
	if l.screws > 0 {
		b.WriteString("joints:\n  hold: {screw: screw, through: [plates.four]}\n")
	}
	return b.String()
}

// count walks the nest one instance at a time.
func (n *nest) count(levels []level, i int, option string) {
	l := levels[i]
	n.assembled[fmt.Sprintf("level_%d", i)]++
	if l.only == "" || l.only == option {
		n.parts["post"] += l.posts
	}
	n.parts["plate"] += l.plates
	n.parts["screw"] += l.screws
	for k, times := range l.subs {
		for range times {
			n.count(levels, i+1+k, option)
		}
	}
}

func TestTallyOfRandomNests(t *testing.T) {
	for seed := int64(0); seed < 40; seed++ {
		for _, option := range []string{"a", "b"} {
			n := randomNest(seed, option)
			p := trial.Plan(t, n.files)
			r := reckon.New(p, reckon.Case{Options: map[string]string{"way": option}}, nil)
			tally := r.Tally()
			for _, id := range []string{"post", "plate", "screw"} {
				if tally.Parts[id] != n.parts[id] {
					t.Errorf("seed %d, option %s: %d of %s, want %d", seed, option, tally.Parts[id], id, n.parts[id])
				}
			}
			for id, want := range n.assembled {
				if tally.Assembled[id] != want {
					t.Errorf("seed %d, option %s: %d of %s, want %d", seed, option, tally.Assembled[id], id, want)
				}
			}
			kg, unweighed := r.AssemblyMass(p.Assembly("level_0"))
			if math.Abs(kg-n.kg) > 1e-9 || len(unweighed) > 0 {
				t.Errorf("seed %d, option %s: %g kg (not weighed: %v), want %g", seed, option, kg, unweighed, n.kg)
			}
			oncePerPath(t, tally)
		}
	}
}

// oncePerPath checks that paths are unique and that parents stand before children.
func oncePerPath(t *testing.T, tally *reckon.Tally) {
	t.Helper()
	seen := map[string]bool{"": true}
	for _, in := range tally.Instances {
		if seen[in.Path] {
			t.Errorf("two instances at %q", in.Path)
		}
		if !seen[in.Parent.Path] {
			t.Errorf("%q stands before its parent", in.Path)
		}
		seen[in.Path] = true
	}
}

func TestSpots(t *testing.T) {
	files := trial.Files{
		"plan.yaml":      "title: Rig\nmachine: rig\nrevision: A\nchoices: {way: {title: Way, options: {a: A, b: B}, default: a}}\n",
		"stock.yaml":     "sheet: {title: Sheet, sheet: 10 mm, material: steel_s235}\n",
		"parts/all.yaml": "plate: {title: Plate, made: sheet, stock: sheet, outline: {rectangle: [100 mm, 100 mm]}, holes: {four: {grid: {from: [20 mm, 20 mm], step: [60 mm, 60 mm], count: [2, 2]}, tap: M6}, one: {at: [50 mm, 50 mm], bore: 5 mm}}}\nscrew: {standard: ISO 4762 M6x12 - 8.8}\n",
		"assemblies/rig.yaml": `title: Rig
holds:
  pair: {assembly: pair, at: [0 mm, 0 mm, 0 mm], count: 3, step: [0 mm, 0 mm, 50 mm]}
  lone: {part: plate, at: [0 mm, 0 mm, 0 mm]}
  other: {part: plate, at: [0 mm, 0 mm, 0 mm], only: {way: b}}
joints:
  also: {screw: screw, through: [lone.four], also: [[lone.one], [other.one]]}
  two: {screw: screw, through: [lone.top, lone.bottom]}
`,
		"assemblies/pair.yaml": "title: Pair\nholds: {plates: {part: plate, at: [0 mm, 0 mm, 0 mm], count: 2, step: [0 mm, 0 mm, 20 mm]}}\n",
	}
	p := trial.Plan(t, files)
	r := reckon.New(p, reckon.Default(p), nil)
	rig := p.Assembly("rig")
	cases := []struct {
		ref         string
		count       int
		first, last string // path and feature
	}{
		{ref: "lone.one", count: 1, first: "lone one", last: "lone one"},
		{ref: "lone.top", count: 1, first: "lone top", last: "lone top"},
		{ref: "lone.four", count: 4, first: "lone four.1", last: "lone four.4"},
		{ref: "lone.four.3", count: 1, first: "lone four.3", last: "lone four.3"},
		{ref: "pair.plates.one", count: 6, first: "pair.1.plates.1 one", last: "pair.3.plates.2 one"},
		{ref: "pair.2.plates.one", count: 2, first: "pair.2.plates.1 one", last: "pair.2.plates.2 one"},
		{ref: "pair.2.plates.1.four", count: 4, first: "pair.2.plates.1 four.1", last: "pair.2.plates.1 four.4"},
		{ref: "pair.plates.four", count: 24, first: "pair.1.plates.1 four.1", last: "pair.3.plates.2 four.4"},
		{ref: "other.one", count: 0},
		{ref: "nowhere.one", count: 0},
		{ref: "lone", count: 0},
		{ref: "pair", count: 0},
		{ref: "", count: 0},
	}
	for _, c := range cases {
		t.Run(c.ref, func(t *testing.T) {
			spots := r.Spots(rig, plan.Word{Text: c.ref})
			if len(spots) != c.count {
				t.Fatalf("%d spots, want %d", len(spots), c.count)
			}
			if c.count == 0 {
				return
			}
			for _, end := range []struct {
				spot reckon.Spot
				want string
			}{{spots[0], c.first}, {spots[c.count-1], c.last}} {
				if got := end.spot.Path + " " + end.spot.Feature; got != end.want {
					t.Errorf("spot %q, want %q", got, end.want)
				}
			}
		})
	}
	// Four by the pattern, one written out; the other plate belongs to way b.
	if n := r.JointPlaces(rig, rig.Joint("also")); n != 5 {
		t.Errorf("joint at %d places, want 5", n)
	}
	b := reckon.New(p, reckon.Case{Options: map[string]string{"way": "b"}}, nil)
	if n := b.JointPlaces(rig, rig.Joint("also")); n != 6 {
		t.Errorf("joint at %d places under b, want 6", n)
	}
	// Faces alone: a place for each feature of the first layer.
	if n := r.JointPlaces(rig, rig.Joint("two")); n != 1 {
		t.Errorf("joint of faces at %d places, want 1", n)
	}
}

// Hostile repeats end: the tally says that it is cut, a reference stands for
// nothing rather than running for ever, and a mass is weighed once an assembly.
func TestHostileRepeatsEnd(t *testing.T) {
	files := trial.Files{
		"parts/all.yaml":    "post: {title: Post, made: bought, mass: 1 kg, shape: [{box: [1 mm, 1 mm, 1 mm]}]}\nscrew: {standard: ISO 4762 M6x12 - 8.8}\n",
		"plan.yaml":         "title: Rig\nmachine: rig\nrevision: A\nchoices: {way: {title: Way, options: {a: A, b: B}, default: a}}\n",
		"assemblies/c.yaml": "title: C\nholds: {d: {part: post, at: [0 mm, 0 mm, 0 mm], only: {way: b}}}\n",
	}
	const deep = "title: X\nholds: {x: {assembly: %s, at: [0 mm, 0 mm, 0 mm], count: 9000, step: [0 mm, 0 mm, 0 mm]}}\n"
	files["assemblies/b.yaml"] = fmt.Sprintf(deep, "c")
	files["assemblies/a.yaml"] = fmt.Sprintf(deep, "b")
	files["assemblies/rig.yaml"] = fmt.Sprintf(deep, "a") + "joints: {j: {screw: screw, through: [x.x.x.d.top]}}\n"
	p := trial.Plan(t, files)
	r := reckon.New(p, reckon.Default(p), nil)
	if spots := r.Spots(p.Assembly("rig"), plan.Word{Text: "x.x.x.d.top"}); len(spots) != 0 {
		t.Errorf("%d spots, want none", len(spots))
	}
	if !r.Tally().Cut {
		t.Error("a machine of 9000³ instances is not said to be cut")
	}
	if kg, _ := r.AssemblyMass(p.Assembly("rig")); kg != 0 {
		t.Errorf("mass %g kg, want 0 under a", kg)
	}
	b := reckon.New(p, reckon.Case{Options: map[string]string{"way": "b"}}, nil)
	if kg, _ := b.AssemblyMass(p.Assembly("rig")); kg < 9000.*9000*9000 {
		t.Errorf("mass %g kg, want at least 9000³", kg)
	}
}

// Assemblies that each hold the next twice weigh 2^n parts without 2^n work.
func TestMassOfDoublingAssemblies(t *testing.T) {
	const n = 40
	files := trial.Files{"parts/all.yaml": "post: {title: Post, made: bought, mass: 1 kg, shape: [{box: [1 mm, 1 mm, 1 mm]}]}\n"}
	for i := range n {
		next := fmt.Sprintf("assembly: a%d", i+1)
		if i == n-1 {
			next = "part: post"
		}
		files[fmt.Sprintf("assemblies/a%d.yaml", i)] = fmt.Sprintf("title: A\nholds: {p: {%s, at: [0 mm, 0 mm, 0 mm]}, q: {%s, at: [0 mm, 0 mm, 0 mm]}}\n", next, next)
	}
	p := trial.Plan(t, files)
	r := reckon.New(p, reckon.Default(p), nil)
	if kg, _ := r.AssemblyMass(p.Assembly("a0")); kg != math.Exp2(n) {
		t.Errorf("mass %g kg, want 2^%d", kg, n)
	}
}
