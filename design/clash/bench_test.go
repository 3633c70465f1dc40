package clash_test

import (
	"fmt"
	"io/fs"
	"os"
	"testing"

	"plansheaf/design/clash"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
)

func read(t testing.TB, fsys fs.FS) *plan.Plan {
	t.Helper()
	p, found, err := source.Read(fsys, source.DefaultLimits())
	if err != nil || len(found) > 0 {
		t.Fatal(err, found)
	}
	return p
}

// BenchmarkOf looks whole machines over in their own case, laid out beforehand; nothing
// is kept from one run to the next.
func BenchmarkOf(b *testing.B) {
	plans := map[string]fs.FS{"example": os.DirFS("../../example-plan")}
	names := []string{"example"}
	for _, n := range []int{125, 500} {
		name := fmt.Sprintf("parts=%d", n)
		names, plans[name] = append(names, name), generated.Plan(n)
	}
	for _, name := range names {
		p := read(b, plans[name])
		r := reckon.New(p, reckon.Default(p), nil)
		l := layout.Of(r)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				clash.Of(r, l, joint.Of(r, l), clash.NewStore(nil))
			}
		})
	}
}
