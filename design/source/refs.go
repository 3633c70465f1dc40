package source

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// A target is a kind of thing that a name may stand for.
type target struct {
	what string // with its article: "a part"
	// known looks a name up; where it finds nothing it lists what could be meant.
	known func(g *reading, l link) answer
	// from are the kinds of file in which such things are described. Where one of
	// them could not be read, nothing is said about a name without an answer.
	from []string
	// gone is the rule to report by, where it is not unknownReference, and say its
	// message before the name.
	gone *finding.Rule
	say  string
	add  string // where to add what is missing: "tools.yaml"
}

// An answer says whether a name stands for something.
type answer struct {
	found      bool
	candidates []string
	part       string       // the piece of a dotted name that has no answer; empty: all of it
	in         string       // where it was looked for: "the part \"post\""
	at         finding.Span // of in
	silent     bool         // nothing is known of what it was looked for in
}

var yes = answer{found: true}

// A link is a name in the plan with the kind of thing that it must stand for.
type link struct {
	r        *reader
	to       target
	word     plan.Word
	assembly *plan.Assembly
	use      *plan.Use
	part     *plan.Part
	of       *plan.Word
}

// resolve looks all names up and reports those that stand for nothing.
func (g *reading) resolve() {
	for _, l := range g.links {
		a := l.to.known(g, l)
		if a.found || a.silent || slices.ContainsFunc(l.to.from, func(kind string) bool { return g.unread[kind] }) {
			continue
		}
		g.reportUnknown(l, a)
	}
}

func (g *reading) reportUnknown(l link, a answer) {
	at, name := l.word.At, l.word.Text
	if l.to.gone != nil {
		l.r.report(*l.to.gone, at, l.to.say+" "+quoted(name), g.near.perhaps(name, a.candidates))
		return
	}
	// Of a dotted name mark the first piece without an answer, where the file shows
	// the name as it is.
	exact := at.Line == at.EndLine && at.EndColumn-at.Column == runes(name)
	if a.part != "" && strings.HasSuffix(name, a.part) {
		at.Column += runes(name) - runes(a.part)
		name = a.part
	}
	head, _, _ := strings.Cut(name, ".")
	if exact {
		at.EndColumn = at.Column + runes(head)
	} else {
		at = l.word.At
	}
	remedy := g.near.perhaps(head, a.candidates)
	if l.to.add != "" && !strings.HasPrefix(remedy, "perhaps") {
		remedy = strings.TrimPrefix(remedy+"; or add it to "+l.to.add, "; or ")
	}
	message := fmt.Sprintf("no %s is called %s", strings.TrimPrefix(strings.TrimPrefix(l.to.what, "an "), "a "), quoted(head))
	var also []finding.Related
	if a.in != "" {
		message = fmt.Sprintf("%s has nothing called %s", a.in, quoted(head))
		if a.at.Known() {
			also = append(also, finding.Related{At: a.at, Say: "looked for here"})
		}
	}
	l.r.report(unknownReference, at, message, remedy, also...)
}

// byID makes a target of things that are found by id alone.
func byID(what string, has func(p *plan.Plan, id string) bool, all func(p *plan.Plan) []string, add string, from ...string) target {
	return target{what: what, add: add, from: from, known: func(g *reading, l link) answer {
		if has(g.plan, l.word.Text) {
			return yes
		}
		return answer{candidates: all(g.plan)}
	}}
}

// ids are the texts of the words that id gives for a list's things.
func ids[T any](list []T, id func(T) string) []string {
	all := make([]string, len(list))
	for i, t := range list {
		all[i] = id(t)
	}
	return all
}

func partIDs(p *plan.Plan) []string {
	return ids(p.Parts, func(t *plan.Part) string { return t.ID.Text })
}

func assemblyIDs(p *plan.Plan) []string {
	return ids(p.Assemblies, func(t *plan.Assembly) string { return t.ID.Text })
}

func isPart(p *plan.Plan, id string) bool     { return p.Part(id) != nil }
func isAssembly(p *plan.Plan, id string) bool { return p.Assembly(id) != nil }

