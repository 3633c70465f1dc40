package standards

import "strings"

// sized is what a diameter and a length designate: a pin, a rivet, a wood screw.
func (s *standard) sized(size string, length float64) Fastener {
	r := s.rows[size]
	f := s.withLength(s.begin(size, Thread{}), length, formatMillimetres(length))
	diameter, _ := parseDecimal(size)
	switch s.kind {
	case WoodScrew:
		s.woodScrew(&f, r, diameter)
		return f
	case Rivet:
		f.Head = Head{Form: Button, Diameter: s.number(r, "head_diameter"), Height: s.number(r, "head_height")}
		if s.form == Countersunk {
			f.Head.Form, f.Head.Angle = Countersunk, rivetCone
		}
		f.Hole = Range{s.number(r, "hole_min"), s.number(r, "hole_max")}
		f.Grip = gripOf(r, f.LengthText)
	case SpringPin:
		f.PinFree = Range{s.number(r, "outside_min"), s.number(r, "outside_max")}
		f.PinBore = s.number(r, "inside")
	}
	f.PinDiameter = diameter
	return f
}

// threadShare is how much of a wood screw's length has thread, as a share: DIN 7997
// and DIN 571, from memory.
const threadShare = 0.6

// woodPitch is the pitch of a wood screw's thread in diameters: common practice, no
// source. Nothing is checked against it.
const woodPitch = 0.45

func (s *standard) woodScrew(f *Fastener, r row, diameter float64) {
	f.Thread = WoodThread(diameter, s.number(r, "core"))
	f.ThreadLength = threadShare * f.Length
	f.Head = Head{Form: s.form, Height: s.number(r, "head_height")}
	if s.form == Hexagonal {
		f.Flats = s.number(r, "flats")
		f.Head.Flats, f.Head.Diameter = f.Flats, f.Flats*cornersPerFlats
		f.Drive = Drive{Kind: ExternalHex, Size: f.Flats, Text: formatMillimetres(f.Flats) + " mm"}
		return
	}
	f.Head.Diameter, f.Head.Angle = s.number(r, "head_diameter"), 90
	f.ThreadLength = min(f.ThreadLength, f.Length-f.Head.Height)
	f.Drive = Drive{Kind: s.drive, Size: s.number(r, "drive"), Text: "PZ " + r.text("drive_mm")}
}

// WoodScrewOf is a countersunk wood screw that no standard describes, with thread up to
// its head, by its diameter and length and its head's diameter, mm. A head of 0 is
// taken to be twice as wide as the screw: common practice, no source.
func WoodScrewOf(diameter, length, head float64) Fastener {
	if head <= diameter {
		head = 2 * diameter
	}
	f := Fastener{
		Kind: WoodScrew, Size: formatMillimetres(diameter), Thread: WoodThread(diameter, 0), Length: length, LengthText: formatMillimetres(length),
		Head:  Head{Form: Countersunk, Diameter: head, Height: (head - diameter) / 2, Angle: 90},
		Drive: Drive{Kind: CrossRecess}, Material: "steel",
	}
	f.ThreadLength = max(0, length-f.Head.Height)
	f.Mass = f.mass()
	return f
}

// RivetOf is a blind rivet that no standard describes, by its diameter and length, its
// head's diameter and the thickness that it holds, mm. A head of 0 is taken to be
// twice as wide as the rivet, and a hole 0.1 to 0.2 mm wider than it: as ISO 15981 has
// them.
func RivetOf(diameter, length, head float64, grip Range) Fastener {
	if head <= diameter {
		head = 2 * diameter
	}
	f := Fastener{
		Kind: Rivet, Size: formatMillimetres(diameter), PinDiameter: diameter, Length: length, LengthText: formatMillimetres(length),
		Head: Head{Form: Button, Diameter: head, Height: rivetHead * diameter}, Grip: grip, Hole: Range{diameter + 0.1, diameter + 0.2}, Material: rivetMaterial,
	}
	f.Mass = f.mass()
	return f
}

const (
	// rivetCone is the angle of a countersunk blind rivet's head, degrees: ISO 15978.
	rivetCone = 120
	// rivetHead is how high a blind rivet's head is in diameters: ISO 15981.
	rivetHead = 0.42
	// rivetMaterial is an alloy such as blind rivets are made of.
	rivetMaterial = "aluminium_5083"
)

// WoodThread is the thread of a wood screw by its outer diameter and that of its core,
// mm; a core of 0 is taken as five eighths of the diameter: common practice, no
// source.
func WoodThread(diameter, core float64) Thread {
	if core <= 0 {
		core = 5 * diameter / 8
	}
	return Thread{
		Name: formatMillimetres(diameter) + " mm", Size: formatMillimetres(diameter), Series: "wood", Major: diameter, Minor: core, Root: core,
		PitchDiameter: (diameter + core) / 2, Pitch: woodPitch * diameter,
	}
}

func (s *standard) ring(size string) Fastener {
	r := s.rows[size]
	f := s.begin(size, Thread{})
	f.Groove = Groove{
		Diameter: s.number(r, "groove"), Width: s.number(r, "width"), Edge: s.number(r, "edge"), Thick: s.number(r, "thick"),
		Lug: s.number(r, "lug"), Beam: s.number(r, "beam"), Pliers: r.text("pliers"),
	}
	f.Groove.Seat, _ = parseDecimal(size)
	f.Groove.Inside = f.Groove.Diameter > f.Groove.Seat
	return f
}

// collar is a set collar with its set screw.
func (s *standard) collar(size string) Fastener {
	r := s.rows[size]
	f := s.begin(size, Thread{})
	f.Thread, _ = ThreadByName(r.text("screw"))
	f.CollarBore, _ = parseDecimal(size)
	f.CollarOutside, f.CollarWidth = s.number(r, "outside"), s.number(r, "width")
	if own, known := catalogue().byName["ISO 4027"]; known {
		f.Drive = own.driveOf(own.rows[f.Thread.Size])
		f.Drive.Depth = own.number(own.rows[f.Thread.Size], "socket_depth")
	}
	return f
}

// eachGrip visits the lengths that a rivet's row lists, with what each may hold.
func eachGrip(r row, visit func(length string, grip Range)) {
	for _, item := range splitList(r.text("grips")) {
		length, span, _ := strings.Cut(item, ":")
		from, to, _ := strings.Cut(span, "-")
		least, _ := parseDecimal(from)
		most, _ := parseDecimal(to)
		visit(length, Range{least, most})
	}
}

func gripLengths(r row) (lengths []float64) {
	eachGrip(r, func(length string, _ Range) {
		mm, _ := parseDecimal(length)
		lengths = append(lengths, mm)
	})
	return lengths
}

// gripOf is what a rivet of a length may hold; zero for one that is not listed.
func gripOf(r row, length string) (grip Range) {
	eachGrip(r, func(l string, g Range) {
		if l == length {
			grip = g
		}
	})
	return grip
}
