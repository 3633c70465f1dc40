package scene_test

import (
	"os"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/source"
	"plansheaf/design/way"
	"plansheaf/publish/scene"
)

// pressed is the example's whole machine, about 180 pieces in 40 items.
func pressed(b *testing.B) *check.Work {
	b.Helper()
	p, _, err := source.Read(os.DirFS("../../example-plan"), source.DefaultLimits())
	if err != nil {
		b.Fatal(err)
	}
	return check.Out(p)
}

func BenchmarkTogether(b *testing.B) {
	w := pressed(b)
	a, s := w.Plan.Assembly(w.Plan.Machine.Text), w.Default()
	items := scene.Items(s.Reckoning, a)
	for b.Loop() {
		if _, err := scene.NewStudio(way.NewMemory()).Together(s.Layout, a, s.Case.Options, items); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkExploded(b *testing.B) {
	w := pressed(b)
	a, s := w.Plan.Assembly(w.Plan.Machine.Text), w.Default()
	items := scene.Items(s.Reckoning, a)
	for b.Loop() {
		if _, err := scene.NewStudio(way.NewMemory()).Exploded(s.Layout, a, s.Case.Options, items); err != nil {
			b.Fatal(err)
		}
	}
}

// The steps of the whole machine: a picture each.
func BenchmarkSteps(b *testing.B) {
	w := pressed(b)
	a, s := w.Plan.Assembly(w.Plan.Machine.Text), w.Default()
	for b.Loop() {
		if _, err := scene.NewStudio(way.NewMemory()).Steps(s.Layout, a, s.Case.Options, all); err != nil {
			b.Fatal(err)
		}
	}
}
