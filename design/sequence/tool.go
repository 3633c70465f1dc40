package sequence

import (
	"fmt"
	"math"

	"plansheaf/design/joint"
	"plansheaf/design/quantity"
	"plansheaf/design/standards"
)

// A Wrench names a tool that turns or holds a fastener, as a list of tools does.
type Wrench struct {
	Kind string // "hex key", "spanner", "socket", "hex driver", "hex bit"
	Size string // "6 mm"
}

// A wrench as it stands on a fastener. Heights are mm from its plane: the top of a
// head with a socket, the underside of a hexagon.
type wrench struct {
	Wrench
	says  string // how it is used: "the 5 mm hex key, short arm in the screw"
	stems []stem
	arms  []arm
	turn  float64 // radians that it must swing before it can be put on anew
	raise float64 // mm that it must be lifted to come off
	lean  float64 // radians by which it may lean
}

const (
	// far (mm) is how far away from a fastener a tool is surely outside.
	far = 4000
	// fromPlane (mm) keeps a tool clear of the face that the head or nut lies on.
	fromPlane = 0.1
	// ratchetHalf is half of the width of a ratchet's handle, mm, and spannerHalf that
	// of a spanner's shank in widths across flats: common practice, no source.
	ratchetHalf = 8.0
	spannerHalf = 0.4
)

// wrenches are the tools that turn a screw, the usual one first; nil where the tables
// name no drive. Ball ends are tried where the plan says that they are at hand.
func wrenches(f standards.Fastener, balls bool) []wrench {
	switch {
	case f.Drive.Kind == standards.HexSocket:
		return socketKeys(f, balls)
	case f.Drive.Kind == standards.ExternalHex:
		return hexagonTools(f.Flats, f.Drive.Text, f.Head.Height, 0)
	case f.Drive.ByDriver():
		return screwdrivers(f)
	}
	switch f.Kind {
	case standards.Rivet:
		return []wrench{rivetPliers(f)}
	case standards.Ring:
		return []wrench{ringPliers(f)}
	case standards.Pin, standards.SpringPin:
		return []wrench{pinPunch(f)}
	}
	return nil
}

// Sizes of tools that no standard at hand gives, mm: common practice, no source.
const (
	bladeHalf, longBlade, shortBlade = 3.0, 100.0, 25.0 // a screwdriver's blade
	gripHalf, longGrip, shortGrip    = 16.0, 110.0, 55.0
	noseHalf, noseLong               = 6.0, 20.0 // the nose of rivet pliers
	jawHalf, jawLong, pliersLong     = 15.0, 60.0, 250.0
	tipHalf, tipLong                 = 2.5, 25.0 // the tips of ring pliers
	legHalf, legLong                 = 12.0, 150.0
	beside                           = 0.5                // from the shaft to ring pliers
	punchLong, hammerHalf, hammered  = 100.0, 15.0, 150.0 // a pin punch, a hammer's head and how high it is swung
)

// Room for hands, mm: common practice, no source. A key is pushed by a finger at its
// outer end, from a side or from above; the head of a ratchet is held down by the
// fingers; the ends of spanners and of a ratchet's handle lie in a hand, and so does a
// screwdriver's handle, the end of it in the palm.
const (
	finger, fingered = 15.0, 30.0  // how thick fingers are, and how much of a key they take
	hand, handed     = 20.0, 100.0 // how far a hand stands out round what it holds, and how much of it it takes
)

// pushed adds the finger that pushes a key's arm.
func pushed(a arm) []arm {
	return []arm{a, {From: a.From, To: a.To + finger, Half: a.Half + finger, Inner: math.Max(a.Reach/2, a.Reach-fingered), Reach: a.Reach}}
}

// held adds the hand that holds a handle at its end, above it and beside it.
func held(a arm) []arm {
	return []arm{a, {From: a.From, To: a.To + hand, Half: a.Half + hand, Inner: math.Max(a.Reach/2, a.Reach-handed), Reach: a.Reach}}
}

// gripped are the stems of a driver's handle from a height on with the hand round it.
func gripped(from, long, half float64) []stem {
	return []stem{{from, from + long, half + hand}, {from + long, from + long + hand, half + hand}}
}

