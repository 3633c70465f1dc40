package main

import (
	"fmt"
	"io/fs"
	"os"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
	"plansheaf/publish"
)

// checked reads and checks a plan as the commands do.
func checked(b *testing.B, fsys fs.FS) (*check.Work, []finding.Finding) {
	b.Helper()
	p, read, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		b.Fatal(err)
	}
	w := check.Out(p)
	return w, check.Run(w, read)
}

// plans are what is measured: the example, and generated plans of 125 and 500
// parts with five fasteners to a part.
func plans() []struct {
	name string
	fsys fs.FS
} {
	list := []struct {
		name string
		fsys fs.FS
	}{{"example", os.DirFS("../../example-plan")}}
	for _, n := range []int{125, 500} {
		list = append(list, struct {
			name string
			fsys fs.FS
		}{fmt.Sprintf("parts=%d", n), generated.Plan(n)})
	}
	return list
}

func BenchmarkCheck(b *testing.B) {
	for _, p := range plans() {
		b.Run(p.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				checked(b, p.fsys)
			}
		})
	}
}

func BenchmarkPublish(b *testing.B) {
	for _, p := range plans() {
		b.Run(p.name, func(b *testing.B) {
			w, found := checked(b, p.fsys)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := publish.Make(w, found, publish.Options{Rules: allRules(), Draft: true}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
