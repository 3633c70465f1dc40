package risk_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/risk"
	"plansheaf/design/source"
)

// machine is a plan of one assembly with the given parts, uses and hazards.
func machine(t *testing.T, parts, holds, hazards string) *reckon.Reckoning {
	t.Helper()
	files := fstest.MapFS{
		"plan.yaml": {Data: []byte("title: Rig\nmachine: rig\nrevision: A\nmotions:\n" +
			"  stroke: {from: 0 mm, to: 90 mm, about: down}\n  nudge: {from: 0 mm, to: 3 mm, about: a little}\n  swing: {from: 0 deg, to: 80 deg, about: lid up}\n")},
		"parts/p.yaml":        {Data: []byte(parts)},
		"assemblies/rig.yaml": {Data: []byte("title: Rig\nholds:\n" + holds)},
	}
	if hazards != "" {
		files["safety/h.yaml"] = &fstest.MapFile{Data: []byte(hazards)}
	}
	p, found, err := source.Read(files, source.DefaultLimits())
	if err != nil || len(found) > 0 {
		t.Fatal(err, found)
	}
	return reckon.New(p, reckon.Default(p), nil)
}

func TestCalls(t *testing.T) {
	const place = ", at: [0 mm, 0 mm, 0 mm]"
	for _, test := range []struct {
		name, part, moves string
		want              []string // the first kind of each call
	}{
		{name: "mains", part: "has: {voltage: 230 V}", want: []string{risk.Electric}},
		{name: "input of an adapter", part: "has: {voltage: 24 V, input: 230 V}", want: []string{risk.Electric}},
		{name: "60 V", part: "has: {voltage: 60 V}"},
		{name: "a motor's speed", part: "has: {idle_speed: 160 rpm}", want: []string{risk.Entanglement}},
		{name: "fast and strong", part: "has: {speed: 3000 rpm, power: 750 W}", want: []string{risk.Entanglement, risk.Noise}},
		{name: "hot", part: "has: {temperature: 70 degC}", want: []string{risk.Burn}},
		{name: "warm", part: "has: {temperature: 60 degC}"},
		{name: "rise of temperature", part: "has: {temperature: 80 K}"},
		{name: "pressure", part: "has: {pressure: 6 bar}", want: []string{risk.StoredEnergy}},
		{name: "laser", part: "has: {laser_class: 3}", want: []string{risk.Radiation}},
		{name: "laser that is safe", part: "has: {laser_class: 1}"},
		{name: "slides", part: "mass: 100 g", moves: "along: x, by: stroke", want: []string{risk.Crushing}},
		{name: "slides a little", part: "mass: 100 g", moves: "along: x, by: nudge"},
		{name: "moves by nothing", part: "mass: 9 kg", moves: "along: z, by: 40 mm"},
		{name: "hangs", part: "mass: 9 kg", moves: "along: z, by: -stroke", want: []string{risk.Crushing, risk.Falling}},
		{name: "swings", part: "shape: [{cylinder: {d: 9 mm, l: 9 mm}}]", moves: "about: axis, by: swing", want: []string{risk.Crushing}},
		{name: "turns", part: "shape: [{cylinder: {d: 9 mm, l: 9 mm}}]", moves: "about: axis, by: stroke / 4 mm * 1 turn", want: []string{risk.Entanglement}},
	} {
		t.Run(test.name, func(t *testing.T) {
			moves := ""
			if test.moves != "" {
				moves = ", moves: {" + test.moves + "}"
			}
			r := machine(t, fmt.Sprintf("thing: {title: Thing, made: bought, buy: any, %s}\n", test.part), "  thing: {part: thing"+place+moves+"}\n", "")
			var kinds []string
			for _, c := range risk.Calls(r) {
				kinds = append(kinds, c.Kinds[0])
				if c.Subject != "thing" || !c.At.Known() || c.Why == "" {
					t.Errorf("a call that does not say where or why: %+v", c)
				}
			}
			if !slices.Equal(kinds, test.want) {
				t.Errorf("got %v, want %v", kinds, test.want)
			}
			if open := risk.Open(r); len(open) != len(test.want) {
				t.Errorf("%d calls are open without hazards, want %d", len(open), len(test.want))
			}
		})
	}
}

