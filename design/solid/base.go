package solid

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// sideNames are the flat sides of a part, by axis and end.
var sideNames = [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}

// sideDirections are the outward normals of the sides in the settled order of
// features.
var sideDirections = []struct {
	name string
	dir  Vec
}{
	{"left", Vec{X: -1}}, {"right", Vec{X: 1}}, {"front", Vec{Y: -1}},
	{"back", Vec{Y: 1}}, {"bottom", Vec{Z: -1}}, {"top", Vec{Z: 1}},
}

// acrossFrame returns the frame in which a section of a bar that lies along an
// axis is drawn, and whether its two sizes change places so that the frame is
// right-handed.
func acrossFrame(lies Axis) (f Frame, swap bool) {
	x, y, z := Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}
	switch lies {
	case AxisX:
		return Frame{X: y, Y: z, Z: x}, false
	case AxisY:
		return Frame{X: z, Y: x, Z: y}, true
	}
	return World, false
}

// across returns the two axes across a bar, x before y before z.
func across(lies Axis) [2]Axis {
	switch lies {
	case AxisX:
		return [2]Axis{AxisY, AxisZ}
	case AxisY:
		return [2]Axis{AxisX, AxisZ}
	}
	return [2]Axis{AxisX, AxisY}
}

func (b Bar) build() (*Solid, error) {
	if b.Section == nil {
		return nil, fault("section", "bar has no section")
	}
	if b.Lies < AxisX || b.Lies > AxisZ {
		return nil, fault("lies", "must be x, y or z")
	}
	reg, err := b.Section.region()
	var faults Faults
	if err != nil {
		faults = append(faults, err.(Faults)...)
	}
	need(&faults, "length", b.Length)
	if b.Thread != nil && err == nil && reg.round == 0 {
		faults = append(faults, Fault{"section.thread", "only a round bar can be threaded"})
	}
	if faults != nil {
		return nil, faults
	}
	axes := across(b.Lies)
	side := func(k int) string { return sideNames[axes[k/2]][k%2] }
	for l := range reg.loops {
		for i := range reg.loops[l] {
			if n := &reg.loops[l][i].name; strings.Contains(*n, "%") {
				*n = slotName(*n, side)
			}
		}
	}
	nameSpans(reg.loops, side)
	size := reg.size(axes)
	f, swap := acrossFrame(b.Lies)
	for l := range reg.loops {
		if swap {
			reg.loops[l] = reg.loops[l].swapped().turnedBack()
		}
		reg.loops[l] = reg.loops[l].simplified()
	}
	ends := prismNames{sideNames[b.Lies][0], sideNames[b.Lies][1]}
	if reg.round > 0 {
		ends = prismNames{"start", "end"}
	}
	slants, faults := b.slants(size, ends)
	if faults != nil {
		return nil, faults
	}
	length := b.Length
	for end, t := range slants {
		if t.on {
			length += mitrePad
			if end == 0 {
				f.O = f.Z.Mul(-mitrePad)
			}
		}
	}
	s, err := cutMitres(prism(reg.loops, length, f, ends), slants)
	if err != nil {
		return nil, err
	}
	s.threadBody(b.Thread)
	s.features = b.features(s, reg, axes, side, slants)
	return s, nil
}

// size is that of the section in the part's axes.
func (r region) size(axes [2]Axis) Vec {
	lo, hi := r.loops[0].bounds()
	return axes[0].Vec().Mul(hi.X - lo.X).Add(axes[1].Vec().Mul(hi.Y - lo.Y))
}

// slotName puts a side's name for the number in a slot's tag.
func slotName(tag string, side func(int) string) string {
	i := strings.Index(tag, "%")
	return tag[:i] + side(int(tag[i+1]-'0')) + tag[i+2:]
}

// nameSpans names the spans that bear no name yet: those on a side of the
// bounding box for the side, others edge.1, edge.2 as the outline counts.
// Sides are numbered 0 low first axis, 1 high first, 2 low second, 3 high second.
func nameSpans(loops []Outline, side func(int) string) {
	lo, hi := loops[0].bounds()
	for l, o := range loops {
		for i := range o {
			s := &loops[l][i]
			if s.name != "" {
				continue
			}
			s.name = fmt.Sprintf("edge.%d", i+1)
			if s.Arc {
				continue
			}
			on := func(a, b, at float64) bool { return math.Abs(a-at) < Tolerance && math.Abs(b-at) < Tolerance }
			switch {
			case on(s.From.X, s.To.X, lo.X):
				s.name = side(0)
			case on(s.From.X, s.To.X, hi.X):
				s.name = side(1)
			case on(s.From.Y, s.To.Y, lo.Y):
				s.name = side(2)
			case on(s.From.Y, s.To.Y, hi.Y):
				s.name = side(3)
			}
		}
	}
}

