package solid

import (
	"fmt"
	"math"
)

// Section is what a bar looks like cut across: [Round], [Rectangle], [Tube],
// [BoxTube], [Angle], [Channel], [Slotted] or [Profile]. Its first size is along
// the first axis across the bar, its second along the second.
type Section interface {
	// region returns the section's outlines with the lowest corner at the origin.
	region() (region, error)
}

// region is an area: the outer outline anticlockwise, the inner ones clockwise.
type region struct {
	loops []Outline
	slots []slotPlace
	round float64 // diameter of a round bar, 0 for others
}

// slotPlace is where a slot of a slotted section has its mouth.
type slotPlace struct {
	name         string // before the bar's way is known: %0 stands for its side
	side, number int    // side 0 low first axis, 1 high first axis, 2 low second, 3 high second
	at           float64
	width, depth float64
}

// Round is a round bar of diameter D, mm.
type Round struct{ D float64 }

// Rectangle is a square or flat bar with sides W along the first and H along the
// second axis across, corners rounded by Corner; mm.
type Rectangle struct{ W, H, Corner float64 }

// Tube is a round tube of outside diameter D and wall Wall, mm.
type Tube struct{ D, Wall float64 }

// BoxTube is a hollow rectangle of outside sides W and H and wall Wall; Corner
// is the outside corner radius, the inside one is that less the wall, or 0. mm.
type BoxTube struct{ W, H, Wall, Corner float64 }

// Angle is an L with one leg along the whole first axis at the bottom of the
// second, the other along the whole second axis at the bottom of the first, both
// Wall thick; Corner is the radius in the inner corner. mm.
type Angle struct{ W, H, Wall, Corner float64 }

// Channel is a U with its web at the bottom of the second axis and legs at both
// ends of the first, so that it opens towards the top of the second; all walls
// are Wall thick, Corner is the radius of the inner corners. mm.
type Channel struct{ W, H, Wall, Corner float64 }

// Slotted is a bar with T-slots along all four sides, one in the middle of each
// module. A slot is Slot wide through the lip, Lip thick, and Pocket wide behind
// it; the pocket narrows at 45° towards its floor at Depth below the side, down
// to the slot's width at most. Core is the bore along the middle of each
// module, 0 for none. Module is the size of a module; 0 takes the smaller side.
// mm.
type Slotted struct {
	W, H                           float64
	Slot, Lip, Depth, Pocket, Core float64
	Module, Corner                 float64
}

// Profile is a free outline; its lowest corner is brought to the origin.
type Profile struct{ Outline Outline }

// need collects faults about sizes that must be positive.
func need(faults *Faults, sizes ...any) {
	for i := 0; i+1 < len(sizes); i += 2 {
		field, v := sizes[i].(string), sizes[i+1].(float64)
		switch {
		case !(v >= MinSize):
			*faults = append(*faults, Fault{field, fmt.Sprintf("is %s, it must be more than 0 (%s at least)", mm(v), mm(MinSize))})
		case v > MaxSize:
			*faults = append(*faults, Fault{field, fmt.Sprintf("is %s, more than the %s a part may have", mm(v), mm(MaxSize))})
		}
	}
}

func (s Round) region() (region, error) {
	var f Faults
	need(&f, "section.d", s.D)
	o := CircleOutline(s.D)
	o[0].name = "body"
	return region{loops: []Outline{o}, round: s.D}, f.err()
}

func (s Rectangle) region() (region, error) {
	var f Faults
	need(&f, "section.size.1", s.W, "section.size.2", s.H)
	if f != nil {
		return region{}, f
	}
	o, err := RectangleOutline(s.W, s.H).Rounded(s.Corner)
	return region{loops: []Outline{o}}, inField(err, "section")
}

// inField puts the faults of err under a field.
func inField(err error, field string) error {
	fs, ok := err.(Faults)
	if !ok {
		return err
	}
	out := make(Faults, len(fs))
	for i, f := range fs {
		f.Field = joinField(field, f.Field)
		out[i] = f
	}
	return out
}

func joinField(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "." + b
}

func (s Tube) region() (region, error) {
	var f Faults
	need(&f, "section.d", s.D, "section.wall", s.Wall)
	if f == nil && 2*s.Wall > s.D-MinSize {
		f = append(f, Fault{"section.wall", fmt.Sprintf("two walls of %s leave no bore in %s", mm(s.Wall), mm(s.D))})
	}
	if f != nil {
		return region{}, f
	}
	outer, inner := CircleOutline(s.D), circleAt(Vec2{s.D / 2, s.D / 2}, s.D/2-s.Wall).turnedBack()
	outer[0].name, inner[0].name = "body", "bore"
	return region{loops: []Outline{outer, inner}, round: s.D}, nil
}

