package reckon_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

const mitreStock = `
flat: {title: Flat bar, section: {rectangle: {size: [40 mm, 20 mm]}}, material: steel_s235, sold: [{length: 2000 mm, price: 9 EUR}], buy: any}
slot: {title: Slotted bar, section: {slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9.2 mm, pocket: 16 mm, core: 6.8 mm}}, material: aluminium_6063, mass: 0.85 kg/m, sold: [{length: 2000 mm, price: 9 EUR}], buy: any}
board: {title: Board, sheet: 10 mm, material: steel_s235, sold: [{size: [200 mm, 100 mm], price: 9 EUR}], buy: any}
`

// A mitred bar weighs what a square one of its mean length does, whether its mass comes
// from its density or from what its stock weighs a metre.
func TestMitredMasses(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{"stock.yaml": mitreStock, "parts/p.yaml": `
frame: {title: F, made: cut, stock: flat, length: 400 mm, mitre: {start: 45 deg, end: 45 deg, long: front}}
brace: {title: B, made: cut, stock: slot, length: 200 mm, lies: z, mitre: {start: 45 deg, end: 30 deg, long: [left, right]}}
leg:   {title: L, made: cut, stock: slot, length: 400 mm - 100 mm, mitre: {end: 45 deg, long: top}, holes: {a: {face: front, at: [50 mm, 15 mm], bore: 5 mm}}}
`})
	steel := r.Material("steel_s235").Density
	for _, c := range []struct {
		id   string
		want float64 // kg
	}{
		{"frame", 0.040 * 0.020 * (0.400 - 0.040) * steel},
		{"brace", 0.85 * (0.200 - 0.015 - 0.015*math.Tan(math.Pi/6))},
	} {
		if got := r.Part(c.id); !got.Weighed || math.Abs(got.Mass-c.want) > 1e-9 {
			t.Errorf("%s weighs %.9g kg, want %.9g", c.id, got.Mass, c.want)
		}
	}
	if leg := r.Part("leg"); !(leg.Mass < 0.85*0.285) || leg.Mass < 0.8*0.285 {
		t.Errorf("the drilled leg weighs %g kg, a little less than %g is right", leg.Mass, 0.85*0.285)
	}
	trial.Clean(t, r.Findings())
}

func TestMitresThatCannotBe(t *testing.T) {
	for _, c := range []struct{ name, part, message, covers string }{
		{"too steep", "stock: flat, length: 400 mm, mitre: {start: 85 deg, long: front}", "a mitre of 85° is out of range", "85 deg"},
		{"an end keeps no length", "stock: flat, length: 400 mm, mitre: {start: 45 deg, long: left}", `is "left", but the sides along the bar are front, back, bottom and top`, "left"},
		{"mitres meet", "stock: flat, length: 70 mm, mitre: {start: 45 deg, end: 45 deg, long: front}", "mitres take 80 mm", "45 deg"},
		{"no angle", "stock: flat, length: 70 mm, mitre: {start: 45 mm, long: front}", "angle", "45 mm"},
		{"no bar", "stock: board, length: 70 mm, outline: {rectangle: [50 mm, 40 mm]}, mitre: {start: 45 deg, long: front}", "only a part that is cut from a bar", "{start: 45 deg, long: front}"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := trial.Files{"stock.yaml": mitreStock, "parts/p.yaml": "it: {title: It, made: cut, " + c.part + "}\n"}
			r := trial.Reckoning(t, files)
			r.Part("it")
			found := r.Findings()
			if len(found) != 1 || !strings.Contains(found[0].Message, c.message) || trial.Covered(files, found[0]) != c.covers {
				for _, f := range found {
					t.Errorf("%q at %q", f.Message, trial.Covered(files, f))
				}
				t.Errorf("want %q at %q", c.message, c.covers)
			}
		})
	}
}

// What a mitre must say is found when the plan is read.
func TestMitresThatSayTooLittle(t *testing.T) {
	for _, c := range []struct{ name, mitre, rule string }{
		{"no side", "{start: 45 deg}", "missing-field"},
		{"no angle", "{long: front}", "missing-field"},
		{"three sides", "{start: 45 deg, long: [front, back, top]}", "wrong-kind"},
		{"no such side", "{start: 45 deg, long: above}", "unknown-word"},
	} {
		_, found := trial.Read(t, trial.Files{"stock.yaml": mitreStock, "parts/p.yaml": "it: {title: It, made: cut, stock: flat, length: 1 m, mitre: " + c.mitre + "}\n"})
		if len(found) != 1 || found[0].Rule != c.rule {
			t.Errorf("%s: %v, want %s", c.name, found, c.rule)
		}
	}
}
