package joint

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

const (
	// showing is how many turns stand out of a nut that is filled with whole turns:
	// the end of a screw has up to two that are not cut full (ISO 4753, u ≤ 2 P).
	showing = 2.0
	// room is how much is left, in turns, between the tip and what it must not stand
	// on, when a length is chosen: common practice, no source.
	room = 0.5
	// tail is how far a screw may stick out of its nut or thread, in diameters, beyond
	// the two turns, when a length is chosen: what is longer catches on things. Common
	// practice, no source.
	tail = 1.5
	// slack (mm) is what a length may miss by before it counts: rounding.
	slack = 1e-6
)

// Least is the shortest length of screw that serves: it fills as much thread as it
// needs to, and shows two turns behind a nut.
func (s *Stack) Least() float64 {
	switch {
	case s.Catch == InNut:
		return s.To + showing*s.Thread.Pitch - s.Head
	case s.Headless():
		return math.Min(s.Needs, s.To-s.From)
	case s.Catch == InWood:
		return s.From + s.woodNeeds() - s.Head
	}
	return s.From + math.Min(s.Needs, s.To-s.From) - s.Head
}

// Most is the longest length of screw that serves: it leaves half a turn before what
// stands in its way, and does not stick out far behind. A set screw does not stand out
// of its hole.
func (s *Stack) Most() float64 {
	if s.Headless() {
		return s.To - s.From
	}
	most := s.To + showing*s.Thread.Pitch + tail*s.Thread.Major
	if s.Catch == InWood {
		most = s.To - cover
	}
	if s.Stop != nil {
		most = math.Min(most, s.Stop.At-room*s.Thread.Pitch)
	}
	return most - s.Head
}

// Floor is the length at which the tip touches what stands in its way.
func (s *Stack) Floor() float64 {
	if s.Stop == nil || s.Headless() {
		return math.Inf(1)
	}
	return s.Stop.At - s.Head
}

// A Fault says in which way a length of screw does not serve.
type Fault int

// What may be wrong with a screw's length.
const (
	Fits Fault = iota
	Short
	Stands // on a floor, or against something
	Shank  // its plain shank reaches the thread
)

// Judge says whether the place's screw in some length serves.
func (s *Stack) Judge(f standards.Fastener) Fault {
	switch {
	case s.Catch == InWood:
		return s.judgeWood(f)
	case f.Length < s.Least()-slack:
		return Short
	case f.Length > s.Most()+slack:
		return Stands
	case !s.Headless() && s.Head+f.Length-f.ThreadLength > s.From+slack:
		return Shank
	}
	return Fits
}

// Serving lists the stocked lengths that serve at every one of some places that take
// the same screw, shortest first; none for screws that no standard describes.
func Serving(places []Stack) []standards.Fastener {
	if len(places) == 0 || places[0].Screw.Fastener == nil {
		return nil
	}
	var out []standards.Fastener
	f := *places[0].Screw.Fastener
	for _, long := range standards.StockedLengths(f.Standard, f.Size) {
		other, ok := f.WithLength(long)
		for i := range places {
			ok = ok && places[i].Judge(other) == Fits
		}
		if ok {
			out = append(out, other)
		}
	}
	return out
}

// mm is a length for a message, in hundredths.
func mm(v float64) string {
	return quantity.Text(quantity.MM(math.Round(v*100)/100+0), quantity.Metric)
}

// times is a number of diameters for a message: 1.5 × 6 mm.
func times(n, d float64) string {
	return fmt.Sprintf("%s × %s", quantity.Text(quantity.Number(n), quantity.Metric), mm(d))
}

// Sum says what the shortest length is made up of: "1.6 mm washer, 12 mm plate, 6.8 mm
// nut, 2.5 mm for two turns showing".
func (s *Stack) Sum(l *layout.Layout) string {
	var words []string
	add := func(v float64, what string) {
		if v > slack {
			words = append(words, mm(v)+" "+what)
		}
	}
	washers := func(list []*reckon.Part) {
		total := 0.0
		for _, w := range list {
			total += l.Thickness(w)
		}
		what := "washer"
		if len(list) > 1 {
			what = "washers"
		}
		add(total, what)
	}
	washers(s.UnderHead)
	if len(s.UnderHead) == 0 && s.Head < -slack {
		add(-s.Head, "that the head stands proud")
	}
	for i := range s.Crossings {
		c := &s.Crossings[i]
		through := c.Leave - c.Enter
		if i == 0 {
			through = c.Leave - math.Max(s.Head, 0)
		}
		if last := i == len(s.Crossings)-1; last && s.Nut == nil {
			through = s.From - c.Enter
		} else if last && s.Catch == InInsert {
			through = s.NutFrom - c.Enter
		} else if last && s.Catch == InNut {
			through = math.Min(through, s.NutFrom-c.Enter)
		}
		add(through, called(c))
		if i < len(s.Gaps) {
			add(s.Gaps[i], "gap")
		}
	}
	washers(s.UnderNut)
	switch s.Catch {
	case InNut:
		add(s.To-s.From, "nut")
		add(showing*s.Thread.Pitch, "for two turns showing")
	case InSlotNut, InInsert:
		add(s.Needs, "in the "+s.Catch.String())
	case InWood:
		add(s.woodNeeds(), "of thread ("+s.Rule+")")
	case InTapped, InForming:
		need := math.Min(s.Needs, s.To-s.From)
		if need < s.Needs-slack {
			add(need, "of thread, all that there is")
			break
		}
		add(need, "of thread ("+s.Rule+")")
	}
	return strings.Join(words, ", ")
}

// called names a layer for a message.
func called(c *layout.Crossing) string {
	if c.Feature.Kind == solid.SlotFeature {
		return "lip of " + c.Spot.Path
	}
	return c.Spot.Path
}
