package standards

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestParse(t *testing.T) {
	for _, row := range []struct{ name, designation, want, title string }{
		{"socket head", "ISO 4762 M8x25 - 8.8", "ISO 4762 M8x25 - 8.8", "Socket head cap screw M8×25"},
		{"washer", "ISO 7089 8", "ISO 7089 8", "Washer M8"},
		{"washer by thread", "ISO 7089 M8 - 200HV", "ISO 7089 8 - 200HV", "Washer M8"},
		{"nut", "ISO 4032 M8 - 8", "ISO 4032 M8 - 8", "Hexagon nut M8"},
		{"set screw", "ISO 4026 M4x5 - 45H", "ISO 4026 M4x5 - 45H", "Set screw, flat point M4×5"},
		{"countersunk", "ISO 10642 M5x16 - 10.9", "ISO 10642 M5x16 - 10.9", "Countersunk socket screw M5×16"},
		{"inch hexagon", "ASME B18.2.1 1/4-20 x 1 1/4 grade 5", "ASME B18.2.1 1/4-20 x 1 1/4 grade 5", "Hexagon head cap screw 1/4-20 × 1 1/4 in"},
		{"inch socket", "ASME B18.3 10-32 x 1/2", "ASME B18.3 10-32 x 1/2", "Socket head cap screw 10-32 × 1/2 in"},
		{"inch with series", "ANSI/ASME B18.3 #10-32 UNF × 1-1/4\" - stainless", "ASME B18.3 10-32 x 1 1/4 stainless", "Socket head cap screw 10-32 × 1 1/4 in"},
		{"inch washer", "ASME B18.21.1 1/4 N", "ASME B18.21.1 1/4 N", "Washer 1/4 narrow"},
		{"inch nut", "ASME B18.2.2 1/4-20 grade 5", "ASME B18.2.2 1/4-20 grade 5", "Hexagon nut 1/4-20"},
		{"grade in capitals", "ASME B18.2.1 1/4-20 x 1 GRADE 5", "ASME B18.2.1 1/4-20 x 1 grade 5", "Hexagon head cap screw 1/4-20 × 1 in"},
		{"pin", "ISO 2338 6 m6 × 30 - St", "ISO 2338 6x30 - St", "Parallel pin 6×30"},
		{"pin to h8", "ISO 2338 6 h8 × 30 - St", "ISO 2338 6 h8x30 - St", "Parallel pin 6×30"},
		{"spring pin", "DIN EN ISO 8752 - 4x20 - St", "ISO 8752 4x20 - St", "Slotted spring pin 4×20"},
		{"rivet", "ISO 15981 4x8", "ISO 15981 4x8", "Aluminium blind rivet 4×8"},
		{"ring with its thickness", "DIN 471 12x1", "DIN 471 12", "Retaining ring for shaft 12"},
		{"wood screw", "DIN 7997 4 x 40 - St", "DIN 7997 4x40 - St", "Countersunk wood screw 4×40"},
		{"fine pitch", "ISO 8676 M8x1x25", "ISO 8676 M8x1x25", "Hexagon head screw M8×1×25"},
		{"coarse pitch written out", "ISO 4762 M8x1.25x25", "ISO 4762 M8x25", "Socket head cap screw M8×25"},
		{"loose spelling", " din en iso 4762-m8 X 25 mm-a2-70 ", "ISO 4762 M8x25 - A2-70", "Socket head cap screw M8×25"},
		{"dashes", "ISO 4762 — M8×25 – 8.8", "ISO 4762 M8x25 - 8.8", "Socket head cap screw M8×25"},
		{"joined", "ISO4762 M8x25", "ISO 4762 M8x25", "Socket head cap screw M8×25"},
		{"name with a part", "ISO 7380-1 M5x10 - 10.9", "ISO 7380-1 M5x10 - 10.9", "Button head screw M5×10"},
	} {
		f, err := Parse(row.designation)
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		if f.String() != row.want || f.Title != row.title {
			t.Errorf("%s: %q, %q; want %q, %q", row.name, f, f.Title, row.want, row.title)
		}
	}
}

