package reckon

import (
	"fmt"
	"io"

	"plansheaf/design/solid"
)

// writeShape writes all numbers of a shape, pointers followed, so that equal
// shapes write equal bytes.
func writeShape(w io.Writer, s solid.Shape) {
	switch b := s.Base.(type) {
	case solid.Bar:
		fmt.Fprintf(w, "%T%#v|%v|%v|", b.Section, b.Section, b.Length, b.Lies)
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
