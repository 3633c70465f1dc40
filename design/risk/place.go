package risk

import "plansheaf/design/reckon"

// A tree knows what holds what in the machine: by id, over all instances.
type tree struct {
	above map[string]map[string]bool // id -> ids of the assemblies that hold it, directly or not
	below map[string]map[string]bool // assembly id -> ids of what is in it
	holds map[string]map[string]bool // id -> ids of the assemblies that hold it directly
}

func treeOf(r *reckon.Reckoning) tree {
	t := tree{above: map[string]map[string]bool{}, below: map[string]map[string]bool{}, holds: map[string]map[string]bool{}}
	for _, in := range r.Tally().Instances {
		id := instanceID(in)
		for up := in.Parent; up != nil; up = up.Parent {
			put(t.above, id, instanceID(up))
			put(t.below, instanceID(up), id)
		}
		put(t.holds, id, instanceID(in.Parent))
	}
	for _, held := range r.Tally().Joints {
		for _, id := range r.JointParts(held.Joint) {
			for up := held.In; up != nil; up = up.Parent {
				put(t.above, id, instanceID(up))
			}
		}
	}
	return t
}

func put(m map[string]map[string]bool, key, id string) {
	if m[key] == nil {
		m[key] = map[string]bool{}
	}
	m[key][id] = true
}

func instanceID(in *reckon.Instance) string {
	if in.Part != nil {
		return in.Part.ID.Text
	}
	return in.Assembly.ID.Text
}

// around are the places at which a hazard speaks of something: itself, what holds
// it, what is in it.
func (t tree) around(id string) map[string]bool {
	places := map[string]bool{id: true}
	for _, m := range []map[string]bool{t.above[id], t.below[id]} {
		for other := range m {
			places[other] = true
		}
	}
	return places
}

// beside adds what stands in the same assembly: a motor's turning is met at the
// pulley that it drives.
func (t tree) beside(id string) map[string]bool {
	places := t.around(id)
	for a := range t.holds[id] {
		for other := range t.below[a] {
			places[other] = true
		}
	}
	return places
}
