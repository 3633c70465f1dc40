package reckon

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// FastenerSolid is the shape of a standard fastener with its axis along z: a
// screw's head stands above z = 0, its shank below; a nut or washer stands on
// z = 0, turned so that its top is up. Threads are plain, sockets are cut. It is
// nil where the tables give no profile.
func FastenerSolid(f standards.Fastener) *solid.Solid {
	steps := f.Profile()
	if len(steps) == 0 {
		return nil
	}
	var total, head float64
	for _, s := range steps {
		total += s.Length
	}
	head = headHeight(f, steps)
	var group solid.Group
	z := total
	wide := widest(steps)
	for _, s := range steps {
		z -= s.Length
		group = append(group, stepMembers(s, z, wide)...)
	}
	if f.Drive.Kind == standards.HexSocket && f.Drive.Size > 0 && f.Drive.Depth > 0 {
		group = append(group, hexagon(f.Drive.Size, f.Drive.Depth, total-f.Drive.Depth, wide, true))
	}
	body, err := solid.Build(solid.Shape{Base: group})
	if err != nil {
		return nil
	}
	box := body.Box()
	middle := box.Min.Add(box.Max).Mul(0.5)
	return body.Placed(solid.Moved(solid.Vec{X: -middle.X, Y: -middle.Y, Z: -(total - head) - box.Min.Z}))
}

// bought is a wood screw or a rivet that the plan describes itself; nil for other parts.
func (r *Reckoning) bought(p *plan.Part) *standards.Fastener {
	own := p.Fastener
	if own == nil {
		return nil
	}
	d, known := r.Length(own.D)
	length, told := r.Length(own.Length)
	head, _ := r.Length(own.Outside)
	if !known || !told || d <= 0 || length <= d/2 {
		return nil
	}
	var f standards.Fastener
	switch own.Kind.Text {
	case "wood_screw":
		f = standards.WoodScrewOf(d, length, head)
		f.Drive.Text = own.Tool.Text
	case "rivet":
		if len(own.Grip) != 2 { // found when it was read
			return nil
		}
		least, _ := r.Length(own.Grip[0])
		most, _ := r.Length(own.Grip[1])
		f = standards.RivetOf(d, length, head, standards.Range{Least: least, Most: most})
	default:
		return nil
	}
	f.Title = p.Title.Value
	return &f
}

// collar builds a set collar, which is placed as a part is: a ring standing on z = 0
// with the features axis, body, start, end and bore, and its set screw's hole, screw, in
// front.
func (r *Reckoning) collar(p *Part) {
	f := p.Fastener
	wide := f.CollarOutside
	shape := solid.Shape{
		Base: solid.Group{
			{Shape: solid.Rod{D: wide, L: f.CollarWidth}, Along: solid.AxisZ},
			{Shape: solid.Rod{D: f.CollarBore, L: f.CollarWidth}, Along: solid.AxisZ, At: solid.Vec{X: (wide - f.CollarBore) / 2, Y: (wide - f.CollarBore) / 2}, Cut: true, Name: "bore"},
		},
		Holes: []solid.Hole{{
			Name: "screw", Face: "front", At: []solid.Vec2{{X: wide / 2, Y: f.CollarWidth / 2}}, Kind: solid.Tapped, D: f.Thread.TapDrill,
			Thread: &solid.Thread{Designation: f.Thread.Name, Major: f.Thread.Major, Minor: f.Thread.Minor, Pitch: f.Thread.Pitch},
		}},
	}
	if body, measures, err := r.shapes.build(shape); err == nil {
		p.Solid, p.box, p.Measures, p.Whole = body, body.Box(), measures, measures.Volume
	}
}

// headHeight is how much of a profile stands above the bearing plane: a screw's
// head, all of a nut or washer, nothing of a countersunk or headless screw.
func headHeight(f standards.Fastener, steps []standards.Step) float64 {
	switch {
	case f.Kind == standards.Nut || f.Kind == standards.Washer || f.Kind == standards.Ring:
		var total float64
		for _, s := range steps {
			total += s.Length
		}
		return total
	case f.Head.Form == standards.NoHead || f.Head.Form == standards.Countersunk:
		return 0
	}
	return f.Head.Height
}

func widest(steps []standards.Step) (d float64) {
	for _, s := range steps {
		d = math.Max(d, math.Max(s.Diameter, s.EndDiameter))
	}
	return d
}

// stepMembers is one step from z upward, in the middle of a square of side wide.
func stepMembers(s standards.Step, z, wide float64) []solid.Member {
	at := func(d float64) solid.Vec { return solid.Vec{X: (wide - d) / 2, Y: (wide - d) / 2, Z: z} }
	var out []solid.Member
	switch s.Shape {
	case standards.Hexagon:
		out = append(out, hexagon(s.Flats, s.Length, z, wide, false))
	case standards.Cone, standards.Dome:
		big := math.Max(s.Diameter, s.EndDiameter)
		out = append(out, solid.Member{Shape: solid.Taper{D: s.EndDiameter, To: s.Diameter, L: s.Length}, At: at(big), Along: solid.AxisZ})
	default:
		out = append(out, solid.Member{Shape: solid.Rod{D: s.Diameter, L: s.Length}, At: at(s.Diameter), Along: solid.AxisZ})
	}
	if s.Bore > 0 {
		out = append(out, solid.Member{Shape: solid.Rod{D: s.Bore, L: s.Length}, At: at(s.Bore), Along: solid.AxisZ, Cut: true})
	}
	return out
}

// hexagon is a hexagonal prism by its width across flats.
func hexagon(flats, high, z, wide float64, cut bool) solid.Member {
	r := flats / math.Sqrt(3)
	var points []solid.Vec2
	for i := 0; i < 6; i++ {
		sin, cos := math.Sincos(math.Pi/6 + float64(i)*math.Pi/3)
		points = append(points, solid.Vec2{X: flats/2 + r*cos, Y: r + r*sin})
	}
	return solid.Member{
		Shape: solid.Extruded{Outline: solid.PolygonOutline(points), L: high}, Along: solid.AxisZ, Cut: cut,
		At: solid.Vec{X: (wide - flats) / 2, Y: wide/2 - r, Z: z},
	}
}
