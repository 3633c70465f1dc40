package joint

import (
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// Screw is the joint's screw under the reckoning's case, nil for joints without.
func Screw(r *reckon.Reckoning, j *plan.Joint) *reckon.Part { return pick(r, j.Fastener) }

// NutOf is the nut, slot nut or insert that the joint's screw goes into, nil when
// the last layer has the thread.
func NutOf(r *reckon.Reckoning, j *plan.Joint) *reckon.Part { return pick(r, j.Into) }

func pick(r *reckon.Reckoning, ref plan.Reference) *reckon.Part {
	id, ok := ref.Pick(r.Case.Options)
	if !ok {
		return nil
	}
	return r.Part(id.Text)
}

// Last are the features of the joint's last layer.
func Last(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint) []reckon.Spot {
	if len(j.Through) == 0 {
		return nil
	}
	return Layer(r, a, j.Through[len(j.Through)-1])
}

// Layer are the features that a layer stands for.
func Layer(r *reckon.Reckoning, a *plan.Assembly, l plan.Layer) []reckon.Spot {
	var spots []reckon.Spot
	for _, w := range l.Features {
		spots = append(spots, r.Spots(a, w)...)
	}
	return spots
}

// ThreadOf is the thread of a fastener part: of its standard, or as the plan says
// of a bought one. ok is false for parts that are no fasteners with a thread.
func ThreadOf(r *reckon.Reckoning, p *reckon.Part) (t standards.Thread, ok bool) {
	switch {
	case p == nil:
		return t, false
	case p.Fastener != nil:
		return p.Fastener.Thread, p.Fastener.Thread.Major > 0
	case p.Part.Fastener != nil && p.Part.Fastener.Thread.Given():
		return r.Thread(p.Part.Fastener.Thread)
	}
	return t, false
}

// A Tool turns or holds a fastener.
type Tool struct {
	Kind string // "hex key", "open-ended spanner"
	Size string // "6 mm"
}

// ToolOf is what turns a fastener; ok is false where neither the tables nor the plan say.
func ToolOf(p *reckon.Part) (Tool, bool) {
	if p == nil {
		return Tool{}, false
	}
	f := p.Fastener
	named := p.Part != nil && p.Part.Fastener != nil && p.Part.Fastener.Tool.Given()
	switch {
	case f == nil && !named:
		return Tool{}, false
	case f == nil:
		return NamedTool(p.Part.Fastener.Tool.Text), true
	case f.Drive.Kind == standards.HexSocket:
		return Tool{Kind: "hex key", Size: f.Drive.Text}, true
	case f.Drive.Kind == standards.ExternalHex:
		return Tool{Kind: "spanner", Size: f.Drive.Text}, true
	case named:
		return NamedTool(p.Part.Fastener.Tool.Text), true
	case f.Drive.ByDriver() && f.Drive.Text != "":
		return Tool{Kind: "screwdriver", Size: f.Drive.Text}, true
	case f.Kind == standards.Rivet:
		return Tool{Kind: "rivet pliers", Size: f.Size + " mm"}, true
	case f.Kind == standards.Ring:
		return Tool{Kind: "retaining ring pliers", Size: f.Groove.Pliers}, true
	case f.Kind == standards.Pin, f.Kind == standards.SpringPin:
		return Tool{Kind: "pin punch", Size: f.Size + " mm"}, true
	case f.Kind == standards.Nut && f.Flats > 0:
		return Tool{Kind: "spanner", Size: quantity.Text(quantity.MM(f.Flats), quantity.Metric)}, true
	}
	return Tool{}, false
}

// toolKinds are the kinds of tool that a plan may name with a size.
var toolKinds = []string{"hex key", "hex driver", "hex bit", "bit", "spanner", "socket", "screwdriver", "rivet pliers", "retaining ring pliers", "pin punch"}

// NamedTool reads a tool as a part names it: "hex key 3 mm". Its size is empty where
// none of the usual kinds stands before it.
func NamedTool(text string) Tool {
	for _, kind := range toolKinds {
		if size, found := strings.CutPrefix(text, kind+" "); found {
			return Tool{Kind: kind, Size: strings.TrimSpace(size)}
		}
	}
	return Tool{Kind: text}
}
