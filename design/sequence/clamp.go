package sequence

import (
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// clamped tries whether the own screws of a joint's clamps can be turned, where the plan
// says by which holes; nothing is found where it does not, or where no table has the tool.
func (d *deal) clamped() dealt {
	var out dealt
	if d.owner != d.b.a {
		return out // its places are known in its own assembly's axes
	}
	faults := map[Kind]*Obstruction{}
	screws := d.b.machine().ClampScrews(d.owner, d.joint)
	for n, c := range screws {
		list := wrenches(standards.Fastener{Kind: standards.Screw, Drive: c.Drive, Flats: c.Drive.Size}, d.b.store.balls)
		clamp := d.b.bodyAt(c.Path)
		if len(list) == 0 || clamp < 0 {
			continue
		}
		at := d.b.at[clamp] // as the machine rests; elsewhere it moves with the clamp
		try := func() outcome {
			moved := at.Inverse().Then(d.b.at[clamp])
			frame := solid.FrameAlong(moved.Point(c.Mouth), moved.Direction(c.Dir.Mul(-1)))
			return d.try(frame, list, d.b.before(d.turn, d.rank, nil))
		}
		got := d.attempt(try)
		if got.ok {
			out.tools = once(out.tools, got.tool)
			continue
		}
		d.fault(faults, got, clamp, len(screws), try)
		faults[got.kind].Places[len(faults[got.kind].Places)-1] = n + 1
		faults[got.kind].Name = d.joint.ID.Text
	}
	out.found = inOrder(faults)
	return out
}

// bodyAt is the part of the bench at a path, -1 for none.
func (b *bench) bodyAt(path string) int {
	for i := range b.bodies {
		if b.bodies[i].Of == nil && b.bodies[i].Path == path {
			return i
		}
	}
	return -1
}

// machine measures the joints where the machine is laid out.
func (b *bench) machine() *joint.Machine {
	if b.measured == nil {
		b.measured = joint.Of(b.r, b.laid)
	}
	return b.measured
}

// clampOf reports whether a word is a joint that a clamp's own screw makes tight.
func (b *bench) clampOf(w plan.Word) bool {
	owner, j := JointOf(b.r.Plan, b.a, w)
	return j != nil && joint.ClampOf(b.r, owner, j) != nil
}
