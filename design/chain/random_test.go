package chain_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// A rung is one part of a tower: by how much the chain rises or falls in it, with the
// limits of that size.
type rung struct {
	size, lower, upper float64 // mm
	up                 bool
	over               bool // the part stands on its head
}

func (r rung) step() float64 {
	if r.up {
		return r.size
	}
	return -r.size
}

// tower is a plan whose parts are stacked up and down, so that the chain gap goes
// through each of them once: plain blocks where the chain goes on, stepped ones where
// it turns round. turn lays the whole stack into the machine.
func tower(rungs []rung, turn, along string) trial.Files {
	var parts, holds strings.Builder
	var passed []string
	z, out := 0.0, 1.0 // where the chain is, and which way the face looks that it lies on
	for i, r := range rungs {
		size := fmt.Sprintf("%.4f mm +%.4f/-%.4f mm", r.size, r.upper, -r.lower)
		way := r.step() / r.size
		turned := ""
		if r.over {
			turned = ", turn: x 180 deg"
		}
		enter, leave, low := "bottom", "top", z
		if way == out { // on through a plain block, from its one end to the other
			fmt.Fprintf(&parts, "p%d: {title: Block %d, made: machined, material: steel, shape: [{box: [20 mm, 20 mm, %s]}]}\n", i, i, size)
			if way < 0 {
				enter, leave, low = "top", "bottom", z-r.size
			}
			if r.over {
				enter, leave = leave, enter
			}
		} else { // in under a lip, or on to a step, and out at the foot, which looks the same way as the face below it
			const lip = 5.0
			fmt.Fprintf(&parts, "p%d: {title: Step %d, made: machined, material: steel, shape: [{box: [10 mm, 20 mm, %s]}, {box: [20 mm, 20 mm, %g mm], at: [0 mm, 0 mm, %.4f mm], name: lip}]}\n", i, i, size, lip, r.size)
			enter, leave, turned = "lip", "bottom", ""
			low = z - r.size
			if way > 0 {
				turned, low = ", turn: x 180 deg", z-lip
			}
			out = way
		}
		fmt.Fprintf(&holds, "  p%d: {part: p%d, at: [0 mm, 0 mm, %.4f mm]%s}\n", i, i, low, turned)
		passed = append(passed, fmt.Sprintf("stack.p%d.%s", i, enter), fmt.Sprintf("stack.p%d.%s", i, leave))
		z += r.step()
	}
	for i, f := range passed { // the end of the lip where the chain comes in
		if strings.HasSuffix(f, ".lip") {
			towards := "-" + along
			if rungs[i/2].up {
				towards = along
			}
			passed[i] = fmt.Sprintf("{feature: %s, towards: %s}", f, strings.TrimPrefix(towards, "--"))
		}
	}
	last := len(passed) - 1
	return trial.Files{
		"plan.yaml":             rig,
		"parts/p.yaml":          parts.String(),
		"assemblies/stack.yaml": "title: Stack\nholds:\n" + holds.String(),
		"assemblies/rig.yaml":   "title: Rig\nholds:\n  stack: {assembly: stack, at: [7 mm, 11 mm, 13 mm]" + turn + "}\n",
		"calcs/gap.yaml":        fmt.Sprintf("title: Gap\nchain:\n  along: %s\n  from: %s\n  through: [%s]\n  to: %s\n", along, passed[0], strings.Join(passed[1:last], ", "), passed[last]),
	}
}

// lays are ways to lay a stack into the machine, and along what it then goes up.
var lays = []struct{ turn, along string }{
	{"", "z"}, {", turn: y 90 deg", "x"}, {", turn: y -90 deg", "-x"}, {", turn: x 90 deg", "-y"}, {", turn: x -90 deg", "y"}, {", turn: x 180 deg", "-z"},
}

func someRungs(source *rand.Rand, n int) []rung {
	rungs := make([]rung, n)
	for i := range rungs {
		rungs[i] = rung{
			size: float64(10+source.Intn(400)) / 8, lower: -float64(source.Intn(20)) / 100, upper: float64(source.Intn(20)) / 100,
			up: i == 0 || source.Intn(2) == 0, over: source.Intn(2) == 0,
		}
		if rungs[i].lower == 0 && rungs[i].upper == 0 {
			rungs[i].upper = 0.05
		}
	}
	return rungs
}

// Of random chains the worst case is that of all corners, the statistical spread that
// of drawing sizes at random, and each sense the way in which the gap of the placed
// machine moves when that size alone grows and the rest follows.
func TestRandomChains(t *testing.T) {
	source := rand.New(rand.NewSource(7))
	for round := range 24 {
		rungs := someRungs(source, 2+source.Intn(9))
		lay := lays[round%len(lays)]
		report := closed(t, tower(rungs, lay.turn, lay.along))
		nominal := 0.0
		for _, r := range rungs {
			nominal += r.step()
		}
		low, high := corners(rungs)
		g := report.Gap
		for _, c := range []struct {
			what      string
			got, want float64
		}{{"nominal", g.Nominal, nominal}, {"measured", report.Measured, nominal}, {"low", g.Low, low}, {"high", g.High, high}} {
			if math.Abs(c.got-c.want) > 1e-6 {
				t.Errorf("round %d, %s: %s is %.6f, want %.6f", round, lay.along, c.what, c.got, c.want)
			}
		}
		mean, spread := drawn(source, rungs)
		if math.Abs(g.Mean-mean) > 0.03*spread || math.Abs(g.Spread-spread) > 0.03*spread {
			t.Errorf("round %d: %.4f ± %.4f statistically, drawn %.4f ± %.4f", round, g.Mean, g.Spread, mean, spread)
		}
		shares(t, report.Contributors)
		const grows = 0.25
		i := source.Intn(len(rungs))
		path := fmt.Sprintf("stack.p%d", i)
		rungs[i].size += grows
		moved := closed(t, tower(rungs, lay.turn, lay.along)).Measured - nominal
		for _, c := range report.Contributors {
			if c.Path == path && math.Abs(c.Sense*grows-moved) > 1e-6 {
				t.Errorf("round %d: %s has the sense %g, the gap moves by %g of %g", round, path, c.Sense, moved, grows)
			}
		}
	}
}

// corners are the least and the largest gap over all corners of the sizes' limits.
func corners(rungs []rung) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for corner := range 1 << len(rungs) {
		gap := 0.0
		for i, r := range rungs {
			r.size += r.lower
			if corner>>i&1 == 1 {
				r.size += r.upper - r.lower
			}
			gap += r.step()
		}
		low, high = math.Min(low, gap), math.Max(high, gap)
	}
	return low, high
}

// drawn is the gap's mean and three standard deviations over sizes drawn at random,
// each normal with its limits at three.
func drawn(source *rand.Rand, rungs []rung) (mean, spread float64) {
	const draws = 20_000
	var sum, squares float64
	for range draws {
		gap := 0.0
		for _, r := range rungs {
			r.size += (r.lower+r.upper)/2 + source.NormFloat64()*(r.upper-r.lower)/6
			gap += r.step()
		}
		sum += gap
		squares += gap * gap
	}
	mean = sum / draws
	return mean, 3 * math.Sqrt(squares/draws-mean*mean)
}
