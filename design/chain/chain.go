package chain

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Machine works out the chains of a placed machine. It keeps what several chains
// need; it is not for several goroutines at once.
type Machine struct {
	r         *reckon.Reckoning
	l         *layout.Layout
	j         *joint.Machine
	instances map[string]*reckon.Instance // by path
	graphs    map[solid.Vec]*graph
	sizes     map[string][]edge // by part: what the plan and its drawing dimension
}

// Of prepares the chains of a machine that layout has placed.
func Of(r *reckon.Reckoning, l *layout.Layout, j *joint.Machine) *Machine {
	m := &Machine{r: r, l: l, j: j, instances: map[string]*reckon.Instance{}, graphs: map[solid.Vec]*graph{}, sizes: map[string][]edge{}}
	for _, in := range r.Tally().Instances {
		m.instances[in.Path] = in
	}
	return m
}

// A Report is a chain worked out.
type Report struct {
	Calc         *plan.Calc
	Links        []Link        // from the one side of the gap to the other
	Contributors []Contributor // what does most to the worst case first
	Gap          Gap
	Measured     float64   // the gap on the placed machine, mm, extras left out
	Found        bool      // parts of the way were found and do not stand in the plan
	Alike        int       // of how many ways that are alike the found one is
	Requires     []Outcome // the calculation's requirements that name the gap
	Faults       []Fault
	Known        bool // the chain closes; else Faults say why not
}

// A Link is one step of a chain: through a part from one feature to another, or, with
// Contact set, from a feature of one part to that of the next that it meets.
type Link struct {
	Path, Title string // of the part; of a contact that of the part which it leaves
	From, To    string // its features; of a contact From is of the part it leaves, To of Next's
	Contact     bool
	Next        string  // of a contact: the path of the part that it comes to
	Start, Step float64 // mm along the chain: where it begins, from the chain's beginning, and how far it goes
	Held        string  // of a contact across: what places the parts: the joint's path
}

// The kinds of fault.
const (
	Unsuitable  FaultKind = iota // a feature that has no place along the chain
	Apart                        // what should touch does not, or nothing leads on
	Several                      // more than one way leads on
	Twice                        // the chain comes back to a part
	NoTolerance                  // nobody says how exact a size is
	Taken                        // the same for a bought part: the general tolerance is taken
)

// A FaultKind is a kind of fault.
type FaultKind int

// A Fault is what is wrong with a chain.
type Fault struct {
	Kind    FaultKind
	At      finding.Span
	Message string
	Remedy  string
	Also    []finding.Related
}

const (
	// touching (mm) is how far faces may lie apart and still count as touching.
	touching = joint.InLine
	// most bounds how many features one chain may name, and how many parts a way that is
	// found may pass.
	most = 200
)

// Run works the chain of a calculation out; nil where it has none, or does not belong
// to the case.
func (m *Machine) Run(c *plan.Calc) *Report {
	if c.Chain == nil || !c.Only.Fits(m.r.Case.Options) {
		return nil
	}
	b := &builder{Machine: m, chain: c.Chain, report: &Report{Calc: c}, noted: map[string]bool{}}
	b.run()
	b.outcomes()
	return b.report
}

// A builder is one chain being worked out.
type builder struct {
	*Machine
	chain  *plan.Chain
	report *Report
	frame  solid.Placement // from the axes of the chain's assembly to the machine's
	base   string          // path of that assembly in the machine
	along  solid.Vec       // the chain's direction in the machine
	list   []Contributor
	noted  map[string]bool // tolerances that nobody gives, said once for each size
}

func (b *builder) fault(kind FaultKind, at finding.Span, message, remedy string, also ...finding.Related) {
	b.report.Faults = append(b.report.Faults, Fault{kind, at, message, remedy, also})
}