// features lists a bar's own features.
func (b Bar) features(s *Solid, reg region, axes [2]Axis, side func(int) string, slants [2]slant) []Feature {
	var out []Feature
	dir := b.Lies.Vec()
	if reg.round > 0 {
		from := axes[0].Vec().Add(axes[1].Vec()).Mul(reg.round / 2)
		low, high := b.span(slants, from)
		mid := from.along(dir, (low+high)/2)
		for _, f := range []Feature{
			{Name: "axis", Kind: AxisFeature},
			{Name: "body", Kind: BodyFeature},
		} {
			f.At, f.Dir, f.D, f.Depth, f.Thread, f.Box = mid, dir, reg.round, high-low, b.Thread, s.box
			out = append(out, f)
		}
		ends := []Feature{
			{Name: "start", At: from, Dir: dir.neg()},
			{Name: "end", At: from.along(dir, b.Length), Dir: dir},
		}
		half := Vec{1, 1, 1}.Sub(dir).Mul(reg.round / 2)
		for i, f := range ends {
			f.Kind, f.Box = FlatFace, Box{f.At.Sub(half), f.At.Add(half)}
			if slants[i].on {
				f = mitredFeature(s, slants[i])
			}
			out = append(out, f)
		}
		return out
	}
	out = flatFeatures(s)
	for _, t := range slants {
		if t.on {
			out = append(out, mitredFeature(s, t))
		}
	}
	slots := reg.slots
	sort.SliceStable(slots, func(i, j int) bool {
		if slots[i].side != slots[j].side {
			return slots[i].side < slots[j].side
		}
		return slots[i].number < slots[j].number
	})
	for _, p := range slots {
		axis := axes[p.side/2]
		run := axes[1-p.side/2]
		n := axis.Vec()
		at := run.Vec().Mul(p.at)
		if p.side%2 == 0 {
			n = n.neg()
		} else {
			at = at.along(axis.Vec(), s.box.Max.Dot(axis.Vec()))
		}
		low, high := b.span(slants, at)
		at = at.along(dir, (low+high)/2)
		half := run.Vec().Mul(p.width / 2).Add(dir.Mul((high - low) / 2))
		box := EmptyBox().Add(at.Sub(half)).Add(at.Add(half)).Add(at.along(n, -p.depth))
		out = append(out, Feature{
			Name: slotName(p.name, side), Kind: SlotFeature, At: at, Dir: n, Along: dir,
			Box: box, D: p.width, Depth: p.depth,
		})
	}
	return out
}

// flatFeatures lists the six sides as far as the solid has flat faces of that
// name. Where they lie at several heights, as on a stepped group, the side is
// the height with the largest area, the outermost of equals: what another part
// is set on.
func flatFeatures(s *Solid) []Feature {
	var out []Feature
	for _, d := range sideDirections {
		type level struct{ at, area float64 }
		var levels []level
		boxes := map[float64]Box{}
		for i := range s.Faces {
			f := &s.Faces[i]
			p, ok := f.Surface.(Plane)
			if !ok || f.Name != d.name || p.Z.Dot(d.dir) < 1-angleTolerance {
				continue
			}
			at, k := p.O.Dot(d.dir), -1
			for l := range levels {
				if math.Abs(levels[l].at-at) < Tolerance {
					k = l
				}
			}
			if k < 0 {
				k = len(levels)
				levels = append(levels, level{at: at})
				boxes[at] = EmptyBox()
			}
			levels[k].area += s.FaceArea(i)
			boxes[levels[k].at] = boxes[levels[k].at].Join(f.box)
		}
		if len(levels) == 0 {
			continue
		}
		best := levels[0]
		for _, l := range levels[1:] {
			if l.area > best.area+Tolerance || l.area > best.area-Tolerance && l.at > best.at {
				best = l
			}
		}
		box := boxes[best.at]
		out = append(out, Feature{Name: d.name, Kind: FlatFace, At: box.Centre(), Dir: d.dir, Box: box})
	}
	return out
}

func (b Sheet) build() (*Solid, error) {
	var faults Faults
	if err := b.Outline.Check(); err != nil {
		faults = append(faults, inField(err, "outline").(Faults)...)
	}
	need(&faults, "thickness", b.Thickness)
	if faults != nil {
		return nil, faults
	}
	s := extrude(b.Outline, b.Thickness)
	s.features = flatFeatures(s)
	return s, nil
}

// extrude makes a checked outline into a solid along z with its lowest corner
// at the origin and its faces named.
func extrude(o Outline, l float64) *Solid {
	o = append(Outline(nil), o...)
	for i := range o {
		if o[i].name == "" && len(o) == 1 {
			o[i].name = "body"
		}
	}
	lo, _ := o.bounds()
	loops := []Outline{o.moved(lo.mul(-1))}
	nameSpans(loops, func(k int) string { return sideNames[k/2][k%2] })
	loops[0] = loops[0].anticlockwise().simplified()
	return prism(loops, l, World, prismNames{"bottom", "top"})
}