func (s BoxTube) region() (region, error) {
	var f Faults
	need(&f, "section.size.1", s.W, "section.size.2", s.H, "section.wall", s.Wall)
	if f == nil && 2*s.Wall > math.Min(s.W, s.H)-MinSize {
		f = append(f, Fault{"section.wall", fmt.Sprintf("two walls of %s leave no room in %s", mm(s.Wall), mm(math.Min(s.W, s.H)))})
	}
	if f != nil {
		return region{}, f
	}
	outer, err := RectangleOutline(s.W, s.H).Rounded(s.Corner)
	if err != nil {
		return region{}, inField(err, "section")
	}
	inner := RectangleOutline(s.W-2*s.Wall, s.H-2*s.Wall)
	if r := s.Corner - s.Wall; r >= MinSize {
		if inner, err = inner.Rounded(r); err != nil {
			return region{}, inField(err, "section")
		}
	}
	inner = inner.moved(Vec2{s.Wall, s.Wall}).turnedBack()
	for i := range inner {
		inner[i].name = "inside"
	}
	return region{loops: []Outline{outer, inner}}, nil
}

func (s Angle) region() (region, error) {
	var f Faults
	need(&f, "section.size.1", s.W, "section.size.2", s.H, "section.wall", s.Wall)
	if f == nil && s.Wall > math.Min(s.W, s.H)-MinSize {
		f = append(f, Fault{"section.wall", fmt.Sprintf("a wall of %s leaves no leg of %s", mm(s.Wall), mm(math.Min(s.W, s.H)))})
	}
	if f == nil && s.Corner != 0 && !(s.Corner >= MinSize && s.Corner < math.Min(s.W, s.H)-s.Wall) {
		f = append(f, Fault{"section.corner", fmt.Sprintf("radius %s does not fit a leg of %s", mm(s.Corner), mm(math.Min(s.W, s.H)-s.Wall))})
	}
	if f != nil {
		return region{}, f
	}
	t, r := s.Wall, s.Corner
	o := Outline{
		{From: Vec2{0, 0}, To: Vec2{s.W, 0}},
		{From: Vec2{s.W, 0}, To: Vec2{s.W, t}},
		{From: Vec2{s.W, t}, To: Vec2{t + r, t}, name: "inside"},
		{From: Vec2{t + r, t}, To: Vec2{t, t + r}, Arc: true, Centre: Vec2{t + r, t + r}, Clockwise: true, name: "inside"},
		{From: Vec2{t, t + r}, To: Vec2{t, s.H}, name: "inside"},
		{From: Vec2{t, s.H}, To: Vec2{0, s.H}},
		{From: Vec2{0, s.H}, To: Vec2{0, 0}},
	}
	if r == 0 {
		o = append(o[:3], o[4:]...)
	}
	return region{loops: []Outline{o}}, nil
}

func (s Channel) region() (region, error) {
	var f Faults
	need(&f, "section.size.1", s.W, "section.size.2", s.H, "section.wall", s.Wall)
	if f == nil && (2*s.Wall > s.W-MinSize || s.Wall > s.H-MinSize) {
		f = append(f, Fault{"section.wall", fmt.Sprintf("walls of %s leave no room in %s × %s", mm(s.Wall), mm(s.W), mm(s.H))})
	}
	if f == nil && s.Corner != 0 && !(s.Corner >= MinSize && 2*s.Corner < s.W-2*s.Wall && s.Corner < s.H-s.Wall) {
		f = append(f, Fault{"section.corner", fmt.Sprintf("radius %s does not fit between legs %s apart", mm(s.Corner), mm(s.W-2*s.Wall))})
	}
	if f != nil {
		return region{}, f
	}
	t, r, w, h := s.Wall, s.Corner, s.W, s.H
	o := Outline{
		{From: Vec2{0, 0}, To: Vec2{w, 0}},
		{From: Vec2{w, 0}, To: Vec2{w, h}},
		{From: Vec2{w, h}, To: Vec2{w - t, h}},
		{From: Vec2{w - t, h}, To: Vec2{w - t, t + r}, name: "inside"},
		{From: Vec2{w - t, t + r}, To: Vec2{w - t - r, t}, Arc: true, Centre: Vec2{w - t - r, t + r}, Clockwise: true, name: "inside"},
		{From: Vec2{w - t - r, t}, To: Vec2{t + r, t}, name: "inside"},
		{From: Vec2{t + r, t}, To: Vec2{t, t + r}, Arc: true, Centre: Vec2{t + r, t + r}, Clockwise: true, name: "inside"},
		{From: Vec2{t, t + r}, To: Vec2{t, h}, name: "inside"},
		{From: Vec2{t, h}, To: Vec2{0, h}},
		{From: Vec2{0, h}, To: Vec2{0, 0}},
	}
	if r == 0 {
		o = append(o[:4:4], o[5], o[7], o[8], o[9])
	}
	return region{loops: []Outline{o}}, nil
}