func TestParseSaysWhatIsWrong(t *testing.T) {
	for _, row := range []struct{ name, designation, part, suggestion, reason string }{
		{"nothing", "", "", "", "empty"},
		{"standard mistyped", "ISO 4672 M8x25", "ISO 4672", "ISO 4762 M8x25", "not in the tables"},
		{"older standard", "DIN 912 M8x25", "DIN 912", "ISO 4762 M8x25", "ISO 4762 has its place"},
		{"part left out", "ISO 7380 M5x10", "ISO 7380", "ISO 7380-1 M5x10", "ISO 7380-1 has its place"},
		{"no standard", "some good screw", "some good", "", "not in the tables"},
		{"no size", "ISO 4762", "ISO 4762", "", "no size"},
		{"no such thread", "ISO 4762 M9x25", "M9", "ISO 4762 M8x25", "no thread"},
		{"fine pitch in a coarse standard", "ISO 4762 M8x1x20", "M8x1", "ISO 4762 M8x20", "no thread"},
		{"no such inch thread", "ASME B18.2.1 1/4-22 x 1", "1/4-22", "ASME B18.2.1 1/4-20 x 1", "no thread"},
		{"metric in inch standard", "ASME B18.3 M8x25", "M8", "", "no thread"},
		{"lead screw thread", "ISO 4762 Tr12x3x50", "Tr12x3", "", "no thread"},
		{"no length", "ISO 4762 M8", "M8", "", "it comes in 12, 16, 20"},
		{"no length after fine pitch", "ISO 8676 M8x1", "M8x1", "", "it comes in 16, 20"},
		{"length is a word", "ISO 4762 M8xlong", "long", "", "comes in 12, 16, 20"},
		{"length is zero", "ISO 4762 M8x0", "0", "", "no length"},
		{"length next to nothing", "ISO 4762 M8x0.01", "0.01", "", "no length"},
		{"inch length next to nothing", "ASME B18.3 10-32 x 0.0000001", "0.0000001", "", "no length"},
		{"length beyond reason", "ISO 4762 M8x99999", "99999", "", "no length"},
		{"inch length in decimals of words", "ASME B18.3 10-32 x half", "half", "", "1/4, 5/16, 3/8"},
		{"head longer than screw", "ISO 10642 M5x3", "3", "", "3.1 mm high"},
		{"no such class", "ISO 4762 M8x25 - 8.9", "8.9", "ISO 4762 M8x25 - 8.8", "no class"},
		{"class of another kind", "ISO 4032 M8 - 8.8", "8.8", "ISO 4032 M8 - 8", "no class"},
		{"no such grade", "ASME B18.2.1 1/4-20 x 1 grade 55", "grade 55", "ASME B18.2.1 1/4-20 x 1 grade 5", "no class"},
		{"no such washer", "ISO 7089 9", "9", "ISO 7089 8", "no size"},
		{"no such inch washer", "ASME B18.21.1 1/4", "1/4", "ASME B18.21.1 1/4 N", "no size"},
		{"no such pin", "ISO 2338 7x30", "7", "ISO 2338 6x30", "no diameter"},
		{"pin without length", "ISO 2338 6", "6", "", "it comes in 12, 14"},
		{"ring of another thickness", "DIN 471 12x1.5", "1.5", "DIN 471 12", "1 mm thick"},
		{"no such ring", "DIN 472 21", "21", "DIN 472 20", "no size"},
		{"no such rivet", "ISO 15981 4.2x8", "4.2", "ISO 15981 4x8", "no diameter"},
		{"head longer than wood screw", "DIN 7997 6x3", "3", "", "no lower"},
		{"too long", strings.Repeat("ISO 4762 ", 40), strings.Repeat("ISO 4762 ", 40), "", "at most"},
	} {
		_, err := Parse(row.designation)
		var wrong *DesignationError
		if !errors.As(err, &wrong) {
			t.Errorf("%s: error %v", row.name, err)
			continue
		}
		if wrong.Part != row.part || wrong.Suggestion != row.suggestion || !strings.Contains(wrong.Reason, row.reason) {
			t.Errorf("%s: part %q, suggestion %q, reason %q", row.name, wrong.Part, wrong.Suggestion, wrong.Reason)
		}
		if row.suggestion == "" {
			continue
		}
		if _, err := Parse(wrong.Suggestion); err != nil {
			t.Errorf("%s: the suggestion %q: %v", row.name, wrong.Suggestion, err)
		}
	}
}

// everyFastener returns each size of each standard in each listed length.
func everyFastener(t *testing.T) []Fastener {
	t.Helper()
	var all []Fastener
	for _, name := range Standards() {
		s := catalogue().byName[name]
		sizes := s.threadNames()
		if s.threads == "" {
			sizes = s.sizes
		}
		if len(sizes) == 0 {
			t.Errorf("%s has no size", name)
		}
		for _, size := range sizes {
			if s.kind == Nut || s.kind == Washer || s.kind == Ring || s.kind == Collar {
				all = append(all, mustParse(t, name+" "+size))
				continue
			}
			lengths := StockedLengths(name, size)
			if len(lengths) < 2 {
				t.Errorf("%s %s comes in %v", name, size, lengths)
			}
			for _, length := range lengths {
				all = append(all, mustParse(t, name+" "+size+s.cross()+s.formatLength(length)))
			}
		}
	}
	return all
}

func TestEveryFastener(t *testing.T) {
	all := everyFastener(t)
	if len(all) < 1000 {
		t.Errorf("only %d fasteners", len(all))
	}
	for _, f := range all {
		again := mustParse(t, f.String())
		if again != f {
			t.Errorf("%s reads back as\n%+v, was\n%+v", f, again, f)
		}
		if !Stocked(f) {
			t.Errorf("%s is not stocked", f)
		}
		if f.Mass <= 0 {
			t.Errorf("%s: mass %v", f, f.Mass)
		}
		_, key := HexKeyFor(f)
		_, spanner := SpannerFor(f)
		if wantsTool := f.Drive.Kind == HexSocket || f.Drive.Kind == ExternalHex; wantsTool != (key || spanner) || key && spanner {
			t.Errorf("%s: key %v, spanner %v", f, key, spanner)
		}
	}
}

