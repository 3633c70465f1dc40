package sheet

import (
	"fmt"
	"strconv"
	"strings"
)

// Family is a series of sheet sizes.
type Family int

// The families.
const (
	ISO Family = iota // A4, A3, A2, A1, A0 (ISO 216, ISO 5457)
	US                // letter, tabloid, C, D (ASME Y14.1)
)

// paper is a sheet of a size and a way round.
type paper struct {
	name          string // "A3 landscape"
	width, height float64
}

// size is a paper's name and its sides, upright, in millimetres.
type size struct {
	name        string
	short, long float64
}

// sizes by family, smallest first. Sources: ISO 216; ASME Y14.1 (A 8.5×11 in, B
// 11×17 in, C 17×22 in, D 22×34 in).
var sizes = map[Family][]size{
	ISO: {{"A4", 210, 297}, {"A3", 297, 420}, {"A2", 420, 594}, {"A1", 594, 841}, {"A0", 841, 1189}},
	US:  {{"letter", 215.9, 279.4}, {"tabloid", 279.4, 431.8}, {"C", 431.8, 558.8}, {"D", 558.8, 863.6}},
}

func (s size) portrait() paper  { return paper{s.name + " portrait", s.short, s.long} }
func (s size) landscape() paper { return paper{s.name + " landscape", s.long, s.short} }

// parsePaper reads "A3", "A3 landscape", "letter portrait". A4 and letter stand
// upright unless told, larger sheets lie (ISO 5457).
func parsePaper(text string) (paper, error) {
	words := strings.Fields(strings.ToLower(text))
	for _, family := range []Family{ISO, US} {
		for i, s := range sizes[family] {
			if len(words) == 0 || strings.ToLower(s.name) != words[0] {
				continue
			}
			way := "landscape"
			if i == 0 {
				way = "portrait"
			}
			if len(words) == 2 {
				way = words[1]
			}
			switch {
			case len(words) > 2:
			case way == "portrait":
				return s.portrait(), nil
			case way == "landscape":
				return s.landscape(), nil
			}
		}
	}
	return paper{}, fmt.Errorf("%q is no sheet size", text)
}

// papers to try for a request, in order of preference.
func papers(family Family) []paper {
	list := []paper{sizes[family][0].portrait(), sizes[family][0].landscape()}
	for _, s := range sizes[family][1:] {
		list = append(list, s.landscape())
	}
	return list
}

// group is the line group for a paper: 0.5 on A4 and A3, 0.7 above.
func (p paper) group() float64 {
	if p.width*p.height > 430*300 {
		return 0.7
	}
	return 0.5
}

// scale is a ratio of drawing to part.
type scale struct {
	name   string
	factor float64
}

// scales of ISO 5455, largest first.
var scales = []scale{
	{"50:1", 50}, {"20:1", 20}, {"10:1", 10}, {"5:1", 5}, {"2:1", 2}, {"1:1", 1},
	{"1:2", 1. / 2}, {"1:5", 1. / 5}, {"1:10", 1. / 10}, {"1:20", 1. / 20}, {"1:50", 1. / 50},
	{"1:100", 1. / 100}, {"1:200", 1. / 200}, {"1:500", 1. / 500}, {"1:1000", 1. / 1000},
}

// largestUnasked is the largest scale that is chosen without being asked for:
// beyond it a part looks nothing like itself.
const largestUnasked = 5

// parseScale reads "1:2"; only the series of ISO 5455 is allowed.
func parseScale(text string) (scale, error) {
	want := strings.ReplaceAll(text, " ", "")
	for _, s := range scales {
		if s.name == want {
			return s, nil
		}
	}
	return scale{}, fmt.Errorf("%q is no scale of ISO 5455", text)
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
