package check_test

import (
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/joint"
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

// BenchmarkMachine measures joints, clashes and the order of work with its access, each
// by itself and all together, on a plan that is worked out: 500 parts have 2495 screws
// and 187 steps.
func BenchmarkMachine(b *testing.B) {
	all := map[string]func(s *check.Situation){
		"joints": func(s *check.Situation) {
			m := joint.Of(s.Reckoning, s.Layout)
			for _, a := range s.Reckoning.Plan.Assemblies {
				for _, j := range a.Joints {
					for _, one := range m.Stacks(a, j) {
						m.MissOf(&one)
						m.HeadRing(&one)
					}
				}
			}
		},
		"clashes":  func(s *check.Situation) { s.Clashes() },
		"sequence": func(s *check.Situation) { s.Sequence() },
	}
	for _, n := range []int{125, 500} {
		p := read(b, generated.Plan(n))
		for _, names := range [][]string{{"joints"}, {"clashes"}, {"sequence"}, {"joints", "clashes", "sequence"}} {
			b.Run(fmt.Sprintf("%s/parts=%d", strings.Join(names, "+"), n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					b.StopTimer()
					s := check.Out(p).Default()
					b.StartTimer()
					for _, name := range names {
						all[name](s)
					}
				}
			})
		}
	}
}
