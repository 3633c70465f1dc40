package sequence

import (
	"fmt"
	"math"

	"plansheaf/design/solid"
	"plansheaf/design/standards"
	"plansheaf/design/way"
)

// putIn tries whether screws and nuts of a joint can come to their places.
func (d *deal) putIn() []Obstruction {
	faults := map[Kind]*Obstruction{}
	screws := d.screws()
	for _, i := range screws {
		if d.putBefore(i) {
			continue
		}
		try := func() outcome { return d.screwIn(i) }
		if got := d.attempt(try); !got.ok {
			d.fault(faults, got, i, len(screws), try)
		}
	}
	for _, i := range d.bodies {
		if d.b.bodies[i].Role != Nut || d.slidBefore() {
			continue
		}
		try := func() outcome { return d.nutIn(i) }
		if got := d.attempt(try); !got.ok {
			d.fault(faults, got, i, len(screws), try)
		}
	}
	return inOrder(faults)
}

// putBefore reports whether what a joint brings needs no way of its own from outside: a
// ring that springs over its shaft, a pin that stands in one part before the other comes.
func (d *deal) putBefore(screw int) bool {
	f := d.b.bodies[screw].Part.Fastener
	if f == nil {
		return false
	}
	return f.Kind == standards.Ring || d.setBefore(screw)
}

// setBefore reports whether a joint's pin stands in one part before the other comes.
func (d *deal) setBefore(screw int) bool {
	f := d.b.bodies[screw].Part.Fastener
	if f == nil {
		return false
	}
	place := d.b.bodies[screw].Place
	list := d.b.laid.Fastenings(d.owner, d.joint)
	if f.Kind != standards.Pin && f.Kind != standards.SpringPin || place < 1 || place > len(list) {
		return false
	}
	first := list[place-1].Crossings[0]
	return !first.Facing && !first.Feature.Through
}

// slideIn tries whether the slot nuts of a joint that is made later can come to their
// places now.
func (d *deal) slideIn() []Obstruction {
	faults := map[Kind]*Obstruction{}
	for _, i := range d.bodies {
		own := d.b.bodies[i].Part.Part.Fastener
		if d.b.bodies[i].Role != Nut || own == nil || !own.Slot.Given() {
			continue
		}
		try := func() outcome { return d.slotNutIn(i, own.GoesIn.Text == "end") }
		if got := d.attempt(try); !got.ok {
			d.fault(faults, got, i, len(d.bodies), try)
		}
	}
	return inOrder(faults)
}

// slidBefore reports whether a step before has put the joint's slot nuts in.
func (d *deal) slidBefore() bool {
	step := d.b.order[d.turn]
	for _, s := range d.b.g.Handled(d.joint).Slides {
		if d.b.g.Before(s.Step, step) {
			return true
		}
	}
	return false
}

// slip (mm) is how much a screw's thread is left out by, where it goes into its own.
const slip = 0.1

// screwIn tries whether a screw has room to be put in: pulled back by its length it
// must be free, and come from outside to there.
func (d *deal) screwIn(screw int) outcome {
	box := d.b.sizes[screw]
	r := box.Size().X / 2
	if f := d.b.bodies[screw].Part.Fastener; f != nil && f.Kind == standards.SetScrew {
		r = f.Thread.TapDrill/2 - slip // it is turned down a thread
	}
	if r <= 0 {
		return outcome{ok: true}
	}
	frame := axisFrame(d.b.at[screw])
	frame.O = frame.O.Add(frame.Z.Mul(box.Max.Z))
	there := d.there(screw, false)
	s := d.b.around(frame, there)
	long := -box.Min.Z // how far it is drawn out until its tip is clear
	loose := wrench{stems: []stem{{0, long, r}}}
	if s.openAbove(&loose) {
		return outcome{ok: true}
	}
	if body, blocked := s.pierced(loose.stems[0]); blocked {
		return outcome{kind: ScrewShutOut, by: body, tried: []string{fmt.Sprintf("it must be drawn out by %s, %s leaves %s", millimetres(long), d.b.nameOf(body), millimetres(s.room(r, long)))}}
	}
	if body, ok := s.enters(&loose, &angles{}); !ok {
		return outcome{kind: ScrewShutOut, by: body, tried: []string{fmt.Sprintf("%s leaves no way to its place", d.b.nameOf(body))}}
	}
	return outcome{ok: true}
}

