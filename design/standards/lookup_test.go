package standards

import (
	"math"
	"regexp"
	"strconv"
	"testing"
)

func TestSheetByName(t *testing.T) {
	for _, row := range []struct {
		name          string
		width, height float64
		unknown       bool
	}{
		{name: "A4", width: 210, height: 297},
		{name: "a4 landscape", width: 297, height: 210},
		{name: "A3", width: 420, height: 297},
		{name: "A3 portrait", width: 297, height: 420},
		{name: "letter", width: 215.9, height: 279.4},
		{name: "Letter  Landscape", width: 279.4, height: 215.9},
		{name: "ANSI A", width: 215.9, height: 279.4},
		{name: "ANSI D", width: 863.6, height: 558.8}, // 34 x 22 in
		{name: "A5", unknown: true},
		{name: "landscape", unknown: true},
		{name: "A4 portrait landscape", unknown: true},
		{name: "", unknown: true},
	} {
		sheet, known := SheetByName(row.name)
		if known == row.unknown || sheet.Width != row.width || sheet.Height != row.height {
			t.Errorf("SheetByName(%q) = %v x %v, %v", row.name, sheet.Width, sheet.Height, known)
		}
	}
	if got := NearestSheet("A5"); got == "" {
		t.Error("nothing is near A5")
	}
}

// ISO 216: each size is half of the one before, and sides are as 1 to √2.
func TestSheetsHalve(t *testing.T) {
	for i := 1; i < 5; i++ {
		larger, smaller := Sheets()[i-1], Sheets()[i]
		long, short := max(larger.Width, larger.Height), min(larger.Width, larger.Height)
		if max(smaller.Width, smaller.Height) != short || min(smaller.Width, smaller.Height) != float64(int(long/2)) {
			t.Errorf("%s is no half of %s", smaller.Name, larger.Name)
		}
	}
}

func TestLineGroupFor(t *testing.T) {
	for name, want := range map[string]float64{"A4": 0.5, "A3": 0.5, "letter": 0.5, "ANSI B": 0.5, "A2": 0.7, "A0": 0.7, "ANSI C": 0.7} {
		sheet, _ := SheetByName(name)
		if group := LineGroupFor(sheet); group.Wide != want || group.Narrow != want/2 {
			t.Errorf("%s: %+v", name, group)
		}
	}
}

func TestScalesFollowTheirText(t *testing.T) {
	last := 1e9
	for _, scale := range Scales() {
		parts := regexp.MustCompile(`^(\d+):(\d+)$`).FindStringSubmatch(scale.Text)
		if parts == nil {
			t.Errorf("scale %q", scale.Text)
			continue
		}
		drawn, _ := strconv.ParseFloat(parts[1], 64)
		real, _ := strconv.ParseFloat(parts[2], 64)
		if scale.Factor != drawn/real || scale.Factor >= last {
			t.Errorf("scale %s: factor %v after %v", scale.Text, scale.Factor, last)
		}
		last = scale.Factor
	}
	if _, known := ScaleByText("1:3"); known {
		t.Error("1:3 is no recommended scale")
	}
}

func TestGeneralToleranceEnds(t *testing.T) {
	for _, row := range []struct {
		name, class string
		size, want  float64
		unknown     bool
	}{
		{name: "smallest", class: "m", size: 0.5, want: 0.1},
		{name: "too small", class: "m", size: 0.4, unknown: true},
		{name: "too large", class: "m", size: 4001, unknown: true},
		{name: "class not defined there", class: "v", size: 2, unknown: true},
		{name: "no such class", class: "x", size: 10, unknown: true},
		{name: "two classes", class: "fm", size: 10, unknown: true},
		{name: "no class", class: "", size: 10, unknown: true},
	} {
		got, known := GeneralTolerance(row.class, row.size)
		if got != row.want || known == row.unknown {
			t.Errorf("%s: %v, %v", row.name, got, known)
		}
	}
	// ISO 2768-1, table 2, from memory.
	if got, known := GeneralRadiusTolerance("m", 5); got != 0.5 || !known {
		t.Errorf("radius 5 mm: %v, %v", got, known)
	}
	if got, known := GeneralAngleTolerance("m", 1000); got != 5.0/60 || !known {
		t.Errorf("angle at 1000 mm: %v, %v", got, known)
	}
}

