package changes

import (
	"fmt"
	"strings"

	"plansheaf/design/change"
)

// A Report is what is written: a comparison, and what a builder half way does, if asked.
type Report struct {
	*change.Comparison
	Midway *change.Halfway // nil where nobody asked
}

// A section is one part of a report, the same in every form for people.
type section struct {
	title string
	about string
	items []item
	long  bool // folded where a form can fold
}

// An item is one line with what stands below it.
type item struct {
	words string
	part  string // id of the part that a picture shows
	rows  []change.Field
	list  []string
}

// plural names of kinds, for headings.
var plurals = map[change.Kind]string{
	change.OfPlan: "The plan itself", change.OfChoice: "Choices", change.OfValue: "Values", change.OfMotion: "Motions", change.OfClaim: "Claims",
	change.OfCalculation: "Calculations", change.OfHazard: "Hazards", change.OfPart: "Parts", change.OfStock: "Stock", change.OfMaterial: "Materials",
	change.OfAssembly: "Assemblies", change.OfPlacement: "Placements", change.OfJoint: "Joints", change.OfStep: "Steps", change.OfDrawing: "Drawings",
	change.OfPage: "Pages", change.OfTool: "Tools", change.OfSupplier: "Suppliers", change.OfFile: "Files", change.OfList: "Parts lists kept elsewhere",
}

// firstLooks is the title of what deserves a look first.
const firstLooks = "Look at these first"

// outline is the report's sections in their order, empty ones left out.
func (r Report) outline() []section {
	var out []section
	add := func(s section) {
		if len(s.items) > 0 {
			out = append(out, s)
		}
	}
	add(section{title: "Worse than before", items: lines(r.Worse)})
	var first []item
	for _, l := range r.First {
		first = append(first, item{words: l.Why + ": " + l.Say})
	}
	add(section{title: firstLooks, about: "At most seven: new errors, what does not hold any more, hazards, lost margins, replaced parts, joints, values, sizes, warnings, order.", items: first})
	r.midway(add)
	for _, k := range change.Kinds() {
		add(section{title: plurals[k], items: r.items(k, false), long: k != change.OfPart && k != change.OfHazard && k != change.OfChoice})
	}
	r.effects(add)
	add(section{title: "New findings", items: findings(r.Found), long: len(r.Found) > 5})
	add(section{title: "Findings that are gone", items: findings(r.Gone), long: true})
	var follows []item
	for _, k := range change.Kinds() {
		follows = append(follows, r.items(k, true)...)
	}
	add(section{title: "Changed because something else did", items: follows, long: true})
	return out
}

func lines(list []string) []item {
	var out []item
	for _, text := range list {
		out = append(out, item{words: text})
	}
	return out
}

func tasks(list []change.Task) []item {
	var out []item
	for _, t := range list {
		out = append(out, item{words: t.Say})
	}
	return out
}

// mostRows is how many fields are shown of what was added or removed.
const mostRows = 12

// items are the changes of a kind, those that follow or those that do not.
func (r Report) items(k change.Kind, follows bool) []item {
	var out []item
	for _, c := range r.Changes {
		if c.Kind != k || c.Follows != follows {
			continue
		}
		one := item{words: headline(c), rows: c.Lines}
		if n := len(c.Lines); (c.What == change.Added || c.What == change.Removed) && n > mostRows {
			one.rows = c.Lines[:mostRows]
			one.list = append(one.list, fmt.Sprintf("and %d more", n-mostRows))
		}
		if k == change.OfPart {
			one.part = c.ID
			if len(c.In) > 0 {
				one.list = append(one.list, "used in "+strings.Join(c.In, ", "))
			}
		}
		out = append(out, one)
	}
	return out
}

// headline is what a change is called above its fields.
func headline(c change.Change) string {
	name := string(c.Kind) + " " + c.ID
	if c.Kind == change.OfPlan {
		return "plan"
	}
	if c.Title != "" {
		name += " (" + c.Title + ")"
	}
	switch c.What {
	case change.Changed:
		return name
	case change.Renamed:
		return fmt.Sprintf("%s, renamed from %s", name, c.Was)
	case change.Replaced:
		return fmt.Sprintf("%s replaces %s", name, orWith(c.Was, c.Had))
	}
	return name + ", " + c.What
}

func orWith(id, title string) string {
	if title == "" {
		return id
	}
	return id + " (" + title + ")"
}

