package change

import (
	"regexp"
	"strconv"
	"strings"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

// names are the new names of what was renamed. Texts of the old plan are read through
// them before they are compared, those of the new plan through names that rename nothing,
// so that both say of the same names that they stand for nothing. Nil leaves all as it is.
type names struct {
	plan     *plan.Plan                   // in which paths are followed
	of       map[Kind]map[string]string   // by old id; uses, joints and steps by "assembly.id" to the id alone
	options  map[string]map[string]string // by old choice
	features map[string]map[string]string // holes and named shapes by old part
}

func newNames(p *plan.Plan) *names {
	n := &names{plan: p, of: map[Kind]map[string]string{}, options: map[string]map[string]string{}, features: map[string]map[string]string{}}
	for _, k := range kinds {
		n.of[k] = map[string]string{}
	}
	return n
}

// id is the new id of a thing of the kind.
func (n *names) id(k Kind, old string) string {
	if n != nil {
		if name, renamed := n.of[k][old]; renamed {
			return name
		}
	}
	return old
}

// within is the new id of a use, joint or step of an old assembly.
func (n *names) within(k Kind, assembly, old string) string {
	if n != nil {
		if name, renamed := n.of[k][assembly+"."+old]; renamed {
			return name
		}
	}
	return old
}

func (n *names) option(choice, old string) string {
	if n != nil {
		if name, renamed := n.options[choice][old]; renamed {
			return name
		}
	}
	return old
}

func (n *names) feature(part, old string) string {
	if n != nil {
		if name, renamed := n.features[part][old]; renamed {
			return name
		}
	}
	return old
}

// path is a dotted path as the new plan writes it: from an assembly, or of a feature
// of a part, or from the plan.
func (n *names) path(a *plan.Assembly, part *plan.Part, text string) string {
	if n == nil {
		return text
	}
	return strings.Join(n.follow(a, part, strings.Split(text, ".")), ".")
}

// follow renames the segments of a path one after the other.
func (n *names) follow(a *plan.Assembly, part *plan.Part, segs []string) []string {
	if len(segs) == 0 {
		return nil
	}
	first := segs[0]
	switch {
	case part != nil:
		// An altered part has the features of what it is made from.
		for step := 0; part != nil && step <= len(n.plan.Parts); step++ {
			if name := n.feature(part.ID.Text, first); name != first {
				return append([]string{name}, segs[1:]...)
			}
			part = n.plan.Part(part.Of.Text)
		}
		return segs
	case a != nil && a.Use(first) != nil:
		out := []string{n.within(OfPlacement, a.ID.Text, first)}
		rest := segs[1:]
		if len(rest) > 0 {
			if _, err := strconv.Atoi(rest[0]); err == nil {
				out, rest = append(out, rest[0]), rest[1:]
			}
		}
		held, made := n.held(a.Use(first))
		if held == nil && made == nil {
			return append(out, rest...)
		}
		return append(out, n.follow(held, made, rest)...)
	case a != nil && a.Joint(first) != nil:
		return append([]string{n.within(OfJoint, a.ID.Text, first)}, segs[1:]...)
	case a != nil && a.Step(first) != nil:
		return append([]string{n.within(OfStep, a.ID.Text, first)}, segs[1:]...)
	case n.plan.Assembly(first) != nil:
		return append([]string{n.id(OfAssembly, first)}, n.follow(n.plan.Assembly(first), nil, segs[1:])...)
	case n.plan.Part(first) != nil:
		return append([]string{n.id(OfPart, first)}, n.follow(nil, n.plan.Part(first), segs[1:])...)
	}
	for _, k := range []Kind{OfCalculation, OfValue, OfMotion, OfChoice, OfHazard, OfStock, OfMaterial, OfDrawing, OfTool, OfPage} {
		if n.knows(k, first) {
			return append([]string{n.id(k, first)}, segs[1:]...)
		}
	}
	// A name of nothing, or one that holds within a formula: whatever the other plan may
	// call so, it is not meant.
	return append([]string{"?" + first}, segs[1:]...)
}

// knows reports whether the plan has a thing of the kind with the id.
func (n *names) knows(k Kind, id string) bool {
	switch k {
	case OfCalculation:
		return n.plan.Calc(id) != nil
	case OfValue:
		return n.plan.Value(id) != nil
	case OfMotion:
		return n.plan.Motion(id) != nil
	case OfChoice:
		return n.plan.Choice(id) != nil
	case OfHazard:
		return n.plan.Hazard(id) != nil
	case OfStock:
		return n.plan.StockOf(id) != nil
	case OfMaterial:
		return n.plan.Material(id) != nil
	case OfDrawing:
		return n.plan.Drawing(id) != nil
	case OfTool:
		return n.plan.Tool(id) != nil
	case OfPage:
		return n.plan.Page(id) != nil
	case OfPart:
		return n.plan.Part(id) != nil
	case OfAssembly:
		return n.plan.Assembly(id) != nil
	case OfSupplier:
		return n.plan.Supplier(id) != nil
	}
	return false
}

// held is what a use holds: an assembly or a part, that of its first option where
// there are several.
func (n *names) held(u *plan.Use) (*plan.Assembly, *plan.Part) {
	for _, w := range u.Assembly.All() {
		if a := n.plan.Assembly(w.Text); a != nil {
			return a, nil
		}
	}
	for _, w := range u.Part.All() {
		if p := n.plan.Part(w.Text); p != nil {
			return nil, p
		}
	}
	return nil, nil
}

var (
	braced = regexp.MustCompile(`\{[^{}]*\}`)
	dotted = regexp.MustCompile(`[A-Za-z_][A-Za-z0-9_]*(\.[A-Za-z0-9_]+)*`)
)

// prose is a text with the names in its braces as the new plan has them.
func (n *names) prose(text string) string {
	if n == nil {
		return text
	}
	return braced.ReplaceAllStringFunc(text, func(inside string) string {
		return dotted.ReplaceAllStringFunc(inside, func(name string) string { return n.path(nil, nil, name) })
	})
}

// formula is a formula's source with the names in it as the new plan has them.
func (n *names) formula(e *formula.Expr) string {
	source := e.String()
	if n == nil {
		return source
	}
	return dotted.ReplaceAllStringFunc(source, func(name string) string { return n.path(nil, nil, name) })
}