// ringPliers set a retaining ring: along the shaft from either end, their tips in the
// ring's holes; outside of the shaft's ring, inside of the bore's.
func ringPliers(f standards.Fastener) wrench {
	w := wrench{Wrench: Wrench{"retaining ring pliers", f.Groove.Pliers}, says: "retaining ring pliers " + f.Groove.Pliers, raise: f.Groove.Thick}
	if f.Groove.Inside {
		w.stems = []stem{{f.Groove.Thick, tipLong, math.Min(legHalf, f.Groove.Seat/2-tipHalf)}, {tipLong, tipLong + legLong, legHalf}}
		return w
	}
	edge := f.Groove.Seat/2 + beside
	w.arms = []arm{
		{From: f.Groove.Thick, To: tipLong, Half: tipHalf, Inner: edge, Reach: edge + 2*tipHalf},
		{From: tipLong, To: tipLong + legLong, Half: legHalf, Inner: edge, Reach: edge + 2*legHalf},
	}
	return w
}

// pinPunch drives a pin in, flush with its first layer, under a hammer.
func pinPunch(f standards.Fastener) wrench {
	size := f.Size + " mm"
	return wrench{
		Wrench: Wrench{"pin punch", size}, says: "a pin punch " + size,
		stems: []stem{{0, punchLong, f.PinDiameter / 2}, {punchLong, punchLong + hammered, hammerHalf}},
	}
}

// screwdrivers are a long and a stubby one; their size is that of the recess, or what
// the plan says turns the screw.
func screwdrivers(f standards.Fastener) []wrench {
	if f.Drive.Text == "" {
		return nil
	}
	named := Wrench{"screwdriver", f.Drive.Text}
	if t := joint.NamedTool(f.Drive.Text); t.Size != "" {
		named = Wrench{t.Kind, t.Size}
	}
	driver := func(says string, blade, grip float64) wrench {
		return wrench{
			Wrench: named, says: says, raise: f.Head.Height,
			stems: append([]stem{{0, blade, bladeHalf}}, gripped(blade, grip, gripHalf)...),
		}
	}
	return []wrench{driver("a screwdriver "+named.Size, longBlade, longGrip), driver("a stubby screwdriver "+named.Size, shortBlade, shortGrip)}
}

// rivetPliers set a rivet from its head's side.
func rivetPliers(f standards.Fastener) wrench {
	size := f.Size + " mm"
	return wrench{
		Wrench: Wrench{"rivet pliers", size}, says: "rivet pliers for " + size, raise: noseLong,
		stems: []stem{{0, noseLong, noseHalf}, {noseLong, noseLong + jawLong, jawHalf}},
		arms:  held(arm{From: noseLong, To: noseLong + jawLong, Half: jawHalf, Reach: pliersLong}),
	}
}

// nutTools are the tools that turn or hold a nut of which a bolt's end stands out.
func nutTools(f standards.Fastener, out float64) []wrench {
	if f.Flats <= 0 {
		return nil
	}
	text := f.Drive.Text
	if text == "" {
		text = quantity.Text(quantity.MM(f.Flats), quantity.Metric)
	}
	return hexagonTools(f.Flats, text, f.NutHeight, out)
}

func turnOf(tool string) float64 {
	s, _ := standards.SwingOf(tool)
	return s.Turn
}

// socketKeys are hex keys, drivers and bits.
func socketKeys(f standards.Fastener, balls bool) []wrench {
	key, _ := standards.HexKeyFor(f)
	thick, depth := key.Corners(), f.Drive.Depth
	named := Wrench{"hex key", key.Text}
	var out []wrench
	bent := func(down, across float64, says string) wrench {
		top := down - depth
		return wrench{
			Wrench: named, says: says, turn: turnOf("hex key"), raise: depth,
			stems: []stem{{0, top, thick / 2}}, arms: pushed(arm{From: top - thick, To: top, Half: thick / 2, Reach: across - thick/2}),
		}
	}
	if key.ShortArm > 0 {
		out = append(out,
			bent(key.ShortArm, key.LongArm, fmt.Sprintf("the %s hex key, short arm in the screw", key.Text)),
			bent(key.LongArm, key.ShortArm, fmt.Sprintf("the %s hex key, long arm in the screw", key.Text)))
		if balls {
			ball := bent(key.LongArm, key.ShortArm, fmt.Sprintf("the %s hex key, ball end in the screw", key.Text))
			swing, _ := standards.SwingOf("ball end")
			ball.turn, ball.lean = swing.Turn, swing.Lean
			out = append(out, ball)
		}
	}
	if d, known := standards.HexDriverFor(key.Size); known {
		blade := d.Blade - depth
		out = append(out, wrench{
			Wrench: Wrench{"hex driver", key.Text}, says: fmt.Sprintf("a %s hex driver", key.Text), raise: depth,
			stems: append([]stem{{0, blade, thick / 2}}, gripped(blade, d.GripLength, d.Grip/2)...),
		})
	}
	for _, b := range standards.HexBitsFor(key.Size) {
		on := []stem{{0, b.Blade - depth, thick / 2}, {b.Blade - depth, b.Length - depth, b.Body / 2}}
		out = append(out, ratcheted(Wrench{"hex bit", key.Text}, fmt.Sprintf("a %s hex bit", key.Text), b.Drive, on, depth)...)
	}
	return out
}