// The kinds of thing that are named by their id.
var (
	toPart     = byID("a part", isPart, partIDs, "a file of parts/", "parts")
	toAssembly = byID("an assembly", isAssembly, assemblyIDs, "assemblies/", "assembly")
	toMachine  = byID("an assembly", isAssembly, assemblyIDs, "assemblies/", "assembly")
	toStock    = byID("stock", func(p *plan.Plan, id string) bool { return p.StockOf(id) != nil },
		func(p *plan.Plan) []string { return ids(p.Stock, func(t *plan.Stock) string { return t.ID.Text }) }, "stock.yaml", "stock")
	toMaterial = byID("a material", isMaterial, materialIDs, "materials.yaml", "materials")
	toSupplier = byID("a supplier", func(p *plan.Plan, id string) bool { return p.Supplier(id) != nil },
		func(p *plan.Plan) []string {
			return ids(p.Suppliers, func(t *plan.Supplier) string { return t.ID.Text })
		}, "suppliers.yaml", "suppliers")
	toTool = byID("a tool", func(p *plan.Plan, id string) bool { return p.Tool(id) != nil },
		func(p *plan.Plan) []string { return ids(p.Tools, func(t *plan.Tool) string { return t.ID.Text }) }, "tools.yaml", "tools")
	toChoice = byID("a choice", func(p *plan.Plan, id string) bool { return p.Choice(id) != nil },
		func(p *plan.Plan) []string { return ids(p.Choices, func(t *plan.Choice) string { return t.ID.Text }) }, "the choices of plan.yaml", "plan")
	toPage = byID("a page", func(p *plan.Plan, id string) bool { return p.Page(id) != nil },
		func(p *plan.Plan) []string { return ids(p.Pages, func(t *plan.Page) string { return t.ID.Text }) }, "pages/", "page")
	toPartOrAssembly = byID("a part or assembly", func(p *plan.Plan, id string) bool { return isPart(p, id) || isAssembly(p, id) },
		func(p *plan.Plan) []string { return append(partIDs(p), assemblyIDs(p)...) }, "", "parts", "assembly")
	toFile = target{what: "a file", gone: &missingFile, say: "the plan has no file", known: func(g *reading, l link) answer {
		if g.plan.File(l.word.Text) != nil {
			return yes
		}
		return answer{candidates: ids(g.plan.Files, func(f *plan.File) string { return f.Path })}
	}}
)

func isMaterial(p *plan.Plan, id string) bool {
	_, builtIn := standards.MaterialByID(id)
	return builtIn || p.Material(id) != nil
}

func materialIDs(p *plan.Plan) []string {
	all := ids(p.Materials, func(t *plan.Material) string { return t.ID.Text })
	return append(all, ids(standards.Materials(), func(m standards.Material) string { return m.ID })...)
}

// The kinds of thing that are named by a path.
var (
	toUse = target{what: "a use", known: pathTo(false), from: []string{"assembly", "parts"}}
	// A joint goes by its plain id, which no use of its assembly has then.
	toUseOrJoint = target{what: "a use", from: []string{"assembly", "parts"}, known: func(g *reading, l link) answer {
		if l.assembly != nil && l.assembly.Joint(l.word.Text) != nil {
			return yes
		}
		return pathTo(false)(g, l)
	}}
	toFeature = target{what: "a use", known: pathTo(true), from: []string{"assembly", "parts", "stock"}}
	toJoint   = target{what: "a joint", from: []string{"assembly"}, known: func(g *reading, l link) answer {
		return inAssembly(g, l, func(a *plan.Assembly, id string) bool { return a.Joint(id) != nil },
			func(a *plan.Assembly) []string { return ids(a.Joints, func(j *plan.Joint) string { return j.ID.Text }) })
	}}
	toStep = target{what: "a step", from: []string{"assembly"}, known: func(g *reading, l link) answer {
		return inAssembly(g, l, func(a *plan.Assembly, id string) bool { return a.Step(id) != nil },
			func(a *plan.Assembly) []string { return ids(a.Steps, func(s *plan.Step) string { return s.ID.Text }) })
	}}
	toPlace       = target{what: "a part, assembly or calculation", known: placeKnown, from: []string{"parts", "assembly", "calc"}}
	toOwnFeature  = target{what: "a feature", known: ownFeature, from: []string{"parts", "stock", "assembly"}}
	toOwnShape    = target{what: "a named shape", known: ownShape}
	toOwnHole     = target{what: "a hole", known: ownHole}
	toTurningAxis = target{what: "a feature", from: []string{"assembly", "parts", "stock"}, known: func(g *reading, l link) answer {
		if l.word.Text == "axis" {
			return yes
		}
		if own := ownFeature(g, l); own.found {
			return own
		}
		return pathTo(true)(g, l)
	}}
	toDrawn = target{what: "a feature", known: drawnFeature, from: []string{"parts", "stock", "assembly"}}
)

