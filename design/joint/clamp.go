package joint

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// IsClamp reports whether a part holds on a shaft by a screw of its own: what the plan
// describes as a clamp, and a standard set collar.
func IsClamp(p *reckon.Part) bool {
	switch {
	case p == nil:
		return false
	case p.Fastener != nil:
		return p.Fastener.Kind == standards.Collar
	}
	return p.Part.Fastener != nil && p.Part.Fastener.Kind.Text == "clamp"
}

// ClampOf is the clamp of a grip: the part on either side that a screw of its own
// closes on a shaft; nil for none.
func ClampOf(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint) *reckon.Part {
	if j.Kind.Text != plan.Grip || j.Fastener.Given() {
		return nil
	}
	for _, l := range []plan.Layer{j.Theirs, j.Mine} {
		for _, spot := range Layer(r, a, l) {
			if p := r.Part(spot.Part.ID.Text); IsClamp(p) {
				return p
			}
		}
	}
	return nil
}

// ClampTool is what turns a clamp's own screw; ok is false where neither the plan nor
// the standard says.
func ClampTool(p *reckon.Part) (t Tool, ok bool) {
	switch {
	case !IsClamp(p):
		return Tool{}, false
	case p.Fastener != nil:
		return Tool{Kind: "hex key", Size: p.Fastener.Drive.Text}, p.Fastener.Drive.Text != ""
	case !p.Part.Fastener.Tool.Given():
		return Tool{}, false
	}
	return NamedTool(p.Part.Fastener.Tool.Text), true
}

// A ClampScrew is where the screw that closes a clamp is turned.
type ClampScrew struct {
	Clamp *reckon.Part
	Path  string    // of the clamp, from the joint's assembly
	Mouth solid.Vec // the middle of the hole's mouth, in the axes of the joint's assembly, mm
	Dir   solid.Vec // unit vector from outside into the hole: the way that the tool goes in
	Drive standards.Drive
	Tool  Tool
}

// ClampScrews are where the screws of a joint's clamps are turned: one for each place of
// the grip. A clamp whose part does not say by which hole (driven_at) has none.
func (m *Machine) ClampScrews(a *plan.Assembly, j *plan.Joint) []ClampScrew {
	clamp := ClampOf(m.r, a, j)
	tool, told := ClampTool(clamp)
	if !told {
		return nil
	}
	hole, drive := "screw", standards.Drive{}
	if clamp.Fastener != nil {
		drive = clamp.Fastener.Drive
	} else {
		hole, drive = clamp.Part.Fastener.DrivenAt.Text, driveOf(tool)
	}
	if hole == "" {
		return nil
	}
	var out []ClampScrew
	seen := map[string]bool{}
	for _, l := range []plan.Layer{j.Theirs, j.Mine} {
		for _, w := range l.Features {
			for _, spot := range m.r.Spots(a, w) {
				if m.r.Part(spot.Part.ID.Text) != clamp || seen[spot.Path] {
					continue
				}
				seen[spot.Path] = true
				if f, found := m.l.FeatureOf(a, spot.Path, hole); found && f.Kind == solid.HoleFeature {
					out = append(out, ClampScrew{Clamp: clamp, Path: spot.Path, Mouth: f.At, Dir: f.Dir, Drive: drive, Tool: tool})
				}
			}
		}
	}
	return out
}

// driveOf is the drive that a named tool takes hold of; zero for tools that no table
// has.
func driveOf(t Tool) standards.Drive {
	switch t.Kind {
	case "hex key", "hex driver", "hex bit":
		for _, key := range standards.HexKeys() {
			if key.Text == t.Size {
				return standards.Drive{Kind: standards.HexSocket, Size: key.Size, Text: t.Size, Depth: key.Size / 2}
			}
		}
	case "spanner", "socket":
		for _, s := range standards.Spanners() {
			if s.Text == t.Size {
				return standards.Drive{Kind: standards.ExternalHex, Size: s.Size, Text: t.Size}
			}
		}
	case "screwdriver", "bit":
		return standards.Drive{Kind: standards.CrossRecess, Text: t.Kind + " " + t.Size}
	}
	return standards.Drive{}
}

// collarBore is the bore of a set collar with its limits, H8: DIN 705.
func collarBore(f standards.Fastener) Size {
	s := Size{Nominal: f.CollarBore, Low: f.CollarBore, High: f.CollarBore, Hole: true, Text: mm(f.CollarBore) + " H8"}
	if low, high, err := standards.Limits(f.CollarBore, "H8"); err == nil {
		s.Low, s.High, s.Stated = f.CollarBore+low, f.CollarBore+high, true
	}
	return s
}

// ClampRange is the thinnest and the thickest shaft that a clamp of the plan's own holds,
// mm; ok is false where the plan does not say, and for a set collar, whose bore is a fit
// like that of any hub.
func (m *Machine) ClampRange(p *reckon.Part) (thin, thick float64, ok bool) {
	if !IsClamp(p) || p.Fastener != nil {
		return 0, 0, false
	}
	bore, known := m.r.Length(p.Part.Fastener.D)
	closes, told := m.r.Length(p.Part.Fastener.Closes)
	return bore - math.Max(closes, 0), bore, known && told
}
