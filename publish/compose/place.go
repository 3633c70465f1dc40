package compose

import (
	"plansheaf/design/plan"
	"plansheaf/publish/page"
)

// unplaced are the targets of what no combination of choices holds: it has no page
// or row of its own, and its name prints without leading anywhere.
type unplaced map[page.Target]bool

func unplacedOf(c *composer) unplaced {
	out := unplaced{}
	taken := takenParts(c)
	for _, p := range c.plan.Parts {
		out[partTarget(p)] = !taken[p.ID.Text]
	}
	for _, a := range c.plan.Assemblies {
		out[assemblyTarget(a)] = true
	}
	for _, k := range c.plan.Calcs {
		out[calcTarget(k)] = c.running(k) == nil
	}
	for _, s := range c.plan.Stock {
		out[stockTarget(s)] = true
	}
	for _, s := range c.all {
		for _, a := range c.plan.Assemblies {
			if s.Reckoning.Tally().Assembled[a.ID.Text] > 0 {
				delete(out, assemblyTarget(a))
			}
		}
		for i := range s.Bill.Cuts {
			delete(out, stockTarget(s.Bill.Cuts[i].Stock))
		}
	}
	return out
}

// takenParts are the ids of the parts that some combination holds, or that a part
// which it holds is made from.
func takenParts(c *composer) map[string]bool {
	taken := map[string]bool{}
	for _, s := range c.all {
		for _, line := range s.Bill.Lines {
			// A part that is altered from itself ends where it has been.
			for p := line.Part.Part; p != nil && !taken[p.ID.Text]; p = c.plan.Part(p.Of.Text) {
				taken[p.ID.Text] = true
			}
		}
	}
	return taken
}

func stockTarget(s *plan.Stock) page.Target { return page.Target{Page: "cutting", Anchor: s.ID.Text} }

// placed reports whether a target is in the document; an anchor on an assembly's
// page is where its page is.
func (c *composer) placed(to page.Target) bool {
	return !c.unplaced[to] && !c.unplaced[page.Target{Page: to.Page}]
}

// linkTo is words that lead to a target, or the words alone where it is not in the
// document.
func (c *composer) linkTo(to page.Target, words string) page.Inline {
	if !c.placed(to) {
		return page.Text(words)
	}
	return page.Link{To: to, Words: page.Words(words)}
}

// taken reports whether a part is in the machine or an altered part is made from it,
// under any combination.
func (c *composer) taken(p *plan.Part) bool { return c.placed(partTarget(p)) }