// inAssembly looks up a joint or step: plainly in the file that names it, or by
// assembly and id from elsewhere.
func inAssembly(g *reading, l link, has func(*plan.Assembly, string) bool, all func(*plan.Assembly) []string) answer {
	a, id := l.assembly, l.word.Text
	if owner, rest, dotted := strings.Cut(id, "."); dotted {
		a, id = g.plan.Assembly(owner), rest
		if a == nil {
			return answer{candidates: assemblyIDs(g.plan)}
		}
	}
	switch {
	case a == nil:
		return answer{}
	case has(a, id):
		return yes
	}
	found := answer{candidates: all(a), silent: g.damaged[a] && len(all(a)) == 0}
	if a != l.assembly {
		found.part, found.in, found.at = id, fmt.Sprintf("the assembly %q", a.ID.Text), a.ID.At
	}
	return found
}

// pathTo walks a path from a use of the assembly through sub-assemblies; with
// features it may end in a part's feature.
func pathTo(features bool) func(g *reading, l link) answer {
	return func(g *reading, l link) answer {
		if l.assembly == nil {
			return answer{silent: true}
		}
		return g.walkPath(l.assembly, l.word.Path(), features)
	}
}

func (g *reading) walkPath(a *plan.Assembly, path []string, features bool) answer {
	u := a.Use(path[0])
	rest := strings.Join(path, ".")
	if u == nil {
		return answer{candidates: ids(a.Holds, func(u *plan.Use) string { return u.ID.Text }), part: rest, in: fmt.Sprintf("the assembly %q", a.ID.Text), at: a.ID.At,
			silent: g.damaged[a] && len(a.Holds) == 0}
	}
	path = path[1:]
	if len(path) > 0 && u.Count.Given() && isNumber(path[0]) {
		if n, err := strconv.Atoi(path[0]); err != nil || n < 1 || !countAllows(u.Count, n) {
			return answer{part: strings.Join(path, "."), in: fmt.Sprintf("the repeated use %q", u.ID.Text), at: u.ID.At}
		}
		path = path[1:]
	}
	if len(path) == 0 {
		return yes
	}
	for _, w := range u.Assembly.All() {
		sub := g.plan.Assembly(w.Text)
		if sub == nil {
			return answer{silent: true} // reported where the use names it
		}
		if found := g.walkPath(sub, path, features); !found.found {
			return found
		}
	}
	for _, w := range u.Part.All() {
		p := g.plan.Part(w.Text)
		if p == nil {
			return answer{silent: true}
		}
		if !features {
			return answer{part: strings.Join(path, "."), in: fmt.Sprintf("the part %q", p.ID.Text), at: p.ID.At}
		}
		if found := g.feature(p, path); !found.found {
			return found
		}
	}
	return yes
}

