package standards

import (
	"math"
	"strconv"
	"strings"
)

// sizes reads what stands between the standard and the class, and looks up what
// follows from it.
func (p parser) sizes(s *standard, body string) (Fastener, error) {
	if body == "" {
		return Fastener{}, p.fail(s.name, "", "no size follows %s", s.name)
	}
	switch s.kind {
	case Screw, SetScrew:
		return p.screw(s, body)
	case Nut:
		thread, err := p.thread(s, body, "")
		if err != nil {
			return Fastener{}, err
		}
		return s.nut(thread), nil
	case Washer:
		return p.washer(s, body)
	case Ring:
		return p.ring(s, body)
	case Collar:
		return p.collar(s, body)
	}
	return p.sized(s, body)
}

func (p parser) screw(s *standard, body string) (Fastener, error) {
	cut := strings.LastIndexByte(body, 'x')
	// The x of "M8x1" alone belongs to the pitch only where it makes a thread
	// that this standard has.
	if thread, known := ThreadByName(body); cut < 0 || known && s.takes(thread) {
		thread, err := p.thread(s, body, "")
		if err != nil {
			return Fastener{}, err
		}
		return Fastener{}, p.fail(body, "", "no length follows %s %s; it comes in %s", s.name, body, s.listLengths(thread.Size))
	}
	thread, err := p.thread(s, strings.TrimSpace(body[:cut]), body[cut:])
	if err != nil {
		return Fastener{}, err
	}
	length, text, err := p.length(s, thread, body[cut+1:])
	if err != nil {
		return Fastener{}, err
	}
	if s.kind == SetScrew {
		return s.setScrew(thread, length, text), nil
	}
	f := s.screw(thread, length, text)
	if s.form == Countersunk && f.Head.Height >= length {
		return Fastener{}, p.fail(text, "", "the head of %s %s is %s mm high, the screw no longer", s.name, thread.Name, formatMillimetres(f.Head.Height))
	}
	return f, nil
}

// thread finds a thread among those of a standard. What follows it in the
// designation goes into the suggestion.
func (p parser) thread(s *standard, name, follows string) (Thread, error) {
	thread, known := ThreadByName(name)
	if _, listed := s.rows[thread.Size]; known && listed && s.takes(thread) {
		return thread, nil
	}
	suggestion := ""
	near := nearestSize(normaliseThread(name), s.threadNames())
	if near != "" && s.sameSystem(name) {
		suggestion = s.name + " " + near + strings.Replace(follows, "x", s.cross(), 1)
	}
	return Thread{}, p.fail(name, suggestion, "%q is no thread of %s", name, s.name)
}

// sameSystem reports whether what was meant for a thread is at least of the
// standard's own system: there is no nearest metric thread to 1/4-20.
func (s *standard) sameSystem(name string) bool {
	if s.inch {
		return !strings.HasPrefix(normaliseThread(name), "M")
	}
	return !strings.ContainsAny(name, "/#") && !strings.HasPrefix(name, "Tr")
}

func (p parser) length(s *standard, thread Thread, text string) (float64, string, error) {
	text = strings.TrimSpace(text)
	value, ok := 0.0, false
	if s.inch {
		value, ok = parseInches(text)
		value = roundInches(value) * inch
	} else {
		value, ok = parseDecimal(strings.TrimSpace(strings.TrimSuffix(text, "mm")))
	}
	if !ok || value < shortestScrew || value > longestScrew {
		return 0, "", p.fail(text, "", "%q is no length; %s %s comes in %s", text, s.name, thread.Name, s.listLengths(thread.Size))
	}
	return value, s.formatLength(value), nil
}

func (p parser) washer(s *standard, body string) (Fastener, error) {
	size := strings.ToUpper(body)
	if !s.inch && !strings.HasPrefix(size, "M") {
		size = "M" + size
	}
	if s.inch {
		size = strings.TrimPrefix(size, "NO. ")
		if _, known := s.rows["#"+size]; known {
			size = "#" + size
		}
	}
	if _, known := s.rows[size]; !known {
		near := nearestSize(size, s.sizes)
		return Fastener{}, p.fail(body, strings.TrimSpace(s.name+" "+s.writtenSize(near)), "%q is no size of %s", body, s.name)
	}
	return s.washer(size), nil
}

