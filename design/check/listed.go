package check

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// A comparedList is a parts list kept elsewhere against what the plan holds under the
// choices that the list is for.
type comparedList struct {
	list  *plan.PartList
	by    *plan.Reconcile // nil for a list that the plan says nothing about
	s     *Situation
	rows  []listedPart
	named map[string]bool // ids that a row stands for
}

// A listedPart is all rows of one list that stand for one part or assembly.
type listedPart struct {
	id    string // "" where no name of the plan answers
	rows  []plan.ListRow
	count int
}

// comparedLists are the plan's parts lists kept elsewhere, row by row.
func (w *Work) comparedLists() []*comparedList {
	var all []*comparedList
	for _, by := range w.Plan.Reconciles {
		if by.Data == nil {
			continue
		}
		for _, s := range w.Combinations() {
			if by.Only.Fits(s.Case.Options) { // the plan's own choices come first
				all = append(all, compareList(by.Data, by, s))
				break
			}
		}
	}
	for _, l := range w.Plan.Lists {
		if c := compareList(l, nil, w.Default()); c.looksOurs() {
			all = append(all, c)
		}
	}
	return all
}

func compareList(list *plan.PartList, by *plan.Reconcile, s *Situation) *comparedList {
	c := &comparedList{list: list, by: by, s: s, named: map[string]bool{}}
	titles := map[string]string{}
	for _, p := range s.Reckoning.Plan.Parts {
		titles[strings.ToLower(bill.Title(s.Reckoning.Part(p.ID.Text)))] = p.ID.Text
		if p.Standard.Given() {
			titles[strings.ToLower(p.Standard.Text)] = p.ID.Text
		}
	}
	at := map[string]int{}
	for _, row := range list.Rows {
		id := c.stands(row.Name.Text, titles)
		k := id
		if id == "" {
			k = "?" + row.Name.Text
		}
		i, known := at[k]
		if !known {
			i = len(c.rows)
			at[k] = i
			c.rows = append(c.rows, listedPart{id: id})
			c.named[id] = true
		}
		c.rows[i].rows = append(c.rows[i].rows, row)
		c.rows[i].count += row.Count
	}
	return c
}

// stands is what a name of the list stands for: as the plan says, an id, a title or a
// designation; "" for nothing.
func (c *comparedList) stands(name string, titles map[string]string) string {
	p := c.s.Reckoning.Plan
	if c.by != nil {
		for _, n := range c.by.Names {
			if n.Name.Text == name {
				return n.Part.Text
			}
		}
	}
	if p.Part(name) != nil || p.Assembly(name) != nil {
		return name
	}
	return titles[strings.ToLower(name)]
}

// looksOurs reports whether at least half of a list's rows name things of the plan:
// others list something else.
func (c *comparedList) looksOurs() bool {
	known := 0
	for _, l := range c.rows {
		if l.id != "" {
			known++
		}
	}
	return known > 0 && 2*known >= len(c.rows)
}

// held is how many of a part or an assembly the machine holds.
func (c *comparedList) held(id string) int {
	if line := c.s.Bill.Line(id); line != nil {
		return line.Count
	}
	return c.s.Reckoning.Tally().Assembled[id]
}

// place is where the plan says what a part or an assembly is.
func (c *comparedList) place(id string) finding.Span {
	if p := c.s.Reckoning.Plan.Part(id); p != nil {
		return p.ID.At
	}
	if a := c.s.Reckoning.Plan.Assembly(id); a != nil {
		return a.ID.At
	}
	return finding.Span{}
}

// ignores reports whether the plan says that the list need not have a part: by its id,
// or by its kind.
func (c *comparedList) ignores(p *plan.Part) bool {
	if c.by.Ignored(p.ID.Text) {
		return true
	}
	return c.by.Ignored("fasteners") && isFastener(p) || c.by.Ignored("consumables") && p.Made.Text == plan.Consumable ||
		c.by.Ignored("bought") && p.Made.Text == plan.Bought
}

// kindsToIgnore are the words of ignore that stand for a kind of part.
var kindsToIgnore = []string{"fasteners", "consumables", "bought"}

// under names the choices that a list was compared for, where the plan's own are not.
func (c *comparedList) under() string {
	if len(c.s.Says) == 0 {
		return ""
	}
	return fmt.Sprintf(" (%s)", strings.Join(c.s.Says, ", "))
}

// idle are names and exceptions of a reconcile that neither the list nor the plan has.
func (c *comparedList) idle() []plan.Word {
	var out []plan.Word
	inList := map[string]bool{}
	for _, row := range c.list.Rows {
		inList[row.Name.Text] = true
	}
	for _, n := range c.by.Names {
		if !inList[n.Name.Text] {
			out = append(out, n.Name)
		}
	}
	for _, w := range c.by.Ignore {
		p := c.s.Reckoning.Plan
		known := slices.Contains(c.list.Ignored, w.Text) || p.Part(w.Text) != nil || p.Assembly(w.Text) != nil || slices.Contains(kindsToIgnore, w.Text)
		if !known {
			out = append(out, w)
		}
	}
	return out
}
