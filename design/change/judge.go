package change

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/risk"
)

// lostShare is the share of a margin whose loss makes a revision worse: one that held
// with 40 % to spare and holds with 35 % has lost an eighth of it.
const lostShare = 0.1

// mostOfReason is how many things of one reason are shown first, at most.
const mostOfReason = 3

// A looked is something that may deserve a look, with how many places it touches.
type looked struct {
	Look
	touches int
}

// judge says why the new revision is worse, if it is, and what deserves a look first.
func (c *Comparison) judge() {
	c.Worse = nil
	var list []looked
	note := func(rank, touches int, why, say string) {
		list = append(list, looked{Look{rank, why, say}, touches})
	}
	bad := func(rank, touches int, why, say string) {
		c.Worse = append(c.Worse, why+": "+say)
		note(rank, touches, why, say)
	}
	for _, f := range c.Found {
		switch f.Severity {
		case finding.Error:
			bad(1, 0, "a new error", f.say())
		case finding.Warning:
			note(9, 0, "a new warning", f.say())
		}
	}
	for _, m := range c.Effects.Margins {
		m.judge(note, bad)
	}
	for _, x := range c.Changes {
		x.judge(note, bad)
	}
	slices.SortStableFunc(list, func(a, b looked) int {
		return cmp.Or(a.Rank-b.Rank, b.touches-a.touches)
	})
	c.First = nil
	of := map[int]int{}
	for _, one := range list {
		if of[one.Rank]++; of[one.Rank] <= mostOfReason && len(c.First) < MostFirst {
			c.First = append(c.First, one.Look)
		}
	}
}

func (f Finding) say() string {
	text := f.Message + " (" + f.Rule
	if at := f.At.String(); at != "" {
		text += ", " + at
	}
	return text + ")"
}

type noting func(rank, touches int, why, say string)

func (m Margin) judge(note, bad noting) {
	name := m.Of + ": " + m.That
	switch {
	case !m.Old.There:
		if !m.New.Holds {
			bad(2, 0, "a condition that does not hold", name)
		}
	case !m.New.There:
		note(4, 0, "a requirement is gone", m.Of+": "+m.That)
	case m.Old.Holds && !m.New.Holds:
		bad(2, 0, "it held and does not any more", name+spare(m))
	case m.New.Holds && m.Old.Margin != nil && m.New.Margin != nil && *m.New.Margin < *m.Old.Margin-lostShare*max(*m.Old.Margin, 0)-1e-9:
		bad(4, 0, "margin lost", name+spare(m))
	case m.Had != "":
		note(4, 0, "another requirement", m.Of+": "+m.Had+" → "+m.That)
	}
}

// spare says what a condition had to spare and has now.
func spare(m Margin) string {
	if m.Old.Margin == nil || m.New.Margin == nil {
		return ""
	}
	return fmt.Sprintf(", %s to spare → %s", Percent(*m.Old.Margin), Percent(*m.New.Margin))
}

// Percent prints a share: "12.5 %", with a true minus sign.
func Percent(share float64) string {
	text := strings.TrimSuffix(fmt.Sprintf("%.1f", share*100), ".0") + " %"
	if rest, below := strings.CutPrefix(text, "-"); below {
		if rest == "0 %" {
			return rest
		}
		return minus + rest
	}
	return text
}

// judge ranks a change. Which fields of a part are of what weight stands here alone.
func (c Change) judge(note, bad noting) {
	touches := len(c.In)
	say := c.Headline()
	switch {
	case c.Follows:
	case c.Kind == OfHazard:
		c.judgeHazard(note, bad)
	case c.Kind == OfCalculation:
		c.judgeCalculation(note)
	case c.Kind == OfPart && c.What == Replaced:
		note(5, touches, "a part is replaced", say)
	case c.Kind == OfPart && c.What == Changed && c.says(substances...):
		note(5, touches, "a part is of something else", say)
	case c.Kind == OfJoint && c.What == Changed && c.says("kind", "screw", "through", "torque, is", "torque", "into", "with", "lock"):
		note(6, 0, "a joint is made otherwise", say)
	case c.Kind == OfChoice, c.Kind == OfValue, c.Kind == OfMotion:
		note(7, 0, "something that other things are worked out from", say)
	case c.Kind == OfPart && c.What == Changed && c.shaped():
		note(8, touches, "a part has another shape, size or property", say)
	case c.Kind == OfStock && c.What == Changed && c.shaped():
		note(8, touches, "stock is of another kind or size", say)
	case (c.What == Added || c.What == Removed) && (c.Kind == OfPart || c.Kind == OfAssembly || c.Kind == OfJoint || c.Kind == OfStep):
		note(10, touches, string(c.Kind)+" "+c.What, say)
	case c.Kind == OfAssembly && c.says(StepOrder):
		note(10, 0, "steps come in another order", say)
	}
}

