package sequence

import (
	"slices"

	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// A Card is what one step takes and asks for, ready to be printed.
type Card struct {
	Step   Step
	Bag    []Item // what is laid out: what the step adds, then what its joints take
	Joints []Work // in the order in which the step names them
	Lift   Lift   // the heaviest thing that it adds
	Rest   Resting
	Time   quantity.Value
	Timed  bool // the plan gives the time
	People int  // how many the step takes, 1 where the plan does not say
}

// An Item is so many of a part or of an assembly that was put together before.
type Item struct {
	Part     *reckon.Part // nil for an assembly
	Assembly *plan.Assembly
	Count    int
}

// A Work is what a step does with one joint: screws of one length at so many places.
type Work struct {
	Owner   *plan.Assembly
	Joint   *plan.Joint
	Screw   *reckon.Part // nil for joints without a screw
	Length  string       // of the screw, as its standard writes it; "" where it has none
	Places  int
	Started bool             // only started: a later step makes it tight
	Tight   joint.Tightening // how tight; zero where it is only started, or has no screw
	Tools   []Wrench         // that turn it, the usual one where nothing is known of room
	Holds   []Wrench         // that hold its nut
}

// A Lift is the heaviest thing that a step adds, against what its people may lift.
type Lift struct {
	Name  string  // the path of what is lifted; "" where the step adds nothing
	ID    string  // of the part or assembly that it is
	Mass  float64 // kilograms
	Known bool    // the mass of all of it is known
	Limit float64 // kilograms that the step's people may lift together
	Hoist bool    // the step names a hoist that lifts it
	Word  plan.Word
}

// Card is what a step of the graph takes and asks for. It is worked out once, and not
// for several goroutines at a time; its lists are shared.
func (rec *Record) Card(step int) Card {
	c, known := rec.cards[step]
	if !known {
		if rec.cards == nil {
			rec.cards = map[int]Card{}
		}
		c = rec.card(step)
		rec.cards[step] = c
	}
	return c
}

func (rec *Record) card(step int) Card {
	ref := rec.Graph.Steps[step]
	c := Card{Step: ref, People: 1}
	if n, ok := rec.r.Whole(ref.Step.People); ok && n > 0 {
		c.People = n
	}
	c.Time, c.Timed = rec.r.QuantityIn(ref.Step.Time, quantity.Time)
	rec.fill(&c)
	for n, list := range [][]plan.Word{ref.Step.Fastens, ref.Step.Tightens} {
		for _, w := range list {
			if work, ok := rec.handled(step, w, n == 0); ok {
				c.Joints = append(c.Joints, work)
			}
		}
	}
	rec.hardware(&c)
	c.Rest = rec.resting(&c)
	return c
}

// resting is how the work lies in a card's step.
func (rec *Record) resting(c *Card) Resting {
	r, gone := rec.rests[slices.Index(rec.Graph.Steps, c.Step)]
	if !gone { // nothing is known of what is there
		r.Rest = c.Step.Assembly.Rests(rec.r.Case.Options)[c.Step.Step]
	}
	r.Limit, r.Hoist = c.Lift.Limit, rec.hoists(c.Step.Step, r.Mass)
	return r
}

// fill lays out what a step adds and finds the heaviest of it.
func (rec *Record) fill(c *Card) {
	limit, _ := standards.LiftLimit(c.People)
	c.Lift.Limit = limit
	for _, w := range c.Step.Step.Adds {
		paths, _ := Instances(rec.r, c.Step.Assembly, w)
		for _, path := range paths {
			item := rec.item(c.Step.Assembly, path)
			if item.Count == 0 {
				continue
			}
			c.add(item)
			mass, known := rec.mass(item)
			if c.Lift.Name == "" || mass > c.Lift.Mass {
				c.Lift.Name, c.Lift.ID, c.Lift.Mass, c.Lift.Known, c.Lift.Word = path, item.ID(), mass, known, w
			}
		}
	}
	c.Lift.Hoist = rec.hoists(c.Step.Step, c.Lift.Mass)
}

// hoists reports whether a step names a tool that lifts so many kilograms.
func (rec *Record) hoists(st *plan.Step, kg float64) bool {
	return slices.ContainsFunc(st.Tools, func(w plan.Word) bool {
		t := rec.r.Plan.Tool(w.Text)
		if t == nil {
			return false
		}
		v, ok := rec.r.QuantityIn(t.Lifts, quantity.Mass)
		return ok && v.SI >= kg
	})
}

// add adds to the bag what is not in it yet, and counts up what is.
func (c *Card) add(item Item) {
	for i := range c.Bag {
		if b := &c.Bag[i]; b.Part == item.Part && b.Assembly == item.Assembly {
			b.Count += item.Count
			return
		}
	}
	c.Bag = append(c.Bag, item)
}

// item is what a path of an assembly stands for.
func (rec *Record) item(a *plan.Assembly, path string) Item {
	var use *plan.Use
	numbered := false
	for _, word := range (plan.Word{Text: path}).Path() {
		if isNumber(word) {
			numbered = true
			continue
		}
		if a == nil {
			return Item{}
		}
		if use = a.Use(word); use == nil {
			return Item{}
		}
		numbered = false
		id, _ := use.Assembly.Pick(rec.r.Case.Options)
		a = rec.r.Plan.Assembly(id.Text)
	}
	if use == nil {
		return Item{}
	}
	item := Item{Count: 1, Assembly: a}
	if use.Count.Given() && !numbered {
		_, item.Count = rec.r.Numbers(use)
	}
	if id, ok := use.Part.Pick(rec.r.Case.Options); ok {
		item.Part, item.Assembly = rec.r.Part(id.Text), nil
	}
	if item.Part == nil && item.Assembly == nil {
		return Item{}
	}
	return item
}

// ID is the plan's name of what an item is.
func (i Item) ID() string {
	if i.Part != nil {
		return i.Part.Part.ID.Text
	}
	return i.Assembly.ID.Text
}

// mass is what one of an item weighs, and whether all of it is known.
func (rec *Record) mass(item Item) (kg float64, known bool) {
	if item.Part != nil {
		return item.Part.Mass, item.Part.Weighed
	}
	kg, missing := rec.r.AssemblyMass(item.Assembly)
	return kg, len(missing) == 0
}

// handled is what a step does with a joint that it fastens or tightens.
func (rec *Record) handled(step int, w plan.Word, fastens bool) (work Work, ok bool) {
	ref := rec.Graph.Steps[step]
	owner, j := JointOf(rec.r.Plan, ref.Assembly, w)
	if j == nil || rec.Graph.Handled(j) == nil {
		return work, false
	}
	work = Work{Owner: owner, Joint: j, Screw: joint.Screw(rec.r, j), Places: rec.r.JointPlaces(owner, j)}
	if fastens {
		work.Started = slices.ContainsFunc(ref.Step.Loose, func(l plan.Word) bool {
			_, other := JointOf(rec.r.Plan, ref.Assembly, l)
			return other == j
		})
	}
	if work.Screw == nil {
		if t, known := joint.ClampTool(joint.ClampOf(rec.r, owner, j)); known {
			work.Tools = []Wrench{{t.Kind, t.Size}}
		}
		return work, true
	}
	if f := work.Screw.Fastener; f != nil {
		work.Length = f.LengthText
	}
	if !work.Started {
		work.Tight = joint.Tighten(rec.r, owner, j)
	}
	done := rec.tools[step][j]
	work.Tools, work.Holds = done.tools, done.holds
	if len(work.Tools) == 0 {
		if t, known := joint.ToolOf(work.Screw); known {
			work.Tools = []Wrench{{t.Kind, t.Size}}
		}
	}
	if f := work.Screw.Fastener; f != nil && (f.Kind == standards.Pin || f.Kind == standards.SpringPin) {
		work.Tools = append(slices.Clip(work.Tools), Wrench{Kind: "hammer"})
	}
	if nut := joint.NutOf(rec.r, j); nut != nil && (len(done.tools) == 0 || nut.Fastener == nil) {
		if t, known := joint.ToolOf(nut); known {
			work.Holds = []Wrench{{t.Kind, t.Size}}
		}
	}
	return work, true
}

// hardware lays out what the joints take that a step fastens.
func (rec *Record) hardware(c *Card) {
	for _, w := range c.Step.Step.Fastens {
		owner, j := JointOf(rec.r.Plan, c.Step.Assembly, w)
		if j == nil || rec.Graph.Handled(j) == nil {
			continue
		}
		places := rec.r.JointPlaces(owner, j)
		for _, id := range rec.r.JointParts(j) {
			if p := rec.r.Part(id); p != nil && places > 0 {
				c.add(Item{Part: p, Count: places})
			}
		}
	}
}
