package change

import (
	"bytes"
	"fmt"
	"testing"
	"testing/fstest"

	"plansheaf/design/check"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
)

func read(b *testing.B, files fstest.MapFS) Revision {
	p, found, err := source.Read(files, source.DefaultLimits())
	if err != nil {
		b.Fatal(err)
	}
	w := check.Out(p)
	return Revision{w, check.Run(w, found)}
}

// thicken makes every plate thicker, oneRenamed gives one part another name.
func thicken(files fstest.MapFS) {
	files["plan.yaml"].Data = bytes.Replace(files["plan.yaml"].Data, []byte("thick: {is: 10 mm"), []byte("thick: {is: 11 mm"), 1)
}

func oneRenamed(files fstest.MapFS) {
	for _, f := range files {
		f.Data = bytes.ReplaceAll(f.Data, []byte("plate_7:"), []byte("seventh:"))
		f.Data = bytes.ReplaceAll(f.Data, []byte("part: plate_7,"), []byte("part: seventh,"))
	}
}

// Two plans of 500 parts and 2,495 screws: one against another in which the plates are
// thicker and one part has another name. Reading, working out and checking them is not
// measured.
func BenchmarkBetween(b *testing.B) {
	old := read(b, generated.Plan(500))
	files := generated.Plan(500)
	thicken(files)
	oneRenamed(files)
	new := read(b, files)
	b.ReportAllocs()
	for b.Loop() {
		if c := Between(old, new); c.Empty() {
			b.Fatal("nothing differs")
		}
	}
}

// What builders half way do, for every step of 125 and of 500 parts that may be the last
// done one: where one part has another name,
// and where every plate is thicker.
func BenchmarkHalfways(b *testing.B) {
	for _, parts := range []int{125, 500} {
		old := read(b, generated.Plan(parts))
		for _, c := range []struct {
			name string
			edit func(files fstest.MapFS)
		}{
			{"one renamed", oneRenamed},
			{"every one thicker", thicken},
		} {
			files := generated.Plan(parts)
			c.edit(files)
			new := read(b, files)
			b.Run(fmt.Sprintf("%d parts, %s", parts, c.name), func(b *testing.B) {
				for b.Loop() {
					course, err := NewHalfways(old, new).Under(nil)
					if err != nil {
						b.Fatal(err)
					}
					tasks := 0
					for i, s := range course.Steps() {
						for _, done := range [][]string{course.UpTo(i), {s.String()}} {
							h, err := course.Done(done...)
							if err != nil {
								b.Fatal(err)
							}
							tasks += len(h.First)
							for _, a := range h.Steps {
								tasks += len(a.Undo) + len(a.Buy) + len(a.Cut) + len(a.Drill) + len(a.Do)
							}
						}
					}
					b.ReportMetric(float64(tasks), "tasks")
				}
			})
		}
	}
}
