package check

import (
	"plansheaf/design/bill"
	"plansheaf/design/clash"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/sequence"
	"plansheaf/design/standards"
	"plansheaf/design/way"
)

// facts are what several rules ask of a situation, each found out once.
type facts struct {
	order    *order
	sequence *sequence.Record
	holes    map[holeKey]bool
	lines    map[string]int // part id -> index in the bill

	passings []passing
	passed   bool
	poses    []pose
	clashes  *clash.Report
	misfits  map[[2]string]bool
	jams     map[jam]bool
	strays   *strays
	joints   *joint.Machine

	apart map[string]*way.Parting // by assembly
}

// A holeKey is one hole of a part: number 0 for one that is no pattern's.
type holeKey struct {
	part, hole string
	number     int
}

// has reports whether the case takes the part: placed, in a joint, used up, or as
// what an altered part is made from.
func (s *Situation) has(id string) bool {
	_, has := s.lines()[id]
	return has
}

// line is the part's line of the bill; nil where it has none of its own.
func (s *Situation) line(id string) *bill.Line {
	i, has := s.lines()[id]
	if !has || i < 0 || s.Bill.Lines[i].Part.Part.ID.Text != id {
		return nil
	}
	return &s.Bill.Lines[i]
}

// lines finds for each part that the case takes its line of the bill: for what an
// altered part is made from that one's, for glue none, -1.
func (s *Situation) lines() map[string]int {
	if s.facts.lines == nil {
		s.facts.lines = map[string]int{}
		for i, line := range s.Bill.Lines {
			for p := line.Part.Base; p != nil; p = p.Base {
				if _, own := s.facts.lines[p.Part.ID.Text]; !own {
					s.facts.lines[p.Part.ID.Text] = i
				}
			}
		}
		for i, line := range s.Bill.Lines {
			s.facts.lines[line.Part.Part.ID.Text] = i
		}
		for _, j := range s.Reckoning.Tally().Joints {
			if glue, ok := j.Joint.With.Pick(s.Case.Options); ok {
				if _, counted := s.facts.lines[glue.Text]; !counted {
					s.facts.lines[glue.Text] = -1
				}
			}
		}
	}
	return s.facts.lines
}

// assembled reports whether the case builds the assembly.
func (s *Situation) assembled(a *plan.Assembly) bool {
	return s.Reckoning.Tally().Assembled[a.ID.Text] > 0
}

// exists reports whether the case holds the thing with the id: a part, an
// assembly, or a calculation.
func (s *Situation) exists(id string) bool {
	p := s.Reckoning.Plan
	switch {
	case p.Part(id) != nil:
		return s.has(id)
	case p.Assembly(id) != nil:
		return s.assembled(p.Assembly(id))
	case p.Calc(id) != nil:
		return p.Calc(id).Only.Fits(s.Case.Options)
	}
	return true
}

// usedHole reports whether a joint or a strand of the case uses a hole; number 0
// asks for any of the pattern.
func (s *Situation) usedHole(part, hole string, number int) bool {
	if s.facts.holes == nil {
		s.facts.holes = map[holeKey]bool{}
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			for _, w := range jointFeatures(j) {
				s.useHoles(a, w)
			}
		})
		for _, a := range s.Reckoning.Plan.Assemblies {
			if !s.assembled(a) {
				continue
			}
			for _, u := range a.Holds {
				if u.Only.Fits(s.Case.Options) {
					s.useHoles(a, u.From, u.To)
					for _, stop := range u.Via {
						s.useHoles(a, stop.Of)
					}
					for _, e := range u.Between {
						s.useHoles(a, e.Theirs)
					}
				}
			}
		}
	}
	return s.facts.holes[holeKey{part, hole, number}]
}

func (s *Situation) useHoles(a *plan.Assembly, words ...plan.Word) {
	for _, w := range words {
		for _, spot := range s.Reckoning.Spots(a, w) {
			if spot.Hole != nil {
				s.facts.holes[holeKey{spot.Part.ID.Text, spot.Hole.ID.Text, spot.Number}] = true
				s.facts.holes[holeKey{spot.Part.ID.Text, spot.Hole.ID.Text, 0}] = true
			}
		}
	}
}

// eachJoint visits the joints that the case makes, once each however many
// instances their assembly has.
func (s *Situation) eachJoint(visit func(a *plan.Assembly, j *plan.Joint)) {
	for _, a := range s.Reckoning.Plan.Assemblies {
		if !s.assembled(a) {
			continue
		}
		for _, j := range a.Joints {
			if j.Only.Fits(s.Case.Options) {
				visit(a, j)
			}
		}
	}
}

// eachStep visits the steps that the case takes.
func (s *Situation) eachStep(visit func(a *plan.Assembly, st *plan.Step)) {
	for _, a := range s.Reckoning.Plan.Assemblies {
		if !s.assembled(a) {
			continue
		}
		for _, st := range a.Steps {
			if st.Only.Fits(s.Case.Options) {
				visit(a, st)
			}
		}
	}
}

// jointSubject is how a waiver names a joint.
func jointSubject(a *plan.Assembly, j *plan.Joint) string { return a.ID.Text + "." + j.ID.Text }

// stepSubject is how a waiver names a step.
func stepSubject(a *plan.Assembly, st *plan.Step) string { return a.ID.Text + "." + st.ID.Text }

// screwOf is a joint's screw with its thread; ok is false for joints without one
// whose thread is known.
func (s *Situation) screwOf(j *plan.Joint) (p *reckon.Part, t standards.Thread, ok bool) {
	p = joint.Screw(s.Reckoning, j)
	if p == nil || !isScrew(p) {
		return p, t, false
	}
	t, ok = joint.ThreadOf(s.Reckoning, p)
	return p, t, ok
}

// isScrew reports whether a part is a screw, bolt, set screw or wood screw.
func isScrew(p *reckon.Part) bool {
	if p.Fastener != nil {
		return p.Fastener.Kind == standards.Screw || p.Fastener.Kind == standards.SetScrew || p.Fastener.Kind == standards.WoodScrew
	}
	return p.Part.Fastener != nil && p.Part.Fastener.Kind.Text == "screw"
}

// isNut reports whether a screw can go into the part: a nut, slot nut or insert.
func isNut(p *reckon.Part) bool {
	if p.Fastener != nil {
		return p.Fastener.Kind == standards.Nut
	}
	return p.Part.Fastener != nil && (p.Part.Fastener.Kind.Text == "nut" || p.Part.Fastener.Kind.Text == "insert")
}

// isWasher reports whether the part can lie under a head or a nut.
func isWasher(p *reckon.Part) bool {
	if p.Fastener != nil {
		return p.Fastener.Kind == standards.Washer
	}
	return p.Part.Fastener != nil && p.Part.Fastener.Kind.Text == "washer"
}
