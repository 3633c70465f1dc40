package change

import (
	"bytes"
	"testing"
	"testing/fstest"

	"plansheaf/design/check"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
)

// Two plans of 500 parts and 2,495 screws: one against another in which the plates are
// thicker and one part has another name. Reading, working out and checking them is not
// measured.
func BenchmarkBetween(b *testing.B) {
	read := func(files fstest.MapFS) Revision {
		p, found, err := source.Read(files, source.DefaultLimits())
		if err != nil {
			b.Fatal(err)
		}
		w := check.Out(p)
		return Revision{w, check.Run(w, found)}
	}
	old := read(generated.Plan(500))
	files := generated.Plan(500)
	files["plan.yaml"].Data = bytes.Replace(files["plan.yaml"].Data, []byte("thick: {is: 10 mm"), []byte("thick: {is: 11 mm"), 1)
	for _, f := range files {
		f.Data = bytes.ReplaceAll(f.Data, []byte("plate_7:"), []byte("seventh:"))
		f.Data = bytes.ReplaceAll(f.Data, []byte("part: plate_7,"), []byte("part: seventh,"))
	}
	new := read(files)
	b.ReportAllocs()
	for b.Loop() {
		if c := Between(old, new); c.Empty() {
			b.Fatal("nothing differs")
		}
	}
}
