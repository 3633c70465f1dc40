package data

import (
	"fmt"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A rollupFile is what one case's lists come to, sorted in other ways.
type rollupFile struct {
	Kinds      []kindFile     `json:"kinds" about:"parts by how they are made"`
	Suppliers  []supplierFile `json:"suppliers" about:"purchases by who sells them"`
	Assemblies []balanceFile  `json:"assemblies" about:"each assembly that the machine holds"`
	Prints     []printFile    `json:"prints" about:"printed parts"`
	Plastic    []spoolFile    `json:"plastic" about:"what the printed parts take, by material"`
}

type kindFile struct {
	Kind   string  `json:"kind" about:"how the parts are made, or standard, or consumable"`
	Parts  int     `json:"parts" about:"different parts"`
	Pieces int     `json:"pieces" about:"in the whole machine"`
	MassKg float64 `json:"mass_kg" about:"kilograms"`
}

type supplierFile struct {
	Supplier string  `json:"supplier" about:"name in the plan; empty where any will do"`
	Items    int     `json:"items" about:"different purchases"`
	Cost     float64 `json:"cost" about:"in the currency"`
	Unpriced int     `json:"unpriced" about:"purchases without a price, which the cost lacks"`
}

type balanceFile struct {
	ID       string         `json:"id" about:"name of the assembly"`
	Count    int            `json:"count" about:"in the whole machine"`
	MassKg   float64        `json:"mass_kg" about:"kilograms, of one"`
	CentreMM *[3]float64    `json:"centre_mm,omitempty" about:"centre of mass in the assembly's own axes, motions at rest; each body at the centroid of its shape"`
	Left     []string       `json:"left,omitempty" about:"parts that the centre leaves out: no mass, no shape or no place of their own"`
	Holds    map[string]int `json:"holds" about:"parts that one holds itself or its own joints take, by name"`
}

type printFile struct {
	Part      string   `json:"part" about:"name of the part"`
	Count     int      `json:"count" about:"in the whole machine"`
	Material  string   `json:"material,omitempty" about:"name in the tables"`
	Face      string   `json:"face,omitempty" about:"face on the bed"`
	Walls     string   `json:"walls,omitempty" about:"how many"`
	Infill    *float64 `json:"infill,omitempty" about:"share of the inside that is filled"`
	LayerMM   *float64 `json:"layer_mm,omitempty" about:"height of a layer"`
	MassKg    *float64 `json:"mass_kg,omitempty" about:"kilograms, of one"`
	Estimated bool     `json:"estimated" about:"whether the mass is estimated from walls, closed layers and infill"`
	Minutes   *float64 `json:"minutes,omitempty" about:"of printing, for one, as given"`
}

type spoolFile struct {
	Material  string   `json:"material" about:"name in the tables"`
	MassKg    float64  `json:"mass_kg" about:"kilograms"`
	Unweighed []string `json:"unweighed,omitempty" about:"parts of unknown mass, which it lacks"`
}

// A useFile is an amount that a step uses up.
type useFile struct {
	Part string  `json:"part" about:"name of the consumable"`
	SI   float64 `json:"si" about:"amount in the base units of the SI"`
	Text string  `json:"text" about:"as printed"`
}

// A choicesFile is what the choices make of the parts.
type choicesFile struct {
	Whatever    []mostFile       `json:"whatever" about:"the most of each part that any combination of options takes"`
	Differences []differenceFile `json:"differences" about:"what each option adds to the plan's own and takes away, the other choices as they are"`
}

type mostFile struct {
	Part   string  `json:"part" about:"name of the part"`
	Count  int     `json:"count" about:"pieces"`
	Amount float64 `json:"amount,omitempty" about:"of consumables, in the base units of the SI"`
	Cases  []int   `json:"cases" about:"which of the cases take that many, from 0"`
}

type differenceFile struct {
	Choice   string       `json:"choice" about:"name in the plan"`
	Option   string       `json:"option" about:"name in the plan"`
	Cost     float64      `json:"cost" about:"more than the plan's own, in the currency"`
	Unpriced []string     `json:"unpriced,omitempty" about:"purchases without a price, which the cost lacks"`
	MassKg   float64      `json:"mass_kg" about:"kilograms more"`
	Minutes  float64      `json:"minutes" about:"of work more"`
	Parts    []changeFile `json:"parts" about:"parts whose count or amount changes"`
	Sized    []string     `json:"sized,omitempty" about:"parts of both that measure or weigh another amount"`
}

type changeFile struct {
	Part   string  `json:"part" about:"name of the part"`
	From   int     `json:"from" about:"pieces in the plan's own"`
	To     int     `json:"to" about:"pieces with the option"`
	Amount float64 `json:"amount_more,omitempty" about:"of consumables, in the base units of the SI"`
}

func rollupOf(s *check.Situation) rollupFile {
	out := rollupFile{Kinds: []kindFile{}, Suppliers: []supplierFile{}, Assemblies: []balanceFile{}, Prints: []printFile{}, Plastic: []spoolFile{}}
	for _, k := range s.Bill.ByKind() {
		out.Kinds = append(out.Kinds, kindFile{Kind: k.Of, Parts: k.Lines, Pieces: k.Pieces, MassKg: k.Mass})
	}
	for _, k := range s.Bill.BySupplier() {
		out.Suppliers = append(out.Suppliers, supplierFile{Supplier: k.Of, Items: k.Lines, Cost: k.Cost.Amount(), Unpriced: k.Unpriced})
	}
	for _, b := range bill.Balances(s.Reckoning, s.Layout) {
		out.Assemblies = append(out.Assemblies, balanceOf(s, b))
	}
	prints, spools := s.Bill.Prints(s.Reckoning)
	for _, p := range prints {
		out.Prints = append(out.Prints, printOf(s, p))
	}
	for _, sp := range spools {
		out.Plastic = append(out.Plastic, spoolFile{Material: sp.Material.ID, MassKg: sp.Mass, Unweighed: sp.Unweighed})
	}
	return out
}

func balanceOf(s *check.Situation, b bill.Balance) balanceFile {
	n := s.Reckoning.Tally().Assembled[b.Assembly.ID.Text]
	kg, _ := s.Reckoning.AssemblyMass(b.Assembly)
	one := balanceFile{ID: b.Assembly.ID.Text, Count: n, MassKg: kg, Left: b.Left, Holds: map[string]int{}}
	if b.Mass > 0 {
		one.CentreMM = &[3]float64{b.Centre.X, b.Centre.Y, b.Centre.Z}
	}
	for _, line := range s.Bill.Lines {
		for _, share := range line.By {
			if share.Assembly == b.Assembly {
				one.Holds[line.Part.Part.ID.Text] = share.Count / max(1, n)
			}
		}
	}
	return one
}

func printOf(s *check.Situation, p bill.Print) printFile {
	part := p.Part
	one := printFile{Part: part.Part.ID.Text, Count: p.Count, Material: part.Material.ID, Estimated: p.Estimated()}
	if how := part.Part.Print; how != nil {
		one.Face, one.Walls = how.Face.Text, how.Walls.Text
		if v, ok := s.Reckoning.QuantityIn(how.Infill, quantity.Pure); ok && how.Infill.Given() {
			one.Infill = &v.SI
		}
		if mm, ok := s.Reckoning.Length(how.Layer); ok && how.Layer.Given() {
			one.LayerMM = &mm
		}
	}
	if part.Weighed {
		one.MassKg = &part.Mass
	}
	if p.Timed {
		one.Minutes = &p.Minute
	}
	return one
}

func usesOf(s *check.Situation, st *plan.Step, system quantity.System) []useFile {
	var out []useFile
	for _, u := range st.Uses {
		if v, ok := s.Reckoning.Quantity(u.Amount); ok {
			out = append(out, useFile{Part: u.Part.Text, SI: v.SI, Text: quantity.Text(v.Nominal(), system)})
		}
	}
	return out
}

func choicesOf(w *check.Work) choicesFile {
	out := choicesFile{Whatever: []mostFile{}, Differences: []differenceFile{}}
	for _, m := range bill.Whatever(w.Plan, bills(w)) {
		out.Whatever = append(out.Whatever, mostFile{Part: m.Part.Part.ID.Text, Count: m.Count, Amount: m.Amount, Cases: m.In})
	}
	for _, c := range w.Plan.Choices {
		for _, o := range c.Options {
			s := w.Choosing(plan.Selection{c.ID.Text: o.ID.Text})
			if s == nil || o.ID.Text == c.Default.Text {
				continue
			}
			d := bill.Between(w.Plan, w.Default().Bill, s.Bill)
			one := differenceFile{Choice: c.ID.Text, Option: o.ID.Text, Cost: d.Cost.Amount(), Unpriced: d.Unpriced, MassKg: d.Mass, Minutes: d.Minutes, Parts: []changeFile{}}
			for _, p := range d.Parts {
				one.Parts = append(one.Parts, changeFile{Part: p.Part.Part.ID.Text, From: p.From, To: p.To, Amount: p.Amount})
			}
			for _, p := range d.Sized {
				one.Sized = append(one.Sized, p.Part.ID.Text)
			}
			out.Differences = append(out.Differences, one)
		}
	}
	return out
}

func bills(w *check.Work) []*bill.Bill {
	var all []*bill.Bill
	for _, s := range w.Combinations() {
		all = append(all, s.Bill)
	}
	return all
}

// AssembliesCSV lists what each assembly holds itself: a row for each part in it.
func AssembliesCSV(s *check.Situation) []byte {
	rows := [][]string{{"assembly", "in the machine", "part", "title", "in one", "in all"}}
	for _, a := range s.Reckoning.Plan.Assemblies {
		n := s.Reckoning.Tally().Assembled[a.ID.Text]
		for _, line := range s.Bill.Lines {
			for _, share := range line.By {
				if share.Assembly == a {
					rows = append(rows, []string{a.ID.Text, fmt.Sprint(n), line.Part.Part.ID.Text, bill.Title(line.Part), fmt.Sprint(share.Count / max(1, n)), fmt.Sprint(share.Count)})
				}
			}
		}
	}
	return table(rows)
}

// StepsCSV lists what each step takes: a row for each part, assembly or consumable.
func StepsCSV(s *check.Situation) []byte {
	rows := [][]string{{"step", "title", "times", "takes", "count", "amount"}}
	system := check.System(s.Reckoning.Plan)
	for _, kit := range bill.Kits(s.Reckoning, s.Sequence()) {
		step := []string{kit.Assembly.ID.Text + "." + kit.Step.ID.Text, kit.Step.Title.Value, fmt.Sprint(kit.Times)}
		for _, item := range kit.Items {
			rows = append(rows, append(step[:3:3], item.ID(), fmt.Sprint(item.Count), ""))
		}
		for _, u := range kit.Uses {
			rows = append(rows, append(step[:3:3], u.Part.Part.ID.Text, "", quantity.Text(u.Amount.Nominal(), system)))
		}
	}
	return table(rows)
}

// PrintsCSV lists the printed parts.
func PrintsCSV(s *check.Situation) []byte {
	rows := [][]string{{"part", "title", "count", "material", "face on the bed", "walls", "infill", "layer mm", "mass each g", "mass", "minutes each"}}
	number := func(x *float64, times float64) string {
		if x == nil {
			return ""
		}
		return fmt.Sprintf("%.6g", *x*times)
	}
	prints, _ := s.Bill.Prints(s.Reckoning)
	for _, p := range prints {
		one := printOf(s, p)
		how := "given"
		switch {
		case one.MassKg == nil:
			how = "not known"
		case one.Estimated:
			how = "estimated"
		}
		rows = append(rows, []string{
			one.Part, bill.Title(p.Part), fmt.Sprint(one.Count), one.Material, one.Face, one.Walls, number(one.Infill, 1), number(one.LayerMM, 1), number(one.MassKg, 1000), how, number(one.Minutes, 1),
		})
	}
	return table(rows)
}

// EverythingCSV lists the most of each part that any combination of options takes.
func EverythingCSV(w *check.Work) []byte {
	rows := [][]string{{"part", "title", "at most", "amount", "taken by"}}
	all := w.Combinations()
	system := check.System(w.Plan)
	for _, m := range bill.Whatever(w.Plan, bills(w)) {
		amount := ""
		if v, ok := all[m.In[0]].Reckoning.Quantity(m.Part.Part.Amount); ok && m.Amount > 0 {
			v.SI = m.Amount
			amount = quantity.Text(v.Nominal(), system)
		}
		by := "any"
		if len(m.In) < len(all) {
			var says []string
			for _, i := range m.In {
				says = append(says, optionsText(w.Plan, all[i]))
			}
			by = strings.Join(says, "; ")
		}
		rows = append(rows, []string{m.Part.Part.ID.Text, bill.Title(m.Part), fmt.Sprint(m.Count), amount, by})
	}
	return table(rows)
}

// optionsText is a combination in words of the plan: "drive crank, tile large".
func optionsText(p *plan.Plan, s *check.Situation) string {
	var says []string
	for _, c := range p.Choices {
		says = append(says, c.ID.Text+" "+s.Case.Options[c.ID.Text])
	}
	return strings.Join(says, ", ")
}
