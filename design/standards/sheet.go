package standards

import (
	"strings"
	"sync"
)

// A Sheet is a trimmed drawing sheet as it is used, upright or lying. Lengths
// are millimetres.
type Sheet struct {
	Name        string // "A4", "letter", "ANSI B"
	Standard    string // "ISO 216", "ASME Y14.1"
	Width       float64
	Height      float64
	MarginLeft  float64 // from the edge to the frame, wide enough for holes
	MarginOther float64
	FieldsLong  int // zone references along the long side
	FieldsShort int
}

// Turned returns the sheet turned by a quarter. The binding margin stays left.
func (s Sheet) Turned() Sheet {
	s.Width, s.Height = s.Height, s.Width
	return s
}

// Landscape reports whether the sheet lies.
func (s Sheet) Landscape() bool { return s.Width > s.Height }

// Space returns the width and height of the drawing space inside the frame.
func (s Sheet) Space() (width, height float64) {
	return s.Width - s.MarginLeft - s.MarginOther, s.Height - 2*s.MarginOther
}

// Sheets returns every sheet, ISO sizes from A0 down, then the US ones.
func Sheets() []Sheet {
	return append([]Sheet(nil), sheets()...)
}

// SheetByName finds a sheet, whatever the case of its name. "landscape" or
// "portrait" after the name turns it that way; without either it is as its
// standard uses it. Sources: ISO 216, ISO 5457, ASME Y14.1.
func SheetByName(name string) (Sheet, bool) {
	name = strings.ToLower(strings.Join(strings.Fields(name), " "))
	bare, lying := strings.CutSuffix(name, " landscape")
	bare, upright := strings.CutSuffix(bare, " portrait")
	if alias, known := map[string]string{"ansi a": "letter", "us letter": "letter", "us legal": "legal", "tabloid": "ansi b"}[bare]; known {
		bare = alias
	}
	for _, sheet := range sheets() {
		if strings.ToLower(sheet.Name) != bare {
			continue
		}
		if lying && upright {
			return Sheet{}, false
		}
		if lying && !sheet.Landscape() || upright && sheet.Landscape() {
			sheet = sheet.Turned()
		}
		return sheet, true
	}
	return Sheet{}, false
}

// NearestSheet returns the name of the sheet that is spelled most alike, "" when
// none is near.
func NearestSheet(name string) string {
	var names []string
	for _, sheet := range sheets() {
		names = append(names, sheet.Name)
	}
	return nearest(name, names)
}

var sheets = sync.OnceValue(func() []Sheet {
	var all []Sheet
	for _, r := range readTable("sheets").rows {
		all = append(all, Sheet{
			Name: r.text("sheet"), Standard: r.text("standard"), Width: r.number("width_mm"), Height: r.number("height_mm"),
			MarginLeft: r.number("margin_left_mm"), MarginOther: r.number("margin_other_mm"),
			FieldsLong: int(r.number("fields_long")), FieldsShort: int(r.number("fields_short")),
		})
	}
	return all
})

// A Scale is one of the recommended drawing scales.
type Scale struct {
	Text   string  // "1:2"
	Factor float64 // length on the drawing per real length
}

// Scales returns the recommended scales, largest enlargement first.
// Source: ISO 5455:1979.
func Scales() []Scale {
	return append([]Scale(nil), scales()...)
}

// ScaleByText finds a recommended scale, false for any other.
func ScaleByText(text string) (Scale, bool) {
	for _, scale := range scales() {
		if scale.Text == text {
			return scale, true
		}
	}
	return Scale{}, false
}

var scales = sync.OnceValue(func() []Scale {
	var all []Scale
	for _, r := range readTable("scales").rows {
		all = append(all, Scale{Text: r.text("scale"), Factor: r.number("factor")})
	}
	return all
})

// A LineGroup is a pair of line widths that a mechanical drawing keeps to, in
// millimetres.
type LineGroup struct {
	Wide      float64 // visible edges, frame
	Narrow    float64 // dimensions, hidden, centre and hatching lines
	Preferred bool
}

// LineGroups returns the groups, thinnest first. Source: ISO 128-2.
func LineGroups() []LineGroup {
	return append([]LineGroup(nil), lineGroups()...)
}

// LineGroupFor returns the group for a sheet: 0.5 on A4 and A3 and what is no
// larger, 0.7 above. Common practice, no source.
func LineGroupFor(s Sheet) LineGroup {
	const largestSmallSheet = 420 * 297 // A3, mm²
	wide := 0.7
	// ANSI B, 11 x 17 in, is a shade larger than A3 and counts with it.
	if s.Width*s.Height <= 1.1*largestSmallSheet {
		wide = 0.5
	}
	for _, group := range lineGroups() {
		if group.Wide == wide {
			return group
		}
	}
	return LineGroup{}
}

var lineGroups = sync.OnceValue(func() []LineGroup {
	var all []LineGroup
	for _, r := range readTable("line-widths").rows {
		all = append(all, LineGroup{Wide: r.number("wide_mm"), Narrow: r.number("narrow_mm"), Preferred: r.text("preferred") == "yes"})
	}
	return all
})

// A Lettering is one height of lettering of type B, in millimetres.
type Lettering struct {
	Height    float64 // of capitals
	Stroke    float64 // h/10
	LowerCase float64 // 7/10 h
}

// Letterings returns the standard heights, smallest first. Source: ISO 3098-1.
func Letterings() []Lettering {
	return append([]Lettering(nil), letterings()...)
}

var letterings = sync.OnceValue(func() []Lettering {
	var all []Lettering
	for _, r := range readTable("lettering").rows {
		h := r.number("height_mm")
		all = append(all, Lettering{Height: h, Stroke: h / 10, LowerCase: h * 7 / 10})
	}
	return all
})

// A TitleField is a data field of a title block.
type TitleField struct {
	Name      string // the standard's
	Mandatory bool
	MaxChars  int    // recommended, 0 where the standard gives none
	Meaning   string // in our own words
}

// TitleFields returns the fields in the standard's order. Source: ISO 7200:2004.
func TitleFields() []TitleField {
	return append([]TitleField(nil), titleFields()...)
}

var titleFields = sync.OnceValue(func() []TitleField {
	var all []TitleField
	for _, r := range readTable("title-block").rows {
		all = append(all, TitleField{
			Name: r.text("field"), Mandatory: r.text("obligation") == "mandatory",
			MaxChars: int(r.number("max_chars")), Meaning: r.text("meaning"),
		})
	}
	return all
})
