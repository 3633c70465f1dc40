package publish

import (
	"fmt"
	"os"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/source"
	"plansheaf/publish/compose"
	"plansheaf/publish/inspect/overlap"
	"plansheaf/publish/sheet"
)

// TestSheetsOfTheExampleAreClear is the overlap audit over every sheet of the example,
// as it is, and as a draft with the other projection and units.
func TestSheetsOfTheExampleAreClear(t *testing.T) {
	read, _, err := source.Read(os.DirFS("../example-plan"), source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	w := check.Out(read)
	plain := compose.Plain(w)
	count := 0
	for _, one := range shapes(w) {
		if !Made(one.part) {
			continue
		}
		for _, other := range []bool{false, true} {
			count++
			r := request(w.Default().Reckoning, one, plain, other)
			if other {
				r.Projection, r.System = sheet.FirstAngle-r.Projection, sheet.Inch-r.System
			}
			t.Run(fmt.Sprintf("%s%s/other %v", one.part.Part.ID.Text, one.mark, other), func(t *testing.T) {
				t.Parallel()
				result, err := sheet.Draw(*r)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range result.Faults {
					t.Errorf("fault: %s", f.Message)
				}
				for _, f := range overlap.Faults(result.Picture) {
					t.Error(f)
				}
			})
		}
	}
	if count < 60 {
		t.Errorf("%d sheets audited", count)
	}
}