func (b *builder) run() {
	a, ok := b.stand()
	if !ok {
		return
	}
	named := b.chain.Ends()
	if len(named) > most {
		b.fault(Unsuitable, named[most].At, fmt.Sprintf("the chain names more than %d features", most), "leave out what is found, or make it two chains")
		return
	}
	var ends [][]station
	for _, e := range named {
		s := b.stations(a, e)
		ok = ok && len(s) > 0
		ends = append(ends, s)
	}
	if !ok {
		return
	}
	way, ok := b.way(ends)
	if !ok || !b.once(way) {
		return
	}
	b.walk(way)
}

// stand finds the chain's assembly in the machine; the first where there are several.
func (b *builder) stand() (*plan.Assembly, bool) {
	b.frame = solid.Stay
	a := b.r.Plan.Assembly(b.r.Plan.Machine.Text)
	if in := b.chain.In; in.Given() && in.Text != b.r.Plan.Machine.Text {
		a = nil
		for _, one := range b.r.Tally().Instances {
			at, placed := b.l.Placement(one)
			if one.Assembly != nil && one.Assembly.ID.Text == in.Text && placed {
				a, b.frame, b.base = one.Assembly, at, one.Path+"."
				break
			}
		}
		if a == nil {
			b.fault(Unsuitable, in.At, "the machine holds no "+in.Text+" that has a place", "name an assembly that the machine holds, or say with `only` for which choice the chain is made")
		}
	}
	b.along = b.frame.Direction(axis(b.chain.Along.Text))
	return a, a != nil && b.chain.Along.Given()
}

// axis is the unit vector of an axis with its sign: "-z".
func axis(name string) solid.Vec {
	v, sign := solid.Vec{}, 1.0
	if len(name) == 2 {
		sign, name = -1, name[1:]
	}
	switch name {
	case "x":
		v.X = sign
	case "y":
		v.Y = sign
	case "z":
		v.Z = sign
	}
	return v
}

// once reports whether the chain passes each part once.
func (b *builder) once(way []station) bool {
	left := map[*reckon.Instance]bool{}
	for i, s := range way {
		if i > 0 && way[i-1].in != s.in {
			left[way[i-1].in] = true
		}
		if left[s.in] {
			at := s.said(b.chain)
			for _, next := range way[i:] {
				if next.in == s.in && next.named.Known() {
					at = next.named
					break
				}
			}
			b.fault(Twice, at, "the chain comes back to "+s.in.Path+", which it has passed", "name the features so that it passes each part once")
			return false
		}
	}
	return true
}

// walk goes along the chain and gathers links and contributors.
func (b *builder) walk(way []station) {
	at := 0.0
	ok := true
	for i := 1; i < len(way); i++ {
		s, t := way[i-1], way[i]
		link := Link{Path: s.in.Path, Title: s.part.Part.Title.Value, From: s.says(), To: t.says(), Start: at}
		if s.in == t.in {
			link.Step = t.pos - s.pos
			b.within(s, t, len(b.report.Links))
		} else {
			link.Contact, link.Next = true, t.in.Path
			link.Step = t.pos - s.pos
			ok = b.meet(s, t, &link) && ok
		}
		at += link.Step
		b.report.Links = append(b.report.Links, link)
	}
	b.report.Measured = way[len(way)-1].pos - way[0].pos
	nominal := at + b.extras()
	for i := range b.list {
		b.list[i].Number = i + 1
	}
	b.report.Gap = Sum(nominal, b.list)
	b.report.Contributors = b.list
	b.report.Known = ok
}

// extras are what the plan adds to the gap by hand; their nominal sizes, mm.
func (b *builder) extras() float64 {
	sum := 0.0
	for _, x := range b.chain.Also {
		v, known := b.r.QuantityIn(x.Is, lengths)
		if !known {
			continue
		}
		sum += v.SI * 1000
		b.list = append(b.list, Contributor{
			Kind: Extra, From: x.Name.Text, Size: v.SI * 1000, Sense: 1, Lower: -v.Minus * 1000, Upper: v.Plus * 1000,
			Basis: Own, Says: x.Because.Value, At: x.Is.At, Link: -1,
		})
	}
	return sum
}
