package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// callout is the words that give a group's size: count, diameter or thread,
// depth, counterbore, countersink; second holds the lengths in the other unit
// system, in brackets.
func (p *part) callout(g group, system System, word HoleWord, more holeWords) (first, second string) {
	h := p.holes[g.holes[0]]
	first = h.wordsWith(system, word, more)
	if n := len(g.holes); n > 1 {
		first = fmt.Sprintf("%d× %s", n, first)
	}
	if second = h.lengths(system.other()); second != "" {
		second = "[" + second + "]"
	}
	return first, second
}

// holeWords are the author's own tolerances of a hole: of what it measures across,
// and of how deep it is.
type holeWords struct{ across, depth string }

// words give one hole's size in one system.
func (h hole) words(s System, word HoleWord) string { return h.wordsWith(s, word, holeWords{}) }

func (h hole) wordsWith(s System, word HoleWord, more holeWords) string {
	words := []string{h.opening(s)}
	for _, behind := range []string{s.fit(h.d, word.Fit), cmp.Or(more.across, word.Tolerance)} {
		if behind != "" {
			words[0] += " " + behind
		}
	}
	if depth := h.depths(s); depth != "" {
		words = append(words, depth)
		if more.depth != "" {
			words = append(words, more.depth)
		}
	} else if h.made != nil && h.made.ThroughAll {
		words = append(words, "through all")
	} else {
		words = append(words, "through")
	}
	if mouth := h.mouth(s); mouth != "" {
		words = append(words, mouth)
	}
	if word.For != "" {
		words = append(words, "for "+word.For)
	}
	return strings.Join(words, " ")
}

// lengths are what of the words changes with the unit system; empty when
// nothing does, as for a thread right through.
func (h hole) lengths(s System) string {
	var words []string
	if h.thread == nil {
		words = append(words, h.opening(s))
	}
	for _, more := range []string{h.depths(s), h.mouth(s)} {
		if more != "" {
			words = append(words, more)
		}
	}
	return strings.Join(words, " ")
}

// opening is the hole's size across.
func (h hole) opening(s System) string {
	switch {
	case h.long > 0:
		return fmt.Sprintf("slot %s×%s", s.length(h.long), s.length(h.d))
	case h.thread != nil && h.thread.LeftHand:
		return h.thread.Designation + " LH"
	case h.thread != nil:
		return h.thread.Designation
	}
	return "⌀" + s.length(h.d)
}

// depths of a blind hole: of its full thread, then of its drill where that goes
// deeper.
func (h hole) depths(s System) string {
	switch {
	case h.through:
		return ""
	case h.thread != nil && h.thread.Length > 0 && h.thread.Length < h.depth-near:
		return fmt.Sprintf("↧%s / ⌀%s ↧%s", s.length(h.thread.Length), s.length(h.d), s.length(h.depth))
	}
	return "↧" + s.length(h.depth)
}

// farSides says of counterbores and countersinks on the side that no view shows that
// they are there.
func (s *scheme) farSides(panes []pane) {
	for i := range s.list {
		d := &s.list[i]
		holes := d.holes
		if d.Kind == Table && d.Axis == "" {
			holes = s.part.groups[d.group].holes
		}
		if d.Kind != Callout && d.Kind != Table || len(holes) == 0 {
			continue
		}
		h := s.part.holes[holes[0]]
		mouth := h.mouth(s.system)
		if mouth == "" || slices.ContainsFunc(panes, func(q pane) bool {
			return q.covers(h) && q.eye.Toward.Dot(h.dir) < 0 || q.cut != nil && q.cut.holds(q.eye, h)
		}) {
			continue
		}
		d.Text = strings.Replace(d.Text, mouth, mouth+" far side", 1)
		for _, k := range holes {
			s.part.holes[k].far = true
		}
	}
}

// mouth is the counterbore or countersink.
func (h hole) mouth(s System) string {
	var words []string
	if h.made != nil && h.made.Counterbore != nil {
		words = append(words, fmt.Sprintf("⌴⌀%s ↧%s", s.length(h.made.Counterbore.D), s.length(h.made.Counterbore.Depth)))
	}
	if h.made != nil && h.made.Countersink != nil {
		words = append(words, fmt.Sprintf("⌵⌀%s×%s°", s.length(h.made.Countersink.D), decimals(h.made.Countersink.Angle*180/math.Pi, 1)))
	}
	return strings.Join(words, " ")
}