func isNumber(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// countAllows reports whether the count can be n: false only where it is a literal
// that is less.
func countAllows(count plan.Quantity, n int) bool {
	if count.By.Given() || count.Plain.Expr == nil {
		return true
	}
	v, literal := count.Plain.Expr.Literal()
	return !literal || float64(n) <= v.SI
}

// feature looks up a part's feature: a name, or a name and a number.
func (g *reading) feature(p *plan.Part, path []string) answer {
	return g.featureAmong(g.plan.FeatureNames(p), p, path)
}

// featureAmong looks up a feature by the names that are allowed where it stands.
func (g *reading) featureAmong(names []string, p *plan.Part, path []string) answer {
	lacking := answer{candidates: names, part: strings.Join(path, "."), in: fmt.Sprintf("the part %q", p.ID.Text), at: p.ID.At, silent: g.namesLost(p)}
	switch {
	case !slices.Contains(names, path[0]):
		return lacking
	case len(path) == 1 || len(path) == 2 && isNumber(path[1]):
		return yes
	}
	lacking.part, lacking.candidates = strings.Join(path[1:], "."), nil
	return lacking
}

// namesLost reports whether names of a part's features may be missing because of
// what has been reported already: its own faults, or stock or a part that is not
// there.
func (g *reading) namesLost(p *plan.Part) bool {
	return g.damaged[p] && (len(p.Holes) == 0 || g.damaged[&p.Shape]) ||
		p.Stock.Given() && g.plan.StockOf(p.Stock.Text) == nil ||
		p.Of.Given() && (g.plan.Part(p.Of.Text) == nil || g.plan.Part(p.Of.Text) != p && g.damaged[g.plan.Part(p.Of.Text)])
}

// ownFeature looks up a feature of what the use that is being read places.
func ownFeature(g *reading, l link) answer {
	if l.use == nil {
		return answer{silent: true}
	}
	path := l.word.Path()
	for _, w := range l.use.Part.All() {
		p := g.plan.Part(w.Text)
		if p == nil {
			return answer{silent: true}
		}
		if found := g.feature(p, path); !found.found {
			return found
		}
	}
	for _, w := range l.use.Assembly.All() {
		a := g.plan.Assembly(w.Text)
		if a == nil {
			return answer{silent: true}
		}
		if found := g.walkPath(a, path, true); !found.found {
			return found
		}
	}
	return yes
}

func ownShape(_ *reading, l link) answer {
	var names []string
	for _, s := range l.part.Shape {
		names = append(names, s.Name.Text)
	}
	if slices.Contains(names, l.word.Text) {
		return yes
	}
	return answer{candidates: names, in: fmt.Sprintf("the part %q", l.part.ID.Text), at: l.part.ID.At}
}

// ownHole looks up a hole of the part that names it.
func ownHole(_ *reading, l link) answer {
	names := ids(l.part.Holes, func(h *plan.Hole) string { return h.ID.Text })
	if slices.Contains(names, l.word.Text) {
		return yes
	}
	return answer{candidates: names, in: fmt.Sprintf("the part %q", l.part.ID.Text), at: l.part.ID.At}
}

// drawnFeature looks up a feature of what a drawing shows.
func drawnFeature(g *reading, l link) answer {
	if l.of == nil {
		return answer{silent: true}
	}
	if p := g.plan.Part(l.of.Text); p != nil {
		return g.featureAmong(g.plan.DrawnNames(p), p, l.word.Path())
	}
	if a := g.plan.Assembly(l.of.Text); a != nil {
		return g.walkPath(a, l.word.Path(), true)
	}
	return answer{silent: true}
}

// placeKnown looks up a part, assembly or calculation, or a use by assembly and path.
func placeKnown(g *reading, l link) answer {
	path := l.word.Path()
	a := g.plan.Assembly(path[0])
	if len(path) > 1 && a != nil {
		return g.walkPath(a, path[1:], true)
	}
	if len(path) == 1 && (a != nil || isPart(g.plan, path[0]) || g.plan.Calc(path[0]) != nil) {
		return yes
	}
	all := append(partIDs(g.plan), assemblyIDs(g.plan)...)
	return answer{candidates: append(all, ids(g.plan.Calcs, func(c *plan.Calc) string { return c.ID.Text })...)}
}
