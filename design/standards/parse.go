package standards

import (
	"fmt"
	"strings"
)

// A DesignationError says which part of a designation was not understood.
type DesignationError struct {
	Designation string // as it was given
	Part        string // the words in question, as they were read
	Reason      string // what is wrong with them, without a full stop
	Suggestion  string // the nearest designation that can be read, "" when none is near
}

// Error gives the reason, and the suggestion where there is one.
func (e *DesignationError) Error() string {
	if e.Suggestion == "" {
		return e.Reason
	}
	return fmt.Sprintf("%s; the nearest known is %q", e.Reason, e.Suggestion)
}

// longestDesignation bounds what Parse looks at, in bytes: the longest real one
// has about fifty.
const longestDesignation = 120

// Lengths outside these bounds, in millimetres, are slips: no table has a screw
// near either.
const shortestScrew, longestScrew = 0.1, 1000

// Parse reads the designation of a standard fastener, such as
// "ISO 4762 M8x25 - 8.8", "ISO 7089 8", "ISO 4026 M4x5 - 45H" or
// "ASME B18.2.1 1/4-20 x 1 1/4 grade 5". Both x and × are read, blanks around
// them do not matter, and neither do national prefixes such as DIN EN. The class
// may be left out. A length outside the standard's series is read all the same:
// ask [Stocked]. The error is a [*DesignationError].
func Parse(designation string) (Fastener, error) {
	if len(designation) > longestDesignation {
		return Fastener{}, &DesignationError{
			Designation: designation, Part: designation,
			Reason: fmt.Sprintf("a designation has at most %d bytes", longestDesignation),
		}
	}
	p := parser{designation: designation}
	text := normaliseDesignation(designation)
	s, rest, err := p.standard(text)
	if err != nil {
		return Fastener{}, err
	}
	body, class := s.splitClass(rest)
	return p.fastener(s, body, class)
}

// fastener puts together what the sizes and the class of a designation say.
func (p parser) fastener(s *standard, body, class string) (Fastener, error) {
	f, err := p.sizes(s, body)
	if err != nil {
		return Fastener{}, err
	}
	if f.Class, err = p.class(s, f, class); err != nil {
		return Fastener{}, err
	}
	if f.Kind == Pin {
		f.PinTolerance = pinTolerance(p.designation)
	}
	f.Material = classMaterial(f.Class)
	if f.Kind == Rivet {
		f.Material = rivetMaterial
	}
	f.Mass = f.mass()
	return f, nil
}

// pinTolerance is the tolerance of a pin's diameter, m6 where its designation does not
// say: pins to h8 are asked for.
func pinTolerance(designation string) string {
	if strings.Contains(strings.ToLower(designation), "h8") {
		return "h8"
	}
	return "m6"
}

type parser struct {
	designation string
}

func (p parser) fail(part, suggestion, reason string, args ...any) error {
	return &DesignationError{
		Designation: p.designation, Part: part,
		Reason: fmt.Sprintf(reason, args...), Suggestion: suggestion,
	}
}

var spellings = strings.NewReplacer("×", "x", "–", "-", "—", "-", "−", "-", "\u00a0", " ", "\u202f", " ")

func normaliseDesignation(text string) string {
	text = strings.Join(strings.Fields(spellings.Replace(text)), " ")
	for _, prefix := range []string{"DIN EN ", "BS EN ", "EN ", "ANSI/"} {
		if len(text) >= len(prefix) && strings.EqualFold(text[:len(prefix)], prefix) {
			text = text[len(prefix):]
		}
	}
	return text
}

// standard finds the standard that a designation begins with and returns what
// follows it.
func (p parser) standard(text string) (*standard, string, error) {
	for _, name := range catalogue().names {
		if rest, found := cutName(text, name); found {
			return catalogue().byName[name], rest, nil
		}
	}
	if text == "" {
		return nil, "", p.fail("", "", "the designation is empty")
	}
	for _, name := range catalogue().names {
		for _, older := range catalogue().byName[name].replaces {
			if rest, found := cutName(text, older); found {
				return nil, "", p.fail(older, strings.TrimSpace(name+" "+rest), "%s is not in the tables, %s has its place", older, name)
			}
		}
	}
	head := text
	if words := strings.Fields(text); len(words) > 2 {
		head = words[0] + " " + words[1]
	}
	suggestion := nearest(head, catalogue().names)
	if suggestion != "" {
		suggestion += strings.TrimPrefix(text, head)
	}
	return nil, "", p.fail(head, suggestion, "the standard %q is not in the tables", head)
}

// cutName cuts a standard's name from the front of text, whatever its case and
// blanks. What follows must be set apart by a blank or a hyphen.
func cutName(text, name string) (rest string, found bool) {
	i := 0
	for j := 0; j < len(name); j++ {
		if name[j] == ' ' {
			continue
		}
		for i < len(text) && text[i] == ' ' {
			i++
		}
		if i == len(text) || !strings.EqualFold(text[i:i+1], name[j:j+1]) {
			return "", false
		}
		i++
	}
	rest = text[i:]
	if rest != "" && rest[0] != ' ' && rest[0] != '-' {
		return "", false
	}
	return strings.TrimLeft(rest, " -"), true
}

// splitClass separates the sizes from the property class or grade after them.
func (s *standard) splitClass(rest string) (body, class string) {
	rest = strings.ReplaceAll(rest, "X", "x")
	for _, joined := range []string{" x", "x "} {
		rest = strings.ReplaceAll(rest, joined, "x")
	}
	if s.inch {
		return s.splitGrade(rest)
	}
	rest = strings.Replace(rest, " mm", "", 1)
	if s.kind == Pin || s.kind == SpringPin {
		// The tolerance of the diameter may stand after it.
		rest = strings.Replace(strings.Replace(rest, " m6", "", 1), " h8", "", 1)
	}
	if s.kind == Collar {
		rest = strings.Replace(rest, "A ", "A", 1)
	}
	end := strings.IndexAny(rest, " -")
	if end < 0 {
		return rest, ""
	}
	return rest[:end], strings.TrimLeft(rest[end:], " -")
}

func (s *standard) splitGrade(rest string) (body, class string) {
	if before, after, found := strings.Cut(rest, " - "); found {
		return before, after
	}
	for _, known := range s.classes {
		if at := len(rest) - len(known) - 1; at >= 0 && strings.EqualFold(rest[at:], " "+known) {
			return rest[:at], known
		}
	}
	// A grade that the standard lacks is still no part of the length. Bytes are
	// compared as they are: lowering the whole text could change its length.
	const grade = " grade"
	for at := 0; at+len(grade) <= len(rest); at++ {
		if strings.EqualFold(rest[at:at+len(grade)], grade) {
			return rest[:at], rest[at+1:]
		}
	}
	return rest, ""
}

// class checks a class against those of the standard and returns it as the
// tables spell it.
func (p parser) class(s *standard, f Fastener, class string) (string, error) {
	if class == "" {
		return "", nil
	}
	for _, known := range s.classes {
		if strings.EqualFold(known, class) {
			return known, nil
		}
	}
	suggestion := ""
	if known := nearest(class, s.classes); known != "" {
		f.Class = known
		suggestion = f.String()
	}
	return "", p.fail(class, suggestion, "%q is no class of %s, which has %s", class, s.name, strings.Join(s.classes, ", "))
}
