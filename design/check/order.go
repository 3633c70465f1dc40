package check

import (
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
)

// An order is the order of work of a situation, with what rules about it share.
type order struct {
	*sequence.Graph
	s *Situation
}

// order works the order of work out, once.
func (s *Situation) order() *order {
	if s.facts.order == nil {
		s.facts.order = &order{Graph: sequence.NewGraph(s.Reckoning), s: s}
	}
	return s.facts.order
}

// Sequence is the order of work gone through step by step, worked out once. Several
// goroutines may ask for it.
func (s *Situation) Sequence() *sequence.Record {
	s.work.sequencing.Lock()
	defer s.work.sequencing.Unlock()
	if s.facts.sequence == nil {
		if s.work.store == nil {
			s.work.store = sequence.NewStore(s.work.Ways())
			s.work.store.Kept = s.work.Kept
		}
		s.facts.sequence = sequence.Of(s.Reckoning, s.Layout, s.order().Graph, s.work.store)
	}
	return s.facts.sequence
}

// jointOf is the joint that a word stands for in an assembly's file.
func jointOf(p *plan.Plan, a *plan.Assembly, w plan.Word) (*plan.Assembly, *plan.Joint) {
	return sequence.JointOf(p, a, w)
}

// jointFeatures are all features that a joint names.
func jointFeatures(j *plan.Joint) []plan.Word { return sequence.Features(j) }

// instances are the paths of uses that a word of an assembly stands for, and the
// first use on the way that the case leaves out.
func (s *Situation) instances(a *plan.Assembly, w plan.Word) (paths []string, absent *plan.Use) {
	return sequence.Instances(s.Reckoning, a, w)
}
