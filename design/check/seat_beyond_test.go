package check_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/source/fixture"
)

// A block with a boss of 6 mm below, seated by its bottom: the largest face that looks
// down, above the boss, lies on the base, and the boss is drawn into it.
func TestSeatedByAFaceThatIsNotOutermost(t *testing.T) {
	for _, row := range []struct {
		name, gap string
		told      bool
	}{{"by its largest face", "", true}, {"by its lowest", ", gap: 6 mm", false}} {
		files := fstest.MapFS{
			"parts/p.yaml": {Data: []byte(`base: {title: Base, made: bought, buy: any, shape: [{box: [60 mm, 60 mm, 10 mm]}]}
block: {title: Block, made: bought, buy: any, shape: [{box: [50 mm, 50 mm, 8 mm], at: [0 mm, 0 mm, 6 mm]}, {box: [10 mm, 10 mm, 6 mm], at: [15 mm, 15 mm, 0 mm]}]}
`)},
			"assemblies/rig.yaml": {Data: []byte("title: Rig\nholds:\n  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  block: {part: block, seat: {mine: bottom, onto: base.top" + row.gap + "}}\n")},
		}
		told := false
		for _, f := range run(t, fixture.Complete(files)) {
			for _, also := range f.Also {
				told = told || f.Rule == "bodies-overlap" && strings.Contains(also.Say, "6 mm of it stand out")
			}
		}
		if told != row.told {
			t.Errorf("%s: told %v, want %v", row.name, told, row.told)
		}
	}
}
