package reckon_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// rack is a small machine that has every kind of thing a formula may name.
var rack = trial.Files{
	"plan.yaml": `title: Rack
machine: rack
revision: A
values:
  opening: {is: 180 mm}
  width: {is: 100 mm, from: 60 mm, to: 200 mm}
  bar: {is: 2 bar}
choices:
  drive: {title: Drive, options: {crank: Crank, motor: Motor}, default: motor}
motions:
  stroke: {from: 0 mm, to: opening - 20 mm, about: down}
  travel: {from: 30 mm, to: 60 mm, about: along}
`,
	"materials.yaml": "oak: {title: Oak, density: 700 kg/m^3, has: {toughness: 3 kJ}}\n",
	"stock.yaml": `rod_12: {title: Rod, section: {round: {d: 12 mm}}, material: steel_s235, kerf: 2 mm, has: {hardness: 5}}
rod_m6: {title: Threaded rod M6, section: {thread: M6}, material: steel_s235}
board_10: {title: Board, sheet: 10 mm, material: oak}
`,
	"parts/all.yaml": `post: {title: Post, made: cut, stock: rod_12, length: opening + 20 mm, has: {load: 3 kN}}
spindle: {title: Spindle, made: cut, stock: rod_m6, length: 100 mm}
shelf:
  title: Shelf
  made: sheet
  stock: board_10
  outline: {rectangle: [100 mm, 50 mm]}
  holes:
    rods: {grid: {from: [20 mm, 20 mm], step: [60 mm, 10 mm], count: [2, 2]}, for: M6}
    mid: {at: [50 mm, 10 mm], bore: 8 mm, depth: 4 mm}
    tapped: {at: [50 mm, 35 mm], tap: M8}
belt: {title: Belt, made: bought, loop: {pitch: 3 mm, width: 9 mm, teeth: 140}}
wire: {title: Wire, made: bought, strand: {d: 2 mm, length: 1.5 m}}
cap: {standard: ISO 4762 M8x25 - 8.8}
washer: {standard: ISO 7089 8}
`,
	"assemblies/rack.yaml": `title: Rack
holds:
  posts: {part: post, at: [0 mm, 0 mm, 0 mm], count: 3, step: [50 mm, 0 mm, 0 mm]}
  shelves: {assembly: level, at: [0 mm, 0 mm, 0 mm], count: 2, step: [0 mm, 0 mm, 90 mm]}
  spindle: {part: spindle, at: [0 mm, 0 mm, 0 mm], only: {drive: motor}}
`,
	"assemblies/level.yaml": `title: Level
holds: {board: {part: shelf, at: [0 mm, 0 mm, 0 mm]}}
joints: {hold: {screw: cap, under_head: [washer], through: [board.tapped]}}
has: {limit: 40 N}
`,
	"calcs/press.yaml": `title: Press
given: {force: {is: 4 kN}, area: {is: 2 cm^2}}
find: {pressure: force / area}
`,
	"calcs/motor.yaml": `title: Motor
only: {drive: motor}
given: {speed: {is: 160 rpm}}
find: {feed: speed * spindle.lead / 1 turn}
`,
}

