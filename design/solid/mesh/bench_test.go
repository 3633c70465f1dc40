package mesh

import (
	"fmt"
	"testing"

	"plansheaf/design/solid"
)

// BenchmarkMesh states how reading a file and making it a solid grow with its
// triangles.
func BenchmarkMesh(b *testing.B) {
	for _, n := range []int{4, 16, 64} {
		var g solid.Group
		for i := range n {
			g = append(g, solid.Member{Shape: solid.Taper{D: 100, To: 20, L: 30}, At: solid.Vec{X: float64(i) * 150}, Along: solid.AxisX})
		}
		m := build(b, g).Mesh(0.002)
		data := binarySTL(m, "", 1)
		b.Run(fmt.Sprintf("read %d triangles", len(m.Triangles)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, faults := Read(data, millimetre); len(faults) > 0 {
					b.Fatal(faults)
				}
			}
		})
		read, _ := Read(data, millimetre)
		b.Run(fmt.Sprintf("solid of %d triangles", len(m.Triangles)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				build(b, solid.Group{{Shape: read.Shape(), Along: solid.AxisZ}})
			}
		})
	}
}
