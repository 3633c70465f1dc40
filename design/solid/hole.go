package solid

import (
	"fmt"
	"math"
	"sort"
)

// bored is a hole worked out on a body: where it starts and ends.
type bored struct {
	hole  *Hole
	name  string // feature name, posts.1
	frame Frame  // origin on the bounding box's side, Z into the material
	start float64
	end   float64 // of full diameter
	// clear is how far beyond end there is no material, 0 for a blind hole.
	clear float64
	// past is how far the tool must go beyond end to be out of everything.
	through bool
}

// overhang (mm) is how far a tool reaches out of a part.
const overhang = 1

// faceFrame returns the frame of a hole at [a, b] on a face of the box: Z points
// into the part.
func faceFrame(box Box, face string, at Vec2) (Frame, bool) {
	lo, hi := box.Min, box.Max
	switch face {
	case "left":
		return FrameAlong(Vec{lo.X, at.X, at.Y}, Vec{X: 1}), true
	case "right":
		return FrameAlong(Vec{hi.X, at.X, at.Y}, Vec{X: -1}), true
	case "front":
		return FrameAlong(Vec{at.X, lo.Y, at.Y}, Vec{Y: 1}), true
	case "back":
		return FrameAlong(Vec{at.X, hi.Y, at.Y}, Vec{Y: -1}), true
	case "bottom":
		return FrameAlong(Vec{at.X, at.Y, lo.Z}, Vec{Z: 1}), true
	case "top":
		return FrameAlong(Vec{at.X, at.Y, hi.Z}, Vec{Z: -1}), true
	}
	return Frame{}, false
}

// endFace returns the side of the box that start or end of a bar is, and other
// names as they are.
func endFace(face string, lies Axis) string {
	switch face {
	case "":
		return "top"
	case "start":
		return sideNames[lies][0]
	case "end":
		return sideNames[lies][1]
	}
	return face
}

// check returns what is wrong with the hole's own numbers.
func (h *Hole) check() Faults {
	var f Faults
	add := func(field, format string, args ...any) {
		f = append(f, Fault{"holes." + h.Name + "." + field, fmt.Sprintf(format, args...)})
	}
	positive := func(field string, v float64) {
		if !(v >= MinSize) || v > MaxSize {
			add(field, "is %s, it must be more than 0 (%s at least) and at most %s", mm(v), mm(MinSize), mm(MaxSize))
		}
	}
	positive("d", h.D)
	if h.Depth != 0 {
		positive("depth", h.Depth)
	}
	if h.ThroughAll && h.Depth != 0 {
		add("depth", "a hole goes through all walls or has a depth, not both")
	}
	if h.Tip != 0 && !(h.Tip > 0.1 && h.Tip < math.Pi-0.01) {
		add("tip", "drill point of %.4g° is out of range", h.Tip*180/math.Pi)
	}
	if len(h.At) == 0 {
		add("at", "pattern has no holes")
	}
	if len(h.At) > MaxPattern {
		add("at", "pattern has %d holes, at most %d are made", len(h.At), MaxPattern)
	}
	for i, p := range h.At {
		if !(math.Abs(p.X) <= MaxSize && math.Abs(p.Y) <= MaxSize) {
			add(fmt.Sprintf("at.%d", i+1), "lies outside ± %s", mm(MaxSize))
		}
	}
	if h.Kind == Obround {
		positive("slot.long", h.Long)
		if h.Long < h.D-Tolerance {
			add("slot.long", "slot is %s long, less than its width of %s", mm(h.Long), mm(h.D))
		}
	}
	return append(f, h.checkMouth()...)
}

// checkMouth returns what is wrong with the counterbore or countersink.
func (h *Hole) checkMouth() Faults {
	var f Faults
	add := func(field, format string, args ...any) {
		f = append(f, Fault{"holes." + h.Name + "." + field, fmt.Sprintf(format, args...)})
	}
	wider := func(field string, d float64) {
		if !(d >= h.D+MinSize) || d > MaxSize {
			add(field, "%s is not wider than the hole of %s, or too wide", mm(d), mm(h.D))
		}
	}
	if c := h.Counterbore; c != nil {
		wider("counterbore.d", c.D)
		if !(c.Depth >= MinSize) || c.Depth > MaxSize {
			add("counterbore.depth", "is %s, it must be more than 0 and at most %s", mm(c.Depth), mm(MaxSize))
		}
		if h.Depth != 0 && c.Depth > h.Depth-MinSize {
			add("counterbore.depth", "counterbore is %s deep, the hole only %s", mm(c.Depth), mm(h.Depth))
		}
		if h.Countersink != nil {
			add("countersink", "a hole has a counterbore or a countersink, not both")
		}
	}
	if c := h.Countersink; c != nil {
		wider("countersink.d", c.D)
		if !(c.Angle > 0.1 && c.Angle < math.Pi-0.01) {
			add("countersink.angle", "angle of %.4g° is out of range", c.Angle*180/math.Pi)
		} else if h.Depth != 0 && h.sinkDepth() > h.Depth-MinSize {
			add("countersink.d", "countersink is %s deep, the hole only %s", mm(h.sinkDepth()), mm(h.Depth))
		}
	}
	return f
}

