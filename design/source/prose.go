package source

import (
	"fmt"
	"net/url"
	"path"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/prose"
)

// A proseText is a text whose braces reach into the plan.
type proseText struct {
	r        *reader
	text     plan.Text
	assembly *plan.Assembly // where uses, joints and steps may be named plainly
}

// checkProse looks up what the braces and links of all texts name.
func (g *reading) checkProse() {
	work := 0
	for _, t := range g.prose {
		if work += prose.Work(t.text.Value); work > g.limits.ProseWork {
			t.r.report(tooLarge, t.text.At, "the plan's texts together hold more marks such as * and [ than any plan needs; from here on none is read", "write more plainly")
			return
		}
		doc, faults := prose.Parse(t.text.Value)
		for _, f := range faults {
			t.r.report(badText, t.text.Place(f.Offset, f.Length), f.Message, f.Remedy)
		}
		for _, ref := range doc.References {
			g.checkReference(t, ref)
		}
		for _, l := range doc.Links {
			g.checkLink(t, l)
		}
	}
}

// checkReference looks up the thing that a name in braces begins with. Properties
// and results beyond it belong to whoever works them out, but what an assembly or a
// calculation holds by name is known here.
func (g *reading) checkReference(t proseText, ref prose.Reference) {
	head, rest, dotted := strings.Cut(ref.Name, ".")
	at := t.text.Place(ref.Offset, ref.Length)
	if t.assembly != nil && g.standsIn(t.assembly, head) {
		return
	}
	switch {
	case g.plan.Assembly(head) != nil && dotted:
		g.checkWithin(t, ref, g.plan.Assembly(head), rest)
		return
	case g.plan.Calc(head) != nil && dotted:
		g.checkResult(t, ref, g.plan.Calc(head), rest)
		return
	case g.plan.Assembly(head) != nil, g.plan.Calc(head) != nil, g.plan.Part(head) != nil, g.plan.StockOf(head) != nil:
		return
	case !dotted && (g.plan.Value(head) != nil && !ref.Picture || g.plan.Hazard(head) != nil || g.plan.Drawing(head) != nil || g.plan.Page(head) != nil):
		return
	case !dotted && !ref.Picture && (g.plan.Motion(head) != nil || g.plan.Tool(head) != nil || g.plan.Choice(head) != nil):
		return
	}
	if len(g.unread) > 0 { // whichever file it is, the name may stand there
		return
	}
	if t.text.At != at {
		at = finding.OnLine(at.File, at.Line, at.Column, runes(head))
	}
	t.r.report(unknownReference, at, fmt.Sprintf("nothing is called %s", quoted(head)), g.near.perhaps(head, g.names(t.assembly)))
}

// standsIn reports whether an assembly has a use, joint or step of that id.
func (g *reading) standsIn(a *plan.Assembly, id string) bool {
	return a.Use(id) != nil || a.Joint(id) != nil || a.Step(id) != nil
}

// names are all ids that a text may name.
func (g *reading) names(a *plan.Assembly) []string {
	p := g.plan
	all := append(partIDs(p), assemblyIDs(p)...)
	all = append(all, ids(p.Values, func(v *plan.Value) string { return v.ID.Text })...)
	all = append(all, ids(p.Stock, func(s *plan.Stock) string { return s.ID.Text })...)
	all = append(all, ids(p.Calcs, func(c *plan.Calc) string { return c.ID.Text })...)
	all = append(all, ids(p.Hazards, func(h *plan.Hazard) string { return h.ID.Text })...)
	all = append(all, ids(p.Drawings, func(d *plan.Drawing) string { return d.ID.Text })...)
	if a != nil {
		all = append(all, namesIn(a)...)
	}
	return all
}

// namesIn are the ids of what stands in an assembly.
func namesIn(a *plan.Assembly) []string {
	all := ids(a.Holds, func(u *plan.Use) string { return u.ID.Text })
	all = append(all, ids(a.Joints, func(j *plan.Joint) string { return j.ID.Text })...)
	return append(all, ids(a.Steps, func(s *plan.Step) string { return s.ID.Text })...)
}

