package sequence

import "plansheaf/design/plan"

// A Kind says what an obstruction is about.
type Kind int

// The kinds of obstruction.
const (
	// OutOfReach is a screw that no tool turns.
	OutOfReach Kind = iota
	// NoWayForTool is a screw that a tool would turn if it could be brought there.
	NoWayForTool
	// NutNotHeld is a nut that turns along with its screw and that no tool holds.
	NutNotHeld
	// ScrewShutOut is a screw that itself has no room to be put in.
	ScrewShutOut
	// NutShutOut is a nut, slot nut or insert that cannot be put in.
	NutShutOut
	// SlotShut is a slot nut that goes in at an end of its slot, where both are shut.
	SlotShut
	// PartShutOut is a part that cannot come to its place at all.
	PartShutOut
	// PartMeets is a part that leaves its place, but not far: no straight way is free
	// all along.
	PartMeets
	// WayBlocked is a part whose way, given by the plan, is not free.
	WayBlocked
	// Unadjustable is a joint that is to stay within reach and does not in the finished
	// machine.
	Unadjustable
	// OnlyBench is anything of the above that goes but for the bench that the work rests
	// on.
	OnlyBench
)

// An Obstruction is something that a step asks for and that does not go.
type Obstruction struct {
	Kind  Kind
	Step  int       // of the graph; -1 for the finished machine
	Word  plan.Word // what the step, or the plan, says
	Owner *plan.Assembly
	Joint *plan.Joint // nil for parts
	// Name is what is meant: a path to a part, or to a joint.
	Name   string
	Places []int    // of the joint, from 1; those that do not go
	All    int      // how many places the joint has
	Tried  []string // what was tried and what it found, each in words
	Blocks Body     // what stands in the way, of what was tried first
	Since  int      // the step that brings it; -1 for none
	// Latest is the last step after which it would still go, with what is there then;
	// -1 where there is none.
	Latest int

	// Of OnlyBench: what it keeps from going, on what the work rests, and the faces on
	// which it could rest so that all of the step goes, the broadest first. Later is the
	// first step after it in which it rests on one of them; -1 for none.
	What  Kind
	On    string
	Faces []string
	Later int
}