// nutIn tries whether a nut can be put in. Inserts are taken to be set into their
// part while it still lies on the bench.
func (d *deal) nutIn(nut int) outcome {
	part := d.b.bodies[nut].Part
	own := part.Part.Fastener
	switch {
	case own != nil && own.Kind.Text == "insert":
		return outcome{ok: true}
	case own != nil && own.Slot.Given():
		return d.slotNutIn(nut, own.GoesIn.Text == "end")
	}
	frame := axisFrame(d.b.at[nut])
	s := d.b.around(frame, d.there(nut, false))
	box := d.b.sizes[nut]
	high, half := box.Max.Z, math.Min(box.Size().X, box.Size().Y)/2
	loose := wrench{stems: []stem{{fromPlane, high, half - slip}}}
	if body, blocked := s.pierced(loose.stems[0]); blocked {
		return outcome{kind: NutShutOut, by: body, tried: []string{fmt.Sprintf("%s stands in its place", d.b.nameOf(body))}}
	}
	if body, ok := s.enters(&loose, &angles{}); !ok {
		return outcome{kind: NutShutOut, by: body, tried: []string{fmt.Sprintf("%s leaves no way to its place, neither along the bolt nor from a side", d.b.nameOf(body))}}
	}
	return outcome{ok: true}
}

// slotNutIn tries whether a slot nut can slide out of an end of its slot, or, where it
// goes in from the front, reach a place where the slot's mouth is open. What comes in
// the same step is taken to come after the nut.
func (d *deal) slotNutIn(nut int, end bool) outcome {
	there := d.b.before(d.turn, nothing, func(i int) bool { return d.b.bodies[i].Of == d.joint })
	at := d.b.at[nut]
	by := -1
	for _, dir := range []solid.Vec{at.Turn[1], at.Turn[1].Mul(-1)} {
		free, body := d.b.runs([]int{nut}, there, dir)
		if math.IsInf(free, 1) {
			return outcome{ok: true}
		}
		if by < 0 || !end {
			by = body
		}
		if end {
			continue
		}
		const pace = 5 // mm
		size := d.b.sizes[nut].Size()
		lip := d.lip(nut)
		for along := 0.0; along <= free; along += pace {
			s := d.b.around(solid.FrameAlong(at.Move.Add(dir.Mul(along)), at.Turn[2].Mul(-1)), there)
			// Past the lips on its narrow side, before them at its full length.
			body, blocked := s.pierced(stem{way.Allowance, lip, size.X / 4})
			if !blocked {
				body, blocked = s.pierced(stem{lip, lip + frontRoom, size.Y / 2})
			}
			if !blocked {
				return outcome{ok: true}
			}
			by = body
		}
	}
	kind, words := NutShutOut, "%s closes the slot wherever the nut could go in from the front"
	if end {
		kind, words = SlotShut, "%s keeps it from sliding in from either end"
	}
	return outcome{kind: kind, by: by, tried: []string{fmt.Sprintf(words, d.b.nameOf(by))}}
}

// lip is how thick the lips are that a slot nut lies behind.
func (d *deal) lip(nut int) float64 {
	place := d.b.bodies[nut].Place
	if list := d.b.laid.Fastenings(d.owner, d.joint); place >= 1 && place <= len(list) {
		last := list[place-1].Crossings[len(list[place-1].Crossings)-1]
		return last.Leave - last.Enter
	}
	return 0
}

// frontRoom (mm) is how far in front of a slot there must be room for a hand with a
// nut: common practice, no source.
const frontRoom = 25