func TestMaterials(t *testing.T) {
	id := regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	seen := make(map[string]bool)
	for _, material := range Materials() {
		if !id.MatchString(material.ID) || seen[material.ID] || material.Title == "" || material.Source == "" {
			t.Errorf("material %+v", material)
		}
		seen[material.ID] = true
		if material.Density < 300 || material.Density > 9000 {
			t.Errorf("%s: density %v kg/m3", material.ID, material.Density)
		}
		if material.Conducts != (material.Family == "metal") {
			t.Errorf("%s is %s and conducts: %v", material.ID, material.Family, material.Conducts)
		}
		if material.Softening > 0 && material.Family != "plastic" {
			t.Errorf("%s is %s and softens", material.ID, material.Family)
		}
	}
	for _, need := range []string{
		"aluminium_6063", "aluminium_6082", "steel_s235", "stainless_304", "brass", "bronze", "birch_plywood", "beech", "mdf",
		"petg", "pla", "abs", "pom", "nylon_pa6", "polycarbonate", "acrylic", "rubber_nbr",
	} {
		if !seen[need] {
			t.Errorf("no material %s", need)
		}
	}
	if got := NearestMaterial("aluminum_6063"); got != "aluminium_6063" {
		t.Errorf("nearest to aluminum_6063 is %q", got)
	}
	if got := NearestMaterial("unobtainable stuff"); got != "" {
		t.Errorf("nearest to nothing is %q", got)
	}
}

func TestBearings(t *testing.T) {
	bores := map[string]float64{"00": 10, "01": 12, "02": 15, "03": 17, "04": 20, "05": 25, "06": 30}
	for _, b := range Bearings() {
		code := b.Designation[len(b.Designation)-2:]
		want, coded := bores[code]
		if len(b.Designation) == 3 {
			want, coded = float64(code[1]-'0'), true // 608: the last digit is the bore
		}
		if !coded || b.Bore != want {
			t.Errorf("%s: bore %v, its number says %v", b.Designation, b.Bore, want)
		}
		if b.Outside <= b.Bore || b.Width <= 0 || b.Width >= b.Outside {
			t.Errorf("%+v", b)
		}
	}
	for _, row := range []struct {
		designation string
		want        float64
		unknown     bool
	}{
		{designation: "608", want: 8},
		{designation: "608-2RS", want: 8},
		{designation: "6204 ZZ", want: 20},
		{designation: "6001-2Z/C3", want: 12},
		{designation: "51102", want: 15},
		{designation: "608 blue", unknown: true},
		{designation: "609999", unknown: true},
		{designation: "ZZ", unknown: true},
		{designation: "", unknown: true},
	} {
		b, known := BearingByDesignation(row.designation)
		if known == row.unknown || b.Bore != row.want {
			t.Errorf("BearingByDesignation(%q) = %+v, %v", row.designation, b, known)
		}
	}
	if got := NearestBearing("6080"); got == "" {
		t.Error("nothing is near 6080")
	}
}

func TestParallelKeys(t *testing.T) {
	for shaft := 6.5; shaft <= 65; shaft += 0.5 {
		// The two keyways together take the key and leave it a little play on top.
		key, known := ParallelKeyFor(shaft)
		if room := key.ShaftDepth + key.HubDepth - key.Height; !known || room <= 0 || room > 0.5 {
			t.Errorf("shaft %v: %v mm over the key", shaft, room)
		}
	}
	for _, shaft := range []float64{0, 6, 65.1} {
		if _, known := ParallelKeyFor(shaft); known {
			t.Errorf("shaft %v has a key", shaft)
		}
	}
}

func TestColours(t *testing.T) {
	hex := regexp.MustCompile(`^#[0-9A-F]{6}$`)
	for _, word := range SignalWords() {
		if !hex.MatchString(word.Panel) || !hex.MatchString(word.Letters) {
			t.Errorf("signal word %+v", word)
		}
	}
	for _, colour := range SafetyColours() {
		if !hex.MatchString(colour.Screen) {
			t.Errorf("colour %+v", colour)
		}
	}
}

func TestToolsForRoom(t *testing.T) {
	for _, drive := range []string{"1/4", "3/8", "1/2"} {
		r, known := RatchetFor(drive)
		if !known || r.Head <= 0 || len(r.Extensions) == 0 {
			t.Errorf("ratchet %s: %+v", drive, r)
		}
	}
	for _, tool := range []string{"hex key", "ball end", "open-ended spanner", "ring spanner", "ratchet", "driver"} {
		if s, known := SwingOf(tool); !known || s.Turn <= 0 || s.Turn > 2*math.Pi+1e-9 {
			t.Errorf("%s: %+v", tool, s)
		}
	}
	if d, known := HexDriverFor(5); !known || d.Blade <= 0 || d.Grip <= 5 {
		t.Errorf("driver: %+v", d)
	}
	if _, known := HexDriverFor(99); known {
		t.Error("a driver of 99 mm")
	}
	// ISO 11228-1: one person 25 kg.
	if kg, n := LiftLimit(1); kg != 25 || n != 1 {
		t.Errorf("one person lifts %v kg", kg)
	}
	if kg, n := LiftLimit(9); kg != 37 || n != 3 {
		t.Errorf("nine people lift %v kg as %d", kg, n)
	}
}

// ISO 2936 makes the arms of a larger key longer.
func TestHexKeysGrow(t *testing.T) {
	var last HexKey
	for _, key := range HexKeys() {
		if key.Size <= last.Size || key.ShortArm > 0 && (key.ShortArm < last.ShortArm || key.LongArm < last.LongArm) {
			t.Errorf("%+v after %+v", key, last)
		}
		last = key
	}
}
