package check_test

import (
	"fmt"
	"io/fs"
	"os"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/plan"
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

// TestGeneratedPlanIsClean guards against alarms that only many parts raise.
func TestGeneratedPlanIsClean(t *testing.T) {
	for _, f := range run(t, generated.Plan(60)) {
		t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
	}
}

// BenchmarkRules measures the rules alone, on a plan that is read and worked out.
func BenchmarkRules(b *testing.B) {
	plans := map[string]fs.FS{"example": os.DirFS("../../example-plan")}
	names := []string{"example"}
	for _, n := range []int{125, 500} {
		name := fmt.Sprintf("parts=%d", n)
		names, plans[name] = append(names, name), generated.Plan(n)
	}
	for _, name := range names {
		p := read(b, plans[name])
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				b.StopTimer()
				w := check.Out(p)
				b.StartTimer()
				check.Run(w, nil)
			}
		})
	}
}