func TestAnswered(t *testing.T) {
	const hazard = "h: {kind: %s, where: %s, harm: It hurts., before: {severity: severe, chance: likely}, measures: [{warning: Keep off.}]}\n"
	for _, test := range []struct {
		name, kind, where string
		answered          bool
	}{
		{name: "the part itself", kind: "electric", where: "lamp", answered: true},
		{name: "what holds it", kind: "electric", where: "rig", answered: true},
		{name: "its use", kind: "electric", where: "rig.top", answered: true},
		{name: "another part", kind: "electric", where: "frame"},
		{name: "another kind", kind: "burn", where: "lamp"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := machine(t, "lamp: {title: Lamp, made: bought, buy: any, has: {voltage: 230 V}}\nframe: {title: Frame, made: bought, buy: any}\n",
				"  top: {part: lamp, at: [0 mm, 0 mm, 0 mm]}\n  frame: {part: frame, at: [0 mm, 0 mm, 0 mm]}\n", fmt.Sprintf(hazard, test.kind, test.where))
			if got := len(risk.Open(r)) == 0; got != test.answered {
				t.Errorf("answered: %v, want %v", got, test.answered)
			}
		})
	}
}

// TestWireCarries holds the table to IEC 60335-1, cross-sections of supply cords: up
// to 3 A 0.5 mm², 6 A 0.75, 10 A 1.0, 16 A 1.5, 25 A 2.5, 32 A 4, 40 A 6, 63 A 10.
// From memory of the standard.
func TestWireCarries(t *testing.T) {
	for _, test := range []struct {
		area, want float64
		ok         bool
	}{
		{area: 0.5, want: 3, ok: true}, {area: 0.75, want: 6, ok: true}, {area: 1, want: 10, ok: true},
		{area: 1.4, want: 10, ok: true}, {area: 1.5, want: 16, ok: true}, {area: 2.5, want: 25, ok: true},
		{area: 4, want: 32, ok: true}, {area: 6, want: 40, ok: true}, {area: 10, want: 63, ok: true},
		{area: 0.1}, {area: 16},
	} {
		got, ok := risk.WireCarries(test.area)
		if ok != test.ok || ok && got != test.want {
			t.Errorf("%g mm²: got %g A, %v; want %g A, %v", test.area, got, ok, test.want, test.ok)
		}
		if !ok {
			continue
		}
		if area, found := risk.WireFor(got); !found || area > test.area {
			t.Errorf("%g A: got %g mm², want at most %g", got, area, test.area)
		}
	}
	if _, ok := risk.WireFor(100); ok {
		t.Error("a wire for 100 A is listed")
	}
}

func TestGrade(t *testing.T) {
	word := func(s string) plan.Word { return plan.Word{Text: s} }
	slight, remote, ok := risk.Grade(plan.Risk{Severity: word("slight"), Chance: word("remote")})
	severe, likely, also := risk.Grade(plan.Risk{Severity: word("severe"), Chance: word("likely")})
	if !ok || !also || slight >= severe || remote >= likely {
		t.Errorf("slight %d, severe %d, remote %d, likely %d", slight, severe, remote, likely)
	}
	if _, _, ok := risk.Grade(plan.Risk{}); ok {
		t.Error("a risk that nobody gave has a grade")
	}
}

func TestDoubleInsulated(t *testing.T) {
	for _, test := range []struct {
		title, ask string
		want       bool
	}{
		{title: "Mains adapter, double-insulated", want: true},
		{title: "Adapter", ask: "any adapter of Protection Class II", want: true},
		{title: "Insulated adapter"},
	} {
		p := &plan.Part{Title: plan.Text{Value: test.title}, Buy: &plan.Buy{AskFor: plan.Text{Value: test.ask}}}
		if got := risk.DoubleInsulated(p); got != test.want {
			t.Errorf("%s: got %v", strings.TrimSpace(test.title+" "+test.ask), got)
		}
	}
}
