package check_test

import (
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
)

// Counts in texts are compared in English and in German; what a pack holds is compared
// with packs, not with what the machine holds.
func TestCountsInTexts(t *testing.T) {
	rig := trial.Files{
		"suppliers.yaml": "dealer: {title: Dealer, sells: {cap: {pack: 25, price: 6 EUR}}}\n",
		"parts/p.yaml": `cap: {standard: ISO 4762 M6x20 - 8.8}
plate: {title: Grundplatte, made: bought, buy: any, shape: [{box: [90 mm, 9 mm, 9 mm]}], holes: {h: {line: {from: [9 mm, 4 mm], step: [20 mm, 0 mm], count: 4}, for: M6}}}
post: {title: Pfosten, made: bought, buy: any, shape: [{box: [9 mm, 9 mm, 90 mm]}], holes: {h: {at: [4 mm, 4 mm], tap: M6}}}
foot: {title: Gummifuß, made: bought, buy: any, shape: [{box: [9 mm, 9 mm, 9 mm]}]}
`,
	}
	cases := []struct{ name, language, text, want string }{
		{name: "right", language: "de", text: "Stelle die vier Pfosten auf und drehe die vier Schrauben ein."},
		{name: "posts", language: "de", text: "Stelle die drei Pfosten auf.", want: "the text says 3 pfosten, here are 4"},
		{name: "more than there are", language: "de", text: "Drehe acht Schrauben ein.", want: "the text says 8 schrauben, here are 4"},
		{name: "a changed vowel", language: "de", text: "Klebe die drei Gummifüße an.", want: "the text says 3 gummifüße, here are 2"},
		{name: "some of them", language: "de", text: "Nimm zwei Schrauben."},
		{name: "both of four", language: "de", text: "Drehe beide Schrauben ein.", want: "the text says 2 schrauben, here are 4"},
		{name: "a pack", language: "de", text: "Öffne eine Packung zu 25 Schrauben."},
		{name: "another pack", language: "de", text: "Öffne eine Packung zu 50 Schrauben.", want: "the text says 50 schrauben a pack, here are 25"},
		{name: "a pack in English", language: "en", text: "Open a pack of 25 M6 screws."},
		{name: "another pack in English", language: "en", text: "Open a pack of 50 M6 screws.", want: "the text says 50 M6 screws a pack, here are 25"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := rig.With(trial.Files{
				"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\nlicense: MIT\ncurrency: EUR\nlanguage: " + c.language + "\n",
				"assemblies/rig.yaml": `title: Rig
holds:
  plate: {part: plate, at: [0 mm, 0 mm, 90 mm]}
  posts: {part: post, at: [5 mm, 0 mm, 0 mm], count: 4, step: [20 mm, 0 mm, 0 mm]}
  feet: {part: foot, at: [5 mm, 0 mm, -9 mm], count: 2, step: [20 mm, 0 mm, 0 mm]}
joints:
  top: {screw: cap, through: [plate.h, posts.h]}
steps:
  stand: {title: Stand, adds: [plate, posts, feet], fastens: [top], time: 9 min, text: "` + c.text + `"}
`,
			})
			var got []string
			for _, f := range check.Run(check.Out(trial.Plan(t, files)), nil) {
				if f.Rule == "count-differs" {
					got = append(got, f.Message)
				}
			}
			if is := strings.Join(got, "; "); is != c.want {
				t.Errorf("found %q, want %q", is, c.want)
			}
		})
	}
}
