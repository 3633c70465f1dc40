package reckon

import (
	"slices"
	"strings"

	"plansheaf/design/plan"
)

// An End says at which end of its range a value stands.
type End int

// The ends of a range. The zero End is the value as the plan gives it.
const (
	AsGiven End = iota
	Low
	High
)

// A Case is one way of building the machine.
type Case struct {
	Options plan.Selection
	Ends    map[string]End // by value id; a value that is missing stands AsGiven
}

// Default is the case that the plan itself describes.
func Default(p *plan.Plan) Case { return Case{Options: p.Defaults()} }

// IsDefault reports whether c is the plan's own case.
func (c Case) IsDefault(p *plan.Plan) bool {
	for _, end := range c.Ends {
		if end != AsGiven {
			return false
		}
	}
	for _, choice := range p.Choices {
		if c.Options[choice.ID.Text] != choice.Default.Text {
			return false
		}
	}
	return true
}

// Says names what c departs from the defaults in: "drive: crank", "tile_side at
// its low end"; empty for the default case.
func (c Case) Says(p *plan.Plan) []string {
	var says []string
	for _, choice := range p.Choices {
		if option := c.Options[choice.ID.Text]; option != choice.Default.Text {
			says = append(says, choice.ID.Text+": "+option)
		}
	}
	for _, v := range p.Values {
		switch c.Ends[v.ID.Text] {
		case Low:
			says = append(says, v.ID.Text+" at its low end")
		case High:
			says = append(says, v.ID.Text+" at its high end")
		}
	}
	return says
}

// Key is a text that two cases share only if they are equal.
func (c Case) Key(p *plan.Plan) string { return strings.Join(c.Says(p), "; ") }

// Combinations lists every combination of options, the default one first, at
// most limit of them; all is false when there are more.
func Combinations(p *plan.Plan, limit int) (cases []Case, all bool) {
	cases = []Case{{Options: plan.Selection{}}}
	for _, choice := range p.Choices {
		options := defaultFirst(choice)
		if len(cases)*len(options) > limit {
			return append([]Case{Default(p)}, spread(p, limit-1)...), false
		}
		var wider []Case
		for _, option := range options {
			for _, c := range cases {
				sel := plan.Selection{}
				for k, v := range c.Options {
					sel[k] = v
				}
				sel[choice.ID.Text] = option
				wider = append(wider, Case{Options: sel})
			}
		}
		cases = wider
	}
	return cases, true
}

func defaultFirst(choice *plan.Choice) []string {
	options := []string{choice.Default.Text}
	for _, o := range choice.Options {
		if !slices.Contains(options, o.ID.Text) {
			options = append(options, o.ID.Text)
		}
	}
	return options
}

// spread departs from the defaults in one choice at a time: what is tried when
// there are too many combinations for all.
func spread(p *plan.Plan, limit int) []Case {
	var cases []Case
	for _, choice := range p.Choices {
		for _, option := range defaultFirst(choice)[1:] {
			if len(cases) >= limit {
				return cases
			}
			sel := p.Defaults()
			sel[choice.ID.Text] = option
			cases = append(cases, Case{Options: sel})
		}
	}
	return cases
}

// Cases lists what checks must hold for: every combination of options, and for
// each combination every range at either end, one range at a time. all is false
// when the limit cut the list.
func Cases(p *plan.Plan, limit int) (cases []Case, all bool) {
	cases, all = Combinations(p, limit)
	for _, c := range slices.Clone(cases) {
		for _, v := range p.Values {
			if !v.From.Given() || !v.To.Given() {
				continue
			}
			for _, end := range []End{Low, High} {
				if len(cases) >= limit {
					return cases, false
				}
				cases = append(cases, Case{Options: c.Options, Ends: map[string]End{v.ID.Text: end}})
			}
		}
	}
	return cases, all
}
