package change

import (
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// find is an assembly with a use or joint's id of it.
func (s *side) find(name string) (*plan.Assembly, string) {
	a, id, _ := strings.Cut(name, ".")
	return s.plan.Assembly(a), id
}

// holds reports whether the side's case has a use, and makes whether it has a joint.
func (s *side) holds(name string) bool {
	a, id := s.find(name)
	return a != nil && a.Use(id) != nil && a.Use(id).Only.Fits(s.own.Case.Options)
}

func (s *side) makes(name string) bool {
	a, id := s.find(name)
	return a != nil && a.Joint(id) != nil && a.Joint(id).Only.Fits(s.own.Case.Options)
}

// hardware is what a joint takes at all of its places, part by part.
func (s *side) hardware(a *plan.Assembly, j *plan.Joint) []Item {
	r := s.own.Reckoning
	places := r.JointPlaces(a, j)
	var list []Item
	for _, id := range r.JointParts(j) {
		title := id
		if p := r.Part(id); p != nil {
			title = bill.Title(p)
		}
		if i := slices.IndexFunc(list, func(one Item) bool { return one.Title == title }); i >= 0 {
			list[i].Count += places
			continue
		}
		list = append(list, Item{id, title, places})
	}
	return list
}

// held is the part that a use holds under the side's case, nil for an assembly, and how
// many of it.
func (s *side) held(name string) (*plan.Use, *reckon.Part, int) {
	a, id := s.find(name)
	if a == nil || a.Use(id) == nil {
		return nil, nil, 0
	}
	u := a.Use(id)
	part, ok := u.Part.Pick(s.own.Case.Options)
	if !ok {
		return u, nil, 1
	}
	first, last := s.own.Reckoning.Numbers(u)
	return u, s.own.Reckoning.Part(part.Text), last - first + 1
}

// jointOf is an assembly and a joint of it by name.
func (s *side) jointOf(name string) (*plan.Assembly, *plan.Joint) {
	a, id := s.find(name)
	return a, a.Joint(id)
}
