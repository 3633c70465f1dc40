package change

import (
	"crypto/sha256"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

// A thing is one thing of a revision that may be added, removed, renamed or changed.
type thing struct {
	kind  Kind
	id    string // with its assembly's, in its own plan's names
	title string
	at    finding.Span
	a     *plan.Assembly // of uses, joints and steps
	part  *plan.Part     // of features
	// formulas are told as written.
	formulas bool
	model    any                                // what the plan says of it
	derive   func(t *teller)                    // what follows, and what the model does not hold
	order    func(t *teller) (say, mean string) // of an assembly's steps
}

// facts are all that the side says of a thing.
func (s *side) facts(x *thing, n *names) []fact {
	list := s.tell(x, n, x.formulas)
	if x.formulas {
		return list
	}
	// Told once more as written, so that what follows from other changes is known.
	written := s.tell(x, n, true)
	if len(written) == len(list) {
		for i := range list {
			if !list[i].follows {
				list[i].source = written[i].mean
			}
		}
	}
	return list
}

// tell tells a thing with values worked out, or with formulas as they are written.
func (s *side) tell(x *thing, n *names, formulas bool) []fact {
	t := &teller{side: s, names: n, a: x.a, part: x.part, formulas: formulas}
	if x.kind == OfChoice {
		t.choice = x.id
	}
	if x.model != nil {
		t.struc(reflect.ValueOf(x.model).Elem(), "", "")
	}
	if x.derive != nil {
		x.derive(t)
	}
	return t.out
}

// told are what the side says of a thing without what follows: quicker.
func (s *side) told(x *thing, n *names) []fact {
	y := *x
	if y.kind != OfFile && y.kind != OfCalculation {
		y.derive = nil
	}
	return s.tell(&y, n, y.formulas)
}

// things lists all things of a kind in the plan's order.
func (s *side) things(k Kind) []*thing {
	list, known := listers[k]
	if !known {
		return s.assembled(k)
	}
	var out []*thing
	list(s, func(id plan.Word, title string, model any) *thing {
		x := &thing{kind: k, id: id.Text, title: plainly(title), at: id.At, model: model}
		out = append(out, x)
		return x
	})
	return out
}

// An adder adds a thing of a kind and returns it for what else is to be said of it.
type adder func(id plan.Word, title string, model any) *thing

// listers list the things of each kind that stands in no assembly.
var listers = map[Kind]func(s *side, add adder){
	OfPlan: func(s *side, add adder) {
		add(plan.Word{Text: "plan", At: s.plan.At}, s.plan.Title.Value, identityOf(s.plan))
	},
	OfChoice: func(s *side, add adder) {
		for _, c := range s.plan.Choices {
			add(c.ID, c.Title.Value, c)
		}
	},
	OfValue: func(s *side, add adder) {
		for _, v := range s.plan.Values {
			add(v.ID, v.About.Value, v)
		}
	},
	OfMotion: func(s *side, add adder) {
		for _, m := range s.plan.Motions {
			add(m.ID, m.About.Value, m).formulas = true
		}
	},
	OfClaim: func(s *side, add adder) {
		for _, c := range s.plan.Claims {
			x := add(plan.Word{Text: plainly(c.Say.Value), At: c.At}, "", c)
			x.formulas = true
			x.derive = func(t *teller) { t.claim(c) }
		}
	},
	OfCalculation: func(s *side, add adder) {
		for _, c := range s.plan.Calcs {
			x := add(c.ID, c.Title.Value, c)
			x.formulas = true
			x.derive = func(t *teller) { t.calc(c) }
		}
	},
	OfHazard: func(s *side, add adder) {
		for _, h := range s.plan.Hazards {
			add(h.ID, orElse(h.Title.Value, h.Harm.Value), h)
		}
	},
	OfPart: func(s *side, add adder) {
		for _, one := range s.plan.Parts {
			x := add(one.ID, titleOf(s, one), one)
			x.part = one
			x.derive = func(t *teller) { t.body(one) }
		}
	},
	OfStock: func(s *side, add adder) {
		for _, st := range s.plan.Stock {
			add(st.ID, st.Title.Value, st)
		}
	},
	OfMaterial: func(s *side, add adder) {
		for _, m := range s.plan.Materials {
			add(m.ID, m.Title.Value, m)
		}
	},
	OfDrawing: func(s *side, add adder) {
		for _, d := range s.plan.Drawings {
			add(d.ID, d.Title.Value, d).part = s.plan.Part(d.Of.Text)
		}
	},
	OfPage: func(s *side, add adder) {
		for _, one := range s.plan.Pages {
			add(one.ID, one.Title.Value, one)
		}
	},
	OfTool: func(s *side, add adder) {
		for _, one := range s.plan.Tools {
			add(one.ID, one.Title.Value, one)
		}
	},
	OfSupplier: func(s *side, add adder) {
		for _, one := range s.plan.Suppliers {
			add(one.ID, one.Title.Value, one)
		}
	},
	OfFile: func(s *side, add adder) {
		for _, f := range s.plan.Files {
			add(plan.Word{Text: f.Path, At: finding.WholeFile(f.Path)}, "", nil).derive = func(t *teller) { t.file(f) }
		}
	},
	OfList: func(s *side, add adder) {
		for _, l := range s.plan.Reconciles {
			add(l.File, "", l)
		}
	},
}

// assembled lists the things of assemblies.
func (s *side) assembled(k Kind) []*thing {
	var list []*thing
	for _, a := range s.plan.Assemblies {
		add := func(id plan.Word, title string, model any) *thing {
			x := &thing{kind: k, id: a.ID.Text + "." + id.Text, title: plainly(title), at: id.At, a: a, model: model}
			list = append(list, x)
			return x
		}
		switch k {
		case OfAssembly:
			x := add(a.ID, a.Title.Value, a)
			x.id = a.ID.Text
			x.derive = func(t *teller) { t.massOf(a) }
		case OfPlacement:
			for _, u := range a.Holds {
				x := add(u.ID, "", u)
				_, x.part = (&names{plan: s.plan}).held(u)
				x.derive = func(t *teller) { t.place(a, u) }
			}
		case OfJoint:
			for _, j := range a.Joints {
				add(j.ID, "", j).derive = func(t *teller) { t.joint(a, j) }
			}
		case OfStep:
			for _, st := range a.Steps {
				add(st.ID, st.Title.Value, st)
			}
		}
	}
	return list
}

// An identity is what plan.yaml says of the plan as a whole.
type identity struct {
	Title, Summary                              plan.Text
	Machine, Revision, Date                     plan.Word
	Authors                                     []plan.Text
	Approved                                    plan.Text
	License, Language, Units, Sheet, Projection plan.Word
	Tolerances                                  plan.Tolerances
	Currency                                    plan.Word
	Budgets, Spares                             []plan.Named
	Waivers                                     []*plan.Waiver
	History                                     []*plan.Entry
	Shipped                                     []plan.PartFile
}

func identityOf(p *plan.Plan) *identity {
	return &identity{
		p.Title, p.Summary, p.Machine, p.Revision, p.Date, p.Authors, p.Approved, p.License, p.Language, p.Units, p.Sheet, p.Projection,
		p.Tolerances, p.Currency, p.Budgets, p.Spares, p.Waivers, p.History, p.Shipped,
	}
}

// plainly is a title on one line.
func plainly(text string) string { return strings.Join(strings.Fields(text), " ") }

func orElse(text, other string) string {
	if text != "" {
		return text
	}
	return other
}

// titleOf is what a part is called: its own title, or that of its standard.
func titleOf(s *side, p *plan.Part) string {
	if p.Title.Given() {
		return p.Title.Value
	}
	if part := s.own.Reckoning.Part(p.ID.Text); part != nil {
		return bill.Title(part)
	}
	return p.ID.Text
}

// body tells what follows for a part: its size and mass.
func (t *teller) body(p *plan.Part) {
	part := t.side.own.Reckoning.Part(p.ID.Text)
	if part == nil {
		return
	}
	if part.Solid != nil && !bill.Bought(part) {
		size := part.Solid.Box().Size()
		t.derive("size over all", t.millimetres(" × ", size.X, size.Y, size.Z), rounded(size))
	}
	if part.Weighed {
		v := quantity.Value{SI: part.Mass, Dim: quantity.Mass}
		t.derive("mass of one", t.side.text(v), fmt.Sprintf("%.6g", part.Mass))
	}
}

// millimetres prints lengths in the plan's units.
func (t *teller) millimetres(between string, list ...float64) string {
	texts := make([]string, len(list))
	for i, mm := range list {
		texts[i] = t.side.text(quantity.MM(math.Round(mm*1000)/1000 + 0))
	}
	return strings.Join(texts, between)
}

// rounded is a place to the micrometre.
func rounded(v solid.Vec) string {
	micro := func(x float64) string { return strconv.FormatInt(int64(math.Round(x*1000)), 10) }
	return micro(v.X) + " " + micro(v.Y) + " " + micro(v.Z)
}

// massOf tells what one of an assembly weighs.
func (t *teller) massOf(a *plan.Assembly) {
	if t.side.own.Reckoning.Tally().Assembled[a.ID.Text] == 0 {
		return
	}
	kg, _ := t.side.own.Reckoning.AssemblyMass(a)
	t.derive("mass of one", t.side.text(quantity.Value{SI: kg, Dim: quantity.Mass}), fmt.Sprintf("%.6g", kg))
}

// place tells where a use stands in its assembly's axes.
func (t *teller) place(a *plan.Assembly, u *plan.Use) {
	in := t.side.instance(a, u)
	if in == nil {
		return
	}
	l := t.side.own.Layout
	at, placed := l.Placement(in)
	parent, held := l.Placement(in.Parent)
	if !placed || !held {
		return
	}
	at = at.Then(parent.Inverse())
	mean := rounded(at.Move)
	for _, axis := range at.Turn {
		mean += " " + rounded(axis)
	}
	say := "(" + t.millimetres(", ", at.Move.X, at.Move.Y, at.Move.Z) + ")"
	if at.Turn != solid.Stay.Turn {
		say += fmt.Sprintf(", its x towards %s, its z towards %s", towards(at.Turn[0]), towards(at.Turn[2]))
	}
	t.derive(StandsAt, say, mean)
}

// towards is a direction in words, as far as it runs along an axis.
func towards(v solid.Vec) string {
	for i, x := range []float64{v.X, v.Y, v.Z} {
		if math.Abs(x) > 1-1e-9 {
			return []string{"", "-"}[b2i(x < 0)] + string("xyz"[i])
		}
	}
	return fmt.Sprintf("(%.3g, %.3g, %.3g)", v.X+0, v.Y+0, v.Z+0)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Takes is the field of a joint that tells what screws, washers and nuts it takes.
const Takes = "takes at each place"

// joint tells what follows for a joint: what screw it takes, at how many places, how
// tight.
func (t *teller) joint(a *plan.Assembly, j *plan.Joint) {
	r := t.side.own.Reckoning
	if !j.Only.Fits(t.side.own.Case.Options) || r.Tally().Assembled[a.ID.Text] == 0 {
		return
	}
	var titles, ids []string
	for _, id := range r.JointParts(j) {
		title := id
		if p := r.Part(id); p != nil {
			title = bill.Title(p)
		}
		titles, ids = append(titles, title), append(ids, title)
	}
	if len(titles) > 0 {
		t.derive(Takes, strings.Join(titles, ", "), strings.Join(ids, ", "))
	}
	n := r.JointPlaces(a, j)
	t.derive("places", strconv.Itoa(n), strconv.Itoa(n))
	if tight := joint.Tighten(r, a, j); tight.Known && !tight.Hand && !tight.Never {
		t.derive("torque, worked out", t.side.text(tight.Torque.Nominal()), fmt.Sprintf("%.6g", tight.Torque.SI))
	}
}

// claim tells what a claim comes to.
func (t *teller) claim(c *plan.Claim) {
	if t.side.own.Reckoning.Absent(c.Is) {
		return
	}
	if v, ok := t.side.own.Reckoning.Quantity(c.Is); ok {
		t.derive("comes to", t.side.text(v), meaning(v))
	}
}

// calc tells what a calculation is made of, as written, and what it comes to.
func (t *teller) calc(c *plan.Calc) {
	for _, g := range c.Givens {
		say, mean := t.written(g.Is)
		t.add("given "+g.Name.Text, "given "+g.Name.Text, say, mean)
		t.text(g.Because, "given "+g.Name.Text+", because", "given "+g.Name.Text+", because")
	}
	for _, f := range c.Finds {
		say, mean := t.written(f.Is)
		t.add("formula of "+f.Name.Text, "formula of "+f.Name.Text, say, mean)
	}
	for _, list := range []struct {
		name string
		of   []plan.Require
	}{{"requirement", c.Requires}, {"holds while", c.Limits}} {
		for _, q := range list.of {
			say, mean := t.written(q.That)
			t.add(list.name, list.name, say, mean)
		}
	}
	for _, table := range c.Tables {
		if table.Data != nil {
			t.add("table "+table.Name.Text, "table "+table.Name.Text, fmt.Sprintf("%s, %d columns", table.File.Text, len(table.Data.Columns)), digest([]byte(fmt.Sprint(*table.Data, table.Between.Text))))
		}
	}
	report := t.side.own.Calc(c.ID.Text)
	if report == nil {
		return
	}
	for _, f := range slices.Concat(report.Givens, report.Finds) {
		if f.Known && (f.Formula.Expr == nil || !plain(f.Formula)) {
			t.derive("result "+f.Name, t.side.text(f.Value), meaning(f.Value))
		}
	}
}

// plain reports whether a formula is a value and nothing else.
func plain(f plan.Formula) bool {
	_, literal := f.Expr.Literal()
	return literal
}

// file tells a shipped file by its content.
func (t *teller) file(f *plan.File) {
	t.add("content", "content", fmt.Sprintf("%d bytes, SHA-256 %.12s", f.Size, digest(f.Data)), digest(f.Data))
}

func digest(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }
