package source

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// finish looks at what can only be seen once all files are read.
func (g *reading) finish(t *tree) {
	g.defaults()
	g.plan.Index()
	g.ownSales()
	g.clashes()
	g.readTables()
	g.readLists()
	g.checkDefinitions()
	g.calls()
	g.checkChoices()
	g.resolve()
	g.cycles()
	g.checkProse()
}

// defaults fills in what a plan need not say. A word filled in has a text and no
// place.
func (g *reading) defaults() {
	for _, d := range []struct {
		word *plan.Word
		text string
	}{
		{&g.plan.Language, "en"}, {&g.plan.Units, "metric"}, {&g.plan.Sheet, "A4"}, {&g.plan.Projection, "third"},
	} {
		if !d.word.Given() {
			d.word.Text = d.text
		}
	}
}

// ownSales gives each sale the id of its supplier, and reports what a part's own
// entry says a second time.
func (g *reading) ownSales() {
	for _, s := range g.plan.Suppliers {
		for i := range s.Sells {
			sale := &s.Sells[i]
			sale.Supplier = s.ID.Text
			p := g.plan.Part(sale.Part.Text)
			if p == nil || p.Buy == nil || p.Buy.From.Text != s.ID.Text || !p.Buy.Price.Given() {
				continue
			}
			g.report(saleToldTwice, p.Buy.From.At, fmt.Sprintf("the price of %q from %q stands here and in suppliers.yaml", p.ID.Text, s.ID.Text), "",
				finding.Related{At: sale.Part.At, Say: "the other one"})
		}
	}
}

// clashes reports ids that stand for two things that can both be named plainly.
func (g *reading) clashes() {
	type named struct {
		what string
		at   finding.Span
	}
	seen := map[string]named{}
	take := func(what string, id plan.Word) {
		if first, taken := seen[id.Text]; taken {
			message := fmt.Sprintf("%q is the id of %s and of %s", id.Text, first.what, what)
			if first.what == what {
				message = fmt.Sprintf("%q is the id of %s already", id.Text, what)
			}
			g.report(idClash, id.At, message, "",
				finding.Related{At: first.at, Say: "the other one"})
			return
		}
		seen[id.Text] = named{what, id.At}
	}
	for _, v := range g.plan.Values {
		take("a value", v.ID)
	}
	for _, s := range g.plan.Stock {
		take("stock", s.ID)
	}
	for _, p := range g.plan.Parts {
		take("a part", p.ID)
	}
	for _, a := range g.plan.Assemblies {
		take("an assembly", a.ID)
	}
	for _, c := range g.plan.Calcs {
		take("a calculation", c.ID)
	}
	clashIn(g, "hazard", g.plan.Hazards, func(h *plan.Hazard) plan.Word { return h.ID })
	for _, a := range g.plan.Assemblies {
		g.clashesInAssembly(a)
	}
	for _, p := range g.plan.Parts {
		g.clashesInPart(p)
	}
}

// clashesInAssembly reports steps with the id of a joint: frame.square_up must name
// one thing.
func (g *reading) clashesInAssembly(a *plan.Assembly) {
	joints := map[string]finding.Span{}
	for _, j := range a.Joints {
		joints[j.ID.Text] = j.ID.At
	}
	for _, s := range a.Steps {
		if first, taken := joints[s.ID.Text]; taken {
			g.report(idClash, s.ID.At, fmt.Sprintf("%q is the id of a joint and of a step", s.ID.Text), "", finding.Related{At: first, Say: "the joint"})
		}
	}
}

// clashesInPart reports holes and shapes with the name of another feature.
func (g *reading) clashesInPart(p *plan.Part) {
	taken := map[string]finding.Span{}
	take := func(what string, w plan.Word) {
		first, clash := taken[w.Text]
		switch {
		case slices.Contains(plan.Faces(), w.Text):
			g.report(idClash, w.At, fmt.Sprintf("the %s has the name of a face, %q", what, w.Text), "")
		case clash:
			g.report(idClash, w.At, fmt.Sprintf("%q is the name of another feature of %q already", w.Text, p.ID.Text), "", finding.Related{At: first, Say: "the other one"})
		default:
			taken[w.Text] = w.At
		}
	}
	for _, h := range p.Holes {
		take("hole", h.ID)
	}
	for _, s := range p.Shape {
		if s.Name.Given() {
			take("shape", s.Name)
		}
	}
}

// clashIn reports ids that stand twice in a list gathered from several files.
func clashIn[T any](g *reading, what string, list []T, id func(T) plan.Word) {
	seen := map[string]finding.Span{}
	for _, t := range list {
		w := id(t)
		if first, taken := seen[w.Text]; taken {
			g.report(idClash, w.At, fmt.Sprintf("%q is the id of a %s already", w.Text, what), "", finding.Related{At: first, Say: "the other one"})
			continue
		}
		seen[w.Text] = w.At
	}
}

// A step in a chain of needs: what is needed and the place that says so.
type need struct {
	id      string
	at      finding.Span
	implied bool // by the order of the file, not by a word
}

// cycles reports what needs itself: assemblies that hold each other, steps that
// wait for each other, parts altered from each other.
func (g *reading) cycles() {
	g.circles("assembly", ids(g.plan.Assemblies, func(a *plan.Assembly) string { return a.ID.Text }), func(id string) []need {
		var needs []need
		for _, u := range g.plan.Assembly(id).Holds {
			for _, w := range u.Assembly.All() {
				if g.plan.Assembly(w.Text) != nil {
					needs = append(needs, need{id: w.Text, at: w.At})
				}
			}
		}
		return needs
	}, "holds itself")
	g.circles("part", partIDs(g.plan), func(id string) []need {
		if of := g.plan.Part(id).Of; of.Given() && g.plan.Part(of.Text) != nil {
			return []need{{id: of.Text, at: of.At}}
		}
		return nil
	}, "is made of itself")
	g.circles("calculation", ids(g.plan.Calcs, func(c *plan.Calc) string { return c.ID.Text }), func(id string) []need {
		from := g.plan.Calc(id).From
		if g.plan.Calc(from.Text) == nil || g.plan.Calc(id).Ready && from.Text == id {
			return nil
		}
		return []need{{id: from.Text, at: from.At}}
	}, "is made from itself")
	g.stepCircles()
}

func (g *reading) stepCircles() {
	needs := map[string][]need{}
	var all []string
	for _, a := range g.plan.Assemblies {
		for i, s := range a.Steps {
			id := a.ID.Text + "." + s.ID.Text
			all = append(all, id)
			for _, w := range s.Needs {
				other := w.Text
				if !strings.Contains(other, ".") {
					other = a.ID.Text + "." + other
				}
				needs[id] = append(needs[id], need{id: other, at: w.At})
			}
			if !s.NeedsAt.Known() && i > 0 {
				needs[id] = append(needs[id], need{id: a.ID.Text + "." + a.Steps[i-1].ID.Text, at: s.ID.At, implied: true})
			}
		}
	}
	g.circles("step", all, func(id string) []need { return needs[id] }, "waits for itself")
}

// circles walks from each id to what it needs and reports each circle once, at the
// need that closes it.
func (g *reading) circles(what string, all []string, needs func(string) []need, say string) {
	const (
		open = iota + 1
		done
	)
	state := map[string]int{}
	var path []need
	var walk func(id string)
	walk = func(id string) {
		state[id] = open
		for _, n := range needs(id) {
			switch state[n.id] {
			case open:
				g.reportCircle(what, path, n, say)
			case done:
			default:
				path = append(path, n)
				walk(n.id)
				path = path[:len(path)-1]
			}
		}
		state[id] = done
	}
	for _, id := range all {
		if state[id] == 0 {
			path = append(path[:0], need{id: id})
			walk(id)
		}
	}
}

func (g *reading) reportCircle(what string, path []need, closing need, say string) {
	start := slices.IndexFunc(path, func(n need) bool { return n.id == closing.id })
	circle := path[start:]
	names := make([]string, 0, len(circle)+1)
	var also []finding.Related
	for i, n := range circle {
		names = append(names, n.id)
		if i > 0 && len(also) < 8 {
			also = append(also, finding.Related{At: n.at, Say: "leads to " + n.id})
		}
	}
	const most = 8
	if len(names) > most {
		names = append(names[:most:most], "…")
	}
	names = append(names, closing.id)
	at := closing.at
	for i := len(circle) - 1; i > 0 && closing.implied; i-- {
		at, closing.implied = circle[i].at, circle[i].implied
	}
	g.report(referenceCycle, at, fmt.Sprintf("the %s %q %s: %s", what, closing.id, say, strings.Join(names, " → ")), "", also...)
}
