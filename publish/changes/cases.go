package changes

import (
	"strings"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/plan"
)

// mostCases bounds how many combinations of choices are looked at for pictures.
const mostCases = 16

// A pairing is one case of the new revision with what it was in the old one.
type pairing struct {
	old, new *check.Situation
	says     string // the choices it is drawn for; "" for both plans' own
}

// pairings are the combinations of choices of the new revision, its own first, each with
// that of the old one that has the same options. A choice or an option that the old one
// lacks stands for its own.
func pairings(c *change.Comparison, old, new *check.Work) []pairing {
	was := renamed(c, change.OfChoice)
	var out []pairing
	for _, s := range new.Combinations() {
		if len(out) == mostCases {
			break
		}
		sel := plan.Selection{}
		for _, choice := range new.Plan.Choices {
			id := was.of(choice.ID.Text)
			if offers(old.Plan, id, s.Case.Options[choice.ID.Text]) {
				sel[id] = s.Case.Options[choice.ID.Text]
			}
		}
		before := old.Choosing(sel)
		if before == nil {
			continue
		}
		p := pairing{old: before, new: s}
		if len(s.Says) > 0 || len(before.Says) > 0 {
			p.says = said(s.Says)
			if b := said(before.Says); b != p.says {
				p.says += "; before: " + b
			}
		}
		out = append(out, p)
	}
	return out
}

func said(says []string) string {
	if len(says) == 0 {
		return "the plan's own choices"
	}
	return strings.Join(says, ", ")
}

// offers reports whether a plan has a choice with an option.
func offers(p *plan.Plan, id, option string) bool {
	for _, c := range p.Choices {
		if c.ID.Text != id {
			continue
		}
		for _, o := range c.Options {
			if o.ID.Text == option {
				return true
			}
		}
	}
	return false
}

// A renaming gives for new names the old ones, where they differ.
type renaming map[string]string

func (r renaming) of(id string) string {
	if was, differs := r[id]; differs {
		return was
	}
	return id
}

// renamed are the things of a kind that had another name.
func renamed(c *change.Comparison, k change.Kind) renaming {
	out := renaming{}
	for _, x := range c.Changes {
		if x.Kind == k && x.Was != "" {
			out[x.ID] = x.Was
		}
	}
	return out
}
