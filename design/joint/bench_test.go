package joint_test

import (
	"fmt"
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/reckon"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
)

// BenchmarkStacks measures every place of every joint of a placed machine: 500 parts
// have 2495 screws.
func BenchmarkStacks(b *testing.B) {
	for _, plates := range []int{125, 500} {
		p, found, err := source.Read(generated.Plan(plates), source.DefaultLimits())
		if err != nil || len(found) > 0 {
			b.Fatal(err, found)
		}
		r := reckon.New(p, reckon.Default(p), nil)
		l := layout.Of(r)
		for _, a := range p.Assemblies {
			l.Pieces(a) // builds the solids
		}
		b.Run(fmt.Sprintf("parts=%d", plates), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				m := joint.Of(r, l)
				for _, a := range p.Assemblies {
					for _, j := range a.Joints {
						for _, s := range m.Stacks(a, j) {
							m.MissOf(&s)
							m.HeadRing(&s)
						}
					}
				}
			}
		})
	}
}