func TestNames(t *testing.T) {
	r := trial.Reckoning(t, rack)
	const cap, washer = 0.0169, 0.00183 // kg: what dealers list, rounded differently by each
	cases := []struct {
		name, formula string
		want, within  float64 // SI; within is a share of want
	}{
		{name: "plan value", formula: "opening", want: 0.180},
		{name: "value whose name is a unit, too", formula: "bar", want: 2e5},
		{name: "motion rests at 0", formula: "stroke", want: 0},
		{name: "motion whose range leaves 0 out rests at from", formula: "travel", want: 0.030},
		{name: "length given by a formula", formula: "post.length", want: 0.200},
		{name: "property of the author's own", formula: "post.load", want: 3000},
		{name: "volume in closed form", formula: "post.volume", want: math.Pi * 0.006 * 0.006 * 0.2},
		{name: "mass is volume times density", formula: "post.mass / post.volume / post.material.density", want: 1},
		{name: "width is along x", formula: "shelf.width", want: 0.1},
		{name: "depth is along y", formula: "shelf.depth", want: 0.05},
		{name: "height is along z", formula: "shelf.height", want: 0.01},
		{name: "thickness of the stock", formula: "shelf.thick", want: 0.01},
		{name: "count of a part", formula: "post.count", want: 3},
		{name: "count through a repeated sub-assembly", formula: "shelf.count", want: 2},
		{name: "count of a fastener in joints", formula: "cap.count", want: 2},
		{name: "count of a pattern", formula: "shelf.rods.count", want: 4},
		{name: "clearance hole for M6, medium: ISO 273", formula: "shelf.rods.diameter", want: 0.0066},
		{name: "bore", formula: "shelf.mid.diameter", want: 0.008},
		{name: "depth of a bore", formula: "shelf.mid.depth", want: 0.004},
		{name: "tap drill of M8", formula: "shelf.tapped.diameter", want: 0.0068},
		{name: "belt length is pitch times teeth", formula: "belt.length", want: 0.42},
		{name: "belt teeth", formula: "belt.teeth", want: 140},
		{name: "wire length", formula: "wire.length", want: 1.5},
		{name: "lead of a threaded bar: M6, ISO 261", formula: "spindle.lead", want: 0.001},
		{name: "mean diameter of M6: ISO 724", formula: "spindle.mean_diameter", want: 0.005350, within: 1e-4},
		{name: "stress area of M6: ISO 898-1", formula: "spindle.stress_area", want: 20.1e-6, within: 2e-3},
		{name: "length of a standard screw", formula: "cap.length", want: 0.025},
		{name: "head of a standard screw: ISO 4762", formula: "cap.head_diameter", want: 0.013},
		{name: "outside of a washer: ISO 7089", formula: "washer.outside", want: 0.016},
		{name: "own material", formula: "shelf.material.density", want: 700},
		{name: "own property of a material", formula: "shelf.material.toughness", want: 3000},
		{name: "stock's kerf", formula: "rod_12.kerf", want: 0.002},
		{name: "stock's section", formula: "rod_12.diameter", want: 0.012},
		{name: "stock's own property", formula: "rod_12.hardness", want: 5},
		{name: "stock's material", formula: "board_10.material.density", want: 700},
		{name: "calculation's given", formula: "press.force", want: 4000},
		{name: "calculation's result", formula: "press.pressure", want: 2e7},
		{name: "roll-up of mass", formula: "level.mass - shelf.mass", want: cap + washer, within: 0.2},
		{name: "roll-up through repeats", formula: "(rack.mass - spindle.mass - 3 * post.mass) / level.mass", want: 2},
		{name: "count of an assembly", formula: "level.count", want: 2},
		{name: "an assembly's own property", formula: "level.limit", want: 40},
		// 160 rpm at 1 mm a turn is 160 mm/min.
		{name: "feed of a lead screw", formula: "motor.feed", want: 0.160 / 60},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expr, ferr := formula.Parse(c.formula)
			if ferr != nil {
				t.Fatal(ferr)
			}
			result, ferr := expr.Eval(r.Scope())
			if ferr != nil {
				t.Fatal(ferr)
			}
			within := math.Max(c.within, 1e-9) * math.Max(math.Abs(c.want), 1e-9)
			if math.Abs(result.Value.SI-c.want) > within {
				t.Errorf("%s = %g, want %g", c.formula, result.Value.SI, c.want)
			}
		})
	}
	trial.Clean(t, r.Findings())
}

