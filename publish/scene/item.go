package scene

import (
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/way"
)

// An Item is one line of an assembly's parts list: a part, or a sub-assembly as one.
// Its number is its place in the list, from 1.
type Item struct {
	ID    string // of the part or the assembly
	Count int    // in one instance of the assembly
}

// Items is an assembly's own parts list in one case: what it holds in the order of
// the plan, then what its joints take. What has no shape is listed too.
func Items(r *reckon.Reckoning, a *plan.Assembly) []Item {
	var list []Item
	add := func(id string, n int) {
		for i := range list {
			if list[i].ID == id {
				list[i].Count += n
				return
			}
		}
		if n > 0 {
			list = append(list, Item{id, n})
		}
	}
	for _, use := range a.Holds {
		if !use.Only.Fits(r.Case.Options) {
			continue
		}
		first, last := r.Numbers(use)
		if id, ok := way.Held(use, r.Case.Options); ok {
			add(id, last-first+1)
		}
	}
	for _, j := range a.Joints {
		if !j.Only.Fits(r.Case.Options) {
			continue
		}
		for _, id := range r.JointParts(j) {
			add(id, r.JointPlaces(a, j))
		}
	}
	return list
}

// Merged is one list of what the lists of several cases hold, so that things stand
// in one order in all of them; counts are those of the first list that has it.
func Merged(lists ...[]Item) []Item {
	var out []Item
	seen := map[string]bool{}
	for _, list := range lists {
		for _, item := range list {
			if !seen[item.ID] {
				seen[item.ID] = true
				out = append(out, item)
			}
		}
	}
	return out
}

// Present is what a case's own list holds, in the order of a list of several cases,
// so that its numbers have no gaps.
func Present(merged, own []Item) []Item {
	var out []Item
	for _, item := range merged {
		for _, one := range own {
			if one.ID == item.ID {
				out = append(out, one)
			}
		}
	}
	return out
}

// itemOf is the id of the item that a piece belongs to: its own part, or the
// sub-assembly that it came with.
func itemOf(a *plan.Assembly, sel plan.Selection, p layout.Piece) string {
	if use := way.UseOf(a, p); use != nil {
		id, _ := way.Held(use, sel)
		return id
	}
	return p.Part.Part.ID.Text
}
