package compose_test

import (
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
	"plansheaf/publish/page"
)

// A step says first how the work is laid and what it weighs, the next ones how it still
// lies; a clamp's own tool stands in its step's row.
func TestStepsSayHowTheWorkLies(t *testing.T) {
	plan := func(language string) trial.Files {
		return trial.Files{
			"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nlanguage: " + language + "\n",
			"parts/p.yaml": `shaft: {title: Shaft, made: bought, mass: 4 kg, shape: [{cylinder: {d: 12 mm h9, l: 60 mm}, name: body}]}
collar: {title: Clamping collar, made: bought, mass: 1 kg, shape: [{cylinder: {d: 28 mm, l: 11 mm}}], holes: {bore: {at: [14 mm, 14 mm], bore: 12 mm}}, fastener: {clamp: 12 mm, closes: 0.4 mm, tool: hex key 3 mm}}
`,
			"assemblies/rig.yaml": `title: Rig
holds: {shaft: {part: shaft, at: [8 mm, 8 mm, -20 mm]}, collar: {part: collar, at: [0 mm, 0 mm, 0 mm]}}
joints: {stop: {grip: shaft.body, by: collar.bore}}
steps:
  lay: {title: Lay, adds: [shaft], text: T}
  turn: {title: Turn, rests_on: back, adds: [collar], text: T}
  fix: {title: Fix, fastens: [stop], text: T}
  end: {title: End, rests_on: bottom, text: T}
`,
		}
	}
	for language, want := range map[string][]string{
		"en": {"Turn: First Lay the work on its back, 4 kg", "Fix: The work lies on its back", "Fix: stop | 1 | Clamping collar |  | hex key 3 mm | firm", "End: First Stand the work upright, 5 kg"},
		"de": {"Turn: Zuerst Die Baugruppe auf die Rückseite legen, 4 kg", "Fix: Die Baugruppe liegt auf der Rückseite", "Fix: stop | 1 | Clamping collar |  | Innensechskantschlüssel 3 mm | fest", "End: Zuerst Die Baugruppe aufrecht stellen, 5 kg"},
	} {
		var got []string
		doc := document(t, check.Out(trial.Plan(t, plan(language))))
		each(pageOf(t, doc, "build/rig").Blocks, func(s page.Step) {
			for _, f := range s.Facts {
				for _, word := range want {
					if label, _, _ := strings.Cut(f.Label, " "); strings.Contains(word, ": "+label) && strings.HasPrefix(word, s.Title) {
						got = append(got, s.Title+": "+f.Label+" "+said(f.Words, nil))
						break
					}
				}
			}
			if s.Screws != nil {
				got = append(got, s.Title+": "+strings.Join(table(s.Screws.Rows), "; "))
			}
		})
		same(t, language, got, want)
	}
}