// Each fault is one finding, at the words that are wrong; what leans on them stays
// silent.
func TestFaultsInFormulas(t *testing.T) {
	cases := []struct {
		name     string
		files    trial.Files
		rule     string
		at, says string // the words marked; part of message or remedy
	}{
		{name: "unknown value", files: values("a: {is: 2 * openin}\n  b: {is: a + 1 mm}\n  opening: {is: 3 mm}"), rule: "unknown-name", at: "openin", says: `"opening"`},
		{name: "unknown part", files: values("a: {is: posd.length}"), rule: "unknown-name", at: "posd.length", says: `post`},
		{name: "unknown property", files: values("a: {is: post.lenght}"), rule: "unknown-name", at: "post.lenght", says: `"post.length"`},
		{name: "unknown property of stock", files: values("a: {is: rod.densty}"), rule: "unknown-name", at: "rod.densty", says: "rod."},
		{name: "wrong dimension in a sum", files: values("a: {is: 12 mm + 3 N}"), rule: "bad-arithmetic", at: "12 mm + 3 N"},
		{name: "length that is a mass", files: parts("post: {title: P, made: cut, stock: rod, length: 3 kg}"), rule: "wrong-dimension", at: "3 kg", says: "a mass"},
		{name: "end of a range of another kind", files: values("a: {is: 12 mm, from: 3 kg, to: 20 mm}"), rule: "wrong-dimension", at: "3 kg"},
		{name: "two values in a circle", files: values("a: {is: b + 1 mm}\n  b: {is: 2 * a}"), rule: "circular-formula", at: "a", says: "a -> b -> a"},
		{name: "a value that is itself", files: values("a: {is: a}"), rule: "circular-formula", at: "a", says: "a -> a"},
		{
			name: "a length from the part's own mass", files: parts("post: {title: P, made: cut, stock: rod, length: post.mass * 1 mm / 1 kg}"),
			rule: "circular-formula", at: "post.mass", says: "post.mass -> the shape of post",
		},
		{
			name: "a length from the mass of the assembly around it", files: parts("post: {title: P, made: cut, stock: rod, length: rig.mass * 1 mm / 1 kg}"),
			rule: "circular-formula", at: "rig.mass", says: "the shape of post -> rig.mass -> the shape of post",
		},
		{
			name:  "a count from itself",
			files: parts(post).With(trial.Files{"assemblies/rig.yaml": "title: Rig\nholds: {posts: {part: post, at: [0 mm, 0 mm, 0 mm], count: post.count + 1}}\n"}),
			rule:  "circular-formula", at: "post.count", says: "what the machine holds -> post.count -> what the machine holds",
		},
		{
			name: "a material's density from a part of it",
			files: parts("post: {title: P, made: cut, stock: odd_rod, length: 10 mm}").With(trial.Files{
				"stock.yaml":     "odd_rod: {title: Rod, section: {round: {d: 12 mm}}, material: odd}\n",
				"materials.yaml": "odd: {title: Odd, density: 2 * post.material.density}\n",
			}),
			rule: "circular-formula", at: "post.material.density",
		},
		{
			name:  "half a post",
			files: parts(post).With(trial.Files{"assemblies/rig.yaml": "title: Rig\nholds: {posts: {part: post, at: [0 mm, 0 mm, 0 mm], count: 1.5}}\n"}),
			rule:  "wrong-dimension", at: "1.5", says: "whole number",
		},
		{
			name:  "too many posts",
			files: parts(post).With(trial.Files{"assemblies/rig.yaml": "title: Rig\nholds: {posts: {part: post, at: [0 mm, 0 mm, 0 mm], count: 1000000000}}\n"}),
			rule:  "wrong-dimension", at: "1000000000", says: "100000",
		},
		{name: "record of another kind", files: calculation("given: {f: {is: 3 N}}\nfind: {g: 2 * f}\nrecorded: {g: 6 mm}"), rule: "wrong-dimension", at: "6 mm", says: "a force"},
		{name: "record of nothing", files: calculation("given: {f: {is: 3 N}}\nfind: {g: 2 * f}\nrecorded: {h: 6 N}"), rule: "unknown-name", at: "h", says: `"h"`},
		{name: "requirement that is no comparison", files: calculation("given: {f: {is: 3 N}}\nfind: {g: 2 * f}\nrequire: [{that: g}]"), rule: "wrong-dimension", at: "g", says: "comparison"},
		{name: "unknown name in a calculation", files: calculation("given: {force: {is: 3 N}}\nfind: {g: 2 * forse}"), rule: "unknown-name", at: "forse", says: `"force"`},
		{name: "price that is a length", files: parts(post + "  buy: {from: shop, price: 3 mm}\n").With(trial.Files{"suppliers.yaml": "shop: {title: Shop, sells: {}}\n"}), rule: "wrong-dimension", at: "3 mm"},
		{name: "speed times lead without the turn", files: values("a: {is: 160 rpm * 2 mm / 1 s * 0}\n  b: {is: 160 rpm * spindle.lead}"), rule: "turn-left-out", at: "160 rpm * spindle.lead"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := trial.Plan(t, c.files)
			r := reckon.New(p, reckon.Default(p), nil)
			r.All()
			r.Tally()
			found := r.Findings()
			if len(found) != 1 {
				t.Fatalf("%d findings, want one:\n%s", len(found), said(found))
			}
			f := found[0]
			if f.Rule != c.rule {
				t.Errorf("rule %s, want %s: %s", f.Rule, c.rule, f.Message)
			}
			if got := trial.Covered(c.files, f); got != c.at {
				t.Errorf("marks %q, want %q", got, c.at)
			}
			if !strings.Contains(f.Message+f.Remedy, c.says) {
				t.Errorf("says %q, remedy %q: want %q in it", f.Message, f.Remedy, c.says)
			}
		})
	}
}