// hexagonTools are spanners and sockets for a hexagon of some height, out of which a
// bolt's end may stand.
func hexagonTools(flats float64, text string, high, bolt float64) []wrench {
	s, sold := standards.SpannerOf(flats)
	if !sold {
		return nil
	}
	var out []wrench
	named := Wrench{"spanner", text}
	half := spannerHalf*s.Size + 1.5
	open := func(from float64, says string) wrench {
		to := from + s.HeadThick
		return wrench{
			Wrench: named, says: says, turn: turnOf("open-ended spanner"), raise: 0,
			stems: []stem{{from, to, s.HeadWidth() / 2}}, arms: held(arm{From: from, To: to, Half: half, Reach: s.Length}),
		}
	}
	out = append(out, open(fromPlane, fmt.Sprintf("the open end of a %s spanner", text)))
	if high > s.HeadThick+fromPlane {
		out = append(out, open(high-s.HeadThick, fmt.Sprintf("the open end of a %s spanner, high on the hexagon", text)))
	}
	out = append(out, wrench{
		Wrench: named, says: fmt.Sprintf("the ring of a %s spanner", text), turn: turnOf("ring spanner"), raise: high + bolt,
		stems: []stem{{fromPlane, s.RingThick, s.RingWidth / 2}}, arms: held(arm{From: fromPlane, To: s.RingThick, Half: half, Reach: s.Length}),
	})
	for _, one := range standards.SocketsFor(flats) {
		long, says := one.Length, fmt.Sprintf("a %s socket", text)
		if bolt > long/2-high { // half of a socket is hollow
			long, says = one.Deep, fmt.Sprintf("a deep %s socket", text)
		}
		if bolt+high > long*deepHollow {
			continue
		}
		out = append(out, ratcheted(Wrench{"socket", text}, says, one.Drive, []stem{{fromPlane, long, one.Outside / 2}}, high)...)
	}
	return out
}

// deepHollow is the share of a deep socket that takes up hexagon and bolt: common
// practice, no source.
const deepHollow = 0.8

// ratcheted is what a ratchet drives, plainly and through each extension.
func ratcheted(named Wrench, says, drive string, on []stem, raise float64) []wrench {
	r, known := standards.RatchetFor(drive)
	if !known {
		return nil
	}
	top := on[len(on)-1].To
	var out []wrench
	for _, long := range append([]float64{0}, r.Extensions...) {
		stems := append([]stem(nil), on...)
		words := fmt.Sprintf("%s on a %s in ratchet", says, drive)
		if long > 0 {
			stems = append(stems, stem{top, top + long, r.Extension / 2})
			words += fmt.Sprintf(" with an extension of %g mm", long)
		}
		at := top + long
		stems = append(stems, stem{at, at + r.Height + finger, r.Head / 2})
		out = append(out, wrench{
			Wrench: named, says: words, turn: turnOf("ratchet"), raise: raise,
			stems: stems, arms: held(arm{From: at, To: at + r.Height, Half: ratchetHalf, Reach: r.Length}),
		})
	}
	return out
}

// top is the highest place of a tool.
func (w *wrench) top() float64 {
	high := 0.0
	for _, s := range w.stems {
		high = math.Max(high, s.To)
	}
	return high
}
