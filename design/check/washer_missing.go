package check

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// WasherMissing finds heads and nuts that press straight on wood or plastics, that bear
// on the two sides of a long hole only, or that press harder on a part than it bears.
var WasherMissing = Rule{
	Rule: finding.Rule{
		Name: "washer-missing", Severity: finding.Warning,
		Reason: "The head sinks in, and the joint is loose again after a while.",
		Remedy: "put a washer under it, or tighten it by hand",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			tight := joint.Tighten(s.Reckoning, a, j)
			for _, side := range []struct {
				what string
				ring func(*joint.Stack) (joint.Ring, bool)
				on   func(*joint.Stack) *layout.Crossing
			}{
				{"head", s.joints().HeadRing, func(p *joint.Stack) *layout.Crossing { return &p.Crossings[0] }},
				{"nut", s.joints().NutRing, (*joint.Stack).Last},
			} {
				say := func(p *joint.Stack) string {
					g, ok := side.ring(p)
					if !ok {
						return ""
					}
					if text := overLongText(side.what, g, side.on(p)); text != "" {
						return text
					}
					return pressText(side.what, g, side.on(p), tight)
				}
				placesSaying(places, say, func(text string, at []joint.Stack) {
					f := s.aboutScrew(a, j, at, len(places), text)
					f.At = side.on(&at[0]).Word.At
					if g, ok := side.ring(&at[0]); ok && bareOverLong(g, side.on(&at[0])) {
						f.Remedy = "put a washer under it" + bridging(at[0].Thread, g.Inside)
					} else if tight.Hand {
						f.Remedy = "put a washer under it"
					}
					report(f)
				})
			}
		})
		s.eachFastening(plan.Rivet, func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening) {
			first, last := &places[0].Crossings[0], &places[0].Crossings[len(places[0].Crossings)-1]
			if !soft(last.Part.Material) {
				return
			}
			remedy := "let a thin washer of metal be the last layer"
			if !soft(first.Part.Material) {
				remedy = "put the rivet in from the other side, so that its own head lies there, or " + remedy
			}
			report(aboutLayer(a, j, last, fmt.Sprintf("the rivet's closing head, little wider than its hole, forms on %q, which is %s", last.Word.Text, last.Part.Material.Title), remedy))
		})
	},
}

// soft reports whether a rivet's closing head is drawn into a material: blind rivets close
// on the harder side, as their makers say.
func soft(m standards.Material) bool {
	return m.Family == "wood" || m.Family == "plastic" || m.Family == "rubber"
}

// bareOverLong reports whether a head or nut bears without a washer on the two sides of
// a long hole, whose ends lie beyond it.
func bareOverLong(g joint.Ring, on *layout.Crossing) bool {
	return !isWasher(g.By) && on.Feature.Hole != nil && on.Feature.Hole.Kind == solid.Obround && g.Outside > g.Inside && g.Carried < leastCarried
}

// overLongText says how little a head or nut without a washer bears on over a long
// hole, "" where it is not so.
func overLongText(what string, g joint.Ring, on *layout.Crossing) string {
	if !bareOverLong(g, on) {
		return ""
	}
	return fmt.Sprintf("the %s, %s wide, stands without a washer on the long hole %q, %s wide, and bears on %s of its ring", what, hundredths(g.Outside), on.Word.Text, hundredths(g.Inside), percent(g.Carried))
}

// bridging names the standard washers for a thread that bear on enough beside a long
// hole of some width: " (ISO 7089 3)"; "" for none.
func bridging(t standards.Thread, wide float64) string {
	for _, name := range []string{"ISO 7089 ", "ISO 7093-1 ", "ASME B18.21.1 "} {
		w, err := standards.Parse(name + strings.TrimPrefix(t.Size, "M"))
		if err == nil && w.Inch == t.Inch && w.WasherOutside >= wide*bridge {
			return fmt.Sprintf(": %s, %s wide", w.String(), hundredths(w.WasherOutside))
		}
	}
	return ""
}

// pressText says what a head or nut does to what it presses on, "" where that bears it.
func pressText(what string, g joint.Ring, on *layout.Crossing, tight joint.Tightening) string {
	bare := !isWasher(g.By)
	m := on.Part.Material
	switch {
	case bare && m.Family == "wood":
		return fmt.Sprintf("the %s presses straight on %q, which is %s", what, on.Word.Text, m.Title)
	case bare && m.Family == "plastic" && !tight.Hand:
		return fmt.Sprintf("the %s presses straight on %q, which is %s, and is not tightened by hand", what, on.Word.Text, m.Title)
	}
	bears, known := standards.BearingPressure(m)
	area := g.Area()
	if !known || tight.Hand || tight.Most <= 0 || area <= 0 || g.Carried < leastCarried {
		return ""
	}
	if presses := tight.Most / area; presses > bears*pressedOver {
		return fmt.Sprintf("at %s the %s presses with %s MPa on %q, which is %s and bears %s MPa", quantity.Text(tight.Torque, quantity.Metric), what, hundredthsOf(math.Round(presses)), on.Word.Text, m.Title, hundredthsOf(bears))
	}
	return ""
}

// pressedOver is by how much a pressure may pass the limit before it counts: tables of
// the limits differ by more.
const pressedOver = 1.1
