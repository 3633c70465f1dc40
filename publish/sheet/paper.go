package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"plansheaf/design/standards"
)

// Family is a series of sheet sizes.
type Family int

// The families.
const (
	ISO Family = iota // A4, A3, A2, A1, A0 (ISO 216, ISO 5457)
	US                // letter, ANSI B, C, D (ASME Y14.1)
)

// paper is a sheet of a size and a way round.
type paper struct {
	name          string // "A3 landscape"
	width, height float64
	sheet         standards.Sheet // with its margins
}

// families are the sheets to choose from, smallest first.
var families = map[Family][]string{
	ISO: {"A4", "A3", "A2", "A1", "A0"},
	US:  {"letter", "ANSI B", "ANSI C", "ANSI D"},
}

// onPaper is a sheet with its name and the way that it lies.
func onPaper(s standards.Sheet) paper {
	way := " portrait"
	if s.Landscape() {
		way = " landscape"
	}
	return paper{s.Name + way, s.Width, s.Height, s}
}

// smallest is the family's smallest sheet, upright.
func (f Family) smallest() paper {
	p, err := parsePaper(families[f][0] + " portrait")
	if err != nil {
		panic(err) // the names above are the table's
	}
	return p
}

// parsePaper reads "A3", "A3 landscape", "letter portrait". A4 and letter stand
// upright unless told, larger sheets lie (ISO 5457).
func parsePaper(text string) (paper, error) {
	s, known := standards.SheetByName(text)
	if !known {
		return paper{}, fmt.Errorf("%q is no sheet size", text)
	}
	return onPaper(s), nil
}

// papers to try for a request, in order of preference.
func papers(family Family) []paper {
	small := family.smallest()
	list := []paper{small, onPaper(small.sheet.Turned())}
	for _, name := range families[family][1:] {
		if s, known := standards.SheetByName(name + " landscape"); known {
			list = append(list, onPaper(s))
		}
	}
	return list
}

// group is the width of wide lines on the paper (ISO 128-2).
func (p paper) group() float64 { return standards.LineGroupFor(p.sheet).Wide }

// scale is a ratio of drawing to part.
type scale struct {
	name   string
	factor float64
}

// scales of ISO 5455, largest first.
var scales = func() (list []scale) {
	for _, s := range standards.Scales() {
		list = append(list, scale{s.Text, s.Factor})
	}
	return list
}()

// largestUnasked is the largest scale that is chosen without being asked for:
// beyond it a part looks nothing like itself.
const largestUnasked = 5

// parseScale reads "1:2"; only the series of ISO 5455 is allowed.
func parseScale(text string) (scale, error) {
	s, known := standards.ScaleByText(strings.ReplaceAll(text, " ", ""))
	if !known {
		return scale{}, fmt.Errorf("%q is no scale of ISO 5455", text)
	}
	return scale{s.Text, s.Factor}, nil
}

// decimals prints a number with at most n decimals and no trailing zeros.
func decimals(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// inch in millimetres (NIST SP 811, exact).
const inch = 25.4

// length prints a length in millimetres in one system: hundredths of a
// millimetre, thousandths of an inch, without a unit, which the title block
// names.
func (s System) length(mm float64) string {
	if s == Inch {
		return strconv.FormatFloat(mm/inch, 'f', 3, 64)
	}
	return decimals(mm, 2)
}

// other is the second system.
func (s System) other() System { return Inch - s }

// both prints a length in the first system with the second in brackets.
func (s System) both(mm float64) string {
	return s.length(mm) + " [" + s.other().length(mm) + "]"
}