// checkWithin looks up what an assembly holds, or a property of it.
func (g *reading) checkWithin(t proseText, ref prose.Reference, a *plan.Assembly, rest string) {
	name, _, _ := strings.Cut(rest, ".")
	lost := g.damaged[a] && (len(a.Holds) == 0 || len(a.Joints) == 0 || len(a.Steps) == 0)
	if g.standsIn(a, name) || lost || plan.IsAssemblyProperty(name) || hasNamed(a.Has, name) {
		return
	}
	g.reportRest(t, ref, rest, name, fmt.Sprintf("the assembly %q", a.ID.Text), a.ID.At, append(namesIn(a), plan.AssemblyProperties()...))
}

// checkResult looks up what a calculation is given or finds.
func (g *reading) checkResult(t proseText, ref prose.Reference, c *plan.Calc, rest string) {
	name, _, _ := strings.Cut(rest, ".")
	all := ids(c.Finds, func(f plan.Find) string { return f.Name.Text })
	all = append(all, ids(c.Givens, func(f plan.Given) string { return f.Name.Text })...)
	if c.Chain != nil {
		all = append(all, plan.Gap)
	}
	for _, known := range all {
		if known == name {
			return
		}
	}
	if g.damaged[c] && (len(c.Finds) == 0 || len(c.Givens) == 0) {
		return
	}
	g.reportRest(t, ref, rest, name, fmt.Sprintf("the calculation %q", c.ID.Text), c.ID.At, all)
}

func (g *reading) reportRest(t proseText, ref prose.Reference, rest, name, in string, declared finding.Span, candidates []string) {
	at := t.text.Place(ref.Offset+len(ref.Name)-len(rest), len(name))
	t.r.report(unknownReference, at, fmt.Sprintf("%s has nothing called %s", in, quoted(name)), g.near.perhaps(name, candidates),
		finding.Related{At: declared, Say: "looked for here"})
}

func hasNamed(list []plan.Named, name string) bool {
	for _, n := range list {
		if n.Name.Text == name {
			return true
		}
	}
	return false
}

// checkLink makes sure that a link leads to an address that is safe to follow, or to
// something that the plan holds.
func (g *reading) checkLink(t proseText, l prose.Link) {
	at := t.text.Place(l.Offset, l.Length)
	u, err := url.Parse(l.To)
	switch {
	case err != nil:
		t.r.report(unsafeLink, at, fmt.Sprintf("%s is no address", quoted(l.To)), "")
	case u.Scheme != "" || u.Host != "" || strings.HasPrefix(l.To, "//"):
		g.checkAddress(t, l, u, at)
	case u.Path == "" && u.Fragment != "" && !l.Image:
	case !cleanPath(u.Path):
		t.r.report(unsafeLink, at, fmt.Sprintf("%s leads out of the plan", quoted(l.To)), "write the path from the plan's root: files/name")
	case g.plan.File(u.Path) != nil:
	case !l.Image && path.Dir(u.Path) == "pages" && path.Ext(u.Path) == ".md":
		if g.plan.Page(strings.TrimSuffix(path.Base(u.Path), ".md")) == nil && !g.unread["page"] {
			t.r.report(missingFile, at, fmt.Sprintf("the plan has no page %s", quoted(u.Path)), g.near.perhaps(u.Path, ids(g.plan.Pages, func(p *plan.Page) string { return "pages/" + p.ID.Text + ".md" })))
		}
	case l.Image && strings.HasPrefix(u.Path, "files/"), strings.HasPrefix(u.Path, "files/"):
		t.r.report(missingFile, at, fmt.Sprintf("the plan has no file %s", quoted(u.Path)), g.near.perhaps(u.Path, filePaths(g.plan)))
	default:
		t.r.report(missingFile, at, fmt.Sprintf("%s is no file or page that a text can lead to", quoted(l.To)), "link to files/name or pages/name.md, or name a part in braces")
	}
}

func (g *reading) checkAddress(t proseText, l prose.Link, u *url.URL, at finding.Span) {
	switch scheme := strings.ToLower(u.Scheme); {
	case l.Image:
		t.r.report(unsafeLink, at, "a picture from elsewhere: what is published makes no request", "put the picture under files/")
	case scheme == "mailto", (scheme == "http" || scheme == "https") && u.Host != "":
	default:
		t.r.report(unsafeLink, at, fmt.Sprintf("a link to %s", quoted(l.To)), "")
	}
}

func filePaths(p *plan.Plan) []string {
	return ids(p.Files, func(f *plan.File) string { return f.Path })
}