// sinkDepth returns the depth of the countersink's cone.
func (h *Hole) sinkDepth() float64 {
	return (h.Countersink.D - h.D) / 2 / math.Tan(h.Countersink.Angle/2)
}

// boreAll works out all holes of a pattern on a body.
func boreAll(body *Solid, h *Hole, lies Axis) ([]bored, Faults) {
	faults := h.check()
	face := endFace(h.Face, lies)
	if _, ok := faceFrame(body.box, face, Vec2{}); !ok {
		faults = append(faults, Fault{"holes." + h.Name + ".face", fmt.Sprintf("there is no face %q; faces are left right front back top bottom", h.Face)})
	}
	if faults != nil {
		return nil, faults
	}
	var out []bored
	for i, at := range h.At {
		b := bored{hole: h, name: h.Name}
		if h.Pattern || len(h.At) > 1 {
			b.name = fmt.Sprintf("%s.%d", h.Name, i+1)
		}
		b.frame, _ = faceFrame(body.box, face, at)
		if msg := b.fit(body, face); msg != "" {
			field := "holes." + h.Name + ".at"
			if len(h.At) > 1 {
				field = fmt.Sprintf("%s.%d", field, i+1)
			}
			faults = append(faults, Fault{field, msg})
			continue
		}
		out = append(out, b)
	}
	return out, faults
}

// outline returns the hole's outline in its frame, wider by grow in diameter.
func (b *bored) outline(grow float64) Outline {
	h := b.hole
	r := (h.D + grow) / 2
	if !h.long() {
		return circleAt(Vec2{}, r)
	}
	return oblongOutline(b.half(), r)
}

// rimRays is how many places along the rim are looked at to find the first wall;
// a multiple of four, so that the rim's extremes along the part's axes are among
// them and walls of round bars are met exactly at their crest.
const rimRays = 24

// rimShrink keeps the rays a hair inside the rim, so that a hole as wide as the
// wall it enters is not judged by grazing rays.
const rimShrink = 1e-7

// rimGrow (mm, in diameter) is how much wider than its bore a hole counts for
// finding a wall that it only touches.
const rimGrow = 2e-3

// fit finds where the hole starts and ends; it returns what is wrong, "" if
// nothing.
func (b *bored) fit(body *Solid, face string) string {
	walls := b.walls(body)
	if len(walls) == 0 {
		return fmt.Sprintf("hole does not meet the part from its %s", face)
	}
	b.start = walls[0][0]
	h := b.hole
	depth := body.box.Size()
	far := math.Abs(depth.Dot(b.frame.Z))
	switch {
	case h.Depth > 0:
		b.end = b.start + h.Depth
		return ""
	case h.ThroughAll:
		b.end, b.through = far, true
		for _, w := range walls {
			b.end = math.Max(w[1], b.start)
		}
		for _, w := range walls {
			b.end = math.Max(b.end, w[1])
		}
		b.clear = far - b.end + 2*overhang
		return ""
	}
	b.through = true
	b.end = walls[0][1]
	next := math.Inf(1)
	for _, w := range walls[1:] { // sorted by entry, so one pass joins what overlaps
		if w[0] <= b.end+Tolerance {
			b.end = math.Max(b.end, w[1])
			continue
		}
		next = w[0]
		break
	}
	b.clear = math.Min(next-b.end, 2*overhang+far-b.end)
	return ""
}

// walls returns the stretches of material along rays through rim and middle, as
// distances from the frame's origin, sorted by entry. The first one begins at
// the rim.
func (b *bored) walls(body *Solid) [][2]float64 {
	grow := -2 * rimShrink * b.hole.D
	rim, at := b.rimWalls(body, grow)
	if len(rim) == 0 {
		// A tap may run in a bore that has its drill's diameter already, as the
		// core of a slotted bar often has: there the rim lies in the wall.
		grow = rimGrow
		rim, at = b.rimWalls(body, grow)
	}
	if len(rim) == 0 {
		return nil
	}
	middle := b.wallsAt(body, Vec2{})
	sort.Slice(rim, func(i, j int) bool { return rim[i][0] < rim[j][0] })
	first := rim[0]
	first[0] = b.mouth(body, grow, at, first[0])
	all := append(rim[1:], middle...)
	sort.Slice(all, func(i, j int) bool { return all[i][0] < all[j][0] })
	return append([][2]float64{first}, all...)
}

// mouth returns where the rim meets material first, given the ray along the rim that
// meets it soonest, and where: on a round wall it may do so between two rays, and
// a mouth a few thousandths off would leave a sliver.
func (b *bored) mouth(body *Solid, grow, ray, start float64) float64 {
	o := b.outline(grow)
	entry := func(ray float64) float64 {
		if w := b.wallsAt(body, rimAt(o, ray)); len(w) > 0 {
			return w[0][0]
		}
		return math.Inf(1)
	}
	if !(math.Abs(entry(ray-1)-start) > Tolerance/100 || math.Abs(entry(ray+1)-start) > Tolerance/100) {
		return start
	}
	return math.Min(start, entry(lowest(entry, ray-1, ray+1)))
}

