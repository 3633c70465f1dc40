package reckon

import (
	"strconv"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// An Instance is one part or sub-assembly in the machine; the root is the machine
// itself.
type Instance struct {
	Path     string    // from the machine, dotted and numbered: "frame.feet.2"; "" for the machine
	Use      *plan.Use // nil for the machine
	Number   int       // of a repeated use, from 1; 0 for one that is not repeated
	Part     *plan.Part
	Assembly *plan.Assembly
	Parent   *Instance
	Children []*Instance
}

// Held is one joint of one assembly instance, with what it takes.
type Held struct {
	Assembly *plan.Assembly
	In       *Instance
	Joint    *plan.Joint
	Places   int
}

// A Tally is everything that the machine holds under a case.
type Tally struct {
	Root      *Instance
	Instances []*Instance // all but the root, parents before children
	Joints    []Held
	Parts     map[string]int // part id -> how many in the machine, fasteners and nuts included
	Placed    map[string]int // part id -> how many as instances, without what joints bring
	Assembled map[string]int // assembly id -> how many
	Cut       bool           // more instances than maxInstances: the tally is not whole
}

// maxInstances bounds the machine, so that nested repeats of a hostile plan end.
const maxInstances = 200000

// Tally counts what the machine holds. Uses, joints and parts that the case
// leaves out are not in it.
func (r *Reckoning) Tally() *Tally {
	if r.tally != nil {
		return r.tally
	}
	t := &Tally{Parts: map[string]int{}, Placed: map[string]int{}, Assembled: map[string]int{}}
	r.tally = t
	r.stack = append(r.stack, counting)
	defer func() { r.stack = r.stack[:len(r.stack)-1] }()
	machine := r.Plan.Assembly(r.Plan.Machine.Text)
	if machine == nil {
		return t
	}
	t.Root = &Instance{Assembly: machine}
	t.Assembled[machine.ID.Text]++
	r.fill(t, t.Root, map[string]bool{machine.ID.Text: true})
	return t
}

// counting names the tally, for circles: a count that depends on a count.
const counting = "what the machine holds"

// counted is a count out of the tally; asked while the tally is being made, it
// is a circle.
func (r *Reckoning) counted(from func(*Tally) int) (quantity.Value, error) {
	if err := r.circle(counting); err != nil {
		return quantity.Value{}, err
	}
	return quantity.Number(float64(from(r.Tally()))), nil
}

// Numbers are the first and the last number of a use's instances under the case:
// 0 and 0 for one that is not repeated, the last below the first for none.
func (r *Reckoning) Numbers(use *plan.Use) (first, last int) {
	if !use.Count.Given() {
		return 0, 0
	}
	n, _ := r.Whole(use.Count)
	return 1, n
}

func (r *Reckoning) fill(t *Tally, in *Instance, open map[string]bool) {
	for _, use := range in.Assembly.Holds {
		if !use.Only.Fits(r.Case.Options) {
			continue
		}
		first, last := r.Numbers(use)
		for number := first; number <= last && r.place(t, in, use, number, open); number++ {
		}
	}
	for _, j := range in.Assembly.Joints {
		if !j.Only.Fits(r.Case.Options) {
			continue
		}
		if len(t.Joints) >= maxInstances {
			t.Cut = true
			return
		}
		r.hold(t, in, j)
	}
}

// place adds one instance with all that it holds; false where no more can follow:
// the use stands for nothing, or the machine is full.
func (r *Reckoning) place(t *Tally, in *Instance, use *plan.Use, number int, open map[string]bool) bool {
	if len(t.Instances) >= maxInstances {
		t.Cut = true
		return false
	}
	child := &Instance{Path: use.ID.Text, Use: use, Number: number, Parent: in}
	if number > 0 {
		child.Path += "." + strconv.Itoa(number)
	}
	if in.Path != "" {
		child.Path = in.Path + "." + child.Path
	}
	if id, ok := use.Part.Pick(r.Case.Options); ok {
		child.Part = r.Plan.Part(id.Text)
	} else if id, ok := use.Assembly.Pick(r.Case.Options); ok && !open[id.Text] {
		child.Assembly = r.Plan.Assembly(id.Text)
	}
	if child.Part == nil && child.Assembly == nil {
		return false // a reference to nothing, or an assembly inside itself: reading has said so
	}
	in.Children = append(in.Children, child)
	t.Instances = append(t.Instances, child)
	if child.Part != nil {
		t.Parts[child.Part.ID.Text]++
		t.Placed[child.Part.ID.Text]++
		return true
	}
	id := child.Assembly.ID.Text
	t.Assembled[id]++
	open[id] = true
	r.fill(t, child, open)
	delete(open, id)
	return true
}

func (r *Reckoning) hold(t *Tally, in *Instance, j *plan.Joint) {
	h := Held{Assembly: in.Assembly, In: in, Joint: j, Places: r.JointPlaces(in.Assembly, j)}
	t.Joints = append(t.Joints, h)
	for _, id := range r.JointParts(j) {
		if r.Plan.Part(id) != nil {
			t.Parts[id] += h.Places
		}
	}
}

// JointParts are the ids of the parts that one place of a joint takes, in order
// from the head: screw, washers, nut; an id for each piece.
func (r *Reckoning) JointParts(j *plan.Joint) []string {
	var ids []string
	add := func(ref plan.Reference) {
		if id, ok := ref.Pick(r.Case.Options); ok && id.Text != "" {
			ids = append(ids, id.Text)
		}
	}
	add(j.Fastener)
	for _, w := range j.UnderHead {
		add(w)
	}
	for _, w := range j.UnderNut {
		add(w)
	}
	add(j.Into)
	return ids
}

// JointPlaces is at how many places a joint is made: as many as the layer with
// the most holes has, since slots and round bars pair with several; and those
// written out, as far as the case holds what they name. A joint of slots and faces
// alone has a place for each feature of its first layer.
func (r *Reckoning) JointPlaces(a *plan.Assembly, j *plan.Joint) int {
	if n, known := r.places[j]; known {
		return n
	}
	n := r.pairedPlaces(a, j)
	for _, place := range j.Also {
		if r.holds(a, place) {
			n++
		}
	}
	r.places[j] = n
	return n
}

// holds reports whether the case holds every feature of a place written out.
func (r *Reckoning) holds(a *plan.Assembly, place []plan.Word) bool {
	for _, feature := range place {
		if len(r.Spots(a, feature)) == 0 {
			return false
		}
	}
	return true
}

func (r *Reckoning) pairedPlaces(a *plan.Assembly, j *plan.Joint) int {
	layers := j.Through
	if len(layers) == 0 {
		layers = []plan.Layer{j.Mine, j.Theirs}
	}
	most, first := 0, 0
	for i, layer := range layers {
		holes, all := 0, 0
		for _, feature := range layer.Features {
			for _, spot := range r.Spots(a, feature) {
				all++
				if spot.Hole != nil {
					holes++
				}
			}
		}
		most = max(most, holes)
		if i == 0 {
			first = all
		}
	}
	if most == 0 {
		return first
	}
	return most
}
