package standards

import (
	"strings"
	"sync"
)

// A standard is one fastener standard of the catalogue with its sizes.
type standard struct {
	name     string
	kind     Kind
	title    string
	form     HeadForm
	drive    DriveKind
	inch     bool
	threads  string // "coarse", "fine", "inch", "" for washers and pins
	rule     string // how long the thread is, see tables/standards.csv
	classes  []string
	replaces []string
	lengths  []float64 // series, millimetres
	sizes    []string  // in the order of the table
	rows     map[string]row
}

// Standards returns the names of the fastener standards that [Parse] knows, in
// the order of the catalogue.
func Standards() []string {
	return append([]string(nil), catalogue().names...)
}

type catalogueTable struct {
	names  []string
	byName map[string]*standard
}

var catalogue = sync.OnceValue(func() catalogueTable {
	series := make(map[string]row)
	for _, r := range readTable("lengths").rows {
		series[r.text("series")] = r
	}
	c := catalogueTable{byName: make(map[string]*standard)}
	for _, r := range readTable("standards").rows {
		s := readStandard(r)
		if name := r.text("lengths"); name != "" {
			s.lengths = readLengths(series[name], s.inch)
		}
		c.names = append(c.names, s.name)
		c.byName[s.name] = s
	}
	return c
})

func readStandard(r row) *standard {
	s := &standard{
		name: r.text("standard"), kind: Kind(r.text("kind")), title: r.text("title"),
		form: HeadForm(r.text("form")), drive: DriveKind(r.text("drive")),
		inch: r.text("unit") == "in", threads: r.text("threads"), rule: r.text("rule"),
		classes: splitList(r.text("classes")), replaces: splitList(r.text("replaces")),
		rows: make(map[string]row),
	}
	for _, size := range readTable(r.text("table")).rows {
		name := size.text("size")
		s.sizes = append(s.sizes, name)
		s.rows[name] = size
	}
	return s
}

func readLengths(r row, inches bool) []float64 {
	var lengths []float64
	if !inches {
		for _, word := range r.words("lengths") {
			value, _ := parseDecimal(word)
			lengths = append(lengths, value)
		}
		return lengths
	}
	for _, word := range splitList(r.text("lengths")) {
		value, _ := parseInches(word)
		lengths = append(lengths, value*inch)
	}
	return lengths
}

// splitList splits a cell that holds a list set apart by semicolons.
func splitList(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, ";")
}

// number returns a size of a row in millimetres. The column's name ends in its
// unit, which depends on the standard.
func (s *standard) number(r row, column string) float64 {
	if s.inch {
		return r.inches(column + "_in")
	}
	return r.number(column + "_mm")
}

// threadNames returns the threads that the standard's sizes may have.
func (s *standard) threadNames() []string {
	var names []string
	for _, thread := range threads().all {
		if _, known := s.rows[thread.Size]; known && s.takes(thread) {
			names = append(names, thread.Name)
		}
	}
	return names
}

func (s *standard) takes(thread Thread) bool {
	if thread.LeftHand {
		return false
	}
	if s.threads == "inch" {
		return thread.Inch
	}
	// The standards of fine-pitch fasteners begin at M8.
	return thread.Series == s.threads && (s.threads != "fine" || thread.Major >= 8)
}

// stocked returns the lengths of a size from the standard's series, shortest
// first, nil for a size that the standard lacks.
func (s *standard) stocked(size string) []float64 {
	r, known := s.rows[size]
	if !known {
		return nil
	}
	if _, rivet := r.columns["grips"]; rivet {
		return gripLengths(r)
	}
	if len(s.lengths) == 0 {
		return nil
	}
	// A series in inches passes through 25.4 and back.
	const rounding = 1e-6
	shortest, longest := s.number(r, "length_min"), s.number(r, "length_max")
	var lengths []float64
	for _, length := range s.lengths {
		if length >= shortest-rounding && length <= longest+rounding {
			lengths = append(lengths, length)
		}
	}
	return lengths
}

// StockedLengths returns the lengths in millimetres that a standard lists for a
// size, shortest first; for inch sizes, those that dealers keep. The size is a
// thread ("M8", "M8x1", "1/4-20"), its diameter alone ("1/4") or a pin's
// diameter ("6"). It returns nil for a standard without lengths and for a size
// that the tables lack.
func StockedLengths(name, size string) []float64 {
	s, known := catalogue().byName[name]
	if !known {
		return nil
	}
	if thread, isThread := ThreadByName(size); isThread && s.threads != "" {
		if !s.takes(thread) {
			return nil
		}
		return s.stocked(thread.Size)
	}
	return s.stocked(size)
}

// Stocked reports whether a fastener's length is one that its standard lists
// for its size. Nuts and washers have no length and are always stocked, as is what no
// standard describes.
func Stocked(f Fastener) bool {
	if f.Length == 0 || f.Standard == "" {
		return true
	}
	for _, length := range StockedLengths(f.Standard, f.Size) {
		// Lengths come from the same decimal text, or through one factor of 25.4.
		const rounding = 1e-6
		if length > f.Length-rounding && length < f.Length+rounding {
			return true
		}
	}
	return false
}

// NearestStocked returns the listed length in millimetres that is nearest to a
// fastener's own, and false where its standard lists none.
func NearestStocked(f Fastener) (float64, bool) {
	lengths := StockedLengths(f.Standard, f.Size)
	return nearestLength(f.Length, lengths), len(lengths) > 0
}