func (s Profile) region() (region, error) {
	if err := s.Outline.Check(); err != nil {
		return region{}, inField(err, "section.outline")
	}
	o := s.Outline.anticlockwise()
	lo, _ := o.bounds()
	return region{loops: []Outline{o.moved(lo.mul(-1))}}, nil
}

// modules returns how many modules lie along each side.
func (s Slotted) modules() (module float64, nw, nh int, faults Faults) {
	need(&faults, "section.slotted.size.1", s.W, "section.slotted.size.2", s.H)
	if faults != nil {
		return 0, 0, 0, faults
	}
	module = s.Module
	if module == 0 {
		module = math.Min(s.W, s.H)
	}
	need(&faults, "section.slotted.module", module)
	if faults != nil {
		return 0, 0, 0, faults
	}
	count := func(field string, size float64) int {
		n := math.Round(size / module)
		if n < 1 || n > 50 || math.Abs(n*module-size) > Tolerance {
			faults = append(faults, Fault{field, fmt.Sprintf("%s is no whole number (up to 50) of modules of %s", mm(size), mm(module))})
		}
		return int(n)
	}
	nw, nh = count("section.slotted.size.1", s.W), count("section.slotted.size.2", s.H)
	return module, nw, nh, faults
}

// check returns what is wrong with the slot's own sizes.
func (s Slotted) check(module float64) Faults {
	var f Faults
	add := func(field, format string, args ...any) {
		f = append(f, Fault{"section.slotted." + field, fmt.Sprintf(format, args...)})
	}
	need(&f, "section.slotted.slot", s.Slot, "section.slotted.lip", s.Lip, "section.slotted.depth", s.Depth, "section.slotted.pocket", s.Pocket)
	if f != nil {
		return f
	}
	if s.Core != 0 && !(s.Core >= MinSize && s.Core <= MaxSize) {
		add("core", "is %s, it must be 0 or at least %s", mm(s.Core), mm(MinSize))
	}
	if s.Lip >= s.Depth-MinSize {
		add("lip", "lip of %s is not less than the slot's depth of %s", mm(s.Lip), mm(s.Depth))
	}
	if s.Pocket != s.Slot && s.Pocket < s.Slot+2*MinSize {
		add("pocket", "pocket of %s is narrower than the slot of %s", mm(s.Pocket), mm(s.Slot))
	}
	if s.Pocket > module-MinSize {
		add("pocket", "pocket of %s does not fit a module of %s", mm(s.Pocket), mm(module))
	}
	if s.Depth > module/2-s.Core/2-MinSize {
		add("depth", "slot is %s deep; the core leaves %s in a module of %s", mm(s.Depth), mm(module/2-s.Core/2), mm(module))
	}
	if f != nil {
		return f
	}
	// Pockets of neighbouring sides come nearest to each other along the
	// diagonal of the corner, where both flanks run at 45°.
	straight, floor := s.pocketShape()
	gap := module/2 - s.Pocket/2 - straight
	if floor >= s.Pocket/2-Tolerance {
		gap = module/2 - s.Pocket/2 - s.Depth
	}
	if gap < MinSize {
		add("pocket", "pockets %s wide and %s deep of two sides run into each other in a module of %s", mm(s.Pocket), mm(s.Depth), mm(module))
	}
	return f
}

// pocketShape returns to which depth the pocket keeps its full width and half
// the width of its floor.
func (s Slotted) pocketShape() (straight, floor float64) {
	floor = math.Max(s.Slot/2, s.Pocket/2-(s.Depth-s.Lip))
	return s.Depth - (s.Pocket/2 - floor), floor
}

