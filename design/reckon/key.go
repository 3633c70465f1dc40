package reckon

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"plansheaf/design/solid"
)

// writeShape writes all numbers of a shape, pointers followed, so that equal
// shapes write equal bytes.
func writeShape(w io.Writer, s solid.Shape) {
	switch b := s.Base.(type) {
	case solid.Bar:
		fmt.Fprintf(w, "%T%#v|%v|%v|%v|%v|", b.Section, b.Section, b.Length, b.Lies, b.Start, b.End)
		writeThread(w, b.Thread)
	case solid.Group:
		for _, m := range b {
			fmt.Fprintf(w, "%v|%v|%v|%q|%T", m.At, m.Along, m.Cut, m.Name, m.Shape)
			if steps, turned := m.Shape.(solid.Lathed); turned {
				for _, t := range steps {
					fmt.Fprintf(w, "|%v|%v|%v", t.D, t.To, t.L)
					writeThread(w, t.Thread)
				}
				continue
			}
			if facets, mesh := m.Shape.(solid.Facets); mesh {
				writeFacets(w, facets)
				continue
			}
			if rod, round := m.Shape.(solid.Rod); round {
				fmt.Fprintf(w, "|%v|%v", rod.D, rod.L)
				writeThread(w, rod.Thread)
				continue
			}
			fmt.Fprintf(w, "%#v;", m.Shape)
		}
	default:
		fmt.Fprintf(w, "%#v", b)
	}
	for _, h := range s.Holes {
		fmt.Fprintf(w, "|%q|%q|%v|%v|%v|%v|%v|%v|%v|%v|%v", h.Name, h.Face, h.At, h.Pattern, h.Kind, h.D, h.Long, h.Along, h.Depth, h.ThroughAll, h.Tip)
		writeThread(w, h.Thread)
		if h.Counterbore != nil {
			fmt.Fprintf(w, "|bore%v", *h.Counterbore)
		}
		if h.Countersink != nil {
			fmt.Fprintf(w, "|sink%v", *h.Countersink)
		}
	}
}

func writeThread(w io.Writer, t *solid.Thread) {
	if t != nil {
		fmt.Fprintf(w, "|thread%v", *t)
	}
}

// writeFacets writes the numbers of a mesh, of which there may be a million, as
// they are in memory.
func writeFacets(w io.Writer, f solid.Facets) {
	fmt.Fprintf(w, "|%v|%d|%d|", f.Grain, len(f.Vertices), len(f.Triangles))
	var b []byte
	for _, v := range f.Vertices {
		for _, x := range [3]float64{v.X, v.Y, v.Z} {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
	}
	for _, t := range f.Triangles {
		for _, v := range t {
			b = binary.LittleEndian.AppendUint32(b, uint32(v))
		}
	}
	w.Write(b)
}