// says reports whether a written field of the change is one of those named.
func (c Change) says(names ...string) bool {
	return slices.ContainsFunc(c.Lines, func(f Field) bool { return !f.Follows && slices.Contains(names, f.What) })
}

// shapes are the fields that say what shape a part or stock has, and substances those that
// say what it is.
var (
	shapes     = []string{"outline", "shape", "hole", "length", "stock", "lies", "telescope", "belt", "strand", "fastener", "mitre", "mitres", "ends", "section", "thick", "sold"}
	substances = []string{"material", "standard", "made", "of"}
)

// about reports whether a field is one of those named, or a part of one.
func about(field string, names []string) bool {
	return slices.ContainsFunc(names, func(name string) bool {
		return field == name || strings.HasPrefix(field, name+",") || strings.HasPrefix(field, name+" ")
	})
}

// slight reports fields of a part that leave the piece as it is: its manner, what may be
// bought instead, which way its grain runs.
func slight(field string) bool {
	return manner(field) || about(field, []string{"or", "grain", "guards", "amount", "mass of one", "name of"})
}

// shaped reports whether a written field is about shape, size or another property.
func (c Change) shaped() bool {
	return slices.ContainsFunc(c.Lines, func(f Field) bool { return !f.Follows && !slight(f.What) })
}

func (c Change) judgeHazard(note, bad noting) {
	if c.What == Added {
		bad(3, 0, "a hazard is added", c.Headline())
		return
	}
	if c.What == Removed {
		note(3, 0, "a hazard is gone", c.Headline())
		return
	}
	for _, f := range c.Lines {
		switch {
		case f.What == "measures" && f.New == "":
			bad(3, 0, "a hazard has a measure less", c.ID+": "+f.Old)
		case graver(f):
			bad(3, 0, "a hazard is graded worse", c.ID+": "+f.say())
		}
	}
}

// graver reports whether a field of a hazard grades it worse.
func graver(f Field) bool {
	was, is := plan.Risk{}, plan.Risk{}
	switch {
	case strings.HasSuffix(f.What, ", severity"):
		was.Severity.Text, is.Severity.Text = f.Old, f.New
		was.Chance.Text, is.Chance.Text = "remote", "remote"
	case strings.HasSuffix(f.What, ", chance"):
		was.Chance.Text, is.Chance.Text = f.Old, f.New
		was.Severity.Text, is.Severity.Text = "slight", "slight"
	default:
		return false
	}
	before, likely, known := risk.Grade(was)
	after, likelier, ok := risk.Grade(is)
	return known && ok && after+likelier > before+likely
}

func (c Change) judgeCalculation(note noting) {
	for _, f := range c.Lines {
		if strings.HasPrefix(f.What, "recorded ") && f.Old != "" && f.New != f.Old {
			note(4, 0, "a recorded result is changed", c.ID+": "+f.say())
		}
	}
	if c.What == Removed {
		note(4, 0, "a calculation is gone", c.Headline())
	}
}

// Headline says a change on one line: what of it changed first, and how much more.
func (c Change) Headline() string {
	name := string(c.Kind) + " " + c.ID
	if c.Kind == OfPlan {
		name = "plan"
	}
	title := ""
	if c.Title != "" && c.Kind != OfPlan {
		title = " (" + c.Title + ")"
	}
	switch c.What {
	case Added, Removed:
		return name + title + " " + c.What
	case Renamed:
		text := fmt.Sprintf("%s%s is %s renamed", name, title, c.Was)
		if len(c.Lines) > 0 {
			text += "; " + c.changed()
		}
		return text
	case Replaced:
		had := c.Was
		if c.Had != "" {
			had += " (" + c.Had + ")"
		}
		return fmt.Sprintf("%s%s replaces %s", name, title, had)
	}
	return name + title + ": " + c.changed()
}

// headlined is how many fields stand in a headline.
const headlined = 2

// changed says the first fields, and how many more there are.
func (c Change) changed() string {
	var says []string
	for i, f := range c.Lines {
		if i == headlined {
			says = append(says, fmt.Sprintf("%d more", len(c.Lines)-headlined))
			break
		}
		says = append(says, f.say())
	}
	return strings.Join(says, "; ")
}

// mostSaid is how many characters of a value stand in a headline.
const mostSaid = 90

// say is a field on one line.
func (f Field) say() string {
	switch {
	case f.Old == "":
		return f.What + " " + f.Said(f.New) + " is new"
	case f.New == "":
		return f.What + " " + f.Said(f.Old) + " is gone"
	}
	return f.What + " " + f.Said(f.Old) + " → " + f.Said(f.New)
}

// Said is one of the field's values, cut off where it is too long for a line.
func (f Field) Said(value string) string { return clipped(value) }

func clipped(text string) string {
	if r := []rune(text); len(r) > mostSaid {
		return string(r[:mostSaid]) + "…"
	}
	return text
}