func (s Slotted) region() (region, error) {
	module, nw, nh, f := s.modules()
	if f == nil {
		f = s.check(module)
	}
	if f != nil {
		return region{}, f
	}
	corners := []Vec2{{0, 0}, {s.W, 0}, {s.W, s.H}, {0, s.H}}
	counts := []int{nw, nh, nw, nh}
	sides := []int{2, 1, 3, 0}
	var reg region
	var outer Outline
	for k, from := range corners {
		to := corners[(k+1)%4]
		d := to.sub(from).mul(1 / from.dist(to))
		in := Vec2{-d.Y, d.X}
		at := from
		for i := 0; i < counts[k]; i++ {
			number := i + 1
			if k >= 2 { // these sides are walked from high to low
				number = counts[k] - i
			}
			mid := from.along(d, module*(float64(i)+0.5))
			name := slotTag(sides[k], number, counts[k])
			outer = append(outer, s.slotSpans(&at, mid, d, in, name)...)
			place := slotPlace{name: name, side: sides[k], at: mid.X, width: s.Slot, depth: s.Depth, number: number}
			if sides[k] < 2 {
				place.at = mid.Y
			}
			reg.slots = append(reg.slots, place)
		}
		outer = append(outer, Span{From: at, To: to})
	}
	if s.Corner != 0 {
		rounded, err := outer.roundCorners(corners, s.Corner)
		if err != nil {
			return region{}, inField(err, "section.slotted")
		}
		outer = rounded
	}
	reg.loops = []Outline{outer}
	if s.Core > 0 {
		for i := 0; i < nw; i++ {
			for j := 0; j < nh; j++ {
				o := circleAt(Vec2{module * (float64(i) + 0.5), module * (float64(j) + 0.5)}, s.Core/2).turnedBack()
				o[0].name = "core"
				reg.loops = append(reg.loops, o)
			}
		}
	}
	return reg, nil
}

// slotTag names a slot by its side's number until the bar's way is known.
func slotTag(side, number, count int) string {
	if count == 1 {
		return fmt.Sprintf("slot_%%%d", side)
	}
	return fmt.Sprintf("slot_%%%d_%d", side, number)
}

// slotSpans returns the side from at to the slot's mouth around mid and the slot
// itself, and moves at to its end. d runs along the side, in points inward.
func (s Slotted) slotSpans(at *Vec2, mid, d, in Vec2, name string) Outline {
	straight, floor := s.pocketShape()
	p := func(x, y float64) Vec2 { return mid.along(d, x).along(in, y) }
	a, b := s.Slot/2, s.Pocket/2
	points := []Vec2{
		*at, p(-a, 0), p(-a, s.Lip), p(-b, s.Lip), p(-b, straight), p(-floor, s.Depth),
		p(floor, s.Depth), p(b, straight), p(b, s.Lip), p(a, s.Lip), p(a, 0),
	}
	var o Outline
	for i := 0; i+1 < len(points); i++ {
		if points[i].dist(points[i+1]) < Tolerance {
			continue
		}
		span := Span{From: points[i], To: points[i+1]}
		if i > 0 {
			span.name = name
		}
		o = append(o, span)
	}
	*at = points[len(points)-1]
	return o
}

// roundCorners rounds only the named corners of an outline.
func (o Outline) roundCorners(corners []Vec2, r float64) (Outline, error) {
	if !(r >= MinSize) {
		return nil, fault("corner", fmt.Sprintf("is %s, it must be 0 or at least %s", mm(r), mm(MinSize)))
	}
	out := append(Outline(nil), o...)
	for _, c := range corners {
		for i := 0; i < len(out); i++ {
			next := (i + 1) % len(out)
			if out[i].To.dist(c) > Tolerance {
				continue
			}
			if out[i].length() < r+Tolerance || out[next].length() < r+Tolerance {
				return nil, fault("corner", fmt.Sprintf("radius %s does not fit beside the slots", mm(r)))
			}
			_, d := out[i].at(1)
			_, e := out[next].at(0)
			arc := Span{From: c.along(d, -r), To: c.along(e, r), Arc: true, Centre: c.along(d, -r).along(e, r)}
			out[i].To, out[next].From = arc.From, arc.To
			out = append(out[:i+1], append(Outline{arc}, out[i+1:]...)...)
			break
		}
	}
	return out, nil
}
