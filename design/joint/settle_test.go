package joint_test

import (
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// The shortest listed screw that serves for every value and choice is taken: the lid is
// 8 mm, or from 6 to 14 mm; the thread in steel wants 6 and has 20 behind it.
func TestSettle(t *testing.T) {
	const values = "values: {thick: {is: 8 mm, about: thickness, from: 6 mm, to: 14 mm}}\nchoices: {lid: {title: Lid, options: {thin: Thin, thick: Thick}, default: thin}}\n"
	cases := []struct {
		name, lengths, thick, screw, want, rule string
	}{
		{name: "shortest of those that serve", lengths: "12 16 20 25", thick: "8 mm", screw: "fit ISO 4762 M6", want: "m6x16"},
		{name: "both ends of a range", lengths: "12 16 20 25", thick: "thick", screw: "fit ISO 4762 M6 - 8.8", want: "m6x20"},
		{name: "each choice", lengths: "16 20 25", thick: "{by: lid, thin: 8 mm, thick: 18 mm}", screw: "fit ISO 4762 M6", want: "m6x25"},
		{name: "none serves: the longest listed", lengths: "10 12", thick: "8 mm", screw: "fit ISO 4762 M6", want: "m6x12"},
		{name: "of its class", lengths: "16", thick: "8 mm", screw: "fit ISO 4762 M6 - 12.9", rule: "fit-not-listed"},
		{name: "of its thread", lengths: "16", thick: "8 mm", screw: "fit ISO 4762 M8", rule: "fit-not-listed"},
		{name: "no standard", lengths: "16", thick: "8 mm", screw: "fit ISO 9999 M8", rule: "fit-not-listed"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			parts := "lid: {title: Lid, made: machined, material: steel_s235, shape: [{box: [40 mm, 40 mm, " + c.thick + "]}], holes: {h: {at: [20 mm, 20 mm], for: M6}}}\n" +
				plate("base", 20, "h: {at: [20 mm, 20 mm], tap: M6}", "steel_s235")
			length := ""
			for _, r := range c.lengths + " " {
				if r != ' ' {
					length += string(r)
					continue
				}
				parts += "m6x" + length + ": {standard: ISO 4762 M6x" + length + " - 8.8}\n"
				length = ""
			}
			p := trial.Plan(t, trial.Files{
				"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n" + values, "parts/all.yaml": parts,
				"assemblies/rig.yaml": "title: Rig\nholds: {base: {part: base, at: [0 mm, 0 mm, 0 mm]}, lid: {part: lid, at: [0 mm, 0 mm, 20 mm]}}\njoints: {hold: {screw: " + c.screw + ", through: [lid.h, base.h]}}\n",
			})
			all, _ := reckon.Cases(p, 64)
			found := joint.Settle(p, all, reckon.NewShapes())
			rule := ""
			if len(found) > 0 {
				rule = found[0].Rule
			}
			chosen, _ := p.Assembly("rig").Joint("hold").Fastener.Pick(plan.Selection{})
			if chosen.Text != c.want || rule != c.rule {
				t.Errorf("chose %q, found %q; want %q, %q", chosen.Text, rule, c.want, c.rule)
			}
			if len(found) == 0 { // asked again, it chooses the same
				joint.Settle(p, all, reckon.NewShapes())
				if again, _ := p.Assembly("rig").Joint("hold").Fastener.Pick(plan.Selection{}); again != chosen {
					t.Errorf("chose %q at first, then %q", chosen.Text, again.Text)
				}
			}
		})
	}
}
