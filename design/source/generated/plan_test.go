package generated_test

import (
	"fmt"
	"testing"

	"plansheaf/design/source"
	"plansheaf/design/source/generated"
)

// TestPlanReadsClean checks sizes at the edges of a block.
func TestPlanReadsClean(t *testing.T) {
	for _, plates := range []int{0, 2, 24, 25, 48, 49, 125} {
		t.Run(fmt.Sprint(plates), func(t *testing.T) {
			p, found, err := source.Read(generated.Plan(plates), source.DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range found {
				t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
			}
			joints := 0
			for _, a := range p.Assemblies {
				joints += len(a.Joints)
			}
			if want := max(plates, 2); len(p.Parts) != want+1 || joints != want-1 {
				t.Errorf("%d parts and %d joints, want %d and %d", len(p.Parts), joints, want+1, want-1)
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	for _, plates := range []int{125, 500} {
		files := generated.Plan(plates)
		b.Run(fmt.Sprintf("%d-parts", plates), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, found, err := source.Read(files, source.DefaultLimits()); err != nil || len(found) > 0 {
					b.Fatal(err, found)
				}
			}
		})
	}
}
