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
	switch f.Drive.Kind {
	case standards.HexSocket:
		return socketKeys(f, balls)
	case standards.ExternalHex:
		return hexagonTools(f.Flats, f.Drive.Text, f.Head.Height, 0)
	case standards.CrossRecess:
		return screwdrivers(f)
	}
	if f.Kind == standards.Rivet {
		return []wrench{rivetPliers(f)}
	}
	return nil
}

// Sizes of tools that no standard at hand gives, mm: common practice, no source.
const (
	bladeHalf, longBlade, shortBlade = 3.0, 100.0, 25.0 // a screwdriver's blade
	gripHalf, longGrip, shortGrip    = 16.0, 110.0, 55.0
	noseHalf, noseLong               = 6.0, 20.0 // the nose of rivet pliers
	jawHalf, jawLong, pliersLong     = 15.0, 60.0, 250.0
)

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
			stems: []stem{{0, blade, bladeHalf}, {blade, blade + grip, gripHalf}},
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
		arms:  []arm{{From: noseLong, To: noseLong + jawLong, Half: jawHalf, Reach: pliersLong}},
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
			stems: []stem{{0, top, thick / 2}}, arms: []arm{{From: top - thick, To: top, Half: thick / 2, Reach: across - thick/2}},
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
			stems: []stem{{0, blade, thick / 2}, {blade, blade + d.GripLength, d.Grip / 2}},
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
			stems: []stem{{from, to, s.HeadWidth() / 2}}, arms: []arm{{From: from, To: to, Half: half, Reach: s.Length}},
		}
	}
	out = append(out, open(fromPlane, fmt.Sprintf("the open end of a %s spanner", text)))
	if high > s.HeadThick+fromPlane {
		out = append(out, open(high-s.HeadThick, fmt.Sprintf("the open end of a %s spanner, high on the hexagon", text)))
	}
	out = append(out, wrench{
		Wrench: named, says: fmt.Sprintf("the ring of a %s spanner", text), turn: turnOf("ring spanner"), raise: high + bolt,
		stems: []stem{{fromPlane, s.RingThick, s.RingWidth / 2}}, arms: []arm{{From: fromPlane, To: s.RingThick, Half: half, Reach: s.Length}},
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
		stems = append(stems, stem{at, at + r.Height, r.Head / 2})
		out = append(out, wrench{
			Wrench: named, says: words, turn: turnOf("ratchet"), raise: raise,
			stems: stems, arms: []arm{{From: at, To: at + r.Height, Half: ratchetHalf, Reach: r.Length}},
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
