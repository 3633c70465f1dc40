package layout_test

import (
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/reckon"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
)

// A machine of 500 parts and 2495 screws: placed anew for each case, its solids built
// once; and every body of it listed.
func BenchmarkLayout(b *testing.B) {
	p, _, err := source.Read(generated.Plan(500), source.DefaultLimits())
	if err != nil {
		b.Fatal(err)
	}
	r := reckon.New(p, reckon.Default(p), nil)
	r.All()
	b.Run("place", func(b *testing.B) {
		for b.Loop() {
			layout.Of(r)
		}
	})
	b.Run("pieces", func(b *testing.B) {
		for b.Loop() {
			if n := len(layout.Of(r).Pieces(p.Assembly(p.Machine.Text))); n < 2995 {
				b.Fatalf("%d pieces", n)
			}
		}
	})
}