// effects are the sections of what follows.
func (r Report) effects(add func(section)) {
	var figures []item
	for _, f := range r.Effects.Figures {
		words := fmt.Sprintf("%s %s → %s", f.What, f.Old, f.New)
		if f.More != "" {
			words += " (" + f.More + ")"
		}
		if f.Choices != "" {
			words += ", with " + f.Choices
		}
		figures = append(figures, item{words: words})
	}
	add(section{title: "Cost, mass and time", items: figures})
	var margins []item
	for _, m := range r.Effects.Margins {
		margins = append(margins, item{words: margin(m)})
	}
	add(section{title: "Requirements and claims, in their worst case", items: margins, long: len(margins) > 8})
	add(section{title: "Numbers of parts", items: counts(r.Effects.Counts), long: len(r.Effects.Counts) > 8})
	var buy []item
	for _, p := range r.Effects.Purchases {
		name := p.Title
		if p.Size != "" {
			name += ", " + p.Size
		}
		buy = append(buy, item{words: fmt.Sprintf("%s: %d → %d", name, p.Old, p.New)})
	}
	add(section{title: "To buy", about: "Packs, bars and sheets.", items: buy, long: len(buy) > 8})
	var cuts []item
	for _, c := range r.Effects.Cuts {
		cuts = append(cuts, item{words: fmt.Sprintf("%s: %s → %s", c.Title, orNothing(c.Old), orNothing(c.New))})
	}
	add(section{title: "Cut plans", items: cuts, long: len(cuts) > 4})
	var tools []item
	for _, t := range r.Effects.Gained {
		tools = append(tools, item{words: t + " is needed now"})
	}
	for _, t := range r.Effects.Lost {
		tools = append(tools, item{words: t + " is no longer needed"})
	}
	add(section{title: "Tools needed", items: tools})
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// counts are the parts of which another number is taken.
func counts(list []change.Count) []item {
	var out []item
	for _, n := range list {
		words := fmt.Sprintf("%s (%s): %d → %d", n.Title, n.ID, n.Old, n.New)
		if n.Choices != "" {
			words += ", with " + n.Choices
		}
		out = append(out, item{words: words})
	}
	return out
}

// margin says a condition before and after.
func margin(m change.Margin) string {
	that := m.That
	if m.Had != "" {
		that += " (it was " + m.Had + ")"
	}
	return fmt.Sprintf("%s: %s: %s → %s", m.Of, that, held(m.Old), held(m.New))
}

func held(h change.Holding) string {
	switch {
	case !h.There:
		return "not asked for"
	case h.Margin == nil && h.Holds:
		return "holds"
	case h.Margin == nil:
		return "does not hold"
	case h.Holds:
		return change.Percent(*h.Margin) + " to spare"
	}
	return "missed by " + change.Percent(-*h.Margin)
}

func findings(list []change.Finding) []item {
	var out []item
	for _, f := range list {
		words := fmt.Sprintf("%s: %s [%s]", f.Severity, f.Message, f.Rule)
		if at := f.At.String(); at != "" {
			words = at + ": " + words
		}
		if len(f.Choices) > 0 {
			words += " with " + strings.Join(f.Choices, "; ")
		}
		out = append(out, item{words: words})
	}
	return out
}

// midway are the sections for a builder half way.
func (r Report) midway(add func(section)) {
	h := r.Midway
	if h == nil {
		return
	}
	about := fmt.Sprintf("Done of the old revision: %s. What these steps put in is taken as made and bought, and nothing of later ones.", strings.Join(h.Done, ", "))
	add(section{title: "Half way: undo first, in this order", about: about, items: tasks(h.First)})
	var steps []item
	for _, s := range h.Steps {
		one := item{words: s.Step + " (" + s.Title + ")"}
		if s.New {
			one.words += ", not done before"
		}
		for _, group := range []struct {
			word string
			list []change.Task
		}{{"undo", s.Undo}, {"buy", s.Buy}, {"cut", s.Cut}, {"drill", s.Drill}, {"do", s.Do}} {
			for _, t := range group.list {
				one.list = append(one.list, group.word+": "+t.Say)
			}
		}
		steps = append(steps, one)
	}
	if len(h.First) > 0 {
		about = ""
	}
	add(section{title: "Half way: in the order of the new steps", about: about, items: steps})
	stay := "nothing"
	if len(h.Stay) > 0 {
		stay = strings.Join(h.Stay, ", ")
	}
	next := "nothing: all is done"
	if h.Next != "" {
		next = h.Next
	}
	add(section{title: "Half way: the rest", items: lines([]string{"may stay as it is: " + stay, "go on with: " + next})})
}

// title names both revisions.
func (r Report) title() string {
	was, is := r.Old.Title+", revision "+r.Old.Revision, "revision "+r.New.Revision
	if r.Old.Title != r.New.Title {
		is = r.New.Title + ", " + is
	}
	return was + " → " + is
}

// sum says in a few words how much changed.
func (r Report) sum() string {
	if r.Empty() {
		return "Nothing changed."
	}
	n, follow := 0, 0
	for _, c := range r.Changes {
		if c.Follows {
			follow++
		} else {
			n++
		}
	}
	text := fmt.Sprintf("%s, %d more that follow from them; findings: %d new, %d gone.", many(n, "change"), follow, len(r.Found), len(r.Gone))
	if len(r.Worse) > 0 {
		return "Worse than before. " + text
	}
	return text
}

func many(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