// ring reads the size of a retaining ring, behind which its thickness may stand.
func (p parser) ring(s *standard, body string) (Fastener, error) {
	size, thick, told := strings.Cut(body, "x")
	r, known := s.rows[size]
	if !known {
		return Fastener{}, p.fail(size, s.name+" "+nearestSize(size, s.sizes), "%q is no size of %s", size, s.name)
	}
	if v, ok := parseDecimal(thick); told && (!ok || v != s.number(r, "thick")) {
		return Fastener{}, p.fail(thick, s.name+" "+size, "the ring %s %s is %s mm thick", s.name, size, formatMillimetres(s.number(r, "thick")))
	}
	return s.ring(size), nil
}

// collar reads the bore of a set collar, before which its form may stand.
func (p parser) collar(s *standard, body string) (Fastener, error) {
	size := strings.TrimPrefix(strings.ToUpper(body), "A")
	if _, known := s.rows[size]; !known {
		return Fastener{}, p.fail(body, s.name+" "+nearestSize(size, s.sizes), "%q is no size of %s", body, s.name)
	}
	return s.collar(size), nil
}

// sized reads what a diameter and a length designate: a pin, a rivet, a wood screw.
func (p parser) sized(s *standard, body string) (Fastener, error) {
	size, text, found := strings.Cut(body, "x")
	if _, known := s.rows[size]; !known {
		near := nearestSize(size, s.sizes)
		suggestion := ""
		if near != "" && found {
			suggestion = s.name + " " + near + "x" + text
		}
		return Fastener{}, p.fail(size, suggestion, "%q is no diameter of %s", size, s.name)
	}
	if !found {
		return Fastener{}, p.fail(body, "", "no length follows %s %s; it comes in %s", s.name, size, s.listLengths(size))
	}
	length, ok := parseDecimal(text)
	if !ok || length < shortestScrew || length > longestScrew {
		return Fastener{}, p.fail(text, "", "%q is no length; %s %s comes in %s", text, s.name, size, s.listLengths(size))
	}
	if f := s.sized(size, length); s.kind != WoodScrew || f.Head.Form != Countersunk || f.Head.Height < length {
		return f, nil
	}
	return Fastener{}, p.fail(text, "", "the head of %s %s is no lower than that", s.name, size)
}

// listLengths names the lengths that a size comes in.
func (s *standard) listLengths(size string) string {
	var words []string
	for _, length := range s.stocked(size) {
		words = append(words, s.formatLength(length))
	}
	unit := " mm"
	if s.inch {
		unit = " in"
	}
	return strings.Join(words, ", ") + unit
}

func (s *standard) formatLength(length float64) string {
	if !s.inch {
		return formatMillimetres(length)
	}
	return formatInches(roundInches(length / inch))
}

// roundInches keeps six decimals, which hold a 64th exactly, and drops what
// 25.4 there and back adds behind them.
func roundInches(length float64) float64 {
	return math.Round(length*1e6) / 1e6
}

// cross is what stands between thread and length.
func (s *standard) cross() string {
	if s.inch {
		return " x "
	}
	return "x"
}

// writtenSize is a size as a designation writes it: metric washers go by the
// bare number.
func (s *standard) writtenSize(size string) string {
	if s.kind == Washer && !s.inch {
		return strings.TrimPrefix(size, "M")
	}
	return size
}

// nearestSize returns the known size nearest in diameter, the smaller of
// equals; where one of them is no number, the nearest in spelling.
func nearestSize(size string, known []string) string {
	value, ok := diameterOf(size)
	if !ok {
		return nearest(size, known)
	}
	best, least := "", math.Inf(1)
	for _, candidate := range known {
		other, comparable := diameterOf(candidate)
		if difference := math.Abs(other - value); comparable && difference < least {
			best, least = candidate, difference
		}
	}
	return best
}

// diameterOf reads the diameter that a size begins with, for comparing sizes of
// one standard: millimetres, inches, or screw numbers turned into inches.
func diameterOf(size string) (float64, bool) {
	size, _, _ = strings.Cut(size, " ")
	size, _, _ = strings.Cut(size, "x")
	if metric, found := strings.CutPrefix(size, "M"); found {
		return parseDecimal(metric)
	}
	size, _, threads := strings.Cut(size, "-")
	number, err := strconv.ParseUint(strings.TrimPrefix(size, "#"), 10, 8)
	if err == nil && (threads || strings.HasPrefix(size, "#")) {
		// ASME B1.1: major diameter of screw number n is 0.060 in + 0.013 n.
		return 0.060 + 0.013*float64(number), true
	}
	return parseFraction(size)
}