func TestEveryClass(t *testing.T) {
	for _, name := range Standards() {
		s := catalogue().byName[name]
		size := s.sizes[len(s.sizes)/2]
		if names := s.threadNames(); s.threads != "" {
			size = names[len(names)/2]
		}
		if lengths := s.stocked(strings.Split(size, "-")[0]); len(s.lengths) > 0 {
			if len(lengths) == 0 {
				lengths = StockedLengths(name, size)
			}
			size += s.cross() + s.formatLength(lengths[len(lengths)-1])
		}
		for _, class := range s.classes {
			text := name + " " + size + " - " + class
			f := mustParse(t, text)
			if f.Class != class || mustParse(t, f.String()) != f {
				t.Errorf("%s reads as %s", text, f)
			}
			if _, known := MaterialByID(f.Material); !known {
				t.Errorf("%s is of the unknown material %q", f, f.Material)
			}
			if s.kind != Screw || class == "stainless" {
				continue
			}
			if torque, known := TighteningTorque(f.Thread, class, 0); !known || torque <= 0 {
				t.Errorf("%s: torque %v, known %v", f, torque, known)
			}
		}
	}
}

// A name that another begins with, up to a blank or a hyphen, would hide it from
// Parse, which takes the first that fits.
func TestStandardsDoNotHideEachOther(t *testing.T) {
	for _, name := range Standards() {
		for _, other := range Standards() {
			if rest, found := cutName(other, name); found && other != name {
				t.Errorf("%s hides %s, leaving %q", name, other, rest)
			}
		}
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("ISO 4762 M8x25 - 8.8"); err != nil {
			b.Fatal(err)
		}
	}
}

func TestStocked(t *testing.T) {
	for _, row := range []struct {
		designation string
		stocked     bool
		nearest     float64
	}{
		{"ISO 4762 M8x25", true, 25},
		{"ISO 4762 M8x27", false, 25},
		{"ISO 4762 M8x28", false, 30},
		{"ISO 4762 M8x200", false, 80},
		{"ISO 10642 M3x5", false, 8},
		{"ASME B18.2.1 1/4-20 x 1 1/4", true, 31.75},
		{"ASME B18.2.1 1/4-20 x 1 3/16", false, 28.575},
	} {
		f := mustParse(t, row.designation)
		nearest, known := NearestStocked(f)
		if Stocked(f) != row.stocked || !known || nearest-row.nearest > exact || row.nearest-nearest > exact {
			t.Errorf("%s: stocked %v, nearest %v", f, Stocked(f), nearest)
		}
	}
	for _, row := range []struct{ standard, size string }{{"ISO 4762", "M9"}, {"ISO 4762", "M8x1"}, {"ISO 1", "M8"}, {"ISO 7089", "M8"}, {"", ""}} {
		if lengths := StockedLengths(row.standard, row.size); lengths != nil {
			t.Errorf("StockedLengths(%q, %q) = %v", row.standard, row.size, lengths)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"ISO 4762 M8x25 - 8.8", "ISO 7089 8", "ISO 4032 M8 - 8", "ISO 4026 M4x5 - 45H", "ISO 10642 M5×16 - 10.9",
		"ASME B18.2.1 1/4-20 x 1 1/4 grade 5", "ASME B18.3 10-32 x 1/2", "ISO 2338 6 m6x30 - St", "ISO 8676 M8x1x25",
		"DIN 912 M8x25", "ISO 7380 x", "ASME B18.21.1 1/4 N", "ISO 4762 Mx-", "×", "ISO 4762 M8xx", "ASME B18.3 -x",
		"ASME B18.2.1 118.F6j\xaa\xdd\x97\x97\x97\x97\x97{\xde\r\xde 1 1 x/4 grade 5",
		"ASME B18.3 10-32 x 0.0000001", "ASME B18.3 10-32 x 0.12345678", "ISO 4762 M8x0.00000001",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, designation string) {
		fastener, err := Parse(designation)
		if err != nil {
			var wrong *DesignationError
			if !errors.As(err, &wrong) || wrong.Reason == "" || wrong.Designation != designation {
				t.Fatalf("%q: error %#v", designation, err)
			}
			if utf8.ValidString(designation) && !utf8.ValidString(wrong.Error()) {
				t.Fatalf("%q: the error is no text: %q", designation, wrong.Error())
			}
			return
		}
		again, err := Parse(fastener.String())
		if err != nil || again != fastener {
			t.Fatalf("%q reads as %q, which reads as %+v, %v", designation, fastener, again, err)
		}
		for _, step := range fastener.Profile() {
			if !(step.Length > 0) || !(step.Diameter > 0) || !(step.EndDiameter > 0) {
				t.Fatalf("%q: step %+v", designation, step)
			}
		}
		if !(fastener.Mass > 0) {
			t.Fatalf("%q: mass %v", designation, fastener.Mass)
		}
	})
}