// rimAt returns the place of a ray, which need not be a whole one, along the rim.
func rimAt(o Outline, ray float64) Vec2 {
	at := math.Mod(ray/rimRays+1, 1) * float64(len(o))
	k := min(int(at), len(o)-1)
	p, _ := o[k].at(at - float64(k))
	return p
}

// rimWalls returns the stretches of material along rays through the rim, made
// wider by grow in diameter, and the ray that meets material first.
func (b *bored) rimWalls(body *Solid, grow float64) (rim [][2]float64, first float64) {
	o := b.outline(grow)
	start := math.Inf(1)
	for k := range rimRays {
		w := b.wallsAt(body, rimAt(o, float64(k)))
		if len(w) > 0 && w[0][0] < start {
			start, first = w[0][0], float64(k)
		}
		rim = append(rim, w...)
	}
	return rim, first
}

// wallsAt returns the stretches of material along one ray; none where the ray
// runs too near an edge to be sure.
func (b *bored) wallsAt(body *Solid, at Vec2) [][2]float64 {
	var out [][2]float64
	hits := body.Line(b.frame.Point(at.X, at.Y, 0), b.frame.Z)
	for _, h := range hits {
		if h.Unsure {
			return nil
		}
	}
	for i := 0; i+1 < len(hits); i++ {
		if hits[i].Enters && !hits[i+1].Enters {
			out = append(out, [2]float64{hits[i].T, hits[i+1].T})
		}
	}
	return out
}

// profile returns the profile of the hole's tool, turned about the middle of a round
// hole or led round that of a slot, from the depth top, which is outside the
// material, to its floor.
func (b *bored) profile(top float64) []station {
	h := b.hole
	r := h.D / 2
	name := "holes." + b.name
	p := []station{{0, top, "", nil}}
	add := func(r, z float64, t *Thread) { p = append(p, station{r, z, name, t}) }
	switch {
	case h.Counterbore != nil:
		add(h.Counterbore.D/2, top, nil)
		add(h.Counterbore.D/2, b.start+h.Counterbore.Depth, nil)
		add(r, b.start+h.Counterbore.Depth, nil)
	case h.Countersink != nil:
		add(h.Countersink.D/2, top, nil)
		add(h.Countersink.D/2, b.start, nil)
		add(r, b.start+h.sinkDepth(), nil)
	default:
		add(r, top, nil)
	}
	floor := b.floor()
	add(r, floor, h.Thread)
	if h.Tip > 0 && !b.through && !h.long() {
		add(0, floor+r/math.Tan(h.Tip/2), nil)
	} else {
		add(0, floor, nil)
	}
	return tidied(p)
}

// floor returns the depth to which the tool is of full diameter: a little past
// the end of a wall, so that a curved far side is cut too.
func (b *bored) floor() float64 {
	if b.through {
		return b.end + b.clear/2
	}
	return b.end
}

// long tells whether the hole is a slot longer than it is wide.
func (h *Hole) long() bool { return h.Kind == Obround && h.Long >= h.D+MinSize }

// half returns the way in the hole's frame from the middle of a slot to the middle
// of its one round end.
func (b *bored) half() Vec2 {
	a := b.hole.Along.Vec()
	d := Vec2{a.Dot(b.frame.X), a.Dot(b.frame.Y)}
	return d.mul((b.hole.Long - b.hole.D) / 2)
}

// tool returns the solid to take away for the hole.
func (b *bored) tool() *Solid {
	profile := b.profile(math.Min(0, b.start) - overhang)
	if b.hole.long() {
		return oblong(profile, b.half(), b.frame)
	}
	return lathe(profile, b.frame)
}

// feature returns the hole's feature; its faces are found later.
func (b *bored) feature() Feature {
	h := b.hole
	f := Feature{
		Name: b.name, Kind: HoleFeature, Pattern: h.Name, At: b.frame.Point(0, 0, b.start), Dir: b.frame.Z,
		D: h.D, Depth: b.end - b.start, Through: b.through, Hole: h, Thread: h.Thread,
		Face: sideOf(b.frame.Z),
	}
	if h.Kind == Obround {
		f.Along = h.Along.Vec()
	}
	lo, hi := b.outline(0).bounds()
	f.Box = EmptyBox().Add(b.frame.Point(lo.X, lo.Y, b.start)).Add(b.frame.Point(hi.X, hi.Y, b.end))
	return f
}

// sideOf returns the side a hole with the direction d was made from.
func sideOf(d Vec) string {
	for _, s := range sideDirections {
		if s.dir.Dot(d) < -0.5 {
			return s.name
		}
	}
	return ""
}
