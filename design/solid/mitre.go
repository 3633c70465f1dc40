package solid

import (
	"fmt"
	"math"
)

// Mitre is a slanted cut through the end of a bar; the zero value is a square cut.
type Mitre struct {
	// Angle is that by which the saw is turned from a square cut, in radians, 0 to
	// [MaxMitre].
	Angle float64
	// Long is the side that keeps the bar's full length, one of the four along it:
	// left right front back bottom top. It may be empty where Angle is 0.
	Long string
}

// MaxMitre is the steepest mitre, in radians: beyond it a cut runs along the bar
// rather than across.
const MaxMitre = 80 * math.Pi / 180

// mitrePad (mm) is how far a bar is made too long at an end that is mitred, so that
// the cut runs clear through its sides.
const mitrePad = 1

// A slant is a mitre on a bar of known size: a plane through the end of its long side.
type slant struct {
	on    bool
	field string
	name  string // of the end's face
	tip   Vec    // a point of the long side's end
	up    Vec    // from the long side across the bar
	in    Vec    // from the end into the bar
	depth float64
	Mitre
}

// normal is that of the mitred face, out of the material.
func (t slant) normal() Vec {
	sin, cos := math.Sincos(t.Angle)
	return t.up.Mul(sin).Sub(t.in.Mul(cos))
}

// back is how far the mitred face lies behind the bar's full length at a point of
// the section, mm.
func (t slant) back(p Vec) float64 {
	if !t.on {
		return 0
	}
	return math.Max(0, p.Sub(t.tip).Dot(t.up)) * math.Tan(t.Angle)
}

// slants works out the mitres of a bar with its section's box from the origin to
// size, in the part's own axes; names are those of the end faces.
func (b Bar) slants(size Vec, names prismNames) ([2]slant, Faults) {
	var out [2]slant
	var faults Faults
	dir := b.Lies.Vec()
	for end, m := range [2]Mitre{b.Start, b.End} {
		t := slant{Mitre: m, field: "mitre.start", name: names.low, in: dir}
		if end == 1 {
			t.field, t.name, t.in, t.tip = "mitre.end", names.high, dir.neg(), dir.Mul(b.Length)
		}
		if m.Angle == 0 {
			out[end] = t
			continue
		}
		if !(m.Angle > 0 && m.Angle <= MaxMitre) {
			faults = append(faults, Fault{t.field, fmt.Sprintf("a mitre of %.4g° is out of range: 0° is a square cut, %.4g° the most", degrees(m.Angle), degrees(MaxMitre))})
			continue
		}
		axes := across(b.Lies)
		if k, upper := b.Across(m.Long); k >= 0 {
			t.on, t.up = true, axes[k].Vec()
			t.depth = size.Dot(t.up)
			if upper {
				t.tip, t.up = t.tip.Add(t.up.Mul(t.depth)), t.up.neg()
			}
		} else {
			one, other := sideNames[axes[0]], sideNames[axes[1]]
			faults = append(faults, Fault{"mitre.long", fmt.Sprintf("is %q, but the sides along the bar are %s, %s, %s and %s", m.Long, one[0], one[1], other[0], other[1])})
		}
		out[end] = t
	}
	if faults == nil {
		faults = b.mitresMeet(out, size)
	}
	return out, faults
}

// mitresMeet is a fault where mitres leave no length of bar at one of its corners.
func (b Bar) mitresMeet(slants [2]slant, size Vec) Faults {
	if !slants[0].on && !slants[1].on {
		return nil
	}
	axes := across(b.Lies)
	one, other := axes[0].Vec(), axes[1].Vec()
	most := 0.0
	for _, p := range []Vec{{}, one.Mul(size.Dot(one)), other.Mul(size.Dot(other)), one.Mul(size.Dot(one)).Add(other.Mul(size.Dot(other)))} {
		most = math.Max(most, slants[0].back(p)+slants[1].back(p))
	}
	if b.Length >= most+MinSize {
		return nil
	}
	field := "mitre.start"
	if !slants[0].on {
		field = "mitre.end"
	}
	return Faults{{field, fmt.Sprintf("mitres take %s of the bar's length at its short side, but it is %s long over all", mm(most), mm(b.Length))}}
}

// cutMitres takes what lies beyond the mitres off a bar that was made too long.
func cutMitres(s *Solid, slants [2]slant) (*Solid, error) {
	for _, t := range slants {
		if !t.on {
			continue
		}
		cut, err := Subtract(s, t.tool(s.box))
		if err != nil {
			return nil, inField(err, t.field)
		}
		s = cut
	}
	return s, nil
}

// tool is a block that holds all of the bar beyond the mitre; the face it leaves
// bears the end's name.
func (t slant) tool(box Box) *Solid {
	sin, cos := math.Sincos(t.Angle)
	f := Frame{O: t.tip, Y: t.up.Mul(cos).Add(t.in.Mul(sin)), Z: t.normal()}
	f.X = f.Y.Cross(f.Z)
	size := box.Size()
	wide, high := size.X+size.Y+size.Z, t.depth/cos
	middle := box.Centre().Sub(t.tip).Dot(f.X)
	const room = 2 * mitrePad
	o := RectangleOutline(wide+2*room, high+2*room).moved(Vec2{middle - wide/2 - room, -room})
	return prism([]Outline{o}, t.depth*sin+mitrePad*cos+room, f, prismNames{t.name, t.name})
}

// span is the stretch along the bar, from its full length's start, that the line
// through a point of the section keeps between the mitres, mm.
func (b Bar) span(slants [2]slant, p Vec) (from, to float64) {
	return slants[0].back(p), b.Length - slants[1].back(p)
}

// mitredFeature is the flat face that a mitre leaves.
func mitredFeature(s *Solid, t slant) Feature {
	box := EmptyBox()
	for i := range s.Faces {
		if s.Faces[i].Name == t.name {
			box = box.Join(s.Faces[i].box)
		}
	}
	return Feature{Name: t.name, Kind: FlatFace, At: box.Centre(), Dir: t.normal(), Box: box}
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// Across returns which axis of the bar's section a side along it stands across, 0 or
// 1, and whether it is the upper of the two sides; -1 where it is none.
func (b Bar) Across(side string) (axis int, upper bool) {
	for i, a := range across(b.Lies) {
		for k, name := range sideNames[a] {
			if name == side {
				return i, k == 1
			}
		}
	}
	return -1, false
}