const post = "post:\n  title: Post\n  made: cut\n  stock: rod\n  length: 100 mm\n"

func said(found []finding.Finding) string {
	var b strings.Builder
	for _, f := range found {
		b.WriteString(f.At.String() + ": " + f.Message + " [" + f.Rule + "]\n")
	}
	return b.String()
}

// parts is a rig with one post, whose parts are given.
func parts(text string) trial.Files {
	return trial.Files{
		"stock.yaml":          "rod: {title: Rod, section: {round: {d: 12 mm}}, material: steel_s235}\nthreaded: {title: Rod M6, section: {thread: M6}, material: steel_s235}\n",
		"parts/all.yaml":      text,
		"assemblies/rig.yaml": "title: Rig\nholds: {post: {part: post, at: [0 mm, 0 mm, 0 mm]}}\n",
	}
}

// values is a rig with plan values.
func values(text string) trial.Files {
	return parts(post + "spindle: {title: S, made: cut, stock: threaded, length: 1 mm}\n").With(trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nvalues:\n  " + text + "\n",
	})
}

func calculation(text string) trial.Files {
	return parts(post).With(trial.Files{"calcs/one.yaml": "title: One\n" + text + "\n"})
}

func TestValueOfAnotherChoice(t *testing.T) {
	files := rack.With(trial.Files{"calcs/sum.yaml": "title: Sum\ngiven: {feed: {is: motor.feed}}\nfind: {twice: 2 * feed}\n"})
	p := trial.Plan(t, files)
	crank := reckon.New(p, reckon.Case{Options: map[string]string{"drive": "crank"}}, nil)
	crank.All()
	found := crank.Findings()
	if len(found) != 1 || found[0].Rule != "value-of-another-choice" || trial.Covered(files, found[0]) != "motor.feed" {
		t.Fatalf("found:\n%swant one value-of-another-choice at motor.feed", said(found))
	}
	if want := `"motor" exists only with drive: motor`; !strings.Contains(found[0].Message, want) {
		t.Errorf("says %q, want %q in it", found[0].Message, want)
	}
	motor := reckon.New(p, reckon.Default(p), nil)
	motor.All()
	trial.Clean(t, motor.Findings())
	if n := crank.Tally().Parts["spindle"]; n != 0 {
		t.Errorf("%d spindles with the crank, want none", n)
	}
	if n := motor.Tally().Parts["spindle"]; n != 1 {
		t.Errorf("%d spindles with the motor, want one", n)
	}
}

