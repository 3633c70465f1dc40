package standards

import (
	"math"
	"testing"
)

func TestProofLoadByFormula(t *testing.T) {
	fine, _ := ThreadByName("M8x1")
	half, _ := ThreadByName("1/2-13")
	m20, _ := ThreadByName("M20")
	for _, row := range []struct {
		name    string
		thread  Thread
		class   string
		want    float64
		unknown bool
	}{
		{name: "fine pitch", thread: fine, class: "8.8", want: 39.167 * 580},                   // ISO 898-1
		{name: "over 16 mm", thread: m20, class: "8.8", want: 244.794 * 600},                   // ISO 898-1
		{name: "stainless by its yield", thread: m20, class: "A2-70", want: 244.794 * 450},     // ISO 3506-1
		{name: "grade 5", thread: half, class: "grade 5", want: 0.1419 * 85000 * 4.4482216153}, // SAE J429: 85 ksi
		{name: "no such class", thread: fine, class: "7.7", unknown: true},
		{name: "too thick for the grade", thread: Thread{Major: 30, StressArea: 500}, class: "grade 2", unknown: true},
		{name: "no thread", class: "8.8", unknown: true},
	} {
		got, known := ProofLoad(row.thread, row.class)
		if known == row.unknown || !row.unknown && math.Abs(got-row.want) > 0.001*row.want {
			t.Errorf("%s: %v, %v; want %v", row.name, got, known, row.want)
		}
	}
}

// Shigley, Mechanical Engineering Design, 9th ed., example 8-3: a bolt 3/4 in
// thick, preloaded to 25 kip, K = 0.2, takes 3750 lbf in. The table has no such
// thread; the same formula must give the same torque for one of its size.
func TestTighteningTorque(t *testing.T) {
	const kip, poundInch = 4448.2216153, 0.112984829
	// A class whose preload is the example's: area times proof times 0.75.
	bolt := Thread{Major: 0.75 * 25.4, StressArea: 25 * kip / (PreloadOfProof * 586)}
	got, known := TighteningTorque(bolt, "grade 5", 0.2)
	if want := 3750 * poundInch; !known || math.Abs(got-want) > 0.001*want {
		t.Errorf("torque %v N m, want %v", got, want)
	}
	m8, _ := ThreadByName("M8")
	dry, _ := TighteningTorque(m8, "8.8", 0)
	// 0.2 * 0.75 * 21200 N * 8 mm.
	if math.Abs(dry-25.44) > 0.005 {
		t.Errorf("M8 8.8: %v N m", dry)
	}
	if _, known := TighteningTorque(m8, "", 0); known {
		t.Error("a screw without a class has a torque")
	}
}

func TestNutMate(t *testing.T) {
	for class, want := range map[string]string{"8": "8.8", "10": "10.9", "A2-70": "A2-70", "grade 5": "grade 5", "04": "", "none": ""} {
		if got, known := NutMate(class); got != want || known != (want != "") {
			t.Errorf("NutMate(%q) = %q, %v", class, got, known)
		}
	}
	for _, r := range readTable("nut-classes").rows {
		if mate := r.text("mates"); mate != "" {
			if _, known := ScrewClass(mate, 8); !known {
				t.Errorf("nut class %s mates the unknown screw class %s", r.text("class"), mate)
			}
		}
	}
}

func TestSetScrewTorque(t *testing.T) {
	m5, _ := ThreadByName("M5")
	fine, _ := ThreadByName("M8x1")
	if torque, known := SetScrewTorque(m5); torque != 5 || !known { // ISO 898-5
		t.Errorf("M5: %v, %v", torque, known)
	}
	if _, known := SetScrewTorque(fine); known {
		t.Error("M8x1 has a torque")
	}
}
