package standards

import "strings"

func (s *standard) begin(size string, thread Thread) Fastener {
	return Fastener{
		Standard: s.name, Kind: s.kind, Size: size, Thread: thread, Inch: s.inch,
		Title: s.title + " " + strings.ReplaceAll(size, "x", "×"),
	}
}

func (s *standard) withLength(f Fastener, length float64, text string) Fastener {
	f.Length, f.LengthText = length, text
	if s.inch {
		f.Title += " × " + text + " in"
	} else {
		f.Title += "×" + text
	}
	return f
}

func (s *standard) screw(thread Thread, length float64, text string) Fastener {
	r := s.rows[thread.Size]
	f := s.withLength(s.begin(thread.Name, thread), length, text)
	f.Head = Head{Form: s.form, Diameter: s.number(r, "head_diameter"), Height: s.number(r, "head_height")}
	f.Drive = s.driveOf(r)
	if _, knurled := r.columns["head_knurled_mm"]; knurled {
		f.Head.Knurled = s.number(r, "head_knurled")
	}
	switch s.form {
	case Hexagonal:
		f.Flats = s.number(r, "flats")
		f.Head.Flats, f.Head.Diameter = f.Flats, f.Flats*cornersPerFlats
	case Countersunk:
		f.Head.Angle = 90 // ISO 10642, ISO 7046-1
	}
	f.Drive.Depth = s.number(r, "socket_depth")
	f.ThreadLength = s.threadLength(r, f)
	return f
}

// threadLength works out how much of a screw is threaded, in millimetres.
func (s *standard) threadLength(r row, f Fastener) float64 {
	most := f.Length
	if s.form == Countersunk {
		most -= f.Head.Height
	}
	thread := most
	d := f.Thread.Major
	switch s.rule {
	case "table":
		if f.Length > s.number(r, "full_thread_to") {
			thread = s.number(r, "thread_length")
		}
	case "bolt":
		// ISO 4014: reference thread lengths by nominal length.
		switch {
		case f.Length <= 125:
			thread = 2*d + 6
		case f.Length <= 200:
			thread = 2*d + 12
		default:
			thread = 2*d + 25
		}
	case "cap":
		// ASME B18.2.1: 2d + 1/4 in up to 6 in, 2d + 1/2 in beyond. A screw too
		// short for that is threaded to the head.
		thread = 2*d + 0.25*inch
		if f.Length > 6*inch {
			thread = 2*d + 0.5*inch
		}
	}
	return min(thread, most)
}

func (s *standard) driveOf(r row) Drive {
	if _, named := r.columns["drive"]; named {
		return Drive{Kind: s.drive, Text: r.text("drive")}
	}
	d := Drive{Kind: s.drive, Size: s.number(r, "drive")}
	if s.inch {
		d.Text = r.text("drive_in") + " in"
	} else {
		d.Text = r.text("drive_mm") + " mm"
	}
	return d
}

func (s *standard) setScrew(thread Thread, length float64, text string) Fastener {
	r := s.rows[thread.Size]
	f := s.withLength(s.begin(thread.Name, thread), length, text)
	f.Drive = s.driveOf(r)
	// The socket may not come out at the other end of a very short screw.
	f.Drive.Depth = min(s.number(r, "socket_depth"), length/2)
	f.PointDiameter = s.number(r, "point_diameter")
	f.PointLength = min(s.number(r, "point_length"), length/2)
	f.ThreadLength = length - f.PointLength
	return f
}

func (s *standard) nut(thread Thread) Fastener {
	r := s.rows[thread.Size]
	f := s.begin(thread.Name, thread)
	f.Flats = s.number(r, "flats")
	f.NutHeight = s.number(r, "height")
	f.NutHexagon = f.NutHeight
	if _, insert := r.columns["hexagon_mm"]; insert {
		f.Locking = true
		f.NutHexagon = s.number(r, "hexagon")
	}
	f.Drive = Drive{Kind: s.drive, Size: f.Flats, Text: formatMillimetres(f.Flats) + " mm"}
	if s.inch {
		f.Drive.Text = r.text("flats_in") + " in"
	}
	return f
}

func (s *standard) washer(size string) Fastener {
	r := s.rows[size]
	f := s.begin(s.writtenSize(size), washerThread(size))
	f.Title = s.title + " " + strings.NewReplacer(" N", " narrow", " W", " wide").Replace(size)
	f.WasherInside = s.number(r, "inside")
	f.WasherOutside = s.number(r, "outside")
	f.WasherThick = s.number(r, "thick")
	return f
}

// washerThread returns the coarse thread that a washer's size goes with.
func washerThread(size string) Thread {
	size, _, _ = strings.Cut(size, " ")
	for _, thread := range threads().all {
		if thread.Size == size && (thread.Series == "coarse" || thread.Series == "UNC") {
			return thread
		}
	}
	return Thread{}
}

// String returns the designation, which [Parse] reads back to the same fastener.
func (f Fastener) String() string {
	var b strings.Builder
	b.WriteString(f.Standard + " " + f.Size)
	if f.PinTolerance == "h8" {
		b.WriteString(" h8")
	}
	if f.LengthText != "" {
		if f.Inch {
			b.WriteString(" x " + f.LengthText)
		} else {
			b.WriteString("x" + f.LengthText)
		}
	}
	switch {
	case f.Class == "":
	case f.Inch:
		b.WriteString(" " + f.Class)
	default:
		b.WriteString(" - " + f.Class)
	}
	return b.String()
}

// classMaterial returns the id of what a class is made of: ISO 3506 names
// austenitic stainless steels A1 to A5, everything else in the tables is steel.
func classMaterial(class string) string {
	switch {
	case class == "stainless", strings.HasPrefix(class, "A1"), strings.HasPrefix(class, "A2"):
		return "stainless_304"
	case strings.HasPrefix(class, "A4"):
		return "stainless_316"
	}
	return "steel"
}
