package sheet

import (
	"fmt"
	"math"
	"strings"
)

// callout is the words that give a group's size: count, diameter or thread,
// depth, counterbore, countersink. One or two lines: the second holds the other
// unit system.
func (p *part) callout(g group, system System, word HoleWord) (first, second string) {
	count := ""
	if n := len(g.holes); n > 1 {
		count = fmt.Sprintf("%d× ", n)
	}
	h := p.holes[g.holes[0]]
	first = count + h.words(system, word)
	if word.For != "" {
		first += " " + word.For
	}
	if other := h.words(system.other(), word); other != h.words(system, word) {
		second = "[" + other + "]"
	}
	return first, second
}

// words give one hole's size in one system.
func (h hole) words(s System, word HoleWord) string {
	var b strings.Builder
	deep := func(depth float64) { b.WriteString(" ↧" + s.length(depth)) }
	switch {
	case h.long > 0:
		fmt.Fprintf(&b, "slot %s×%s", s.length(h.long), s.length(h.d))
	case h.thread != nil:
		b.WriteString(h.thread.Designation)
		if h.thread.LeftHand {
			b.WriteString(" LH")
		}
	default:
		b.WriteString("⌀" + s.length(h.d))
	}
	if word.Fit != "" {
		b.WriteString(" " + word.Fit)
	}
	switch {
	case h.through && h.made != nil && h.made.ThroughAll:
		b.WriteString(" through all")
	case h.through:
		b.WriteString(" through")
	case h.thread != nil && h.thread.Length > 0 && h.thread.Length < h.depth-near:
		deep(h.thread.Length)
		fmt.Fprintf(&b, " / ⌀%s", s.length(h.d))
		deep(h.depth)
	default:
		deep(h.depth)
	}
	if h.made != nil && h.made.Counterbore != nil {
		fmt.Fprintf(&b, " ⌴⌀%s", s.length(h.made.Counterbore.D))
		deep(h.made.Counterbore.Depth)
	}
	if h.made != nil && h.made.Countersink != nil {
		fmt.Fprintf(&b, " ⌵⌀%s×%s°", s.length(h.made.Countersink.D), decimals(h.made.Countersink.Angle*180/math.Pi, 1))
	}
	return b.String()
}
