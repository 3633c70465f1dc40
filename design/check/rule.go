package check

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/reckon"
)

// A Rule is something that a plan must keep. Exactly one of Check and Each is
// given: Check sees the whole work once; Each sees one case after the other, and
// what it finds only in some of them is marked with their choices.
type Rule struct {
	finding.Rule
	Check func(w *Work, report func(finding.Finding))
	Each  func(s *Situation, report func(finding.Finding))
}

// Run works p out and checks it with every rule of All. read are the findings of
// reading the plan; they are returned with the others, sorted, and waivers apply
// to all but them.
func Run(w *Work, read []finding.Finding) []finding.Finding {
	found := reckoned(w)
	for _, rule := range All() {
		found = append(found, rule.run(w)...)
	}
	found = waive(w.Plan, found)
	found = append(slices.Clone(read), found...)
	finding.Sort(found)
	return found
}

// reckoned are the findings of working the plan out, over all cases.
func reckoned(w *Work) []finding.Finding {
	m := newMerger(w)
	for i, s := range w.Situations {
		for _, f := range append(s.Reckoning.Findings(), s.Layout.Findings()...) {
			m.add(i, f)
		}
	}
	for _, f := range w.settled {
		m.everywhere(f)
	}
	return m.findings()
}

func (rule Rule) run(w *Work) []finding.Finding {
	m := newMerger(w)
	if rule.Check != nil {
		rule.Check(w, func(f finding.Finding) { m.everywhere(rule.Stamp(f)) })
		return m.findings()
	}
	for i, s := range w.Situations {
		rule.Each(s, func(f finding.Finding) { m.add(i, rule.Stamp(f)) })
	}
	return m.findings()
}

// A merger makes one finding of the same one found in several cases.
type merger struct {
	w     *Work
	order []string
	seen  map[string]*merged
	now   int                 // the situation whose findings are being added
	said  map[string][]string // messages of that situation by key
}

type merged struct {
	finding finding.Finding
	in      []int // indices of situations; nil: everywhere
}

func newMerger(w *Work) *merger { return &merger{w: w, seen: map[string]*merged{}, now: -1} }

// key tells findings apart: the same rule at the same place with other numbers in
// another case is still the same finding, so the message is left out where the
// finding is at a known line. Several findings of one case that share a key are told
// apart by their order.
func key(f finding.Finding) string {
	k := f.Rule + "|" + f.At.String() + "|" + f.Subject
	if f.At.Line == 0 {
		k += "|" + f.Message
	}
	return k
}

func (m *merger) everywhere(f finding.Finding) {
	k := key(f) + "|" + f.Message
	if m.seen[k] == nil {
		m.order = append(m.order, k)
		m.seen[k] = &merged{finding: f}
	}
}

func (m *merger) add(situation int, f finding.Finding) {
	if m.now != situation {
		m.now, m.said = situation, map[string][]string{}
	}
	k := key(f)
	nth := slices.Index(m.said[k], f.Message)
	if nth < 0 {
		nth = len(m.said[k])
		m.said[k] = append(m.said[k], f.Message)
	}
	k += "|" + strconv.Itoa(nth)
	one := m.seen[k]
	if one == nil {
		one = &merged{finding: f}
		m.seen[k] = one
		m.order = append(m.order, k)
	}
	if !slices.Contains(one.in, situation) {
		one.in = append(one.in, situation)
	}
}

func (m *merger) findings() []finding.Finding {
	var out []finding.Finding
	for _, k := range m.order {
		one := m.seen[k]
		one.finding.Choices = append(one.finding.Choices, m.says(one.in)...)
		out = append(out, one.finding)
	}
	return out
}

// says names the cases of a finding that the plan's own case does not show; a
// finding of the plan's own case needs no mark. Where it shows in just the cases that
// depart from the defaults in one respect, that respect is named and no case.
func (m *merger) says(in []int) []string {
	if len(in) == 0 || slices.Contains(in, 0) {
		return nil
	}
	for _, respect := range m.w.Situations[in[0]].Says {
		var having []int
		for i, s := range m.w.Situations {
			if slices.Contains(s.Says, respect) {
				having = append(having, i)
			}
		}
		if slices.Equal(having, in) {
			return []string{respect}
		}
	}
	var says []string
	for _, i := range in {
		if s := m.w.Situations[i]; len(s.Case.Ends) == 0 || !m.asGiven(s, in) {
			says = append(says, strings.Join(s.Says, ", "))
		}
	}
	return says
}

// asGiven reports whether one of the cases is s with every value as the plan gives
// it, which then speaks for s.
func (m *merger) asGiven(s *Situation, in []int) bool {
	for _, i := range in {
		if other := m.w.Situations[i]; len(other.Case.Ends) == 0 && maps.Equal(other.Case.Options, s.Case.Options) {
			return true
		}
	}
	return false
}

// Texts lists every rule that can appear in a finding of this package, those of
// working the plan out included.
func Texts() []finding.Rule {
	list := append(append(reckon.Rules(), layout.Rules()...), joint.FitNotListed)
	for _, rule := range All() {
		list = append(list, rule.Rule)
	}
	return append(list, waiverRules()...)
}
