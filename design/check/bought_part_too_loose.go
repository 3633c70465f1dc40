package check

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// BoughtPartTooLoose finds bought parts that do not state what decides whether the
// one in the shop fits. What kind of part it is, is inferred from its title.
var BoughtPartTooLoose = Rule{
	Rule: finding.Rule{
		Name: "bought-part-too-loose", Severity: finding.Warning,
		Reason: "The builder buys one of the same name that does not fit.",
		Remedy: "state it under has; where any will do, say so with buy: {any: ...}",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if p.Made.Text != plan.Bought {
				continue
			}
			kind, lacks := looseness(p)
			if len(lacks) == 0 {
				continue
			}
			report(finding.Finding{
				At: p.ID.At, Subject: p.ID.Text,
				Message: fmt.Sprintf("%q looks by its title like a %s and does not say its %s", p.ID.Text, kind, joined(lacks)),
				Remedy:  fmt.Sprintf("add has: {%s: ...}; if it is no %s, call it something else", lacks[0], kind),
			})
		}
	},
}

// A fact is something that must be stated, and the words in a property's name that
// state it: shaft_diameter states the shaft.
type fact struct {
	name  string
	words []string
}

// deciding are the facts that decide whether a part of a kind fits: common practice
// in ordering such parts, no source. Kinds are the last word of a title.
var deciding = map[string][]fact{
	"pulley":   {{"teeth", []string{"teeth", "diameter"}}, {"pitch", []string{"pitch", "section", "profile"}}, {"width", []string{"width"}}, {"bore", []string{"bore"}}},
	"sprocket": {{"teeth", []string{"teeth"}}, {"pitch", []string{"pitch"}}, {"bore", []string{"bore"}}},
	"gear":     {{"teeth", []string{"teeth"}}, {"module", []string{"module", "pitch"}}, {"width", []string{"width"}}, {"bore", []string{"bore"}}},
	"bearing":  {{"bore", []string{"bore"}}, {"outside", []string{"outside"}}, {"width", []string{"width", "height"}}},
	"bush":     {{"bore", []string{"bore"}}, {"outside", []string{"outside"}}, {"length", []string{"length", "long", "width"}}},
	"bushing":  {{"bore", []string{"bore"}}, {"outside", []string{"outside"}}, {"length", []string{"length", "long", "width"}}},
	"motor":    {{"shaft", []string{"shaft"}}, {"torque", []string{"torque", "power"}}, {"speed", []string{"speed"}}, {"voltage", []string{"voltage"}}},
	"coupling": {{"bore", []string{"bore"}}, {"torque", []string{"torque"}}},
	"spring":   {{"rate", []string{"rate", "force", "stiffness"}}, {"length", []string{"length", "long"}}, {"diameter", []string{"diameter", "outside"}}},
	"pin":      {{"diameter", []string{"diameter"}}, {"length", []string{"length", "long"}}},
	"dowel":    {{"diameter", []string{"diameter"}}, {"length", []string{"length", "long"}}},
	"belt":     {{"pitch", []string{"pitch", "section", "profile"}}, {"width", []string{"width"}}, {"teeth", []string{"teeth", "length", "long"}}},
	"fuse":     {{"fuse", []string{"fuse", "current"}}},
	"magnet":   {{"diameter", []string{"diameter", "width", "size"}}, {"height", []string{"height", "thick", "thickness"}}},
	"nut":      {{"thread", []string{"thread", "lead"}}},
	"insert":   {{"thread", []string{"thread"}}, {"seat", []string{"seat"}}},
	"wheel":    {{"diameter", []string{"diameter"}}, {"bore", []string{"bore", "axle"}}},
	"castor":   {{"diameter", []string{"diameter"}}, {"load", []string{"load"}}},
}

// sizes finds sizes written as a trade does: 12×28×8.
var sizes = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?(?: ?[x×] ?[0-9]+(?:\.[0-9]+)?)+`)

// looseness is the kind that a part's title tells and the facts of it that the part
// does not state.
func looseness(p *plan.Part) (kind string, lacks []string) {
	kind = p.Noun()
	facts := deciding[kind]
	if facts == nil || p.Loop != nil || p.Strand != nil || p.Buy != nil && p.Buy.Any && p.Buy.AskFor.Given() {
		return kind, nil
	}
	for _, word := range strings.Fields(p.Title.Value) {
		if _, listed := standards.BearingByDesignation(strings.Trim(word, ",")); listed && kind == "bearing" {
			return kind, nil
		}
	}
	if told := sizes.FindString(p.Title.Value); told != "" && strings.Count(told, "x")+strings.Count(told, "×")+1 >= len(facts) {
		return kind, nil
	}
	for _, f := range facts {
		if !states(p, f) {
			lacks = append(lacks, f.name)
		}
	}
	return kind, lacks
}

// states reports whether a part states a fact: under has, in its fastener, or by a
// hole or shape of that name that has the size.
func states(p *plan.Part, f fact) bool {
	for _, h := range p.Has {
		for _, word := range strings.Split(h.Name.Text, "_") {
			if slices.Contains(f.words, word) {
				return true
			}
		}
	}
	for _, h := range p.Holes {
		if slices.Contains(f.words, h.ID.Text) {
			return true
		}
	}
	for _, s := range p.Shape {
		if slices.Contains(f.words, s.Name.Text) {
			return true
		}
	}
	if p.Fastener != nil {
		return f.name == "thread" || f.name == "seat" && p.Fastener.Seat.Given() || f.name == "length"
	}
	return false
}

// joined is a list in words: "a, b and c".
func joined(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