// A quantity, a part and a count by choice, under every combination.
func TestByChoice(t *testing.T) {
	files := trial.Files{
		"plan.yaml": `title: Rig
machine: rig
revision: A
values:
  side: {is: {by: tile, small: 90 mm, large: 150 mm}}
choices:
  tile: {title: Tile, options: {small: S, large: L}, default: small}
`,
		"stock.yaml":     "rod: {title: Rod, section: {round: {d: 12 mm}}, material: steel_s235}\n",
		"parts/all.yaml": "short: {title: A, made: cut, stock: rod, length: side}\nlong: {title: B, made: cut, stock: rod, length: 2 * side}\n",
		"assemblies/rig.yaml": `title: Rig
holds:
  bars: {part: {by: tile, small: short, large: long}, at: [0 mm, 0 mm, 0 mm], count: {by: tile, small: 2, large: 5}}
`,
	}
	p := trial.Plan(t, files)
	for _, c := range []struct {
		tile         string
		side         float64
		short, longs int
	}{{"small", 0.09, 2, 0}, {"large", 0.15, 0, 5}} {
		t.Run(c.tile, func(t *testing.T) {
			r := reckon.New(p, reckon.Case{Options: map[string]string{"tile": c.tile}}, nil)
			r.All()
			trial.Clean(t, r.Findings())
			if v, _ := r.Show("side"); math.Abs(v.SI-c.side) > 1e-12 {
				t.Errorf("side is %g m, want %g", v.SI, c.side)
			}
			if got := r.Tally().Parts; got["short"] != c.short || got["long"] != c.longs {
				t.Errorf("counts %v, want %d short and %d long", got, c.short, c.longs)
			}
		})
	}
}

func TestRangesAtBothEnds(t *testing.T) {
	p := trial.Plan(t, rack)
	want := map[reckon.End]float64{reckon.AsGiven: 0.1, reckon.Low: 0.06, reckon.High: 0.2}
	for end, metres := range want {
		r := reckon.New(p, reckon.Case{Options: p.Defaults(), Ends: map[string]reckon.End{"width": end}}, nil)
		if v, err := r.Show("width"); err != nil || math.Abs(v.SI-metres) > 1e-12 {
			t.Errorf("end %d: width is %v, want %g m", end, v, metres)
		}
	}
}

func TestCases(t *testing.T) {
	three := `title: Rig
machine: rig
revision: A
values: {w: {is: 2 mm, from: 1 mm, to: 3 mm}}
choices:
  a: {title: A, options: {x: X, y: Y, z: Z}, default: y}
  b: {title: B, options: {p: P, q: Q}, default: q}
`
	p := trial.Plan(t, trial.Files{"plan.yaml": three})
	cases, all := reckon.Cases(p, 64)
	if want := 6 + 6*2; len(cases) != want || !all {
		t.Errorf("%d cases, all %v: want %d, all", len(cases), all, want)
	}
	if !cases[0].IsDefault(p) {
		t.Errorf("the first case is %q, not the plan's own", cases[0].Key(p))
	}
	seen := map[string]bool{}
	for _, c := range cases {
		if seen[c.Key(p)] {
			t.Errorf("the case %q comes twice", c.Key(p))
		}
		seen[c.Key(p)] = true
	}
	for limit := 1; limit < 18; limit++ {
		few, all := reckon.Cases(p, limit)
		if len(few) > limit || all || !few[0].IsDefault(p) {
			t.Errorf("limit %d: %d cases, all %v, first %q", limit, len(few), all, few[0].Key(p))
		}
	}
}
