package changes

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/change"
)

// Notes is a draft of the release notes for those who follow a plan: grouped, in plain
// words, with an entry for the plan's history to begin with. It is to be edited: why
// something changed only its designer knows.
func (r Report) Notes() []byte {
	var b strings.Builder
	groups := r.groups()
	var all []string
	for _, g := range groups {
		all = append(all, g.says...)
	}
	fmt.Fprintf(&b, "# An entry for history in plan.yaml; shorten it and say why.\n- revision: %s\n", quoted(r.New.Revision))
	if r.New.Date != "" {
		fmt.Fprintf(&b, "  date: %s\n", quoted(r.New.Date))
	}
	b.WriteString("  says: >-\n")
	if len(all) == 0 {
		b.WriteString("    Nothing that a builder would notice.\n")
	}
	for _, say := range all {
		fmt.Fprintf(&b, "    %s\n", say)
	}
	b.WriteString("\n# The same, grouped.\n")
	for _, g := range groups {
		fmt.Fprintf(&b, "\n## %s\n\n", g.title)
		for _, say := range g.says {
			fmt.Fprintf(&b, "- %s\n", say)
		}
	}
	return []byte(b.String())
}

// quoted is a word as YAML takes it whatever it holds.
func quoted(text string) string { return "'" + strings.ReplaceAll(one(text), "'", "''") + "'" }

// one is a text on one line, without braces, which would reach into the plan.
func one(text string) string {
	return strings.NewReplacer("{", "", "}", "").Replace(strings.Join(strings.Fields(text), " "))
}

// A group is a heading with sentences.
type group struct {
	title string
	says  []string
}

// groups are the sentences of the notes by what they are about.
func (r Report) groups() []group {
	kinds := []struct {
		title string
		of    []change.Kind
	}{
		{"Safety", []change.Kind{change.OfHazard}},
		{"What you can choose", []change.Kind{change.OfChoice}},
		{"What it does", []change.Kind{change.OfClaim, change.OfMotion}},
		{"Parts and stock", []change.Kind{change.OfPart, change.OfStock}},
		{"Putting it together", []change.Kind{change.OfJoint, change.OfStep, change.OfAssembly}},
	}
	var out []group
	for _, k := range kinds {
		g := group{title: k.title}
		for _, c := range r.Changes {
			if !slices.Contains(k.of, c.Kind) {
				continue
			}
			if say := sentence(c); say != "" {
				g.says = append(g.says, say)
			}
		}
		if len(g.says) > 0 {
			out = append(out, g)
		}
	}
	var follows []string
	for _, f := range r.Effects.Figures {
		if f.Choices == "" && f.More != "" {
			follows = append(follows, fmt.Sprintf("The %s of the whole machine is %s now, %s before.", f.What, f.New, f.Old))
		}
	}
	for _, tool := range r.Effects.Gained {
		follows = append(follows, fmt.Sprintf("You need another tool: %s.", one(tool)))
	}
	if len(follows) > 0 {
		out = append(out, group{"Cost, mass and tools", follows})
	}
	return out
}

// sentence says a change in plain words; "" for one that no follower needs to hear of.
func sentence(c change.Change) string {
	name := one(c.Title)
	if name == "" {
		name = one(c.ID)
	}
	switch {
	case c.What == change.Renamed && len(c.Lines) == 0:
		return ""
	case c.What == change.Replaced:
		had := one(c.Had)
		if had == "" {
			had = one(c.Was)
		}
		return fmt.Sprintf("%s takes the place of %s.", name, had)
	case c.What == change.Added:
		return fmt.Sprintf("New: %s %s.", c.Kind, name)
	case c.What == change.Removed:
		return fmt.Sprintf("Gone: %s %s.", c.Kind, name)
	}
	var says []string
	more := 0
	for _, f := range c.Lines {
		switch {
		case hidden(f) || hardware(f) && takes(c):
		case len(says) == 3:
			more++
		case f.What == change.StepOrder:
			says = append(says, fmt.Sprintf("the steps now come in the order %s", one(f.New)))
		case f.What == change.Takes && f.Old != "" && f.New != "":
			says = append(says, fmt.Sprintf("each place takes %s, not %s any more", brief(f.New), brief(f.Old)))
		case f.What == "only for" && f.New != "":
			says = append(says, "only with "+one(f.New))
		case f.New == "":
			says = append(says, fmt.Sprintf("no more %s (%s)", one(f.What), brief(f.Old)))
		case f.Old == "":
			says = append(says, fmt.Sprintf("new %s: %s", one(f.What), brief(f.New)))
		default:
			says = append(says, fmt.Sprintf("%s is %s, was %s", one(f.What), brief(f.New), brief(f.Old)))
		}
	}
	if len(says) == 0 {
		return ""
	}
	if more > 0 {
		says = append(says, fmt.Sprintf("and %d more", more))
	}
	return fmt.Sprintf("%s: %s.", name, strings.Join(says, "; "))
}

// takes reports whether a joint takes other hardware, which its names repeat.
func takes(c change.Change) bool {
	return slices.ContainsFunc(c.Lines, func(f change.Field) bool { return f.What == change.Takes })
}

// hardware reports fields that name a joint's hardware.
func hardware(f change.Field) bool {
	return slices.Contains([]string{"screw", "under the head", "under the nut", "into"}, f.What)
}

// hidden reports fields that only repeat what others say, or where a part is had.
func hidden(f change.Field) bool {
	if strings.HasPrefix(f.What, "bought") {
		return true
	}
	switch f.What {
	case "mass of one", "title", "size over all", "places":
		return true
	}
	return strings.HasPrefix(f.What, "name of ")
}

// brief is a value short enough for a sentence.
func brief(text string) string {
	const most = 80
	if r := []rune(one(text)); len(r) > most {
		return string(r[:most]) + "…"
	}
	return one(text)
}
